// Owns the stand-by list: what to have on the shelf in case the work turns something up, by what it would cost to be without.

import type { Counted } from "./bag.ts";
import type { Answer, Fault } from "./fault.ts";
import { findThread } from "./thread.ts";

/** Something the work may turn up, and the thing that mends it. */
export interface Finding {
  readonly item: string;
  /** What is found: "thread torn", "stud sheared". */
  readonly finding: string;
  /** Where: a connection, or several in words. */
  readonly at: string;
  /** 0 to 1. */
  readonly chance: number;
  /** Minutes the job stands when the thing is not on the shelf. */
  readonly delay: number;
  /** What the thing costs, in the money of `rate`; absent: not asked about. */
  readonly price?: number;
}

export interface StandBy {
  readonly item: string;
  /** That at least one of its findings comes. */
  readonly chance: number;
  readonly delay: number;
  /** Chance × delay × cost of a minute: what it saves on the average to have it. */
  readonly saves: number;
  readonly price?: number;
  /** It saves more than it costs; absent where nobody says what it costs. */
  readonly worth?: boolean;
  readonly for: readonly { readonly finding: string; readonly at: string; readonly chance: number }[];
}

/** Ranks the things to have at hand. `rate` is the cost of a minute that the job stands; 1 ranks by minutes. */
export function rankStandBy(findings: readonly Finding[], rate = 1): Answer<readonly StandBy[]> {
  const faults = faultsOf(findings, rate);
  if (faults.length > 0) return { faults };
  const items = new Map<string, Finding[]>();
  for (const finding of findings) items.set(finding.item, [...(items.get(finding.item) ?? []), finding]);
  const list = [...items].map(([item, all]): StandBy => {
    const chance = 1 - all.reduce((none, one) => none * (1 - one.chance), 1);
    const delay = Math.max(...all.map((one) => one.delay));
    const prices = all.flatMap(({ price }) => (price === undefined ? [] : [price]));
    const saves = chance * delay * rate;
    const price = prices.length === 0 ? undefined : Math.max(...prices);
    return {
      item,
      chance,
      delay,
      saves,
      ...(price === undefined ? {} : { price, worth: saves > price }),
      for: all
        .map(({ finding, at, chance: own }) => ({ finding, at, chance: own }))
        .sort((a, b) => b.chance - a.chance),
    };
  });
  return { answer: list.sort((a, b) => b.saves - a.saves || (a.item < b.item ? -1 : 1)) };
}

/**
 * Chance of each finding per piece, and the minutes without the mend: ours, no source gives any, and marked so wherever they are shown. A
 * shop that keeps its ledgers has better ones.
 */
const ASSUMED_FINDINGS = {
  sheared: { chance: 0.004, delay: 180 },
  torn: { chance: 0.003, delay: 240 },
  spent: { chance: 0.05, delay: 90 },
  clamp: { chance: 0.03, delay: 60 },
} as const;

/**
 * What the hardware that comes out may turn up: fasteners shear, threads tear, locknuts are spent, clamps spoilt. What is not
 * used again comes new anyway; only its thread may be torn.
 */
export function assumeFindings(
  bags: readonly {
    readonly connection: string;
    readonly items: readonly (Counted & { readonly reuse?: boolean })[];
  }[],
): Finding[] {
  const findings: Finding[] = [];
  for (const { connection, items } of bags)
    for (const { item, count, reuse = true } of items) {
      const add = (what: keyof typeof ASSUMED_FINDINGS, finding: string, mend: string) => {
        const { chance, delay } = ASSUMED_FINDINGS[what];
        if (reuse || mend !== item)
          findings.push({ item: mend, finding, at: connection, chance: 1 - (1 - chance) ** count, delay });
      };
      const thread = findThread(item);
      if (/lock ?nut|self-locking/i.test(item)) add("spent", "locks no more", item);
      else if (/\bclamp\b|\bclip\b/i.test(item) && thread === undefined) add("clamp", "spoilt", item);
      else if (thread !== undefined) {
        add("sheared", "sheared or seized", item);
        add("torn", "thread torn", `tap and thread inserts ${thread.name}`);
      }
    }
  return findings;
}

function faultsOf(findings: readonly Finding[], rate: number): Fault[] {
  const faults: Fault[] = [];
  const check = (rule: Fault["rule"], at: string, what: string, mend: string, value: number) =>
    faults.push({ rule, at, what, mend, values: { value } });
  for (const { item, chance, delay, price } of findings) {
    if (!(chance >= 0 && chance <= 1))
      check("not-a-share", item, `a chance of ${chance} is none`, "Give it from 0 to 1.", chance);
    if (!(delay >= 0))
      check("below-nothing", item, `a delay of ${delay} min is below nothing`, "Give the minutes.", delay);
    if (price !== undefined && !(price >= 0))
      check("below-nothing", item, `a price of ${price} is below nothing`, "Give what it costs.", price);
  }
  if (!(rate >= 0))
    check("below-nothing", "rate", `a minute at ${rate} is below nothing`, "Give what a minute costs.", rate);
  return faults;
}

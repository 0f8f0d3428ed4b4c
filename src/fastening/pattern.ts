// Owns a tightening pattern: the order of the bolts and the passes in which they are brought to their torque.

import { type NewtonMetres, newtonMetres } from "../quantity/index.ts";
import type { Answer, Fault } from "./fault.ts";
import { type Bolt, type Layout, layOut } from "./layout.ts";
import { clockwise, type Style, sequence, styleOf } from "./sequence.ts";

/** What a pattern is asked for. */
export interface PatternQuestion {
  readonly layout: Layout;
  /** Absent: what suits the layout. */
  readonly style?: Style;
  /** Final torque; absent: the passes are given as shares only. */
  readonly torque?: NewtonMetres;
  /** Rising shares of the final torque, the last 1. 0.3, 0.6, 1 where it is not said: what most texts print. */
  readonly shares?: readonly number[];
  /** Degrees turned after the last torque, pass by pass. */
  readonly turns?: readonly number[];
  /** Round and round at the full torque at the end, until nothing turns; true where it is not said and no angle follows. */
  readonly round?: boolean;
}

/** One time through all bolts. */
export interface Pass {
  readonly by: "hand" | "torque" | "angle" | "round";
  readonly share?: number;
  readonly torque?: NewtonMetres;
  readonly degrees?: number;
  /** Ids in order. */
  readonly order: readonly string[];
}

export interface Pattern {
  readonly style: Style;
  readonly bolts: readonly Bolt[];
  /** Ids in the order of tightening. */
  readonly order: readonly string[];
  /** Ids in the order of loosening: the reverse, the ends first. */
  readonly loosening: readonly string[];
  readonly passes: readonly Pass[];
}

/** Shares of the final torque, pass by pass, where nothing is said (common practice). */
const SHARES: readonly number[] = [0.3, 0.6, 1];

/** Order and passes of a layout, or every fault of the question. */
export function layPattern(question: PatternQuestion): Answer<Pattern> {
  const laid = layOut(question.layout);
  const faults = [...("faults" in laid ? laid.faults : []), ...passFaults(question)];
  if ("faults" in laid || faults.length > 0) return { faults };
  const bolts = laid.answer;
  const style = styleOf(bolts, question.style);
  const order = sequence(bolts, style).map(({ id }) => id);
  return {
    answer: {
      style,
      bolts,
      order,
      loosening: [...order].reverse(),
      passes: passesOf(
        question,
        order,
        clockwise(bolts).map(({ id }) => id),
      ),
    },
  };
}

function passesOf(
  { torque, shares = SHARES, turns = [], round = turns.length === 0 }: PatternQuestion,
  order: readonly string[],
  around: readonly string[],
): Pass[] {
  const at = (share: number) => (torque === undefined ? {} : { torque: newtonMetres(torque * share) });
  return [
    { by: "hand", order },
    ...shares.map((share): Pass => ({ by: "torque", share, ...at(share), order })),
    ...turns.map((degrees): Pass => ({ by: "angle", degrees, order })),
    // A single bolt has nobody to slacken it.
    ...(round && order.length > 1 ? [{ by: "round", share: 1, ...at(1), order: around } satisfies Pass] : []),
  ];
}

function passFaults({ torque, shares = SHARES, turns = [], round }: PatternQuestion): Fault[] {
  const faults: Fault[] = [];
  if (torque !== undefined && !(torque > 0 && Number.isFinite(torque)))
    faults.push({
      rule: "not-positive",
      at: "torque",
      what: `${torque} N·m tightens nothing`,
      mend: "Give the final torque, above nothing.",
      values: { value: torque },
    });
  const rising = shares.every((share, i) => share > (shares[i - 1] ?? 0));
  if (shares.length === 0 || !rising || shares.at(-1) !== 1)
    faults.push({
      rule: "not-a-share",
      at: "shares",
      what: `passes at ${shares.join(", ") || "nothing"} do not rise to the full torque`,
      mend: `Give rising shares that end with 1: ${SHARES.join(", ")}.`,
      values: { shares: shares.join(", ") },
    });
  for (const [i, degrees] of turns.entries())
    if (!(degrees > 0 && degrees <= 720))
      faults.push({
        rule: "not-positive",
        at: `turns/${i + 1}`,
        what: `a turn of ${degrees}° is none`,
        mend: "Give the degrees of each turn by itself, above nothing.",
        values: { value: degrees },
      });
  if (round === true && turns.length > 0)
    faults.push({
      rule: "two-aims",
      at: "round",
      what: "a round at a torque after an angle would turn on what is tight already",
      mend: "Leave the round out, or the angle.",
      values: {},
    });
  return faults;
}

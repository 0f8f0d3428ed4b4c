// Owns what is left over: from the bags that are open and what lies on the bench at the end, which connections could be short, ranked by chance.

import type { Bag, Counted } from "./bag.ts";
import type { Answer, Fault } from "./fault.ts";
import { CHANCES, type Chances, type Draw, ways } from "./omission.ts";
import { type Grid, gridOf, posterior } from "./posterior.ts";
import { readThread } from "./thread.ts";

export interface LeftoverQuestion {
  readonly bags: readonly Bag[];
  /** What lies there at the end. An item may be named by its thread and length alone: "M8×25". */
  readonly left: readonly Counted[];
  readonly chances?: Partial<Chances>;
}

/** A connection that could be short. */
export interface Suspect {
  readonly connection: string;
  /** That it is short, or holds a piece of another's, given everything that is known. */
  readonly chance: number;
  /** What it most likely lacks. */
  readonly lacks: readonly Counted[];
  /** The connection with which it has most likely changed pieces; absent where it simply lacks some. */
  readonly swappedWith?: string;
}

export interface Leftover {
  /** The likeliest first; those of no chance worth a look are left out. */
  readonly suspects: readonly Suspect[];
  /** That something of what is left came from none of these bags. */
  readonly stray: number;
  /** What is left and was in no bag. */
  readonly unknown: readonly string[];
}

/** Chance below which a connection is not listed. */
const WORTH_A_LOOK = 1e-4;

/** Ranks the connections that could be short, or gives every fault of the question. */
export function rankLeftover(question: LeftoverQuestion): Answer<Leftover> {
  const faults = faultsOf(question);
  if (faults.length > 0) return { faults };
  const { bags } = question;
  const chances = { ...habits(bags, CHANCES), ...question.chances };
  const names = new Set(bags.flatMap(({ items }) => items.map(({ item }) => item)));
  const { kinds, unknown } = match(question.left, [...names]);
  const suspects = new Map<string, { chance: number; best: number; suspect: Omit<Suspect, "chance"> }>();
  let whole = 1;
  for (const grid of apartFrom(kinds, bags)) {
    const draws = ways(bags, grid.items, chances);
    const { chanceOf, stray } = posterior(draws, grid, chances);
    whole *= 1 - stray;
    gather(suspects, draws, chanceOf, grid);
  }
  return {
    answer: {
      suspects: [...suspects.values()]
        .map(({ chance, suspect }) => ({ ...suspect, chance: Math.min(1, chance) }))
        .filter(({ chance }) => chance >= WORTH_A_LOOK)
        // Of two that changed pieces the one that lacks some stands first: it is the one that must not run.
        .sort((a, b) => b.chance - a.chance || b.lacks.length - a.lacks.length),
      stray: 1 - whole,
      unknown,
    },
  };
}

/** Bags that what is believed beforehand weighs as much as. */
const BELIEF = 10;

/**
 * The habits of this shop, as this job shows them: nearly all bags are of whole joints, so that the share of them that stand open tells how much an
 * open one means, and the share of marks how much a missing one does. Few bags leave what was believed beforehand nearly as it was.
 */
function habits(bags: readonly Bag[], believed: Chances): Chances {
  const marks = bags.filter(({ marked }) => marked !== undefined);
  const share = (before: number, hits: number, of: number) => (before * BELIEF + hits) / (BELIEF + of);
  const openIfWhole = share(believed.openIfWhole, bags.filter(({ open }) => open).length, bags.length);
  const markedIfWhole = share(
    believed.markedIfWhole,
    marks.filter(({ marked }) => marked === true).length,
    marks.length,
  );
  // What keeps the bag of a short joint open, beyond what keeps any bag open, stays as it was believed; and so does what keeps a mark away.
  const kept = (1 - believed.openIfShort) / (1 - believed.openIfWhole);
  const missed = believed.markedIfShort / believed.markedIfWhole;
  return {
    ...believed,
    openIfWhole,
    openIfShort: 1 - (1 - openIfWhole) * kept,
    markedIfWhole,
    markedIfShort: markedIfWhole * missed,
  };
}

function gather(
  suspects: Map<string, { chance: number; best: number; suspect: Omit<Suspect, "chance"> }>,
  draws: readonly Draw[],
  chanceOf: readonly (readonly number[])[],
  grid: Grid,
): void {
  for (const [i, draw] of draws.entries())
    for (const [j, way] of draw.ways.entries()) {
      const chance = chanceOf[i]?.[j] ?? 0;
      if (chance <= 0) continue;
      const parties = way.swap === undefined ? [draw.connection] : [draw.connection, way.swap.with];
      for (const connection of parties) {
        const giver = way.swap !== undefined && connection === way.swap.with;
        const lacks =
          way.swap === undefined
            ? way.take.flatMap((count, k) => (count > 0 ? [{ item: grid.names[k] as string, count }] : []))
            : giver
              ? [{ item: way.swap.item, count: way.swap.count }]
              : [];
        const other = way.swap && (giver ? draw.connection : way.swap.with);
        const suspect = { connection, lacks, ...(other === undefined ? {} : { swappedWith: other }) };
        const known = suspects.get(connection);
        if (known === undefined) suspects.set(connection, { chance, best: chance, suspect });
        else {
          known.chance += chance;
          if (chance > known.best) {
            known.best = chance;
            known.suspect = suspect;
          }
        }
      }
    }
}

interface Kind {
  readonly name: string;
  readonly items: ReadonlySet<string>;
  readonly count: number;
}

/** One spelling for an item: ×, no double spaces, lower case. */
const spelt = (item: string): string =>
  item
    .trim()
    .toLowerCase()
    .replace(/(?<=\d) ?[x*×] ?(?=\d)/g, "×")
    .replace(/\s+/g, " ");

/** Thread and length of an item that is named by nothing else: "M8×25". */
function bare(item: string): string | undefined {
  return /^m ?\d[\d.]*(×\d[\d.]*){0,2}$/i.test(spelt(item)) ? designation(item) : undefined;
}

function designation(item: string): string | undefined {
  const reading = readThread(item);
  return "thread" in reading ? `${reading.thread.name} ${reading.length ?? ""}` : undefined;
}

function match(left: readonly Counted[], names: readonly string[]): { kinds: Kind[]; unknown: string[] } {
  const kinds = new Map<string, Kind>();
  const unknown: string[] = [];
  for (const { item, count } of left) {
    if (count === 0) continue;
    const same = names.filter((name) => spelt(name) === spelt(item));
    const size = same.length > 0 ? undefined : bare(item);
    const items = size === undefined ? same : names.filter((name) => designation(name) === size);
    if (items.length === 0) {
      unknown.push(item);
      continue;
    }
    const key = [...items].sort().join("|");
    const known = kinds.get(key);
    kinds.set(key, { name: known?.name ?? item, items: new Set(items), count: count + (known?.count ?? 0) });
  }
  return { kinds: [...kinds.values()], unknown };
}

/** Kinds that no bag holds together are told apart: each group is a question by itself. */
function apartFrom(kinds: readonly Kind[], bags: readonly Bag[]): Grid[] {
  const group = kinds.map((_, i) => i);
  const root = (i: number): number => (group[i] === i ? i : root(group[i] as number));
  for (const { items } of bags) {
    const held = kinds.flatMap((kind, i) => (items.some(({ item }) => kind.items.has(item)) ? [i] : []));
    for (const i of held) group[root(i)] = root(held[0] as number);
  }
  const roots = [...new Set(kinds.map((_, i) => root(i)))];
  return roots.map((one) => gridOf(kinds.filter((_, i) => root(i) === one)));
}

function faultsOf({ bags, left }: LeftoverQuestion): Fault[] {
  const faults: Fault[] = [];
  const count = (at: string, value: number, least: number) => {
    if (Number.isInteger(value) && value >= least) return;
    faults.push({
      rule: "not-a-count",
      at,
      what: `a count of ${value} is none`,
      mend: `Give a whole number from ${least}.`,
      values: { value },
    });
  };
  const seen = new Set<string>();
  for (const { connection, items } of bags) {
    if (seen.has(connection))
      faults.push({
        rule: "id-twice",
        at: connection,
        what: `${connection} has two bags`,
        mend: "Put its hardware into one.",
        values: { id: connection },
      });
    seen.add(connection);
    for (const one of items) {
      const at = `${connection}/${one.item}`;
      count(at, one.count, 0);
      if (one.in === undefined) continue;
      count(at, one.in, 0);
      if (one.in > one.count)
        faults.push({
          rule: "more-in-than-out",
          at,
          what: `${one.in} went in of ${one.count} that came out`,
          mend: "Count again: one of the two is wrong, or a piece is another's.",
          values: { in: one.in, out: one.count },
        });
    }
  }
  for (const { item, count: many } of left) count(`left/${item}`, many, 0);
  return faults;
}

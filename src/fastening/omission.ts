// Owns how hardware comes to be left over: the ways in which each bag can come short, and how likely each is beforehand.

import type { Bag } from "./bag.ts";
import { findThread } from "./thread.ts";

/**
 * What is believed before anything is counted. The figures are ours, no source gives any; a shop that keeps its
 * ledgers may put in its own. The ranking leans on their proportions only.
 */
export interface Chances {
  /** That a connection is left short. */
  readonly short: number;
  /** How much likelier where nobody sees it. */
  readonly hidden: number;
  /** That the bag is still open when its connection is short, and when it is not. */
  readonly openIfShort: number;
  readonly openIfWhole: number;
  /** That torque or mark is recorded when it is short, and when it is not. */
  readonly markedIfShort: number;
  readonly markedIfWhole: number;
  /** Of those short: that nothing at all was put in. */
  readonly all: number;
  /** Of those short in part: that it is one kind of piece (a washer), not whole fasteners. */
  readonly oneKind: number;
  /** Each further piece forgotten, against one less. */
  readonly further: number;
  /** That a count written down as it went in is right. */
  readonly counted: number;
  /** That two bags of one thread and one place have changed pieces. */
  readonly swapped: number;
  /** That pieces of just this kind come from elsewhere: it must match in size and length, so it is rarer than a piece left out. */
  readonly stray: number;
}

export const CHANCES: Chances = {
  short: 0.01,
  hidden: 2,
  openIfShort: 0.85,
  openIfWhole: 0.1,
  markedIfShort: 0.3,
  markedIfWhole: 0.9,
  all: 0.35,
  oneKind: 0.3,
  further: 0.5,
  counted: 0.97,
  swapped: 0.0002,
  stray: 0.004,
};

/** One way to come short: how many of each left kind it leaves, and its chance. */
export interface Way {
  readonly take: readonly number[];
  readonly chance: number;
  /** Pieces of another's bag went in instead, which is now short of them. */
  readonly swap?: { readonly with: string; readonly item: string; readonly count: number };
}

/** What one bag, or one pair of bags, may add to what is left; its ways exclude one another. */
export interface Draw {
  readonly connection: string;
  /** That it adds nothing. */
  readonly none: number;
  readonly ways: readonly Way[];
}

/** Every draw that can have left pieces of these kinds: each kind is a set of item names. */
export function ways(bags: readonly Bag[], kinds: readonly ReadonlySet<string>[], chances: Chances): Draw[] {
  const threads = new Map(
    bags.flatMap(({ items }) => items.map(({ item }) => [item, findThread(item)?.name] as const)),
  );
  const holders = bags.filter(({ items }) => items.some(({ item }) => kinds.some((kind) => kind.has(item))));
  return [
    ...holders.map((bag) => omissions(bag, kinds, chances)),
    ...holders.flatMap((bag) => swaps(bag, bags, kinds, threads, chances)),
  ];
}

/** Odds that a bag is short, by what is seen of it, against one that is whole. */
function evidence({ open, marked, hidden }: Bag, c: Chances): number {
  const openness = open ? c.openIfShort / c.openIfWhole : (1 - c.openIfShort) / (1 - c.openIfWhole);
  const mark =
    marked === undefined
      ? 1
      : marked
        ? c.markedIfShort / c.markedIfWhole
        : (1 - c.markedIfShort) / (1 - c.markedIfWhole);
  return openness * mark * (hidden === true ? c.hidden : 1);
}

function omissions(bag: Bag, kinds: readonly ReadonlySet<string>[], c: Chances): Draw {
  const counts = bag.items.map(({ count }) => count);
  const points = counts[0] ?? 0;
  // Nuts and washers that come in the same number, or a multiple of it, are of the same fasteners.
  const set = counts.map((count) => (points > 0 && count % points === 0 ? count / points : 0));
  const events = new Map<string, { readonly lost: readonly number[]; chance: number }>();
  const add = (lost: readonly number[], chance: number) => {
    if (chance <= 0) return;
    const key = lost.join();
    const known = events.get(key);
    if (known === undefined) events.set(key, { lost, chance });
    else known.chance += chance;
  };
  add(counts, c.all);
  const part = 1 - c.all;
  for (const [k, chance] of falling(points, c.further))
    add(
      set.map((each) => each * k),
      part * (1 - c.oneKind) * chance,
    );
  for (const [i, count] of counts.entries())
    for (const [k, chance] of falling(count, c.further))
      add(
        counts.map((_, j) => (j === i ? k : 0)),
        (part * c.oneKind * chance) / counts.length,
      );

  const odds = (c.short / (1 - c.short)) * evidence(bag, c);
  let none = recorded(
    bag,
    counts.map(() => 0),
    c,
  );
  let total = none;
  const short: Way[] = [];
  for (const { lost, chance } of events.values()) {
    const weight = odds * chance * recorded(bag, lost, c);
    total += weight;
    const take = kinds.map((kind) =>
      bag.items.reduce((sum, { item }, i) => sum + (kind.has(item) ? (lost[i] as number) : 0), 0),
    );
    // What it would leave of kinds that nobody found was not left: it is no way to what lies there, but it is one not taken.
    const seen = lost.every(
      (count, i) => count === 0 || kinds.some((kind) => kind.has((bag.items[i] as { item: string }).item)),
    );
    if (seen) short.push({ take, chance: weight });
  }
  none /= total;
  return { connection: bag.connection, none, ways: short.map((way) => ({ ...way, chance: way.chance / total })) };
}

/** 1 … n, each a share of the one before, together 1. */
function falling(n: number, share: number): (readonly [number, number])[] {
  let sum = 0;
  for (let k = 1; k <= n; k++) sum += share ** k;
  return Array.from({ length: n }, (_, i) => [i + 1, share ** (i + 1) / sum] as const);
}

/** How likely the counts written down at refit are, if so much was lost. */
function recorded({ items }: Bag, lost: readonly number[], { counted }: Chances): number {
  let chance = 1;
  for (const [i, one] of items.entries()) {
    if (one.in === undefined) continue;
    chance *= one.in === one.count - (lost[i] as number) ? counted : (1 - counted) / Math.max(1, one.count);
  }
  return chance;
}

/** Pieces of other bags of the same thread that may have gone into this connection, and left its own over. */
function swaps(
  bag: Bag,
  bags: readonly Bag[],
  kinds: readonly ReadonlySet<string>[],
  threads: ReadonlyMap<string, string | undefined>,
  c: Chances,
): Draw[] {
  const draws: Draw[] = [];
  for (const own of bag.items) {
    const kind = kinds.findIndex((one) => one.has(own.item));
    const thread = kind < 0 ? undefined : threads.get(own.item);
    if (thread === undefined) continue;
    for (const other of bags) {
      if (other === bag || (other.place !== undefined && bag.place !== undefined && other.place !== bag.place))
        continue;
      for (const its of other.items) {
        if (kinds[kind]?.has(its.item) || threads.get(its.item) !== thread) continue;
        const most = Math.min(own.count, its.count);
        if (most === 0) continue;
        // The giver is the one that is short; the taker looks whole.
        const odds = c.swapped * evidence(other, c);
        draws.push({
          connection: bag.connection,
          none: 1 / (1 + odds),
          ways: falling(most, c.further).map(([count, chance]) => ({
            take: kinds.map((_, i) => (i === kind ? count : 0)),
            chance: (odds / (1 + odds)) * chance,
            swap: { with: other.connection, item: its.item, count },
          })),
        });
      }
    }
  }
  return draws;
}

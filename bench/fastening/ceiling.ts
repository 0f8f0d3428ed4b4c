// Owns the ceiling of any ranking in a simulated shop: the exact chance of each connection by the simulator's own rules and figures, which no ranking can know.

import type { Bag, Counted } from "../../src/fastening/index.ts";
import { type Forgotten, partnersOf, type Shop } from "./forgotten.ts";

/** How often a ranking that knew the shop's every habit would have the short connection first, and among three. */
export interface Ceiling {
  readonly first: number;
  readonly three: number;
}

/** The chance that the best guess, and the best three, are right, given all that can be seen of this job. */
export function ceilingOf({ question: { bags, left } }: Forgotten, shop: Shop): Ceiling {
  const names = new Set(bags.flatMap(({ items }) => items.map(({ item }) => item)));
  // What was in no bag is a stray, and tells nothing.
  const found = left.filter(({ item }) => names.has(item));
  const weights = bags.map((bag) => seen(bag, shop) * leaves(bag, bags, found, shop));
  const total = weights.reduce((sum, one) => sum + one, 0);
  const sorted = weights.map((one) => one / total).sort((a, b) => b - a);
  return { first: sorted[0] ?? 0, three: sorted.slice(0, 3).reduce((sum, one) => sum + one, 0) };
}

/** How much likelier this is the short one, by what is seen of its bag. */
function seen({ open, marked, hidden }: Bag, shop: Shop): number {
  const odds = (sign: boolean, short: number, whole: number) => (sign ? short / whole : (1 - short) / (1 - whole));
  return (
    (hidden === true ? 2.5 : 1) *
    odds(open, shop.openIfShort, shop.openIfWhole) *
    (marked === undefined ? 1 : odds(marked, shop.markedIfShort, shop.markedIfWhole))
  );
}

/** The chance of just this on the bench, if this bag is the short one. */
function leaves(bag: Bag, bags: readonly Bag[], found: readonly Counted[], { swaps }: Shop): number {
  const counted = (lost: readonly number[]) =>
    bag.items.every(({ count, in: into }, i) => into === undefined || into === count - (lost[i] as number));
  const others = bags.every(
    (one) => one === bag || one.items.every(({ count, in: into }) => into === undefined || into === count),
  );
  if (!others) return 0;
  const partners = partnersOf(bag, bags);
  const swapped = partners.length > 0 && counted(bag.items.map(() => 0)) ? swapChance(bag, partners, found) * swaps : 0;
  const lost = bag.items.map(({ item }) => found.find((one) => one.item === item)?.count ?? 0);
  const own = found.every(({ item }) => bag.items.some((one) => one.item === item));
  const forgotten = own && counted(lost) ? omitChance(bag.items, lost) : 0;
  return swapped + forgotten * (partners.length > 0 ? 1 - swaps : 1);
}

function swapChance(bag: Bag, partners: readonly Counted[], found: readonly Counted[]): number {
  const [only] = found;
  if (only === undefined || found.length > 1) return 0;
  const most = bag.items[0]?.count ?? 1;
  return (
    partners.reduce((sum, { item, count }) => {
      if (item !== only.item) return sum;
      const one = Math.min(count, most, 1) === only.count ? 0.7 : 0;
      const two = Math.min(count, most, 2) === only.count ? 0.3 : 0;
      return sum + one + two;
    }, 0) / partners.length
  );
}

/** The chance that just so many of each item are forgotten: all, some whole fasteners, some of one kind. */
function omitChance(items: Bag["items"], lost: readonly number[]): number {
  const most = items[0]?.count ?? 1;
  const all = items.every(({ count }, i) => lost[i] === count) ? 0.25 : 0;
  const points = [1, 1, 1, 1, 2, 2, 3].filter((k) => lost.every((one) => one === Math.min(most, k))).length / 7;
  const kinds =
    items
      .map(
        ({ count }, i) =>
          [1, 1, 2].filter((k) => lost.every((one, j) => one === (j === i ? Math.min(count, k) : 0))).length / 3,
      )
      .reduce((sum, one) => sum + one, 0) / items.length;
  return all + 0.5 * points + 0.25 * kinds;
}

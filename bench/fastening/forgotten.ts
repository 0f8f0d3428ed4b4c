// Owns simulated ways back with a planted omission: bags, what is left at the end, and the connection that is truly short.

import type { Bag, Counted, LeftoverQuestion } from "../../src/fastening/index.ts";
import { type Chance, makeChance } from "../release/chance.ts";

/** How a shop works. None of these figures is the ranking's own: it is to be right about shops it does not know. */
export interface Shop {
  /** That a bag is open at the end when its connection is short, and when it is whole. */
  readonly openIfShort: number;
  readonly openIfWhole: number;
  /** That a joint with a torque has its mark, likewise. */
  readonly markedIfShort: number;
  readonly markedIfWhole: number;
  /** That hardware is counted as it goes in. */
  readonly counts: number;
  /** That pieces were changed between two bags, instead of forgotten. */
  readonly swaps: number;
  /** That a piece from elsewhere lies there too. */
  readonly strays: number;
}

/** A careful shop with small habits. */
export const TIDY: Shop = {
  openIfShort: 0.9,
  openIfWhole: 0.04,
  markedIfShort: 0.25,
  markedIfWhole: 0.95,
  counts: 0.2,
  swaps: 0.05,
  strays: 0.03,
};

/** A shop in a hurry: one bag in eight is left open though empty, marks are made from memory. */
export const HURRIED: Shop = {
  openIfShort: 0.75,
  openIfWhole: 0.12,
  markedIfShort: 0.45,
  markedIfWhole: 0.85,
  counts: 0,
  swaps: 0.1,
  strays: 0.06,
};

/** A shop that leaves three bags in ten open and marks from memory: what the ranking cannot know it does not find. */
export const CARELESS: Shop = {
  openIfShort: 0.65,
  openIfWhole: 0.3,
  markedIfShort: 0.6,
  markedIfWhole: 0.75,
  counts: 0,
  swaps: 0.15,
  strays: 0.1,
};

export interface Forgotten {
  readonly question: LeftoverQuestion;
  /** The connection that is short. */
  readonly truth: string;
}

const SIZES: readonly (readonly [string, number, readonly number[]])[] = [
  ["M5", 0.08, [10, 12, 14, 16]],
  ["M6", 0.27, [12, 16, 20, 25, 30]],
  ["M8", 0.33, [16, 20, 25, 30, 35, 40, 50]],
  ["M10", 0.2, [20, 25, 30, 35, 40, 45, 50, 60]],
  ["M12", 0.08, [30, 35, 40, 50, 70, 90]],
  ["M16", 0.04, [40, 50, 60, 80]],
];
const PLACES = ["left", "right", "front", "under", "bench"];

/** A way back of `connections` connections with one omission, the same for the same seed. */
export function forget(seed: number, connections: number, shop: Shop): Forgotten {
  const chance = makeChance(seed);
  const joints = Array.from({ length: connections }, (_, i) => joint(`c${i + 1}`, chance));
  const victim = joints[
    weighted(
      chance,
      joints.map(({ hidden }) => (hidden ? 2.5 : 1)),
    )
  ] as Joint;

  const partners = chance.hit(shop.swaps) ? partnersOf(victim, joints) : [];
  const swap = partners.length === 0 ? undefined : chance.pick(partners);
  const lost = swap === undefined ? omit(victim, chance) : [];
  const left: Counted[] =
    swap === undefined
      ? victim.items.flatMap(({ item }, i) => ((lost[i] as number) > 0 ? [{ item, count: lost[i] as number }] : []))
      : [{ item: swap.item, count: Math.min(swap.count, victim.items[0]?.count ?? 1, chance.hit(0.7) ? 1 : 2) }];
  if (chance.hit(shop.strays)) left.push({ item: `screw M6×${chance.pick([10, 14, 18, 22])}`, count: 1 });

  const bags = joints.map((one): Bag => {
    const short = one === victim;
    const open = chance.hit(short ? shop.openIfShort : shop.openIfWhole);
    const marked = chance.hit(short ? shop.markedIfShort : shop.markedIfWhole);
    const counted = chance.hit(shop.counts);
    return {
      connection: one.id,
      items: one.items.map((item, i) => ({
        ...item,
        ...(counted ? { in: item.count - (short && swap === undefined ? (lost[i] as number) : 0) } : {}),
      })),
      open,
      ...(one.torque ? { marked } : {}),
      ...(one.hidden ? { hidden: true } : {}),
      place: one.place,
    };
  });
  return { question: { bags, left }, truth: victim.id };
}

interface Joint {
  readonly id: string;
  readonly items: readonly Counted[];
  readonly hidden: boolean;
  readonly torque: boolean;
  readonly place: string;
}

function joint(id: string, chance: Chance): Joint {
  const rest = { id, hidden: chance.hit(0.15), place: chance.pick(PLACES) };
  if (chance.hit(0.25)) {
    const clamp = chance.pick([
      "hose clamp 8-16",
      "hose clamp 16-27",
      "hose clamp 40-60",
      "pipe clip 20",
      "cable clip 16",
    ]);
    return { ...rest, torque: false, items: [{ item: clamp, count: chance.whole(1, 3) }] };
  }
  const [size, , lengths] = SIZES[
    weighted(
      chance,
      SIZES.map(([, weight]) => weight),
    )
  ] as (typeof SIZES)[number];
  const count = chance.pick([1, 2, 2, 3, 3, 4, 4, 4, 5, 6, 6, 8, 10, 12]);
  return {
    ...rest,
    torque: chance.hit(0.6),
    items: [
      { item: `${chance.pick(["bolt", "bolt", "screw"])} ${size}×${chance.pick(lengths)}`, count },
      ...(chance.hit(0.3) ? [{ item: `washer ${size.slice(1)}`, count }] : []),
      ...(chance.hit(0.2) ? [{ item: `nut ${size}`, count }] : []),
    ],
  };
}

/** Pieces forgotten of each item. */
function omit({ items }: Joint, chance: Chance): number[] {
  const way = chance.next();
  const most = items[0]?.count ?? 1;
  if (way < 0.25) return items.map(({ count }) => count);
  if (way < 0.75) {
    const points = Math.min(most, chance.pick([1, 1, 1, 1, 2, 2, 3]));
    return items.map(() => points);
  }
  const one = chance.whole(0, items.length - 1);
  return items.map(({ count }, i) => (i === one ? Math.min(count, chance.pick([1, 1, 2])) : 0));
}

/** Joints of the same thread and place whose pieces are of another length: the victim's go in there, and their own are left. */
export function partnersOf(
  victim: Pick<Bag, "items" | "place">,
  all: readonly Pick<Bag, "items" | "place">[],
): readonly Counted[] {
  const own = victim.items[0] as Counted;
  const thread = /M\d+/.exec(own.item)?.[0];
  if (thread === undefined) return [];
  return all.flatMap((one) => {
    const [first] = one.items;
    return first !== undefined &&
      one !== victim &&
      one.place === victim.place &&
      /M\d+/.exec(first.item)?.[0] === thread &&
      first.item !== own.item
      ? [first]
      : [];
  });
}

/** The place of one drawn with these weights. */
function weighted(chance: Chance, weights: readonly number[]): number {
  let ticket = chance.next() * weights.reduce((sum, one) => sum + one, 0);
  for (const [i, weight] of weights.entries()) {
    ticket -= weight;
    if (ticket < 0) return i;
  }
  return weights.length - 1;
}

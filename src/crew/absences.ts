// Owns when a person is away while others are there, on the working clock.

import type { WorkClock } from "./clock.ts";
import type { Span } from "./draft.ts";
import { isAlways, type Shop } from "./shop.ts";

/** Beyond every schedule, working ticks. */
const FAR = 2 ** 28;

/** Spells of one person, rising; the last may have no end, which is then far beyond. */
export const absencesOf = (shop: Shop, clock: WorkClock, person: number): readonly Span[] => {
  const one = shop.people[person];
  if (one === undefined || isAlways(one)) return [];
  const edges = [shop.now, ...one.spells];
  const spans: Span[] = [];
  for (let place = 0; place < edges.length; place += 2) {
    const from = Math.max(0, clock.at(edges[place] ?? 0));
    const until = Math.max(0, Math.min(FAR, clock.at(edges[place + 1] ?? Number.POSITIVE_INFINITY)));
    if (until > from) spans.push([from, until]);
  }
  return spans;
};

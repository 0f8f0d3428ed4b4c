// Owns the clearing of a hanging load along its way: first contact, least clearance and where, and which tie that stays on comes taut first.

import { carried, type Gap, gapBetween, reachFrom, standing } from "./box.ts";
import { firstAt, leastAt, type Station, stationAt, swiftness, travelOf, type Way } from "./path.ts";
import { placeOf } from "./pose.ts";
import type { Box, Vector } from "./problem.ts";
import { distance } from "./vector.ts";

export interface Meeting {
  /** The load's box and the obstacle. */
  readonly box: string;
  readonly obstacle: string;
  readonly at: Station;
  /** Metres, negative when they overlap; and the two points. */
  readonly gap: Gap;
}

export interface Clearing {
  /** The nearest that the load comes to anything, the least over the whole way. */
  readonly least?: Meeting;
  /** Where it first touches, if it does; `least` goes on behind it as if nothing were there. */
  readonly contact?: Meeting;
  /** Pairs that overlap before anything moves: boxes drawn too large, or an obstacle that is not one. They count no further. */
  readonly atStart: readonly { readonly box: string; readonly obstacle: string }[];
}

/** How a load's boxes clear the obstacles' along a way, at the attitude it hangs at. */
export function clear(outline: readonly Box[], obstacles: readonly Box[], way: Way): Clearing {
  const swift = swiftness(way, reachFrom(outline, way.centre));
  const length = travelOf(way);
  const start = stationAt(way, 0);
  const fixed = obstacles.map(standing);
  const atStart: { box: string; obstacle: string }[] = [];
  const pairs = outline.flatMap((box) =>
    fixed.flatMap((obstacle) => {
      const free = gapBetween(carried(box, start.pose), obstacle).distance >= 0;
      if (!free) atStart.push({ box: box.id, obstacle: obstacle.id });
      return free ? [{ box, obstacle }] : [];
    }),
  );
  let least: Meeting | undefined;
  let contact: Meeting | undefined;
  for (const { box, obstacle } of pairs) {
    const gap = (travel: number): Gap => gapBetween(carried(box, stationAt(way, travel).pose), obstacle);
    const meeting = (travel: number): Meeting => ({
      box: box.id,
      obstacle: obstacle.id,
      at: stationAt(way, travel),
      gap: gap(travel),
    });
    const low = leastAt((travel) => gap(travel).distance, length, swift);
    if (least === undefined || low.least < least.gap.distance) least = meeting(low.travel);
    if (low.least > 0) continue;
    const first = firstAt((travel) => gap(travel).distance, 0, contact?.at.travel ?? length, swift);
    if (first !== undefined && (contact === undefined || first < contact.at.travel)) contact = meeting(first);
  }
  return { ...(least ? { least } : {}), ...(contact ? { contact } : {}), atStart };
}

/** A tie that stays on: from a point of the load (body axes) to a point that stays (the same axes before the lift). */
export interface StayingTie {
  readonly id: string;
  readonly on: Vector;
  readonly to: Vector;
  /** Metres between the two at which it is taut. */
  readonly length: number;
}

export interface Tautness {
  readonly id: string;
  /** Where it comes taut; absent: it never does along this way. */
  readonly at?: Station;
  /** Metres of length left at the end of the way, negative when it would have torn. */
  readonly left: number;
}

/** When each tie comes taut along the way, the first first, those that never do last. */
export function tautAlong(ties: readonly StayingTie[], way: Way): Tautness[] {
  const length = travelOf(way);
  return ties
    .map((tie): Tautness => {
      const swift = swiftness(way, distance(tie.on, way.centre));
      const left = (travel: number): number =>
        tie.length - distance(placeOf(stationAt(way, travel).pose, tie.on), tie.to);
      const first = firstAt(left, 0, length, swift);
      return { id: tie.id, left: left(length), ...(first === undefined ? {} : { at: stationAt(way, first) }) };
    })
    .sort((a, b) => (a.at?.travel ?? Number.POSITIVE_INFINITY) - (b.at?.travel ?? Number.POSITIVE_INFINITY));
}

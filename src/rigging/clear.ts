// Owns the clearing of a hanging load along its way: first contact, least clearance and where, and which tie that stays on comes taut first.

import { carried, type Gap, gapBetween, reachFrom, standing } from "./box.ts";
import { firstAt, leastAt, piecesOf, type Station, stationAt, travelOf, type Way } from "./path.ts";
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
  const pieces = piecesOf(way, reachFrom(outline, way.centre));
  const start = stationAt(way, 0);
  const fixed = obstacles.map(standing);
  const atStart: { box: string; obstacle: string }[] = [];
  const pairs = outline
    .flatMap((box) =>
      fixed.flatMap((obstacle) => {
        const { distance: from } = gapBetween(carried(box, start.pose), obstacle);
        if (from < 0) atStart.push({ box: box.id, obstacle: obstacle.id });
        return from < 0 ? [] : [{ box, obstacle, from }];
      }),
    )
    // What begins near is likely to come near; what is sure to stay farther off than that needs no closer look.
    .sort((a, b) => a.from - b.from);
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
    const above = least === undefined ? undefined : Math.max(0, least.gap.distance);
    const low = leastAt((travel) => gap(travel).distance, pieces, above);
    if (least === undefined || low.least < least.gap.distance) least = meeting(low.travel);
    if (low.least > 0) continue;
    const first = firstAt((travel) => gap(travel).distance, pieces, contact?.at.travel);
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
      const pieces = piecesOf(way, distance(tie.on, way.centre));
      const left = (travel: number): number =>
        tie.length - distance(placeOf(stationAt(way, travel).pose, tie.on), tie.to);
      const first = firstAt(left, pieces);
      return { id: tie.id, left: left(length), ...(first === undefined ? {} : { at: stationAt(way, first) }) };
    })
    .sort((a, b) => (a.at?.travel ?? Number.POSITIVE_INFINITY) - (b.at?.travel ?? Number.POSITIVE_INFINITY));
}

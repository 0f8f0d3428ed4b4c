// Owns which pulls statics alone cannot tell: those of legs that can pull against one another and leave every body in balance.

import type { Rested } from "./bodies.ts";
import { restThatHolds } from "./hang-bodies.ts";
import { type Eigen, symmetricEigen } from "./matrix.ts";
import { type Link, placeOf } from "./pose.ts";
import type { Rig, Vector } from "./problem.ts";
import { cross, scale, subtract, unit } from "./vector.ts";

/** The square of what a mix of unit pulls leaves on the bodies, least first, and each such mix. */
export function mixesOf({ links, bodies, still: { poses } }: Rested): Eigen {
  const place = ({ body, at }: Link["lower"]): Vector => (body === undefined ? at : placeOf(poses[body]!, at));
  const columns = links.map(({ lower, upper }) => {
    const column = new Array<number>(6 * bodies.length).fill(0);
    const along = unit(subtract(place(upper), place(lower)));
    for (const [end, sign] of [
      [lower, 1],
      [upper, -1],
    ] as const) {
      if (end.body === undefined) continue;
      const { pin, centre } = bodies[end.body]!;
      const force = scale(along, sign);
      const moment = cross(subtract(place(end), placeOf(poses[end.body]!, pin ?? centre)), force);
      for (let i = 0; i < 3; i++) {
        // A pin takes any force.
        column[6 * end.body + i] = pin === undefined ? force[i]! : 0;
        column[6 * end.body + 3 + i] = moment[i]!;
      }
    }
    return column;
  });
  const products = columns.flatMap((a) => columns.map((b) => a.reduce((sum, each, i) => sum + each * b[i]!, 0)));
  return symmetricEigen(products, columns.length);
}

/** Of the greatest of those squares, below which a millimetre of length shifts the pulls as it likes: frames lie below a thousandth, rigs that statics tell above a fiftieth. */
const SHARED = 5e-3;
/** Of a mix, from where on a leg takes part in it. */
const TAKES_PART = 0.1;

/** Ids of the legs below a beam, or up from it, that share as statics cannot tell. */
export function sharedLegs(rig: Rig): ReadonlySet<string> {
  const { values, vectors } = mixesOf(restThatHolds(rig).rested);
  const mixes = vectors.filter((_, k) => values[k]! < SHARED * values.at(-1)!);
  return new Set(rig.legs.flatMap(({ id }, i) => (mixes.some((mix) => Math.abs(mix[i]!) > TAKES_PART) ? [id] : [])));
}

// Owns the ring under the head or nut that rubs: the washer face and the hole, by size where nobody gives them.

import { type Metres, metres } from "../quantity/index.ts";
import type { Thread } from "./thread.ts";

/** Outer diameter of the face that turns, diameter of the hole under it. Metres. */
export interface Bearing {
  readonly face: Metres;
  readonly hole: Metres;
}

/**
 * Size, least washer-face diameter of a hexagon head (ISO 4014, product grade A up to 24, then B), medium hole (ISO 273), mm. M8, M10,
 * M12, M16 and M20 are those with which printed VDI 2230 tables are met; the others are from memory.
 */
const HEXAGON: readonly (readonly [number, number, number])[] = [
  [3, 4.57, 3.4],
  [4, 5.88, 4.5],
  [5, 6.88, 5.5],
  [6, 8.88, 6.6],
  [8, 11.63, 9],
  [10, 14.63, 11],
  [12, 16.63, 13.5],
  [14, 19.64, 15.5],
  [16, 22.49, 17.5],
  [18, 25.34, 20],
  [20, 28.19, 22],
  [22, 31.71, 24],
  [24, 33.61, 26],
  [27, 38, 30],
  [30, 42.75, 33],
  [36, 51.11, 39],
];

/** The face under a hexagon head of that size, and whether it stands in a table or is reckoned from the diameter (1.45 d and 1.1 d). */
export function hexagonBearing(thread: Thread): { readonly bearing: Bearing; readonly from: string } {
  const size = thread.diameter * 1000;
  const row = HEXAGON.find(([one]) => Math.abs(one - size) < 1e-6);
  return row === undefined
    ? {
        bearing: { face: metres(1.45 * thread.diameter), hole: metres(1.1 * thread.diameter) },
        from: "face 1.45 d and hole 1.1 d, by rule of thumb",
      }
    : {
        bearing: { face: metres(row[1] / 1000), hole: metres(row[2] / 1000) },
        from: "hexagon head of ISO 4014, hole medium of ISO 273",
      };
}

/** Effective diameter Dkm at which the face rubs: the mean of face and hole. */
export const bearingDiameter = ({ face, hole }: Bearing): Metres => metres((face + hole) / 2);

// Owns the running torque of self-locking nuts: what a new one may take, what a used one must still give.

import { type NewtonMetres, newtonMetres } from "../quantity/index.ts";
import type { Thread } from "./thread.ts";

/** Running torques of a locknut, N·m. */
export interface Running {
  /** At most, running a new nut on. */
  readonly firstOn: NewtonMetres;
  /** At least, taking it off the fifth time: below this it locks no more. */
  readonly fifthOff: NewtonMetres;
}

/** Size, first on at most, fifth off at least: ISO 2320 class 8, editions before 2015, from memory. */
const CLASS_8: readonly (readonly [number, number, number])[] = [
  [5, 1.6, 0.2],
  [6, 3, 0.3],
  [8, 6, 0.6],
  [10, 10.5, 1],
  [12, 15.5, 1.6],
  [16, 32, 3],
  [20, 54, 5.3],
  [24, 80, 8],
];

/** Running torques of a metric locknut of class 8 (ISO 2320, editions before 2015); undefined where the size is not in the table. */
export function runningTorque(thread: Thread): Running | undefined {
  const row = CLASS_8.find(([size]) => Math.abs(size - thread.diameter * 1000) < 1e-6);
  return row && { firstOn: newtonMetres(row[1]), fifthOff: newtonMetres(row[2]) };
}

// Owns the running torque of self-locking nuts: what a new one may take, what a used one must still give.

import { type NewtonMetres, newtonMetres } from "../quantity/index.ts";
import { isInch, type Thread } from "./thread.ts";

/** Running torques of a locknut, N·m. */
export interface Running {
  /** At most, running a new nut on; absent where the source does not say. */
  readonly most?: NewtonMetres;
  /** At least, of one that was on before: below this it locks no more. */
  readonly least: NewtonMetres;
  readonly source: string;
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

/**
 * Least breakaway torque of a used self-locking nut, lbf·in: a technical manual of the US Army. An advisory circular of the Federal Aviation
 * Administration (AC 43.13-1B) lets some go lower (7/16-20: 8, 1/2-20: 10, 5/8-18: 18, 3/4-16: 27); the stricter is taken.
 */
const USED_INCH: ReadonlyMap<string, number> = new Map([
  ["5/16-24 UNF", 6.5],
  ["3/8-24 UNF", 9.5],
  ["7/16-20 UNF", 14],
  ["1/2-20 UNF", 18],
  ["9/16-18 UNF", 24],
  ["5/8-18 UNF", 32],
  ["3/4-16 UNF", 50],
  ["3/8-16 UNC", 12],
  ["1/2-13 UNC", 24],
  ["5/8-11 UNC", 40],
  ["3/4-10 UNC", 60],
]);

/** 0.453 592 37 kg × 9.806 65 m/s² × 0.0254 m (NIST SP 811, B.8). */
const POUND_FORCE_INCH = 0.1129848290276167;

/** Limits of the running torque of a locknut on this thread; undefined where it is in no table. */
export function runningTorque(thread: Thread): Running | undefined {
  if (isInch(thread)) {
    const least = USED_INCH.get(thread.name);
    return least === undefined
      ? undefined
      : { least: newtonMetres(least * POUND_FORCE_INCH), source: "US Army technical manual, used nuts" };
  }
  const row = CLASS_8.find(([size]) => Math.abs(size - thread.diameter * 1000) < 1e-6);
  return (
    row && {
      most: newtonMetres(row[1]),
      least: newtonMetres(row[2]),
      source: "ISO 2320 class 8, editions before 2015, from memory",
    }
  );
}

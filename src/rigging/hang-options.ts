// Owns what may be said beside a rig when it is asked how it hangs.

import type { Vector } from "./problem.ts";

/** Which of what is uncertain to take; all nominal where nothing is said. Kilograms, metres, newtons. */
export interface Sample {
  readonly mass?: number;
  readonly centre?: Vector;
  /** Metres of each leg, in the rig's order, without load. */
  readonly lengths?: readonly number[];
  /** EA of each leg, newtons; of one that does not stretch, infinite. */
  readonly stiffness?: readonly number[];
}

export interface HangOptions {
  readonly sample?: Sample;
  /** Where the one hook stands before the lift, plan position in body axes; absent: right over the centre. */
  readonly stands?: readonly [number, number];
}

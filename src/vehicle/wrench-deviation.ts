// Owns what a torque wrench that is in order may be off: what a file states as a tolerance, and what a sheet of torques prints, are held against the same.

import type { NewtonMetres } from "../quantity/index.ts";

/** Permissible deviation of an indicating or setting tool: ±6 % up to 10 N·m, ±4 % above (ISO 6789:2003). */
export const permissibleDeviation = (torque: NewtonMetres): number => (torque <= 10 ? 0.06 : 0.04);

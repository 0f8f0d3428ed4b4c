// Owns the wrench: which of those at hand suits a torque, and what is set on it behind an adapter or a multiplier.

import { type Metres, type NewtonMetres, newtonMetres, readQuantity } from "../quantity/index.ts";

/** A torque wrench with the ends of its scale. */
export interface Wrench {
  readonly id: string;
  readonly low: NewtonMetres;
  readonly high: NewtonMetres;
}

/** An offset adapter on the square drive. */
export interface Adapter {
  /** From the middle of the grip to the square drive. */
  readonly length: Metres;
  /** From the square drive to the fastener. */
  readonly offset: Metres;
  /** 0: straight out in line with the wrench; 90: square to it; 180: folded back. */
  readonly degrees: number;
}

/** A torque multiplier: what comes out for what goes in. */
export interface Multiplier {
  /** Of its gears. */
  readonly ratio: number;
  /** What friction leaves of it, as the maker states; 1 where the ratio is of torques. */
  readonly efficiency?: number;
}

/** Below this share of its scale a setting wrench is not used: it is checked at 20, 60 and 100 % (ISO 6789:2003). */
const LEAST_SHARE = 0.2;

/** The torques a wrench may be used for: from a fifth of its scale, or its lowest mark, to its end. */
export const usableFrom = (wrench: Wrench): NewtonMetres =>
  newtonMetres(Math.max(wrench.low, LEAST_SHARE * wrench.high));

const TOLERANCE = 1e-9;

/** True when the torque lies in the usable range. */
export const fits = (wrench: Wrench, torque: NewtonMetres): boolean =>
  torque >= usableFrom(wrench) * (1 - TOLERANCE) && torque <= wrench.high * (1 + TOLERANCE);

/**
 * Of those at hand the one in whose range the torque lies highest: a scale is truest near its end. None fits: `nearest` is the one that
 * would have to be stretched least. Undefined where there is no wrench.
 */
export function chooseWrench(
  wrenches: readonly Wrench[],
  torque: NewtonMetres,
): { readonly wrench: Wrench } | { readonly nearest: Wrench } | undefined {
  const fitting = wrenches.filter((wrench) => fits(wrench, torque));
  if (fitting.length > 0) return { wrench: fitting.reduce((best, one) => (one.high < best.high ? one : best)) };
  const off = (wrench: Wrench): number => Math.max(usableFrom(wrench) / torque, torque / wrench.high);
  const [first, ...others] = wrenches;
  return first && { nearest: others.reduce((best, one) => (off(one) < off(best) ? one : best), first) };
}

/**
 * What is set on the wrench for this torque at the fastener: T·L/(L + E·cos θ). At 90° that is T: the arm is longer, and the force is not
 * square to it. Undefined when the adapter is folded back beyond the grip and no pull on it turns the fastener the right way.
 */
export function settingBehindAdapter(torque: NewtonMetres, adapter: Adapter): NewtonMetres | undefined {
  const { length, offset } = adapter;
  // Exact at the right angle, where the cosine of a rounded angle is not quite nothing.
  const cosine = Math.abs(adapter.degrees % 180) === 90 ? 0 : Math.cos((adapter.degrees * Math.PI) / 180);
  const arm = length + offset * cosine;
  return arm > 0 ? newtonMetres(torque * (length / arm)) : undefined;
}

/** What goes into a multiplier for this torque at its output. */
export const settingBehindMultiplier = (torque: NewtonMetres, { ratio, efficiency = 1 }: Multiplier): NewtonMetres =>
  newtonMetres(torque / (ratio * efficiency));

/** Reads the ends of a scale in the name of a tool: "torque wrench 20-100" (N·m where no unit is written), or undefined. */
export function findWrench(tool: string): Wrench | undefined {
  const match = /torque wrench\D*?(\d+(?:\.\d+)?) ?(?:-|–|to|\.\.) ?(\d+(?:\.\d+)?) ?(\S.*)?$/i.exec(tool);
  if (match === null) return undefined;
  const scale = readQuantity(`${match[1]}..${match[2]} ${match[3] ?? "N·m"}`, "torque");
  return "value" in scale ? { id: tool, low: scale.value.low, high: scale.value.high } : undefined;
}

// Owns mass and centre of a lifted group: the sum of its parts, and how far both may be out.

import type { Spread, Vector } from "../rigging/index.ts";
import type { Part } from "../vehicle/index.ts";

/** ± metres of a group's centre where none of its parts says how far its own may be out; common practice of drawing-board figures, marked as assumed. */
export const CENTRE_WITHIN = 0.01;

export interface GroupCentre {
  readonly mass: Spread;
  readonly centre: Vector;
  /** ± metres: nothing that the parts' tolerances allow lies outside. */
  readonly within: Vector;
  /** What parts of it are called that have no mass, and that have a mass and no centre; both count at the centre of the others. */
  readonly massless: readonly string[];
  readonly placeless: readonly string[];
  /** No part says how far its centre may be out. */
  readonly assumed: boolean;
}

interface Weighed {
  readonly low: number;
  readonly high: number;
  readonly from: number;
  readonly to: number;
}

/**
 * The greatest of Σ m·x / Σ m with every m and x within its limits: what lies beyond the answer weighs its most, what lies short of it its least, so the
 * answer is a fixed point, and each round comes nearer (Dinkelbach 1967).
 */
function farthest(parts: readonly Weighed[]): number {
  let at = Number.NEGATIVE_INFINITY;
  for (;;) {
    let [moment, mass] = [0, 0];
    for (const { low, high, to } of parts) {
      const m = to > at ? high : low;
      moment += m * to;
      mass += m;
    }
    const next = moment / mass;
    if (!(next > at + 1e-12)) return next;
    at = next;
  }
}

/** Mass and centre of these parts; undefined when none has both. */
export function centreOf(parts: readonly Part[]): GroupCentre | undefined {
  const placed = parts.flatMap((part) =>
    part.mass === undefined || part.centre === undefined ? [] : [{ ...part, mass: part.mass, centre: part.centre }],
  );
  const sum = placed.reduce((total, { mass }) => total + mass.nominal, 0);
  if (!(sum > 0)) return undefined;
  const assumed = !parts.some(({ within }) => within !== undefined);
  const centre: [number, number, number] = [0, 0, 0];
  const out: [number, number, number] = [0, 0, 0];
  for (const i of [0, 1, 2] as const) {
    centre[i] = placed.reduce((total, part) => total + part.mass.nominal * part.centre[i], 0) / sum;
    const weighed = placed.map(({ mass, centre: at, within = 0 }) => ({
      low: mass.low,
      high: mass.high,
      from: at[i] - within,
      to: at[i] + within,
    }));
    const high = farthest(weighed);
    const low = -farthest(weighed.map(({ from, to, ...rest }) => ({ ...rest, from: -to, to: -from })));
    out[i] = Math.max(high - centre[i], centre[i] - low) + (assumed ? CENTRE_WITHIN : 0);
  }
  const all = parts.flatMap(({ mass }) => mass ?? []);
  const total = (of: "low" | "nominal" | "high"): number => all.reduce((kilograms, mass) => kilograms + mass[of], 0);
  return {
    mass: { low: total("low"), nominal: total("nominal"), high: total("high") },
    centre,
    within: out,
    massless: parts.filter(({ mass }) => mass === undefined).map(({ label }) => label),
    placeless: parts.filter((part) => part.mass !== undefined && part.centre === undefined).map(({ label }) => label),
    assumed,
  };
}

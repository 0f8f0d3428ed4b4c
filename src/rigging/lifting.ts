// Owns what is allowed of shackles and hoists, and what lifting adds to a weight.

import type { DynamicFactor, Hoist } from "./problem.ts";
import type { Fault } from "./refusal.ts";

/** Share of its limit that a shackle keeps with the pull so many degrees off the line square to its pin; none beyond 90. */
export function shackleShare(side: number): number | undefined {
  // Bands of ASME B30.26 and WAC 296-155-33905 taken as steps; their shares from three publishers' 0, 45 and 90°.
  if (side <= 5) return 1;
  if (side <= 45) return 0.7;
  return side <= 90 ? 0.5 : undefined;
}

/** What the hoist's curve allows, kilograms, never beyond its figures; without a reach the least of them. */
export function hoistLimit(
  hoist: Hoist,
): { readonly kilograms: number; readonly from: string } | { readonly fault: Fault } {
  const { curve, reach } = hoist;
  const at = `hoist/${hoist.id}`;
  const [first, last] = [curve[0], curve.at(-1)];
  if (first === undefined || last === undefined || curve.some(([r], i) => i > 0 && r <= curve[i - 1]![0]))
    return { fault: { at, is: "curve out of order" } };
  if (reach === undefined)
    return {
      kilograms: Math.min(...curve.map(([, kilograms]) => kilograms)),
      from: "the least of its figures: no reach is given",
    };
  if (reach < first[0] || reach > last[0])
    return { fault: { at, is: "beyond its reach", reach, from: first[0], to: last[0] } };
  const next = curve.findIndex(([r]) => r >= reach);
  const [far, after] = curve[next]!;
  if (far === reach || next === 0) return { kilograms: after, from: `its figure at ${far} m` };
  const [near, before] = curve[next - 1]!;
  if (hoist.between === "line")
    return {
      kilograms: before + ((after - before) * (reach - near)) / (far - near),
      from: `on the line between its figures at ${near} m and ${far} m`,
    };
  return { kilograms: Math.min(before, after), from: `the lower of its figures at ${near} m and ${far} m` };
}

/** 1.10 on land with one crane from 3 t; less than 3 t is given no less (marine guideline 0027/ND rev. 11, table 5-1). */
export const LAND_LIFT: DynamicFactor = {
  factor: 1.1,
  source: "lift factor on land, one crane: guideline 0027/ND rev. 11 table 5-1",
  assumed: true,
};

/** EN 13001-2 hoisting classes, φ2 = least + slope·v with v in m/s; from memory. Snatch out of slack is outside all of them. */
const HOISTING = { HC1: [1.05, 0.17], HC2: [1.1, 0.34], HC3: [1.15, 0.51], HC4: [1.2, 0.68] } as const;

export function hoistingFactor(hoistingClass: keyof typeof HOISTING, speed: number): DynamicFactor {
  const [least, slope] = HOISTING[hoistingClass];
  return {
    factor: least + slope * speed,
    source: `EN 13001-2 ${hoistingClass} at ${speed} m/s, from memory`,
    assumed: true,
  };
}

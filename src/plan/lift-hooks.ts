// Owns what the legs of a lift lead up to, from the vehicle file: the hoist's hook, a lifting beam, two hooks.

import type { Beam, Hook, Rating } from "../rigging/index.ts";
import type { Hoist, LiftBeam, SlingLeg, Vehicle } from "../vehicle/index.ts";

/** What is wrong with a question about a lift: where, what, and what would mend it. */
export interface LiftFault {
  readonly at: string;
  readonly what: string;
  readonly mend: string;
}

export const OF_FILE = "the vehicle file";
export const ratingOf = (kilograms: number): Rating => ({ kilograms, source: OF_FILE, assumed: false });
export const HOOK = "hook";

/** The beam that these legs lead to. */
export function beamOf(
  vehicle: Vehicle,
  legs: readonly SlingLeg[],
  task: string,
  faults: LiftFault[],
): LiftBeam | undefined {
  const led = (vehicle.beams ?? []).filter(({ points }) => legs.some(({ to }) => points.some(({ id }) => id === to)));
  if (led.length > 1)
    faults.push({
      at: task,
      what: `its legs lead to more than one beam: ${led.map(({ id }) => id).join(", ")}`,
      mend: "Name the legs of one: --legs.",
    });
  return led[0];
}

/** The legs that hold a beam up. */
export const legsUp = (vehicle: Vehicle, { points }: LiftBeam): readonly SlingLeg[] =>
  (vehicle.legs ?? []).filter(({ from }) => points.some(({ id }) => id === from));

export const asBeam = ({ mass, centre, points, pin, limit }: LiftBeam): Beam => ({
  mass,
  centre,
  points,
  ...(pin === undefined ? {} : { pin }),
  ...(limit === undefined ? {} : { rating: ratingOf(limit) }),
});

/** The hooks that the legs lead to; the hoist's own where they name none, or the beam is pinned to it. */
export function hooksOf(
  vehicle: Vehicle,
  legs: readonly SlingLeg[],
  beam: LiftBeam | undefined,
  hoist: Hoist | undefined,
  faults: LiftFault[],
): readonly Hook[] {
  const limited = (limit: number | undefined): { readonly rating?: Rating } => {
    const kilograms = limit ?? hoist?.hook;
    return kilograms === undefined ? {} : { rating: ratingOf(kilograms) };
  };
  const named = (vehicle.hooks ?? []).filter(({ id }) => legs.some(({ to }) => to === id));
  if (named.length > 0 && legs.some(({ to }) => to === undefined))
    faults.push({
      at: named[0]!.id,
      what: `some legs go to ${named.map(({ id }) => id).join(", ")}, and others to the hoist's hook`,
      mend: "Give every leg its hook: to.",
    });
  if (named.length > 1 && beam?.pin !== undefined)
    faults.push({
      at: beam.id,
      what: `its pin is on one hook, and legs go to ${named.map(({ id }) => id).join(", ")}`,
      mend: "Leave out the pin and lead legs from the beam up to both hooks, or lead all legs to the beam.",
    });
  if (named.length > 2)
    faults.push({
      at: named[2]!.id,
      what: `the legs go to ${named.length} hooks, and at most two can be reckoned`,
      mend: "Name the legs of two: --legs.",
    });
  if (named.length === 2)
    for (const { id, at } of named)
      if (at === undefined)
        faults.push({ at: id, what: "of two hooks each must have its place", mend: "Write at: [x, y, z]." });
  return named.length === 0
    ? [{ id: HOOK, ...limited(undefined) }]
    : named.map(({ id, at, limit }) => ({ id, ...(at === undefined ? {} : { at }), ...limited(limit) }));
}

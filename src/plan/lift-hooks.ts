// Owns what the legs of a lift lead up to, from the vehicle file: the hoist's hook, a lifting beam, two hooks.

import type { Beam, Fault, Hook, Rating } from "../rigging/index.ts";
import type { Hoist, LiftBeam, SlingLeg, Vehicle } from "../vehicle/index.ts";

export const OF_FILE = "the vehicle file";
export const ratingOf = (kilograms: number): Rating => ({ kilograms, source: OF_FILE, assumed: false });
/** What the rig calls a hoist's own hook: it has no name in the file. */
export const HOOK = "hook";

/** The beam that these legs lead to. */
export function beamOf(
  vehicle: Vehicle,
  legs: readonly SlingLeg[],
  task: string,
  faults: Fault[],
): LiftBeam | undefined {
  const led = (vehicle.beams ?? []).filter(({ points }) => legs.some(({ to }) => points.some(({ id }) => id === to)));
  if (led.length > 1) faults.push({ at: task, is: "more beams", beams: led.map(({ id }) => id) });
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
  faults: Fault[],
): readonly Hook[] {
  const limited = (limit: number | undefined): { readonly rating?: Rating } => {
    const kilograms = limit ?? hoist?.hook;
    return kilograms === undefined ? {} : { rating: ratingOf(kilograms) };
  };
  const named = (vehicle.hooks ?? []).filter(({ id }) => legs.some(({ to }) => to === id));
  const ids = named.map(({ id }) => id);
  if (named.length > 0 && legs.some(({ to }) => to === undefined))
    faults.push({ at: ids[0]!, is: "hoist and hooks", hooks: ids });
  if (named.length > 1 && beam?.pin !== undefined) faults.push({ at: beam.id, is: "pin and hooks", hooks: ids });
  if (named.length > 2) faults.push({ at: ids[2]!, is: "too many hooks", hooks: ids });
  if (named.length === 2)
    for (const { id, at } of named) if (at === undefined) faults.push({ at: id, is: "hook without a place" });
  return named.length === 0
    ? [{ id: HOOK, ...limited(undefined) }]
    : named.map(({ id, at, limit }) => ({ id, ...(at === undefined ? {} : { at }), ...limited(limit) }));
}

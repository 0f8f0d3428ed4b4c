// Owns what cannot be in how a sling is made up: a leg with both ends on beams, a beam that hangs by another's point or by nothing.

import type { Desk } from "./desk.ts";
import type { Vehicle } from "./model.ts";

/** The faults of the sling's legs and beams. */
export function checkSling({ legs = [], beams = [] }: Vehicle, desk: Desk): void {
  const points = new Map(beams.flatMap(({ id, points: own }) => own.map((point) => [point.id, id] as const)));
  for (const leg of legs)
    if (points.has(leg.from) && leg.to !== undefined && points.has(leg.to))
      desk.fault(
        "leg-ends",
        desk.nodeOf(leg, "to"),
        `${leg.id} goes from ${leg.from} to ${leg.to}, and both are points of a beam.`,
        "Lead it from an eye up to the beam, or from the beam up to a hook.",
        { owner: leg.id, from: leg.from, to: leg.to },
      );
  for (const beam of beams) {
    const { id, pin } = beam;
    const own = beam.points.map((point) => point.id);
    if (desk.isMisread(beam, "points")) continue;
    if (pin !== undefined && points.has(pin) && !own.includes(pin))
      desk.fault(
        "pin-elsewhere",
        desk.nodeOf(beam, "pin"),
        `${id} hangs by ${pin}, and that is a point of ${points.get(pin)}.`,
        own.length === 0 ? "Give it points of its own." : `Name one of its own: ${own.join(", ")}.`,
        { owner: id, pin },
      );
    if (pin === undefined && !desk.isMisread(beam, "pin") && !legs.some(({ from }) => own.includes(from)))
      desk.fault(
        "beam-unhung",
        desk.nodeOf(beam),
        `nothing holds ${id} up.`,
        "Name the point that is on the hook, pin: lug, or lead legs from its points up to a hook.",
        { owner: id },
      );
  }
}

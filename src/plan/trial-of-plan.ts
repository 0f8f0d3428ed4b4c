// Owns the trial lift of a plan as a question: which connections of the cut may have been left on, which parts and fluids, and what was read.

import {
  type Reading,
  type Remark,
  type Suspect,
  TIE_STIFFNESS,
  type Trial,
  type TrialTie,
  type Vector,
} from "../rigging/index.ts";
import type { Connection, Vehicle } from "../vehicle/index.ts";
import { besidesLoad, CELL_ERROR } from "./lift-answer.ts";
import { cutOf } from "./lift-group.ts";
import type { LiftHung } from "./lift-of-plan.ts";
import type { Plan } from "./plan.ts";

/**
 * How likely each is before any reading: estimates of this program, no source; of 122 maintenance errors that were published at one operator more than half were
 * omissions, and what cannot be seen is left oftener than what can.
 */
const CHANCE = { seen: 0.01, hidden: 0.03, part: 0.005, fluid: 0.01, unknown: 0.02, standing: 0.02 } as const;
/** Kilograms a litre of any of the fluids: water's; oils and fuels are a tenth lighter. */
const DENSITY = 1;
/** A mass nobody knows of: a share of the load as a middle guess, and how far from the centre, metres. */
const UNKNOWN = { share: 0.05, within: 0.5 } as const;

export interface TrialQuestion {
  readonly trial: Trial;
  readonly ties: ReadonlyMap<string, Connection>;
  /** What each suspect is. */
  readonly suspects: ReadonlyMap<string, Remark>;
  /** Ties of the cut that the file gives no place for. */
  readonly noPlace: readonly string[];
  readonly assumed: readonly Remark[];
}

/** The question of a trial lift. */
export function trialOf(
  vehicle: Vehicle,
  plan: Plan,
  { slung, group, asked }: LiftHung,
  readings: readonly Reading[],
): TrialQuestion {
  const cut = cutOf(vehicle, group.parts);
  const ties = cut.flatMap(({ id, at, kind, slack, stiffness, hidden }): TrialTie[] =>
    at === undefined
      ? []
      : [
          {
            id,
            at,
            slack,
            // What the file states is known to a quarter or so.
            stiffness: stiffness === undefined ? TIE_STIFFNESS[kind]! : { likely: stiffness, spread: 0.25 },
            chance: hidden ? CHANCE.hidden : CHANCE.seen,
          },
        ],
  );
  // What is lighter than a standard error of the cell it cannot tell from nothing.
  const least = CELL_ERROR * slung.rig.load.mass.nominal;
  const tackle = besidesLoad(slung.rig, slung.rules);
  const aside = new Set([...plan.setAside, ...plan.hung.map(({ part }) => part)]);
  const known = new Map<string, Remark>();
  const suspects = vehicle.parts.flatMap(({ id, label, mass, centre }): Suspect[] => {
    if (!aside.has(id) || mass === undefined || centre === undefined || mass.nominal < least) return [];
    // Only what was tied to the load can have come along.
    if (
      !vehicle.connections.some(({ joins }) => joins.includes(id) && joins.some((part) => group.parts.includes(part)))
    )
      return [];
    known.set(id, { is: "left on", part: label });
    return [{ id, mass: mass.nominal, centre, chance: CHANCE.part }];
  });
  for (const [fluid, { kilograms, centre }] of fluidsIn(vehicle, plan, group.parts)) {
    if (kilograms < least) continue;
    known.set(fluid, { is: "not drained", fluid, mass: kilograms });
    suspects.push({ id: fluid, mass: kilograms, centre, chance: CHANCE.fluid });
  }
  return {
    trial: {
      rig: slung.rig,
      ties,
      suspects,
      unknown: {
        chance: CHANCE.unknown,
        kilograms: UNKNOWN.share * slung.rig.load.mass.nominal,
        within: UNKNOWN.within,
      },
      standing: CHANCE.standing,
      feet: asked.feet,
      readings,
    },
    ties: new Map(cut.map((one) => [one.id, one])),
    suspects: known,
    noPlace: cut.filter(({ at }) => at === undefined).map(({ id }) => id),
    assumed: [
      { is: "chances", ...CHANCE },
      { is: "below the cell", mass: least },
      { is: "stiffness by kind" },
      ...(tackle > 0 ? [{ is: "taken off", force: tackle, isBeam: slung.rig.beam !== undefined } as const] : []),
    ],
  };
}

/** What could still be in the load of the fluids that the plan drains: the amounts that its opened connections hold. */
function fluidsIn(
  vehicle: Vehicle,
  plan: Plan,
  parts: readonly string[],
): ReadonlyMap<string, { readonly kilograms: number; readonly centre: Vector }> {
  const done = new Set(
    plan.out.flatMap(({ steps }) => steps.filter(({ action }) => action === "do").map(({ id }) => id)),
  );
  const drained = new Set(vehicle.tasks.filter(({ id }) => done.has(id)).flatMap(({ drains }) => drains));
  const fluids = new Map<string, { kilograms: number; centre: Vector }>();
  for (const { holds, at, joins } of vehicle.connections) {
    if (holds?.amount === undefined || at === undefined || !drained.has(holds.fluid)) continue;
    if (!joins.some((part) => parts.includes(part))) continue;
    const own = holds.amount * DENSITY;
    const before = fluids.get(holds.fluid);
    const sum = (before?.kilograms ?? 0) + own;
    const share = own / sum;
    const mix = (i: 0 | 1 | 2): number => (before?.centre[i] ?? 0) * (1 - share) + at[i] * share;
    fluids.set(holds.fluid, { kilograms: sum, centre: [mix(0), mix(1), mix(2)] });
  }
  return fluids;
}

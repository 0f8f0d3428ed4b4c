// Owns the lifts of a plan as they hang: for each what the vehicle file says of it put to the rigging room, or why it cannot be.

import {
  type Band,
  type Check,
  type Clearing,
  clear,
  DEFAULT_RULES,
  type Fault,
  GRAVITY,
  padChecks,
  type Remark,
  type Stand,
  type Standing,
  type StandRange,
  standOf,
  standRange,
  type Tautness,
  tautAlong,
} from "../rigging/index.ts";
import type { Task, Vehicle } from "../vehicle/index.ts";
import { liftLimit } from "./lift.ts";
import { type LiftAsked, type LiftReckoned, reckonLift } from "./lift-answer.ts";
import { CENTRE_WITHIN, centreOf, type GroupCentre } from "./lift-centre.ts";
import { cutOf, feetOf, obstaclesOf, pathOf, tiesOf } from "./lift-group.ts";
import { type Group, type LiftRig, rigOf, type Slinging } from "./lift-rig.ts";
import { padsOf } from "./support.ts";

export interface LiftWanted extends Slinging {
  readonly wanted?: Band;
  /** Plan position of the hook before the lift, metres. */
  readonly stands?: readonly [number, number];
}

/** A load that stands on a table or on jacks while it goes. */
export interface LiftStanding {
  readonly kind: "stands";
  readonly group: Group;
  readonly centre: GroupCentre;
  readonly stand: Stand;
  readonly range?: StandRange;
  readonly checks: readonly Check[];
  readonly clearing: Clearing;
  readonly taut: readonly Tautness[];
  readonly assumed: readonly Remark[];
}

export interface LiftHung {
  readonly kind: "reckoned";
  readonly group: Group;
  readonly slung: LiftRig;
  readonly asked: LiftAsked;
  readonly answer: LiftReckoned;
  readonly assumed: readonly Remark[];
}

export interface LiftRefused {
  readonly kind: "refused";
  readonly group: Group;
  readonly faults: readonly Fault[];
}

export type LiftOfPlan = LiftHung | LiftStanding | LiftRefused;

/** One lift as it hangs, or stands on what lowers it. */
export function reckonLiftOf(vehicle: Vehicle, group: Group, { wanted, stands, ...slinging }: LiftWanted): LiftOfPlan {
  const task = vehicle.tasks.find(({ id }) => id === group.task);
  if (task !== undefined && (task.pads ?? []).length > 0) return standingOf(vehicle, group, task, slinging.hoist);
  const slung = rigOf(vehicle, group, slinging);
  if (!("rig" in slung)) return { kind: "refused", group, faults: slung };
  const cut = cutOf(vehicle, group.parts);
  const { path, assumed } = pathOf(vehicle, group.task);
  const asked: LiftAsked = {
    rig: slung.rig,
    rules: slung.rules,
    obstacles: obstaclesOf(vehicle, group),
    path,
    ties: tiesOf(cut),
    feet: feetOf(cut, slung.group.centre),
    ...(wanted === undefined ? {} : { wanted }),
    ...(stands === undefined ? {} : { stands }),
  };
  const answer = reckonLift(asked);
  if (answer.kind === "refused") return { kind: "refused", group, faults: answer.faults };
  return { kind: "reckoned", group, slung, asked, answer, assumed: [...slung.assumed, ...assumed] };
}

function standingOf(vehicle: Vehicle, group: Group, task: Task, hoist: string | undefined): LiftStanding | LiftRefused {
  const parts = vehicle.parts.filter(({ id }) => group.parts.includes(id));
  const centre = centreOf(parts);
  if (centre === undefined)
    return {
      kind: "refused",
      group,
      faults: [{ at: group.task, is: "no centre", parts: parts.map(({ label }) => label) }],
    };
  const body: Standing = { id: group.task, ...centre, bearings: padsOf(task) };
  const stand = standOf(body);
  const range = standRange(body);
  const { path, assumed } = pathOf(vehicle, group.task);
  const way = {
    centre: centre.centre,
    stretches: path,
    hanging: { pitch: 0, roll: 0, up: [0, 0, 1] as const },
    leaning: 0,
  };
  const outline = parts.flatMap(({ id, outline: boxes = [] }) =>
    boxes.map(({ low, high }, i) => ({ id: i === 0 ? id : `${id}/${i + 1}`, low, high })),
  );
  return {
    kind: "stands",
    group,
    centre,
    stand,
    ...(range === undefined ? {} : { range }),
    checks: [
      tippingOf(stand, vehicle.limits.margin),
      ...tableCheck(vehicle, task, hoist, centre),
      ...padChecks(body).map((check) => slowly(check, vehicle.lifted?.factor ?? DEFAULT_RULES.dynamic.factor)),
    ],
    clearing: clear(outline, obstaclesOf(vehicle, group), way),
    taut: tautAlong(tiesOf(cutOf(vehicle, group.parts)), way),
    assumed: [...(centre.assumed ? [{ is: "centre within", length: CENTRE_WITHIN } as const] : []), ...assumed],
  };
}

function tippingOf({ margin, falls }: Stand, limit: number): Check {
  const value = falls ? Number.NEGATIVE_INFINITY : (margin ?? 0);
  return {
    check: "tipping",
    at: "load",
    unit: "m",
    value,
    limit,
    verdict: value >= limit ? "passes" : "fails",
    source: "the vehicle file's margin, or common practice where it gives none",
    assumed: false,
    figures: [falls ? { is: "nothing keeps it" } : { is: "inside", margin: value, least: limit }],
    ...(value >= limit ? {} : { mend: { is: "mend stand" } }),
  };
}

function tableCheck(vehicle: Vehicle, task: Task, hoist: string | undefined, { mass }: GroupCentre): Check[] {
  const limit = liftLimit(vehicle, task, hoist);
  if ("hoists" in limit || limit.hoist === undefined) return [];
  const { id, limit: kilograms } = limit.hoist;
  const [value, most] = [mass.high * GRAVITY, kilograms * GRAVITY];
  return [
    {
      check: "hoist",
      at: id,
      unit: "N",
      value,
      limit: most,
      margin: 1 - value / most,
      verdict: value <= most ? "passes" : "fails",
      source: "its curve, on the straight line between two figures",
      assumed: false,
      figures: [
        { is: "at rest", force: value },
        { is: "against its rating", kilograms, limit: most },
      ],
      ...(value <= most ? {} : { mend: { is: "mend table" } }),
    },
  ];
}

/** As of a hoist: what is within a rating at rest, and with what lifting adds would not be, asks for attention. */
function slowly(check: Check, factor: number): Check {
  return check.verdict === "passes" && check.value * factor > check.limit!
    ? {
        ...check,
        verdict: "attention",
        mend: { is: "mend slowly", factor },
      }
    : check;
}

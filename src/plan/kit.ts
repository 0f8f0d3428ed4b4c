// Owns the kit of an order: a plan's steps put as the question of fastening, and its answer with stand-by and transfer lists as one document.

import {
  assumeFindings,
  type Bag,
  type Counted,
  type Kit,
  type KitStep,
  listTransfer,
  makeKit,
  rankStandBy,
  type StandBy,
  type Transfer,
} from "../fastening/index.ts";
import type { Connection, Temporary, Vehicle } from "../vehicle/index.ts";
import type { Plan, PlanStep, Visit } from "./plan.ts";

/** The kit of a plan as one document. */
export interface KitDocument extends Kit {
  readonly format: "unmoor/kit/1";
  readonly vehicle: string;
  readonly note?: string;
  readonly jobs: Plan["jobs"];
  /** What to have at hand in case; the chances are assumed, and this says so. */
  readonly standBy: readonly StandBy[];
  readonly standByNote: string;
  /** What goes over to the new assembly, of each swap. */
  readonly transfers: readonly { readonly job: string; readonly parts: readonly Transfer[] }[];
}

const STAND_BY_NOTE =
  "Ranked by chance × delay in minutes. Chances and delays are assumed by kind of hardware, no source gives any; put in the shop's own where it has them.";

/** The bags of a plan as they stand at the end when nobody has counted yet: all open. */
export function bagsOf(plan: Plan, vehicle: Vehicle): readonly Bag[] {
  const connections = index(vehicle);
  return kitSteps(plan, vehicle).flatMap(({ kind, id, hardware, position }) =>
    kind === "release" && hardware.length > 0
      ? [
          {
            connection: id,
            items: hardware.map(({ item, count }) => ({ item, count })),
            open: true,
            ...(connections.get(id)?.hidden === true ? { hidden: true } : {}),
            ...(position === undefined ? {} : { place: position }),
          },
        ]
      : [],
  );
}

/** Everything that the work of this plan takes. `shelves`: where things lie in the store, by their names. */
export function kitOf(plan: Plan, vehicle: Vehicle, shelves?: Readonly<Record<string, string>>): KitDocument {
  const steps = kitSteps(plan, vehicle);
  const findings = rankStandBy(assumeFindings(bagsOf(plan, vehicle)));
  return {
    format: "unmoor/kit/1",
    vehicle: plan.vehicle,
    ...(plan.note === undefined ? {} : { note: plan.note }),
    jobs: plan.jobs,
    ...makeKit({ steps, ...(shelves === undefined ? {} : { shelves }) }),
    // The chances are this house's own and well formed.
    standBy: "answer" in findings ? findings.answer : [],
    standByNote: STAND_BY_NOTE,
    transfers: plan.swaps.map(({ job, connections, carriedOver }) => ({
      job,
      parts: transferOf(plan, vehicle, connections, carriedOver),
    })),
  };
}

const index = (vehicle: Vehicle): ReadonlyMap<string, Connection> =>
  new Map(vehicle.connections.map((connection) => [connection.id, connection]));

const counted = (list: readonly Temporary[]): readonly Counted[] => list.map(({ item, count }) => ({ item, count }));

function kitSteps(plan: Plan, vehicle: Vehicle): readonly KitStep[] {
  const connections = index(vehicle);
  const tasks = new Map(vehicle.tasks.map((task) => [task.id, task]));
  const translate = (visit: Visit, step: PlanStep): KitStep => {
    const connection = connections.get(step.id);
    const into = step.action === "release" || step.action === "loosen";
    const back = step.action === "refit" || step.action === "tighten";
    const drains = step.action === "do" ? (tasks.get(step.id)?.drains ?? []) : [];
    const base = {
      number: step.number,
      id: step.id,
      label: step.label,
      ...(visit.position === undefined ? {} : { position: visit.label }),
      tools: step.tools,
      fresh: step.fresh,
      consumables: [],
    };
    if (connection === undefined || !(into || back))
      return {
        ...base,
        kind: "other",
        hardware: [],
        plugsIn: [],
        plugsOut: [],
        putIn: step.putIn,
        takeOut: step.takeOut,
        drained: drains.map((fluid) => ({ fluid })),
      };
    const { holds } = connection;
    return {
      ...base,
      kind: step.action === "release" ? "release" : step.action === "refit" ? "refit" : "other",
      // What the step moves the plan says; class and reuse are the file's.
      hardware: step.hardware.length === 0 ? [] : connection.hardware,
      plugsIn: into && step.putIn.length > 0 ? counted(connection.plug) : [],
      plugsOut: back && step.takeOut.length > 0 ? counted(connection.plug) : [],
      putIn: into && step.putIn.length > 0 ? counted(connection.temporary) : [],
      takeOut: back && step.takeOut.length > 0 ? counted(connection.temporary) : [],
      drained:
        step.action === "release" && holds !== undefined
          ? [{ fluid: holds.fluid, ...(holds.amount === undefined ? {} : { litres: holds.amount }) }]
          : [],
    };
  };
  return [...plan.out, ...plan.work, ...plan.back].flatMap((visit) =>
    visit.steps.map((step) => translate(visit, step)),
  );
}

function transferOf(
  plan: Plan,
  vehicle: Vehicle,
  connections: readonly string[],
  parts: readonly string[],
): readonly Transfer[] {
  const steps = new Map(
    plan.back.flatMap((visit) =>
      visit.steps.flatMap((step) =>
        step.action === "refit" || step.action === "tighten" ? [[step.id, step] as const] : [],
      ),
    ),
  );
  return listTransfer({
    parts: parts.map((id) => ({ id, label: plan.labels[id] ?? id })),
    ties: vehicle.connections
      .filter(({ id }) => connections.includes(id))
      .map(({ id, label, joins, hardware, mark, keep }) => {
        const { torque, pattern, check, fresh } = steps.get(id) ?? { fresh: [] };
        return {
          connection: id,
          label,
          joins,
          hardware,
          fresh,
          ...(torque === undefined ? {} : { torque }),
          ...(pattern === undefined ? {} : { pattern }),
          ...(mark === undefined ? {} : { mark }),
          ...(keep === undefined ? {} : { keep }),
          ...(check === undefined ? {} : { check }),
        };
      }),
  });
}

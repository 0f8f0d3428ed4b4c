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
export const bagsOf = (plan: Plan, vehicle: Vehicle): readonly Bag[] => bagsFrom(kitSteps(plan, vehicle), vehicle);

function bagsFrom(steps: readonly KitStep[], vehicle: Vehicle): readonly Bag[] {
  const connections = index(vehicle);
  return steps.flatMap(({ kind, id, hardware, position }) =>
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
  const findings = rankStandBy(
    assumeFindings(
      steps.flatMap(({ kind, id, hardware }) => (kind === "release" ? [{ connection: id, items: hardware }] : [])),
    ),
  );
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
    const into = connection !== undefined && (step.action === "release" || step.action === "loosen");
    const back = connection !== undefined && (step.action === "refit" || step.action === "tighten");
    const putIn = into && step.putIn.length > 0;
    const takeOut = back && step.takeOut.length > 0;
    const holds = step.action === "release" ? connection?.holds : undefined;
    const drains = step.action === "do" ? (tasks.get(step.id)?.drains ?? []) : [];
    // One literal: spreading a step into another is what would cost the most here.
    return {
      number: step.number,
      kind: step.action === "release" || step.action === "refit" ? step.action : "other",
      id: step.id,
      label: step.label,
      position: visit.position === undefined ? undefined : visit.label,
      tools: step.tools,
      // What the step moves the plan says; class and reuse are the file's.
      hardware: connection === undefined || step.hardware.length === 0 ? [] : connection.hardware,
      fresh: step.fresh,
      plugsIn: putIn ? counted(connection.plug) : [],
      plugsOut: takeOut ? counted(connection.plug) : [],
      putIn: putIn ? counted(connection.temporary) : connection === undefined ? step.putIn : [],
      takeOut: takeOut ? counted(connection.temporary) : connection === undefined ? step.takeOut : [],
      drained:
        holds === undefined
          ? drains.map((fluid) => ({ fluid }))
          : [holds.amount === undefined ? { fluid: holds.fluid } : { fluid: holds.fluid, litres: holds.amount }],
      consumables: [],
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

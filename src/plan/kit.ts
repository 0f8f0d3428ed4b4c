// Owns the kit of an order: a plan's steps put as the question of fastening, and its answer with stand-by and transfer lists as one document.

import {
  assumeFindings,
  type Bag,
  type Consumable,
  type Counted,
  type Finding,
  type Kit,
  type KitStep,
  listTransfer,
  makeKit,
  rankStandBy,
  type StandBy,
  type Transfer,
} from "../fastening/index.ts";
import type { Connection, Consumed, Temporary, Vehicle } from "../vehicle/index.ts";
import type { Store } from "./kit-store.ts";
import type { Plan, PlanStep, TemporaryThing, Visit } from "./plan.ts";

/** The kit of a plan as one document. */
export interface KitDocument extends Kit {
  readonly format: "unmoor/kit/1";
  readonly vehicle: string;
  readonly note?: string;
  readonly jobs: Plan["jobs"];
  /** Every temporary thing, plugs among them, by the steps that it goes in and comes out with. */
  readonly inAndOut: readonly TemporaryThing[];
  /** What to have at hand in case; `stock` is how many lie in the store, where that is known. What lies there saves nothing by being fetched. */
  readonly standBy: readonly (StandBy & { readonly stock?: number })[];
  readonly standByNote: string;
  /** What goes over to the new assembly, of each swap. */
  readonly transfers: readonly { readonly job: string; readonly parts: readonly Transfer[] }[];
}

const ASSUMED =
  "Chances and delays are assumed by kind of hardware, no source gives any; put in the shop's own where it has them.";
const ranked = (store: Store | undefined): string =>
  `Ranked by chance × delay${store?.costed === true ? " × what a minute costs" : " in minutes"}. ${
    store === undefined || store.findings.length === 0
      ? ASSUMED
      : "What the shop's own store file says of an item stands; the rest is assumed by kind of hardware, no source gives it."
  }`;

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

/** What is known beside the plan: the store, and litres that were measured as they ran out, by fluid. */
export interface KitGiven {
  readonly store?: Store;
  readonly drained?: ReadonlyMap<string, number>;
}

/** Everything that the work of this plan takes. */
export function kitOf(plan: Plan, vehicle: Vehicle, { store, drained }: KitGiven = {}): KitDocument {
  const steps = asMeasured(kitSteps(plan, vehicle), drained);
  const findings = rankStandBy(findingsOf(steps, store), store?.rate ?? 1);
  return {
    format: "unmoor/kit/1",
    vehicle: plan.vehicle,
    ...(plan.note === undefined ? {} : { note: plan.note }),
    jobs: plan.jobs,
    ...makeKit({ steps, ...(store === undefined ? {} : { shelfOf: store.shelfOf, stockOf: store.stockOf }) }),
    inAndOut: plan.temporary,
    // The chances are this house's own, or read from a file that was checked: well formed.
    standBy: "answer" in findings ? standing(findings.answer, store) : [],
    standByNote: ranked(store),
    transfers: plan.swaps.map(({ job, connections, carriedOver }) => ({
      job,
      parts: transferOf(plan, vehicle, connections, carriedOver),
    })),
  };
}

/** What the work may turn up: the shop's own figures of what is released here, and for every other item those assumed. */
function findingsOf(steps: readonly KitStep[], store: Store | undefined): readonly Finding[] {
  const released = new Set(steps.flatMap(({ kind, id }) => (kind === "release" ? [id] : [])));
  const own = store?.findings ?? [];
  const known = new Set(own.map(({ item }) => item));
  const assumed = assumeFindings(
    steps.flatMap(({ kind, id, hardware }) => (kind === "release" ? [{ connection: id, items: hardware }] : [])),
  );
  return [...own.filter(({ at }) => released.has(at)), ...assumed.filter(({ item }) => !known.has(item))];
}

/** What is not there first: what lies in the store has no delay to save. */
function standing(list: readonly StandBy[], store: Store | undefined): KitDocument["standBy"] {
  const told = list.map((one) => {
    const stock = store?.stockOf(one.item);
    return { ...one, ...(stock === undefined ? {} : { stock }) };
  });
  const there = ({ stock = 0 }: { readonly stock?: number }): boolean => stock > 0;
  return [...told.filter((one) => !there(one)), ...told.filter(there)];
}

/** A fluid that was measured: that much in all, whatever the file says of its places. */
function asMeasured(steps: readonly KitStep[], drained: KitGiven["drained"] = new Map()): readonly KitStep[] {
  if (drained.size === 0) return steps;
  const told = new Set<string>();
  return steps.map((step) => ({
    ...step,
    drained: step.drained.map((one) => {
      const litres = drained.get(one.fluid);
      if (litres === undefined) return one;
      const first = !told.has(one.fluid);
      told.add(one.fluid);
      return { fluid: one.fluid, litres: first ? litres : 0 };
    }),
  }));
}

const index = (vehicle: Vehicle): ReadonlyMap<string, Connection> =>
  new Map(vehicle.connections.map((connection) => [connection.id, connection]));

const counted = (list: readonly Temporary[]): readonly Counted[] => list.map(({ item, count }) => ({ item, count }));

const UNITS = { volume: "L", mass: "kg", length: "m" } as const;

const consumable = ({ item, amount }: Consumed): Consumable => ({
  item,
  ...(amount === undefined ? {} : { amount: { value: amount.value, unit: UNITS[amount.dimension] } }),
});

/** Every joint that has its torque gets a stroke of paint (common practice). */
const MARKER: Consumable = { item: "paint marker" };

const NONE: readonly Consumable[] = [];
const MARKED: readonly Consumable[] = [MARKER];

const consumablesOf = (consumes: readonly Consumed[] | undefined, marked: boolean): readonly Consumable[] =>
  consumes === undefined ? (marked ? MARKED : NONE) : [...consumes.map(consumable), ...(marked ? MARKED : NONE)];

/** What nobody fetches from a shelf. */
const AIR = /^(compressed )?air$/i;

function kitSteps(plan: Plan, vehicle: Vehicle): readonly KitStep[] {
  const connections = index(vehicle);
  const tasks = new Map(vehicle.tasks.map((task) => [task.id, task]));
  const translate = (visit: Visit, step: PlanStep): KitStep => {
    const connection = connections.get(step.id);
    const into = connection !== undefined && (step.action === "release" || step.action === "loosen");
    const back = connection !== undefined && (step.action === "refit" || step.action === "tighten");
    const putIn = into && step.putIn.length > 0;
    const takeOut = back && step.takeOut.length > 0;
    const held = step.action === "release" ? connection?.holds : undefined;
    const holds = held === undefined || AIR.test(held.fluid) ? undefined : held;
    const task = step.action === "do" ? tasks.get(step.id) : undefined;
    const drains = (task?.drains ?? []).filter((fluid) => !AIR.test(fluid));
    const way = back ? connection.ways.find(({ id }) => id === step.way) : undefined;
    // The one key of the refit that a kit asks for: to resolve them all would be the dearest of its steps.
    const consumes = back ? (way?.refit?.consumes ?? connection.refit.consumes) : undefined;
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
          ? drains.map((fluid) => (task?.amount === undefined ? { fluid } : { fluid, litres: task.amount }))
          : [holds.amount === undefined ? { fluid: holds.fluid } : { fluid: holds.fluid, litres: holds.amount }],
      consumables: consumablesOf(consumes, step.tightening !== undefined),
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

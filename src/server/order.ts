// Owns the taking of an order: vehicle file, people, order and plan are kept, each once, and what is known of that machine is offered.

import { type Brief, type BriefPerson, briefOf, type Difference, type MachineRecord } from "../ledger/index.ts";
import type { Order as Asked, Crew, Plan } from "../plan/index.ts";
import { MAIN_SITE, type ModelFile, type Store, StoreFault } from "../store/index.ts";
import type { Vehicle } from "../vehicle/index.ts";

/** The body of an order in the store. */
export interface OrderBody {
  readonly format: "unmoor/order/1";
  readonly asked: Asked;
  readonly people: readonly BriefPerson[];
  /** When they are there, what there is of each tool, how they go; absent: always there. */
  readonly crew?: KeptCrew;
}

/** A crew as plain data. */
export type KeptCrew = Omit<Crew, "tools" | "systems"> & {
  readonly tools: readonly (readonly [string, number])[];
  readonly systems: readonly (readonly [string, number])[];
};

/** The body of a plan in the store. */
export interface PlanBody {
  readonly format: "unmoor/kept-plan/1";
  readonly plan: Plan;
  readonly brief: Brief;
}

export interface OrderGiven {
  /** Absent: the vehicle's id and the next number. */
  readonly id?: string;
  /** The site that does it; the first when left out. */
  readonly site?: string;
  /** What the vehicle is called in the store: the name of its file. */
  readonly vehicleId: string;
  readonly files: readonly ModelFile[];
  /** Of the vehicle where it is kept already; else the files are kept as its next. */
  readonly version?: number;
  readonly vehicle: Vehicle;
  readonly asked: Asked;
  readonly plan: Plan;
  readonly people: readonly BriefPerson[];
  readonly crew?: Crew;
  /** The serial number of the machine. */
  readonly machine?: string;
  readonly options?: readonly string[];
  readonly by: string;
  /** Milliseconds since 1970. */
  readonly now: number;
}

export interface OrderTaken {
  readonly id: string;
  readonly version: number;
  readonly plan: string;
  readonly brief: Brief;
  /** What earlier runs found on this very machine. */
  readonly differences: readonly Difference[];
}

export const takeOrder = async (store: Store, given: OrderGiven): Promise<OrderTaken> => {
  const { vehicleId, people, by, now } = given;
  const version = given.version ?? (await store.saveVehicle(vehicleId, given.files, now, by)).version;
  const id = given.id ?? (await nextId(store, vehicleId));
  const body = orderBodyOf(given);
  const there = await store.order(id);
  // Where it was kept and its plan was not, it is taken to its end.
  if (there !== undefined && ((await store.plan(`${id}.p1`)) !== undefined || !isSame(there.value.body, body)))
    throw new StoreFault("clash", id, "there is an order of this name already", "Choose another with --id.");
  const record = await machineOf(store, given, vehicleId);
  for (const person of people) await keepPerson(store, person);
  if (there === undefined)
    await store.saveOrder(
      {
        id,
        site: given.site ?? MAIN_SITE,
        vehicle: vehicleId,
        version,
        machine: given.machine,
        jobs: given.asked.jobs,
        body,
        at: now,
        by,
      },
      0,
    );
  const plan = `${id}.p1`;
  const brief = briefOf(given.vehicle, given.plan, { run: id, order: id, plan, version, people });
  const kept: PlanBody = { format: "unmoor/kept-plan/1", plan: given.plan, brief };
  await store.savePlan({ id: plan, order: id, body: kept, at: now });
  return { id, version, plan, brief, differences: record?.differences ?? [] };
};

/** What the store keeps of what was asked. */
export const orderBodyOf = ({ asked, people, crew }: Pick<OrderGiven, "asked" | "people" | "crew">): OrderBody => ({
  format: "unmoor/order/1",
  asked,
  people,
  ...(crew === undefined ? {} : { crew: { ...crew, tools: [...crew.tools], systems: [...crew.systems] } }),
});

const isSame = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);

const nextId = async (store: Store, vehicle: string): Promise<string> => {
  for (let n = 1; ; n++) if ((await store.order(`${vehicle}-${n}`)) === undefined) return `${vehicle}-${n}`;
};

/** The record of the machine, begun with its first order. */
const machineOf = async (
  store: Store,
  { machine, options = [] }: OrderGiven,
  vehicle: string,
): Promise<MachineRecord | undefined> => {
  if (machine === undefined) return undefined;
  const known = await store.machine(machine);
  if (known !== undefined && known.value.vehicle !== vehicle)
    throw new StoreFault(
      "clash",
      machine,
      `this machine is a ${known.value.vehicle}`,
      "See the serial number, and the vehicle file.",
    );
  const record = (known?.value.body as MachineRecord | undefined) ?? {
    format: "unmoor/machine/1" as const,
    serial: machine,
    options,
    differences: [],
  };
  const body: MachineRecord = options.length === 0 ? record : { ...record, options };
  await store.saveMachine({ id: machine, vehicle, body }, known?.revision ?? 0);
  return body;
};

/** A person is kept with what the latest order says of him. */
const keepPerson = async (store: Store, { id, label, roles, skills }: BriefPerson): Promise<void> => {
  const known = await store.person(id);
  const same =
    known !== undefined &&
    known.value.name === label &&
    JSON.stringify([known.value.roles, known.value.skills]) === JSON.stringify([roles, skills]);
  if (!same)
    await store.savePerson({ id, name: label, roles, skills, body: known?.value.body ?? {} }, known?.revision ?? 0);
};

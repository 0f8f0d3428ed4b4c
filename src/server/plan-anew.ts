// Owns the new plan of a run under way, and the question of who does what next: the vehicle as the run is pinned to it, what the ledger says is done, and the solver.

import { type Brief, briefOf, type Entry, Ledger, type Replan, type Rest, replanRun, restOf } from "../ledger/index.ts";
import type { Earlier, Overseer, Plan } from "../plan/index.ts";
import { type ModelFile, type Run, type Store, StoreFault } from "../store/index.ts";
import { readVehicleWhole, type Vehicle } from "../vehicle/index.ts";
import type { OrderBody, PlanBody } from "./order.ts";

/** What a new plan is made from: plain data, so that a thread may make it. */
export interface Anew {
  /** Of the vehicle as the run is pinned to it, the main one first. */
  readonly files: readonly ModelFile[];
  readonly run: { readonly id: string; readonly order: string; readonly version: number };
  readonly asked: OrderBody["asked"];
  readonly people: OrderBody["people"];
  /** Of the plan in force. */
  readonly brief: Brief;
  readonly entries: readonly Entry[];
  /** What the plan is called if it is kept. */
  readonly plan: string;
}

/** What is left to do, and the plan to keep; none where the plan in force stays. */
export interface Replanned {
  readonly replan: Replan;
  readonly kept?: PlanBody;
}

/** Makes a new plan; where there is none in time it says so. */
export type Replanner = (anew: Anew) => Promise<Replanned>;

/** @param overseer who is told how far it is, and who stops it; without one it ends with the proof */
export const planAnew = async (anew: Anew, overseer?: Overseer, milliseconds?: number): Promise<Replanned> => {
  const { run, asked, people, brief, entries, plan: id } = anew;
  const vehicle = await readPinned(run.id, anew.files);
  overseer?.report({ kind: "doing", what: "planning" });
  const make = (plan: Plan) =>
    briefOf(vehicle, plan, { run: run.id, order: run.order, plan: id, version: run.version, people });
  const limits = {
    ...(overseer === undefined ? {} : { stop: overseer.stop, now: overseer.now }),
    ...(milliseconds === undefined ? {} : { milliseconds }),
  };
  const replan = replanRun(vehicle, asked, new Ledger(brief, entries), make, limits);
  if (replan.kind === "none" || replan.added.length + replan.dropped.length + replan.altered.length === 0)
    return { replan };
  return { replan, kept: { format: "unmoor/kept-plan/1", plan: replan.plan, brief: make(replan.plan) } };
};

/**
 * Who does what next, for those of the order who are still there. Undefined where no plan, or no order of the way back, leads on from here.
 *
 * @param now milliseconds since 1970; minute 0 is when the run began.
 */
export const whoNext = async (
  store: Pick<Store, "vehicle">,
  run: Pick<Run, "opened" | "vehicle" | "version">,
  order: OrderBody,
  ledger: Ledger,
  now: number,
  told?: Earlier,
): Promise<Rest | undefined> => {
  const vehicle = await readPinned(run.vehicle, await pinnedFiles(store, run));
  return restOfRun(vehicle, run.opened, order, ledger, now, told);
};

/** The same of a vehicle that is read. @param opened milliseconds since 1970 */
export const restOfRun = (
  vehicle: Vehicle,
  opened: number,
  { asked, people, crew }: OrderBody,
  ledger: Ledger,
  now: number,
  told?: Earlier,
): Rest | undefined => {
  const began = new Date(opened);
  const begins = began.getHours() * 60 + began.getMinutes();
  return restOf(vehicle, ledger, {
    order: asked,
    crew:
      crew === undefined ? undefined : { ...crew, tools: new Map(crew.tools), systems: new Map(crew.systems), begins },
    people,
    opened,
    now,
    ...(told === undefined ? {} : { told }),
  });
};

/** The files of the vehicle as a run is pinned to it. @throws StoreFault "damaged" */
export const pinnedFiles = async (
  store: Pick<Store, "vehicle">,
  { vehicle, version }: Pick<Run, "vehicle" | "version">,
): Promise<readonly ModelFile[]> => {
  const files = (await store.vehicle(vehicle, version))?.files ?? [];
  if (files.length > 0) return files;
  throw new StoreFault("damaged", vehicle, "its vehicle file is gone", "Restore a backup.");
};

const readPinned = async (name: string, files: readonly ModelFile[]): Promise<Vehicle> => {
  const texts = new Map(files.map(({ path, text }) => [path, text]));
  const main = files[0]?.path ?? "";
  const { vehicle } = await readVehicleWhole(main, (path) => texts.get(path) ?? { missing: "no such file" });
  if (vehicle !== undefined) return vehicle;
  throw new StoreFault(
    "damaged",
    name,
    "this version cannot read its vehicle file",
    "Use the version that took the order.",
  );
};

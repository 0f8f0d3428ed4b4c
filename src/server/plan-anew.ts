// Owns the new plan of a run under way: the vehicle as the run is pinned to it, what the ledger says is done, and the solver.

import { briefOf, type Ledger, type Replan, replanRun } from "../ledger/index.ts";
import type { Plan } from "../plan/index.ts";
import { type Run, type Store, StoreFault } from "../store/index.ts";
import { readVehicleWhole, type Vehicle } from "../vehicle/index.ts";
import type { OrderBody, PlanBody } from "./order.ts";

/** What is left to do, and the plan to keep under this id; none where the plan in force stays. */
export const planAnew = async (
  store: Store,
  run: Run,
  { asked, people }: OrderBody,
  ledger: Ledger,
  id: string,
): Promise<{ readonly replan: Replan; readonly kept?: PlanBody }> => {
  const vehicle = await pinned(store, run);
  const make = (plan: Plan) =>
    briefOf(vehicle, plan, { run: run.id, order: run.order, plan: id, version: run.version, people });
  const replan = replanRun(vehicle, asked, ledger, make);
  if (replan.kind === "none" || replan.added.length + replan.dropped.length + replan.altered.length === 0)
    return { replan };
  return { replan, kept: { format: "unmoor/kept-plan/1", plan: replan.plan, brief: make(replan.plan) } };
};

const pinned = async (store: Store, run: Run): Promise<Vehicle> => {
  const kept = await store.vehicle(run.vehicle, run.version);
  const [main] = kept?.files ?? [];
  if (kept === undefined || main === undefined)
    throw new StoreFault("damaged", run.vehicle, "its vehicle file is gone", "Restore a backup.");
  const texts = new Map(kept.files.map(({ path, text }) => [path, text]));
  const { vehicle } = await readVehicleWhole(main.path, (path) => texts.get(path) ?? { missing: "no such file" });
  if (vehicle === undefined)
    throw new StoreFault("damaged", main.path, "this version cannot read it", "Use the version that took the order.");
  return vehicle;
};

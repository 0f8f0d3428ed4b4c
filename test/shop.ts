// Owns the least that a run stands on: a vehicle, an order and a plan, in any store.
import type { Run, Store } from "../src/store/index.ts";

export async function openShopRun(store: Store, name: string): Promise<Run> {
  const vehicle = `vehicle-${name}`;
  await store.saveVehicle(vehicle, [{ path: "a.yaml", text: "vehicle: a" }], 1, "ada");
  const order = `order-${name}`;
  const jobs = ["clutch"];
  await store.saveOrder(
    { id: order, site: "main", vehicle, version: 1, machine: undefined, jobs, body: {}, at: 2, by: "ada" },
    0,
  );
  const plan = `plan-${name}`;
  await store.savePlan({ id: plan, order, body: { steps: ["a", "b"] }, at: 3 });
  return store.openRun({ id: `run-${name}`, order, plan, at: 4, by: "ada" });
}

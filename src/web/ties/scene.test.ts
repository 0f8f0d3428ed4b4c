// What the chart is about, on the bench pump, which docs/bench-pump.md works out by hand: six ties of the cut, two of them at the far side.
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { makePlan, orderFor, type Plan, solveRelease, translate } from "../../plan/index.ts";
import { ties } from "../../release/index.ts";
import { readVehicle, type Vehicle } from "../../vehicle/index.ts";
import { layOut } from "./layout.ts";
import { aloftBetween, assembliesOf, heldBy, releasedAfter, sceneOf } from "./scene.ts";

const planned = (name: string, job: string): { readonly vehicle: Vehicle; readonly plan: Plan } => {
  const text = readFileSync(new URL(`../../../demo/${name}.vehicle.yaml`, import.meta.url), "utf8");
  const { vehicle } = readVehicle(`${name}.vehicle.yaml`, () => text);
  if (vehicle === undefined) throw new Error("the demo has faults");
  const question = translate(vehicle, orderFor(job));
  const { result } = solveRelease(
    { what: "release", question, others: false, reasons: false, about: "" },
    { now: () => 0, stop: () => false, report: () => undefined },
  );
  const plan = makePlan(question, result);
  if (plan === undefined) throw new Error("there is no plan");
  return { vehicle, plan };
};

const pump = planned("bench-pump", "shaft-seal");
const [assembly] = assembliesOf(pump.vehicle, pump.plan);
if (assembly === undefined) throw new Error("nothing comes free");
const scene = sceneOf(pump.vehicle, pump.plan, assembly);
const afterStep = (count: number) => heldBy(pump.vehicle, scene, releasedAfter(scene, pump.plan, count));

test("the pump goes up with its valve block, held by six; the block's bolts go along, the guard's screws are only in the way", () => {
  expect(assembly.parts).toEqual(["pump", "valve"]);
  const { count, standing, free } = afterStep(0);
  expect(count).toBe(6);
  expect(free).toBe(false);
  expect(standing.get("valve-bolts")).toBe("inside");
  expect(standing.get("guard-screws")).toBe("slack");
  expect(
    scene.ties
      .filter(({ isCut }) => isCut)
      .map(({ id }) => id)
      .toSorted(),
  ).toEqual(["case-drain", "coupling", "flange-bolts", "pressure-hose", "return-hose", "suction-hose"]);
});

test("at the lift nothing ties it, by the release room's own search, and on the way back everything does again", () => {
  const [up, down] = aloftBetween(scene) ?? [0, 0];
  expect(scene.steps[up - 1]?.id).toBe("lift-off");
  expect(afterStep(up - 1)).toMatchObject({ count: 0, free: true, chain: [] });
  expect(down).toBeGreaterThan(up);
  expect(afterStep(scene.steps.length)).toMatchObject({ count: 6, free: false });
});

test.each([
  ["bench-pump", "shaft-seal"],
  ["plover-28", "clutch-plate"],
  ["marten-t1", "swap-module"],
])("%s, %s: after each step it is free exactly when no tie holds it", (name, job) => {
  const { vehicle, plan } = planned(name, job);
  const free = assembliesOf(vehicle, plan).slice(0, 3);
  expect(free.length).toBeGreaterThan(0);
  for (const one of free) {
    const own = sceneOf(vehicle, plan, one);
    for (let count = 0; count <= own.steps.length; count += 1) {
      const released = releasedAfter(own, plan, count);
      const held = heldBy(vehicle, own, released);
      expect(held.count === 0).toBe(ties(vehicle, released, one.parts).free);
    }
  }
});

test("who released and who looked is told apart; what was found faulty is told first", () => {
  const { standing } = heldBy(
    pump.vehicle,
    scene,
    new Set(["case-drain", "coupling"]),
    new Set(["coupling"]),
    new Set(["suction-hose"]),
  );
  expect(standing.get("case-drain")).toBe("loose");
  expect(standing.get("coupling")).toBe("verified");
  expect(standing.get("suction-hose")).toBe("faulty");
});

test.each([0.4, 0.7, 1.6])(
  "drawn %f as high as wide every tie has a place of its own at the hull, on the side of its position",
  (aspect) => {
    const { vehicle, plan } = planned("plover-28", "clutch-plate");
    const [unit] = assembliesOf(vehicle, plan);
    if (unit === undefined) throw new Error("nothing comes free");
    const own = sceneOf(vehicle, plan, unit);
    const layout = layOut(vehicle, own, 1200, aspect, "anywhere");
    expect(layout.ties.length + layout.within.length).toBe(own.ties.length);
    expect(new Set(layout.ties.map(({ outer }) => outer.join())).size).toBe(layout.ties.length);
    const [x, y, wide, high] = layout.hull;
    for (const { inner, outer } of layout.ties)
      for (const [px, py] of [inner, outer]) {
        expect(px).toBeGreaterThanOrEqual(x);
        expect(px).toBeLessThanOrEqual(x + wide);
        expect(py).toBeGreaterThanOrEqual(y);
        expect(py).toBeLessThanOrEqual(y + high + 1e-9);
      }
    const side = new Map(layout.sectors.map(({ id, side: where }) => [id, where]));
    expect(side.get("left")).toBe("left");
    expect(side.get("right")).toBe("right");
  },
);

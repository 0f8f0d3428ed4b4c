// Owns the promises about the demo files: sound, without a doubt, every job possible, and the figures that docs/bench-pump.md works out by hand.

import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { makePlan, orderFor, type Plan, translate } from "../src/plan/index.ts";
import { type Step, solve } from "../src/release/index.ts";
import { readVehicle, type Vehicle } from "../src/vehicle/index.ts";

const read = (name: string) =>
  readVehicle(fileURLToPath(new URL(`../demo/${name}.vehicle.yaml`, import.meta.url)), (path) =>
    readFileSync(path, "utf8"),
  );

const vehicleOf = (name: string): Vehicle => {
  const { vehicle } = read(name);
  if (vehicle === undefined) throw new Error(`demo/${name}.vehicle.yaml has faults`);
  return vehicle;
};

const answer = (vehicle: Vehicle, ...jobs: readonly string[]) => solve(translate(vehicle, orderFor(...jobs)).problem);

const planOf = (vehicle: Vehicle, job: string): Plan => {
  const question = translate(vehicle, orderFor(job));
  const plan = makePlan(question, solve(question.problem));
  if (plan === undefined) throw new Error(`no plan for ${job}`);
  return plan;
};

/** The steps of the way back as "action id", in their order. */
const stepsBack = (plan: Plan) => plan.back.flatMap(({ steps }) => steps.map(({ action, id }) => `${action} ${id}`));

const nameOf = (step: Step) => ("release" in step ? step.release : "do" in step ? step.do : `undo ${step.undo}`);

describe.each(["plover-28", "marten-t1", "bench-pump"])("%s", (name) => {
  test("has no fault and no doubt", () => {
    const { faults, warnings } = read(name);
    expect([...faults, ...warnings]).toEqual([]);
  });

  test.each(vehicleOf(name).jobs.map(({ id }) => id))("%s can be done, proved cheapest", (job) => {
    const { status, plan, bound } = answer(vehicleOf(name), job);
    expect(status).toBe("optimal");
    expect(plan?.labour).toBe(bound);
  });

  test("says that it is invented", () => {
    expect(vehicleOf(name).note).toContain("Invented");
  });
});

describe("bench-pump, as docs/bench-pump.md works it out", () => {
  const pump = vehicleOf("bench-pump");

  test.each([
    [["shaft-seal"], 80],
    [["coupling-element"], 13],
    [["relief-valve"], 41],
    [["shaft-seal", "relief-valve"], 96],
    [["shaft-seal", "coupling-element"], 80],
  ])("%j takes %d min", (jobs, labour) => {
    expect(answer(pump, ...jobs).plan?.labour).toBe(labour);
  });

  test("the shaft seal: everything but the valve's bolts, both handy ways, valve along", () => {
    const { plan } = answer(pump, "shaft-seal");
    expect(plan?.releases.map(({ way }) => way).toSorted()).toEqual([
      "case-drain/1",
      "coupling/1",
      "flange-bolts/1",
      "guard-screws/1",
      "pressure-hose/1",
      "return-hose/1",
      "suction-hose/1",
    ]);
    expect(plan?.lifts.map(({ parts }) => parts.toSorted())).toEqual([["pump", "valve"]]);
    expect(plan?.lifts[0]?.mass).toBeCloseTo(36.01, 2);
  });

  test("the sling, which no need names, comes before the bolts that carry the pump", () => {
    const order = answer(pump, "shaft-seal").plan?.order.map(nameOf) ?? [];
    expect(order).toContain("sling");
    expect(order.indexOf("sling")).toBeLessThan(order.indexOf("flange-bolts"));
  });
});

describe("plover-28, its traps", () => {
  const plover = vehicleOf("plover-28");

  test("the hydraulic pump goes along with a unit that comes back, and stays behind in a swap", () => {
    expect(answer(plover, "clutch-plate").plan?.lifts[0]?.parts).toContain("pump");
    expect(answer(plover, "swap-unit").plan?.hung).toContain("pump/hang-1");
  });

  test("the slung rear mount waits for the sling, and nobody goes underneath from then on", () => {
    const order = answer(plover, "clutch-plate").plan?.order.map(nameOf) ?? [];
    expect(order.indexOf("sling")).toBeGreaterThanOrEqual(0);
    expect(order.indexOf("sling")).toBeLessThan(order.indexOf("mount-rear-right"));
    expect(order.lastIndexOf("raise")).toBeLessThan(order.indexOf("sling"));
  });

  test("the gearbox left behind, the bell housing is parted from below with the gearbox on the jack", () => {
    const { problem } = translate(plover, { ...orderFor("clutch-plate"), keep: ["gearbox"] });
    const { plan } = solve(problem);
    expect(plan?.releases.map(({ way }) => way)).toContain("bell-bolts/2");
    expect(plan?.tasks).toContain("gearbox-jack");
  });

  test("the starter taken along, the shop crane is too weak for the pump as well; the overhead hoist is not", () => {
    const order = { ...orderFor("clutch-plate"), take: ["starter"] };
    const crane = solve(translate(plover, order).problem).plan;
    const overhead = solve(translate(plover, { ...order, hoist: "overhead-hoist" }).problem).plan;
    expect(crane?.lifts[0]?.parts).not.toContain("pump");
    expect(overhead?.lifts[0]?.parts).toContain("pump");
    expect(overhead?.labour).toBeLessThan(crane?.labour ?? 0);
  });

  test("what nobody sees from above is released before the lift", () => {
    const order = answer(plover, "clutch-plate").plan?.order.map(nameOf) ?? [];
    for (const hidden of ["gearbox-vent", "bell-clip"]) {
      expect(order).toContain(hidden);
      expect(order.indexOf(hidden)).toBeLessThan(order.indexOf("lift-out"));
    }
  });
});

describe("the way back as a mechanic would have it", () => {
  test("plover-28: lowered when nothing is left to do below, and the chocks away only then", () => {
    const plan = planOf(vehicleOf("plover-28"), "clutch-plate");
    const steps = stepsBack(plan);
    const below = plan.back.flatMap(({ position, steps: list }) =>
      position === "under" ? list.map(({ action, id }) => `${action} ${id}`) : [],
    );
    const lowered = steps.lastIndexOf("undo raise");
    expect(steps.indexOf(below.at(-1)!)).toBe(lowered - 1);
    expect(lowered).toBeLessThan(steps.indexOf("perform run-up"));
    expect(lowered).toBeLessThan(steps.indexOf("return secure"));
  });

  test("plover-28: the slave cylinder is tied up right before its bolts come out, by whoever is there", () => {
    const { out } = planOf(vehicleOf("plover-28"), "clutch-plate");
    const order = out.flatMap(({ steps }) => steps.map(({ id }) => id));
    expect(order[order.indexOf("clutch-slave-bolts") - 1]).toBe("clutch-slave/hang-1");
  });

  test("marten-t1: what the undertray and the skirt cover is proved before they go on", () => {
    const steps = stepsBack(planOf(vehicleOf("marten-t1"), "renew-motor-bearing"));
    const sooner = (one: string, other: string) => {
      expect(steps).toContain(one);
      expect(steps.indexOf(one)).toBeLessThan(steps.indexOf(other));
    };
    sooner("return drain-coolant", "refit undertray-screws");
    sooner("perform bonding-test", "refit skirt-left-screws");
  });

  test("no part of the demo is released at the vehicle once it stands on the stand", () => {
    for (const [name, job] of [
      ["plover-28", "swap-unit"],
      ["plover-28", "renew-crank-seal"],
      ["marten-t1", "swap-module"],
    ] as const)
      expect(planOf(vehicleOf(name), job).checks.out.late).toEqual([]);
  });
});

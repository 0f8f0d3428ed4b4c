import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { carrier } from "../../test/small-vehicle.ts";
import { solve } from "../release/index.ts";
import { readVehicle, type Vehicle } from "../vehicle/index.ts";
import { makePlan } from "./make-plan.ts";
import { orderFor } from "./order.ts";
import type { Plan, PlanStep } from "./plan.ts";
import { translate } from "./question.ts";
import { writePlan } from "./text.ts";
import { whileItIsOut } from "./while-out.ts";

const planned = (vehicle: Vehicle, ...jobs: readonly string[]): Plan => {
  const question = translate(vehicle, orderFor(...jobs));
  expect(question.faults).toEqual([]);
  const plan = makePlan(question, solve(question.problem));
  expect(plan).toBeDefined();
  return plan!;
};

const stepsOf = (...sections: readonly Plan["out"][]): readonly PlanStep[] =>
  sections.flat().flatMap((visit) => visit.steps);
const allSteps = (plan: Plan) => stepsOf(plan.out, plan.work, plan.back);

const demo = (name: string): Vehicle => {
  const path = `demo/${name}.vehicle.yaml`;
  const { vehicle, faults } = readVehicle(path, (file) => readFileSync(file, "utf8"));
  expect(faults).toEqual([]);
  return vehicle!;
};

test("the plan is one document: proved least, legal out, held back, every figure from the checkers", () => {
  const plan = planned(carrier(), "clutch-plate");
  expect(plan.status).toBe("optimal");
  expect(plan.figures.labour).toBe(plan.figures.bound);
  expect(plan.figures.work).toBe(25);
  expect(plan.checks.out.legal).toBe(true);
  expect(plan.checks.back.faults).toEqual([]);
  expect(allSteps(plan).map((step) => step.number)).toEqual(allSteps(plan).map((_, index) => index + 1));
  expect(JSON.parse(JSON.stringify(plan))).toEqual(plan);
});

test("`first` is first and comes back last", () => {
  const plan = planned(carrier(), "clutch-plate");
  expect(stepsOf(plan.out)[0]?.id).toBe("battery-earth");
  expect(stepsOf(plan.back).at(-1)?.id).toBe("battery-earth");
});

test("weight is taken, and mounts are undone, no sooner than the visits ask; on the way back the other way round", () => {
  const plan = planned(carrier(), "clutch-plate");
  const out = stepsOf(plan.out).map((step) => step.id);
  const back = stepsOf(plan.back).map((step) => step.id);
  expect(out.indexOf("mount-left")).toBeGreaterThan(out.lastIndexOf("raise"));
  expect(out.indexOf("sling")).toBeGreaterThan(out.lastIndexOf("raise"));
  expect(back.indexOf("sling")).toBeLessThan(back.indexOf("raise"));
  expect(back.indexOf("mount-left")).toBeLessThan(back.indexOf("raise"));
});

test("what is marked, plugged, caught and kept stands at its step, and every temporary thing comes out again", () => {
  const plan = planned(carrier(), "clutch-plate");
  const hose = stepsOf(plan.out).find((step) => step.id === "coolant-hose");
  expect(hose).toMatchObject({ catch: "0.4 L coolant", putIn: [{ item: "plug 32 mm", count: 2 }] });
  const again = stepsOf(plan.back).find((step) => step.id === "coolant-hose" && step.action === "refit");
  expect(again).toMatchObject({
    fresh: ["hose clip 32-50"],
    check: "no seep at pressure",
    takeOut: [{ item: "plug 32 mm", count: 2 }],
  });
  expect(plan.temporary.length).toBeGreaterThan(3);
  for (const thing of plan.temporary) expect(thing.out).toBeGreaterThan(thing.in);
});

test("before the way back closes over a joint, it is looked at a last time; hidden ones first", () => {
  const plan = planned(carrier(), "clutch-plate");
  const steps = stepsOf(plan.back);
  const looks = steps.filter((step) => step.action === "verify");
  const before = (id: string) => looks.find((look) => look.verify?.some((one) => one.id === id));
  // The clutch lies between engine and gearbox; the rear mount above the undertray; the coolant hose under the duct.
  expect(before("clutch-cover")?.id).toBe("bell-bolts");
  expect(before("mount-rear")?.id).toBe("tray-bolts");
  expect(before("coolant-hose")?.id).toBe("duct-clips");
  expect(before("clutch-plate/work-1")?.id).toBe("clutch-cover");
  expect(before("clutch-plate/work-1")?.verify?.map((one) => one.label)).toContain("plate centred");
  for (const look of looks) {
    const next = steps.find((step) => step.number === look.number + 1);
    expect(next?.id).toBe(look.id);
    const hidden = look.verify!.map((one) => one.hidden);
    expect(hidden).toEqual(hidden.toSorted((a, b) => Number(b) - Number(a)));
  }
});

test("the jobs' own work is looked at a last time only where the file says what to look at", () => {
  const plan = planned(carrier(), "reseal-pump");
  const looked = stepsOf(plan.back).flatMap((step) => step.verify ?? []);
  expect(looked.map((one) => one.id)).not.toContain("reseal-pump/work-1");
});

test("a lift with a part that the file gives no mass is not said to have passed anything", () => {
  const file = carrier();
  const parts = file.parts.map(({ mass, ...one }) =>
    one.id === "gearbox" || mass === undefined ? one : { ...one, mass },
  );
  const [weighed, unweighed] = [planned(file, "clutch-plate"), planned({ ...file, parts }, "clutch-plate")];
  expect(writePlan(weighed)).toContain("Check passed");
  expect(unweighed.lifts[0]?.withoutMass).toContain("gearbox");
  const text = writePlan(unweighed);
  expect(text).not.toContain("Check passed");
  expect(text).toContain("NOT CHECKED: without a mass in the file: The gearbox.");
});

test("a caution stands at the step that calls for it, and none where nothing does", () => {
  const plan = planned(carrier(), "clutch-plate");
  const at = (caution: string) =>
    stepsOf(plan.out)
      .filter((step) => step.cautions.some((one) => one.id === caution))
      .map((step) => step.id);
  expect(at("battery-off")).toEqual(["battery-earth"]);
  expect(at("fuel-open")).toEqual(["fuel-hose"]);
  expect(at("suspended")).toEqual(["lift-out"]);
  expect(at("refrigerant")).toEqual([]);
  expect(at("under-vehicle").toSorted()).toEqual(["mount-rear", "propeller-shaft", "starter-cable", "tray-bolts"]);
  expect(
    planned(carrier(), "reseal-pump").out.flatMap((visit) =>
      visit.steps.flatMap((step) => step.cautions.map((one) => one.id)),
    ),
  ).not.toContain("fuel-open");
});

test("a lift from below is tried by lowering, one from above by lifting", () => {
  const cautions = (plan: Plan) => new Set(stepsOf(plan.out).flatMap((step) => step.cautions.map((one) => one.id)));
  expect([...cautions(planned(carrier(), "clutch-plate"))]).toContain("trial");
  const below = cautions(planned(demo("marten-t1"), "swap-module"));
  expect([...below]).toContain("trial-down");
  expect([...below]).not.toContain("side-pull");
  // High voltage: the isolation before anything live is touched.
  const steps = stepsOf(planned(demo("marten-t1"), "swap-module").out);
  const at = (caution: string) => steps.findIndex((step) => step.cautions.some((one) => one.id === caution));
  expect(at("hv-isolate")).toBeGreaterThanOrEqual(0);
  expect(at("hv-isolate")).toBeLessThan(at("hv-orange"));
});

test("the text puts each caution before its step, once a visit, and never promises safety", () => {
  const text = writePlan(planned(carrier(), "clutch-plate"));
  expect(text).toContain("least labour, proved");
  expect(text.indexOf("Fuel vapour")).toBeLessThan(text.indexOf("Release: fuel hose"));
  expect(text).not.toMatch(
    /\bis safe\b|safe to lift|risk-free|guaranteed|approved by|\bsecured\b|certified|de-energised/i,
  );
  expect(text).toContain("The list of cautions is");
  expect(Math.max(...text.split("\n").map((line) => line.length))).toBeLessThanOrEqual(110);
});

test("while it is out: what another job adds now, against by itself", () => {
  const question = translate(carrier(), orderFor("clutch-plate"));
  const found = whileItIsOut(question, solve(question.problem));
  expect(found.map((one) => one.job).toSorted()).toEqual(["reseal-pump", "swap-engine"]);
  for (const { now, alone, saved, proved } of found) {
    expect(proved).toBe(true);
    // Doing both in one plan never costs more than doing them one after the other.
    expect(now).toBeLessThanOrEqual(alone!);
    expect(saved).toBeCloseTo(alone! - now!, 9);
  }
});

/** The same file with its lists in another order. */
const shuffled = (vehicle: Vehicle): Vehicle => {
  const turned = <T>(list: readonly T[]): readonly T[] => list.toReversed();
  return {
    ...vehicle,
    positions: turned(vehicle.positions),
    parts: turned(vehicle.parts),
    connections: turned(vehicle.connections).map((one) => ({
      ...one,
      ways: turned(one.ways),
      joins: turned(one.joins),
    })),
    tasks: turned(vehicle.tasks),
    jobs: turned(vehicle.jobs),
  };
};

/** The same file with every id renamed, wherever it is named. */
const renamed = (vehicle: Vehicle): Vehicle => {
  const lists = [
    vehicle.positions,
    vehicle.parts,
    vehicle.connections,
    vehicle.tasks,
    vehicle.jobs,
    vehicle.eyes,
    vehicle.hoists,
  ];
  const ids = new Set(lists.flatMap((list) => list.map((one) => one.id)));
  const rename = (value: unknown): unknown => {
    if (typeof value === "string") {
      const [id = "", ...rest] = value.split("/");
      return ids.has(id) ? [`q-${[...id].reverse().join("")}`, ...rest].join("/") : value;
    }
    if (Array.isArray(value)) return value.map(rename);
    if (typeof value !== "object" || value === null) return value;
    return Object.fromEntries(
      Object.entries(value).map(([key, one]) => [key, key === "kind" || key === "label" ? one : rename(one)]),
    );
  };
  return rename(vehicle) as Vehicle;
};

const DEMOS: readonly (readonly [string, () => Vehicle])[] = [
  ["carrier", carrier],
  ["bench-pump", () => demo("bench-pump")],
  ["marten-t1", () => demo("marten-t1")],
];

test.each(DEMOS)("%s: renaming ids and shuffling the file change no job's labour", (_, load) => {
  const vehicle = load();
  const labour = (file: Vehicle, job: string) => solve(translate(file, orderFor(job)).problem).plan?.labour;
  for (const { id } of vehicle.jobs) {
    const own = labour(vehicle, id);
    expect(own).toBeDefined();
    expect(labour(shuffled(vehicle), id)).toBeCloseTo(own!, 6);
    expect(labour(renamed(vehicle), `q-${[...id].reverse().join("")}`)).toBeCloseTo(own!, 6);
  }
});

test.each(DEMOS)("%s: every job's plan keeps common practice, out and back", (_, load) => {
  const vehicle = load();
  for (const job of vehicle.jobs) {
    const plan = planned(vehicle, job.id);
    expect(plan.checks.out.legal).toBe(true);
    expect(plan.checks.back.faults).toEqual([]);
    expect(plan.moves.outFewest).toBeLessThanOrEqual(plan.moves.out);
    expect(plan.moves.backFewest).toBeLessThanOrEqual(plan.moves.back);
    const released = stepsOf(plan.out, plan.work).map((step) => step.id);
    // What the file puts first is the first step out, and of all that comes back the last.
    const [first = ""] = vehicle.first;
    const returned = stepsOf(plan.back).filter((step) => ["refit", "tighten", "return"].includes(step.action));
    if (first !== "") expect(released[0]).toBe(first);
    if (returned.some((step) => step.id === first)) expect(returned.at(-1)?.id).toBe(first);
    // Nothing is released that holds a fluid before what drains it, where the plan drains it.
    for (const task of vehicle.tasks.filter((one) => released.includes(one.id))) {
      for (const one of vehicle.connections) {
        const needsIt = one.ways.every((way) => way.needs.some((need) => "id" in need && need.id === task.id));
        if (needsIt && released.includes(one.id))
          expect(released.indexOf(task.id)).toBeLessThan(released.indexOf(one.id));
      }
    }
    // Nobody is at a position that a lift empties while it goes up or comes down.
    for (const section of [plan.out, plan.work, plan.back]) {
      for (const visit of section) {
        for (const step of visit.steps) {
          const lift = vehicle.tasks.find((task) => task.id === step.id && task.lifts.length > 0);
          expect(lift?.empties ?? []).not.toContain(visit.position);
        }
      }
    }
    for (const thing of plan.temporary) expect(thing.out).toBeGreaterThan(thing.in);
    expect(writePlan(plan)).not.toMatch(/\bis safe\b|safe to lift|risk-free|guaranteed|undefined|NaN/i);
  }
});

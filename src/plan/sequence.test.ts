import { expect, test } from "vitest";
import { carrier } from "../../test/small-vehicle.ts";
import { check, type Plan, type Problem, type Step } from "../release/index.ts";
import { idOf, positionsOf, visitsOf } from "./arrange.ts";
import { wayBack } from "./back.ts";
import { checkBack } from "./back-check.ts";
import { releasedLate } from "./late.ts";
import { orderFor } from "./order.ts";
import { translate } from "./question.ts";
import { sequence } from "./sequence.ts";

/** The plan that an order makes, as the checker replays it. */
const planOf = (problem: Problem, order: readonly Step[]): Plan => {
  const verdict = check(problem, order);
  expect(verdict.faults).toEqual([]);
  return {
    order,
    releases: verdict.released,
    tasks: verdict.tasks,
    lifts: verdict.lifts,
    setAside: verdict.setAside,
    hung: verdict.hung.map((one) => one.task),
    labour: verdict.labour,
  };
};

const release = (id: string, way = 1): Step => ({ release: id, way: `${id}/${way}` });

/** Legal, and tiresome to walk: left, right, left, under, left and so on. */
const wandering: readonly Step[] = [
  release("battery-earth"),
  { do: "drain-coolant" },
  release("fuel-hose"),
  release("duct-clips"),
  release("coolant-hose"),
  { do: "raise" },
  release("starter-cable"),
  { do: "pump/hang-1" },
  release("propeller-shaft"),
  release("mount-left"),
  release("tray-bolts"),
  release("mount-right"),
  release("mount-rear"),
  release("pump-bolts"),
  { undo: "raise" },
  { do: "sling" },
  { do: "lift-out" },
  release("bell-bolts"),
  release("clutch-cover"),
  { do: "clutch-plate/work-1" },
];

const clutch = () => {
  const question = translate(carrier(), orderFor("clutch-plate"));
  return { question, plan: planOf(question.problem, wandering) };
};

test("one pair of hands changes position as few times as can be, at the labour of the answer", () => {
  const { question, plan } = clutch();
  const found = sequence(question, plan);
  expect(visitsOf(question.problem, plan.order)).toBe(12);
  // Left for all that is there and to raise it; right; under; left to lower, sling and lift; the bench. The bound proves that it is the fewest.
  expect(found.visits).toBe(5);
  expect(found.fewest()).toBe(5);
  expect(found.verdict.legal).toBe(true);
  expect(found.verdict.labour).toBe(plan.labour);
  expect(found.order.map(idOf).toSorted()).toEqual(plan.order.map(idOf).toSorted());
});

test("what can be released without the lift is released before it", () => {
  const { question, plan } = clutch();
  const { order } = sequence(question, plan);
  const lift = order.findIndex((step) => idOf(step) === "lift-out");
  expect(order.slice(lift + 1).map(idOf)).toEqual(["bell-bolts", "clutch-cover", "clutch-plate/work-1"]);
});

test("what the answer released at the vehicle after the lift is brought forward, at the price of a visit", () => {
  const { question, plan } = clutch();
  // The bell opened from the right, which nothing keeps from being done in the vehicle; the answer leaves it for after the lift all the same.
  const connections = question.problem.connections.map((one) =>
    one.id === "bell-bolts" ? { ...one, ways: [{ ...one.ways[0]!, position: "right", needs: [] }] } : one,
  );
  const problem = { ...question.problem, connections };
  const access = new Map(question.access).set("bell-bolts/1", []);
  const asked = { ...question, problem, access };
  const own = planOf(problem, plan.order);
  expect(releasedLate(asked, own.order, own.lifts)).toEqual(["bell-bolts"]);
  const found = sequence(asked, own);
  expect(found.verdict.legal).toBe(true);
  expect(found.late).toEqual([]);
  const order = found.order.map(idOf);
  expect(order.indexOf("bell-bolts")).toBeLessThan(order.indexOf("lift-out"));
});

test("what waits for the lift through other steps stays late, and is told", () => {
  const { question, plan } = clutch();
  const connections = question.problem.connections.map((one) =>
    one.id === "clutch-cover" ? { ...one, ways: [{ ...one.ways[0]!, position: "right" }] } : one,
  );
  const problem = { ...question.problem, connections };
  const found = sequence({ ...question, problem }, planOf(problem, plan.order));
  expect(found.late).toEqual(["clutch-cover"]);
  // At the bench it is where it ought to be.
  expect(sequence(question, plan).late).toEqual([]);
});

test("the vehicle is raised no sooner, and lowered no later, than the work below asks", () => {
  const { question, plan } = clutch();
  const { order, verdict } = sequence(question, plan);
  const below = order.flatMap((step, index) => (positionsOf(question.problem, [step])[0] === "under" ? [index] : []));
  const out = order.map(idOf);
  expect(below[0]! - out.indexOf("raise")).toBeLessThanOrEqual(1);
  const back = wayBack(question, order, verdict);
  const lowered = back.steps.findLastIndex((step) => "undo" in step && step.undo === "raise");
  expect(back.positions[lowered - 1]).toBe("under");
});

test("the way back makes again all that was released, and the independent replay finds nothing wrong", () => {
  const { question, plan } = clutch();
  const { order, verdict } = sequence(question, plan);
  const back = wayBack(question, order, verdict);
  expect(back.faults).toEqual([]);
  expect(back.visits).toBe(back.fewest());
  expect(back.beyond).toBe(0);
  expect(back.steps.flatMap((step) => ("refit" in step ? [step.refit] : [])).toSorted()).toEqual(
    plan.releases.map((one) => one.id).toSorted(),
  );
  expect(back.steps.at(-1)).toEqual({ refit: "battery-earth", way: "battery-earth/1" });
  const at = (wanted: string) => back.steps.findIndex((step) => Object.values(step).includes(wanted));
  expect(at("lift-out")).toBeGreaterThan(at("bell-bolts"));
  expect(at("sling")).toBeGreaterThan(at("mount-left"));
  expect(at("drain-coolant")).toBeGreaterThan(at("coolant-hose"));
  expect(at("bleed-fuel")).toBeGreaterThan(at("fuel-hose"));
  expect(at("tray-bolts")).toBeGreaterThan(at("mount-rear"));
});

test("nobody is underneath while a lift is under way, out or back", () => {
  const { question, plan } = clutch();
  const { order, verdict } = sequence(question, plan);
  const at = positionsOf(question.problem, order);
  expect(at[order.findIndex((step) => idOf(step) === "lift-out")]).not.toBe("under");
  const back = wayBack(question, order, verdict);
  expect(back.positions[back.steps.findIndex((step) => "return" in step && step.return === "lift-out")]).not.toBe(
    "under",
  );
});

test("the replay of a way back tells what each broken one does wrong", () => {
  const { question, plan } = clutch();
  const { order, verdict } = sequence(question, plan);
  const { steps } = wayBack(question, order, verdict);
  const without = (id: string) => steps.filter((step) => !Object.values(step).includes(id));
  const moved = (id: string, to: number) => {
    const step = steps.find((one) => Object.values(one).includes(id))!;
    return without(id).toSpliced(to, 0, step);
  };
  const at = (id: string) => steps.findIndex((one) => Object.values(one).includes(id));
  const found = (broken: typeof steps) => checkBack(question, order, broken).map(({ rule, what }) => `${rule} ${what}`);
  expect(found(steps)).toEqual([]);
  expect(found(without("coolant-hose"))).toContain("B1 left open");
  expect(found(without("drain-coolant"))).toContain("B1 left open");
  expect(found([...steps, steps[0]!])).toContain("B1 not open");
  // The undertray back on covers the rear mount; the clutch goes in before the engine and the gearbox meet.
  expect(found(moved("tray-bolts", 0))).toContain("B2 no access");
  expect(found(moved("clutch-cover", steps.length - 1))).toContain("B2 no access");
  // The sling off before the lift in; the engine lifted in with the vehicle still raised.
  expect(found(moved("sling", 0))).toContain("B2 no access");
  expect(found(steps.toSpliced(at("lift-out"), 0, { do: "raise" }))).toContain("B2 in the way");
  // The sling off before engine and gearbox are one again: of the gearbox only the rear end stands on something.
  const early = without("sling").toSpliced(at("lift-out") + 1, 0, { return: "sling" });
  expect(found(early)).toEqual([]);
  const bolts = early.find((step) => "refit" in step && step.refit === "bell-bolts")!;
  expect(found(early.filter((step) => step !== bolts).toSpliced(at("lift-out") + 1, 0, bolts))).toContain("B3 drops");
  expect(found(moved("battery-earth", 0))).toContain("B4 after the last");
  expect(found(moved("drain-coolant", 0))).toContain("B5 too early");
  expect(found(moved("bleed-fuel", 0))).toContain("B5 too early");
  expect(found(without("coolant-hose"))).toContain("B6 left in");
});

// The crew as the page asks for it: it sharpens, starts from what is known, and answers a pin that cannot be in words.
import { readFileSync } from "node:fs";
import { expect, test, vi } from "vitest";
import { orderFor } from "../../plan/index.ts";
import { Bench } from "./bench.ts";
import { answerCrewOf, answerCurveOf, type CrewSaid } from "./crews.ts";

const benchOf = (path: string) =>
  new Bench([{ path, text: readFileSync(new URL(`../../../${path}`, import.meta.url), "utf8") }]);
const bench = benchOf("demo/bench-pump.vehicle.yaml");
const { vehicle } = await bench.read();
const order = orderFor(vehicle?.jobs[0]?.id ?? "");
const asked = { order, crew: 2, seconds: 0.5 };
const told = async (more: object = {}) => {
  const rounds: CrewSaid[] = [];
  const last = await answerCrewOf(bench, { ...asked, ...more }, (said) => rounds.push(said));
  return { rounds, last };
};

test("each answer is whole, none is worse than the one before, and the last says that it is", async () => {
  const { rounds, last } = await told();
  const all = [...rounds, last];
  expect(last.isLast).toBe(true);
  expect(rounds.every(({ isLast }) => !isLast)).toBe(true);
  for (const [place, { plan, held, schedule, course }] of all.entries()) {
    expect(plan?.elapsed).toBeLessThanOrEqual(all[place - 1]?.plan?.elapsed ?? Number.POSITIVE_INFINITY);
    expect(plan?.bound).toBeGreaterThanOrEqual(all[place - 1]?.plan?.bound ?? 0);
    expect(held).toHaveLength((schedule?.tasks.length ?? 0) + (schedule?.changes.length ?? 0));
    expect(course.length).toBeGreaterThan(0);
  }
});

test("a pin is answered from the schedule known before, and letting go of it costs nothing", async () => {
  const { last } = await told();
  const step = last.plan?.steps.find(({ people }) => people.length > 0);
  if (step === undefined) throw new Error("nobody does anything");
  const pins = [{ step: step.id, from: Math.ceil(step.start) + 10 }];
  const { last: later } = await told({ pins, near: last.schedule, seconds: 0 });
  const moved = later.plan?.steps.find(({ id }) => id === step.id);
  expect(moved?.start).toBeGreaterThanOrEqual(Math.ceil(step.start) + 10);
  const { last: free } = await told({ near: later.schedule, seconds: 0 });
  expect(free.plan?.elapsed).toBeLessThanOrEqual(later.plan?.elapsed ?? 0);
});

test("a pin that names nothing is refused, and the others hold", async () => {
  const { last } = await told({ pins: [{ step: "nothing", at: 5 }] });
  expect(last.refused.map(({ kind }) => kind)).toEqual(["no such step"]);
  expect(last.plan).toBeDefined();
});

test("a search that ended by itself, though nothing is proved, is the last", async () => {
  // By a clock that stands still no search ever runs out of time.
  const clock = vi.spyOn(performance, "now").mockReturnValue(0);
  const rounds: CrewSaid[] = [];
  const last = await answerCrewOf(
    benchOf("demo/marten-t1.vehicle.yaml"),
    { order: orderFor("renew-shaft-seal"), crew: 2, seconds: 1 },
    (said) => rounds.push(said),
  );
  clock.mockRestore();
  expect(last.plan?.status).toBe("feasible");
  expect([rounds.length, last.isLast]).toEqual([0, true]);
});

test("faults of the order are said, and nobody is searched for", async () => {
  const { last } = await told({ order: orderFor("no such job") });
  expect(last.faults.length).toBeGreaterThan(0);
  expect(last.plan).toBeUndefined();
});

test("the curve is told point by point", async () => {
  const counts: number[] = [];
  const curve = await answerCurveOf(bench, { order, upTo: 3, seconds: 0.1 }, ({ points }) =>
    counts.push(points.length),
  );
  expect(counts).toEqual([1, 2, 3]);
  expect(curve.isLast).toBe(true);
  const times = curve.points.flatMap(({ elapsed }) => elapsed ?? []);
  expect(times).toEqual(times.toSorted((a, b) => b - a));
});

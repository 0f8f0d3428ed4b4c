// A crew under way: what was done stands, what has begun goes on, nothing is worse than carrying on as told.
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { solve as release } from "../release/index.ts";
import { readVehicle } from "../vehicle/index.ts";
import { crewOf } from "./crew.ts";
import { answerCrew } from "./crew-answer.ts";
import type { CrewPlan } from "./crew-plan.ts";
import { crewQuestion } from "./crew-question.ts";
import { orderFor } from "./order.ts";
import { translate } from "./question.ts";
import { replan, type Standing, unknownIn } from "./replan.ts";
import { wholeJob } from "./whole-job.ts";

const limits = { schedules: 40, conflicts: 0, seed: 1 };

const questionFor = (name: string, job: string) => {
  const { vehicle } = readVehicle(`demo/${name}.vehicle.yaml`, (path) =>
    readFileSync(new URL(`../../${path}`, import.meta.url), "utf8"),
  );
  if (vehicle === undefined) throw new Error("faults");
  const asked = translate(vehicle, orderFor(job));
  const { plan } = release(asked.problem);
  const whole = plan === undefined ? undefined : wholeJob(asked, plan);
  if (whole === undefined) throw new Error("no whole job");
  return crewQuestion(whole, crewOf(2));
};

const planned = (question: ReturnType<typeof questionFor>): CrewPlan => {
  const { plan } = answerCrew(question, limits);
  if (plan === undefined) throw new Error("no schedule");
  return plan;
};

const pump = questionFor("bench-pump", "shaft-seal");
const told = planned(pump);
const stands = (now: number, more: Partial<Standing> = {}): Standing => ({
  now,
  told,
  done: [],
  begun: [],
  open: [],
  ...more,
});
const again = (standing: Standing) => {
  const left = replan(pump, standing);
  const { plan } = answerCrew(left.question, limits, left.carriedOn);
  if (plan === undefined) throw new Error("no schedule");
  return plan;
};

describe("as told so far", () => {
  test.each([0, 4, 12.5, 30, 60, 85])(
    "at minute %d carrying on is as good, and nobody is told otherwise for less",
    (now) => {
      const plan = again(stands(now));
      expect(now + plan.elapsed + 2 * plan.retold).toBeLessThanOrEqual(told.elapsed + 1e-9);
    },
  );

  test("what is over is done, what runs goes on with its people", () => {
    const now = 12.5;
    const plan = again(stands(now));
    for (const step of told.steps) {
      const after = plan.steps.find(({ id }) => id === step.id);
      if (step.end <= now) expect([after?.done, after?.end]).toEqual([true, step.end]);
      else if (step.start < now) expect([after?.start, after?.people]).toEqual([step.start, step.people]);
      else expect(after?.start).toBeGreaterThanOrEqual(now);
    }
  });

  test("a state that was set is set", () => {
    const set = told.changes.find(({ to }) => to);
    const plan = again(stands((set?.end ?? 0) + 0.5));
    expect(plan.changes.map(({ state, to, start }) => [state, to, start])[0]).toEqual(["sling", true, set?.start]);
  });

  test("a change that is under way goes on", () => {
    const set = told.changes.find(({ to }) => to);
    const now = ((set?.start ?? 0) + (set?.end ?? 0)) / 2;
    const plan = again(stands(now));
    const wants = plan.steps.filter(({ id }) => id === "flange-bolts")[0];
    expect(wants?.start).toBeGreaterThanOrEqual(set?.end ?? 0);
  });

  test("and it can be told again from there", () => {
    const first = again(stands(30));
    const left = replan(pump, { ...stands(50), told: first });
    const { plan } = answerCrew(left.question, limits, left.carriedOn);
    expect(50 + (plan?.elapsed ?? Number.NaN) + 2 * (plan?.retold ?? 0)).toBeLessThanOrEqual(30 + first.elapsed + 1e-9);
  });
});

describe("otherwise than told", () => {
  test("what was not begun is still to do, and what comes after it too", () => {
    const plan = again(stands(30, { open: ["suction-hose"] }));
    const [hose] = plan.steps.filter(({ id }) => id === "suction-hose");
    expect(hose?.start).toBeGreaterThanOrEqual(30);
    const [lift] = plan.steps.filter(({ id }) => id === "lift-off");
    expect(lift?.start).toBeGreaterThanOrEqual(hose?.end ?? Number.NaN);
    // All of it waits, and nobody is told to do another's work for that.
    expect(plan.retold).toBe(0);
  });

  test("what is done sooner is done", () => {
    const plan = again(stands(12.5, { done: ["pressure-hose"] }));
    expect(plan.steps.find(({ id }) => id === "pressure-hose")?.done).toBe(true);
  });

  test("without anything told: steps done, one begun", () => {
    const plan = again({
      now: 5,
      done: ["drain-oil"],
      begun: [{ id: "guard-screws", start: 4, people: ["person-1"] }],
      open: [],
    });
    expect(plan.steps.find(({ id }) => id === "drain-oil")?.done).toBe(true);
    const [guard] = plan.steps.filter(({ id }) => id === "guard-screws");
    expect([guard?.start, guard?.people]).toEqual([4, ["person-1"]]);
  });
});

test("ids that the schedule does not have are named, with those that there are", () => {
  const unknown = unknownIn(
    pump,
    stands(5, { done: ["flange"], begun: [{ id: "guard-screws", start: 0, people: ["otto"] }], on: ["sling"] }),
  );
  expect(unknown.map(({ id }) => id)).toEqual(["flange", "otto"]);
  expect(unknown[1]?.known).toEqual(["person-1", "person-2"]);
});

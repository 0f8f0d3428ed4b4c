// The finish of a crew's plan: the network carries the schedule out in its order, and the answer says what it rests on.
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import type { Task } from "../crew/index.ts";
import { solve } from "../release/index.ts";
import { percentile, readRuns, simulate } from "../times/index.ts";
import { readVehicle } from "../vehicle/index.ts";
import { crewOf } from "./crew.ts";
import { answerCrew } from "./crew-answer.ts";
import { crewQuestion } from "./crew-question.ts";
import { finishNetwork } from "./finish.ts";
import { answerFinish, finishesOf } from "./finish-answer.ts";
import { learnRuns, writeLearnt } from "./finish-learn.ts";
import { drawFinish, writeFinish } from "./finish-text.ts";
import { orderFor } from "./order.ts";
import { translate } from "./question.ts";
import { wholeJob } from "./whole-job.ts";

const root = new URL("../../", import.meta.url).pathname;
const load = (path: string) => readFileSync(path, "utf8");

const plans = new Map<number, ReturnType<typeof plan>>();
const planned = (people: number) => {
  const known = plans.get(people) ?? plan(people);
  plans.set(people, known);
  return known;
};

const plan = (people: number) => {
  const path = `${root}demo/bench-pump.vehicle.yaml`;
  const { vehicle } = readVehicle(path, load);
  if (vehicle === undefined) throw new Error("the demo has faults");
  const question = translate(vehicle, { ...orderFor("shaft-seal"), people });
  const released = solve(question.problem).plan;
  const job = released === undefined ? undefined : wholeJob(question, released);
  if (job === undefined) throw new Error("the demo has no plan");
  const crew = crewQuestion(job, crewOf(people));
  let now = 0;
  const { schedule, plan: answer } = answerCrew(crew, { seconds: 0.1, seed: 1, clock: () => now++ });
  if (schedule === undefined || answer === undefined) throw new Error("the demo has no schedule");
  return { crew, schedule, elapsed: answer.elapsed };
};

test.each([2, 3])("with the plan's own times it ends when the plan ends or sooner, %d people", (people) => {
  const { crew, schedule, elapsed } = planned(people);
  const network = finishNetwork(crew, schedule, (_, minutes) => ({ minutes }));
  const [finish = 0] = simulate(network, { runs: 1, seed: 1, common: 0 }).finishes;
  expect(finish).toBeLessThanOrEqual(elapsed + 1e-6);
  // What was found was shifted to begin as soon as it can, so that a much earlier end would have broken a rule.
  expect(finish).toBeGreaterThan(0.95 * elapsed);
});

test("nobody does two things at once, whatever the times: a chain of waits joins the works of each person", () => {
  const { crew, schedule } = planned(2);
  const network = finishNetwork(crew, schedule, (_, minutes) => ({ minutes }));
  const waits = new Map(network.activities.map(({ id, after }) => [id, after.map((one) => one.id)]));
  const reaches = (from: string, to: string): boolean =>
    from === to || (waits.get(from) ?? []).some((one) => reaches(one, to));
  for (const { id } of crew.problem.people) {
    const own = schedule.tasks
      .filter(({ people }) => people.includes(id))
      .sort((a, b) => a.start - b.start || a.end - b.end);
    expect(own.length).toBeGreaterThan(3);
    for (const [index, { task, start }] of own.entries()) {
      const before = own[index - 1];
      if (before !== undefined && before.start < start) expect(reaches(task, before.task)).toBe(true);
    }
  }
});

test("what must be followed soon is held back as the plan has it, however late what it waits for", () => {
  const { crew } = planned(2);
  const task = (id: string, minutes: number, after: Task["after"] = []): Task => ({
    ...{ id, minutes, after, crew: [{ count: 1 }], uses: [], on: [], off: [], empties: [], pauses: false, notBy: [] },
  });
  const put = (id: string, start: number, end: number, people: readonly string[]) => ({
    ...{ task: id, start, free: end, end, people },
  });
  const people = ["ann", "bo"].map((id) => ({ id, skills: [] }));
  const tasks = [
    task("bracket", 30),
    task("seal", 4),
    task("fit", 3, [{ task: "seal", most: 10 }, { task: "bracket" }]),
  ];
  const problem = { ...{ people, tasks, stocks: [], positions: [], states: [], holds: [], apart: [] } };
  const schedule = {
    tasks: [put("bracket", 0, 30, ["bo"]), put("seal", 20, 24, ["ann"]), put("fit", 30, 33, ["ann"])],
    changes: [],
  };
  const done = (bracket: number) => {
    const network = finishNetwork({ ...crew, problem }, schedule, (id, minutes) => ({
      minutes: id === "bracket" ? bracket : minutes,
    }));
    const { finishes, activities } = simulate(network, { runs: 1, seed: 1, common: 0 });
    return [finishes[0], activities.find(({ id }) => id === "fit")?.late];
  };
  expect(done(30)).toEqual([33, 0]);
  // Ann asks how long yet, and seals 10 min before the bracket is there, however late it is.
  expect(done(90)).toEqual([93, 0]);
  // A bracket that is there at once leaves her no time to hold back.
  expect(done(1)).toEqual([7, 0]);
});

test("the answer: rising percentiles, the chance of a time, learnt times taken, and what is assumed", () => {
  const { crew, schedule, elapsed } = planned(2);
  const asked = {
    runs: 2000,
    seed: 1,
    common: 0.1,
    by: elapsed,
    learnt: new Map<string, { centre: number; spread: number }>(),
  };
  const finish = answerFinish(crew, schedule, elapsed, asked);
  const minutes = finish.percentiles.map(({ value }) => value);
  expect(minutes).toEqual(minutes.toSorted((a, b) => a - b));
  // Who asks for the finishes alone is told the same.
  const alone = finishesOf(crew, schedule, asked);
  expect(finish.percentiles.map(({ share }) => percentile(alone, share).value)).toEqual(minutes);
  expect(finish.chances[0]).toMatchObject({ minutes: elapsed });
  // The plan's own time is met seldom: of many medians side by side one is late.
  expect(finish.chances[0]?.value).toBeLessThan(0.5);
  const slow = answerFinish(crew, schedule, elapsed, {
    ...asked,
    learnt: new Map([["flange-bolts/1", { centre: Math.log(300), spread: 0.1 }]]),
  });
  expect(slow.mean.value).toBeGreaterThan(finish.mean.value + 200);
  expect(slow.assumed[0]).toContain("1 times are as the runs taught");
  expect(writeFinish(finish, elapsed)).toContain("Done within");
  expect(drawFinish(finish, elapsed)).toContain("</svg>");
});

test("what is done by several at once ends later than its parts: the plan's time is optimistic", () => {
  const { crew, schedule, elapsed } = planned(3);
  const network = finishNetwork(crew, schedule, (_, minutes) => ({ centre: Math.log(minutes), spread: 0.5 }));
  const sorted = simulate(network, { runs: 2000, seed: 1, common: 0 }).finishes.slice().sort();
  expect(percentile(sorted, 0.5).value).toBeGreaterThan(elapsed);
});

test("what runs taught goes by the way: waiting apart, what was not done has learnt from its like", () => {
  const { vehicle } = readVehicle(`${root}demo/bench-pump.vehicle.yaml`, load);
  if (vehicle === undefined) throw new Error("the demo has faults");
  const text = load(`${root}demo/bench-pump.runs.jsonl`);
  const { observations, looks, faults } = readRuns("runs", text, vehicle.name);
  expect(faults).toEqual([]);
  const learnt = learnRuns(vehicle, observations, looks);
  const time = (step: string) => learnt.times.find((one) => one.step === step);
  expect(time("suction-hose/1")).toMatchObject({ file: 2 });
  expect(time("suction-hose/1")?.p50).toBeGreaterThan(2.3);
  // The case drain is a hose too, and nobody timed it.
  const drain = time("case-drain/1");
  expect(drain?.seen).toBe(0);
  expect(drain?.p50).toBeGreaterThan(drain?.file ?? Number.POSITIVE_INFINITY);
  expect(learnt.causes.map(({ cause }) => cause).sort()).toEqual(["fetching", "waiting"]);
  expect(learnt.broken).toBe(1);
  expect(learnt.looks[0]?.chance).toBeGreaterThan(learnt.looks.at(-1)?.chance ?? 1);
  expect(writeLearnt(learnt)).toContain("1 of them broken off");
});

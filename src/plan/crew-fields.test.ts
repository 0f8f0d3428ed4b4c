// What a vehicle file says for the crew's sake alone: what may not stop, what must follow soon, what makes sparks; and stocks of systems.
import { describe, expect, test } from "vitest";
import { solve as release } from "../release/index.ts";
import { readVehicle, sentence } from "../vehicle/index.ts";
import { type Crew, crewOf } from "./crew.ts";
import { answerCrew } from "./crew-answer.ts";
import { crewQuestion } from "./crew-question.ts";
import { orderFor } from "./order.ts";
import { translate } from "./question.ts";
import { wholeJob } from "./whole-job.ts";

/** Invented: a cover with a bead of sealant, a fuel hose beside it, a bracket that is cut off with sparks. */
const FILE = `
format: unmoor/1
vehicle: { name: Bench, note: invented }
positions: { side: { people: 3, at: [0 m, 0 m, 1 m] }, pit: { people: 1, needs: [raise] } }
parts: { frame: { fixed: true }, cover: { mass: 4 kg }, lid: { mass: 1 kg }, bracket: { mass: 1 kg } }
connections:
  cover-bolts:
    joins: [cover, frame]
    kind: bolted joint
    release: { at: side, time: 4 min, needs: [fuel-hose] }
    refit: { after: [apply-sealant], within: 5 min, torque: 10 N·m }
  cover-clip:
    joins: [lid, frame]
    kind: clip
    release: { at: side, time: 1 min }
    refit: { then: [apply-sealant] }
  fuel-hose:
    joins: [cover, frame]
    kind: hose
    holds: { fluid: fuel }
    plug: plug 8
    release: { at: side, time: 2 min, needs: [close-fuel] }
  return-hose:
    joins: [cover, frame]
    kind: hose
    holds: { fluid: fuel }
    plug: plug 8
    release: { at: side, time: 2 min, needs: [close-fuel] }
  bracket-weld:
    joins: [bracket, frame]
    kind: bolted joint
    release: { at: side, time: 6 min, sparks: true }
    refit: { torque: 10 N·m }
tasks:
  close-fuel: { at: side, time: 1 min, drains: fuel, back: { label: Open the cock, time: 1 min, at: side, after: [fuel-hose, return-hose] } }
  apply-sealant: { phase: back, at: side, time: 3 min, after: [cover-clip] }
  raise: { time: 4 min, people: 2, undo: { time: 3 min, people: 2 } }
  leak-test: { phase: back, at: pit, time: 9 min, pauses: false, needs: [], after: [fuel-hose] }
jobs:
  clean: { needs: [cover, lid, bracket], work: { at: side, time: 8 min, check: face clean } }
`;

const questionFor = (crew: Crew) => {
  const { vehicle, faults } = readVehicle("bench.vehicle.yaml", () => FILE);
  if (vehicle === undefined) throw new Error(faults.map(sentence).join("\n"));
  const asked = translate(vehicle, orderFor("clean"));
  const { plan } = release(asked.problem);
  const whole = plan === undefined ? undefined : wholeJob(asked, plan);
  if (whole === undefined) throw new Error("no whole job");
  return crewQuestion(whole, crew);
};

const question = questionFor(crewOf(3));
const taskOf = (id: string) => {
  const task = question.problem.tasks.find((one) => one.id === id);
  if (task === undefined) throw new Error(`no ${id}: ${question.problem.tasks.map((one) => one.id).join(" ")}`);
  return task;
};

describe("what the file says for the crew", () => {
  test("within: the cover goes on at most five minutes after the sealant", () => {
    expect(taskOf("back:cover-bolts").after).toContainEqual({ task: "apply-sealant", least: 0, most: 5 });
  });

  test("sparks: never while somebody works on the fuel, on the way out or back", () => {
    const apart = question.problem.apart.filter(([one]) => one === "bracket-weld").map(([, other]) => other);
    expect(apart).toEqual(expect.arrayContaining(["fuel-hose", "return-hose", "close-fuel"]));
    expect(apart.some((id) => id === "cover-clip" || id === "apply-sealant")).toBe(false);
  });

  test("one step at a time at the fuel; the crew file lets two", () => {
    const stock = (crew: Crew) => questionFor(crew).problem.stocks.find(({ id }) => id === "system:fuel")?.count;
    expect(stock(crewOf(3))).toBe(1);
    expect(stock({ ...crewOf(3), systems: new Map([["fuel", 2]]) })).toBe(2);
  });

  test("a way back that cannot keep what the file asks is no question for a crew", () => {
    const { vehicle } = readVehicle("bench.vehicle.yaml", () =>
      FILE.replace("joins: [lid, frame]", "joins: [cover, frame]"),
    );
    if (vehicle === undefined) throw new Error("faults");
    const asked = translate(vehicle, orderFor("clean"));
    const { plan } = release(asked.problem);
    // The cover is held by its bolts alone, so its clip cannot come before them.
    expect(plan).toBeDefined();
    if (plan !== undefined) expect(wholeJob(asked, plan)).toBeUndefined();
  });

  test("and the schedule keeps all of it", () => {
    const { plan } = answerCrew(question, { schedules: 60, conflicts: 0, seed: 1 });
    const at = (id: string) => plan?.steps.find((step) => step.id === id) ?? { start: Number.NaN, end: Number.NaN };
    expect(at("back:cover-bolts").start - at("apply-sealant").end).toBeLessThanOrEqual(5);
    for (const id of ["fuel-hose", "return-hose", "close-fuel"])
      expect(at(id).start >= at("bracket-weld").end || at(id).end <= at("bracket-weld").start, id).toBe(true);
  });
});

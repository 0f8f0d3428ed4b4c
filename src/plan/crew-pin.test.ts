// Pins on small random jobs: what is pinned holds, nothing gets quicker by it, and what cannot be is refused in words.
import { describe, expect, test } from "vitest";
import { chance, randomVehicle } from "../../test/random-vehicle.ts";
import { check, type Schedule, solve as solveCrew } from "../crew/index.ts";
import { solve } from "../release/index.ts";
import { crewOf } from "./crew.ts";
import { answerCrew } from "./crew-answer.ts";
import { heldIn } from "./crew-held.ts";
import { nearTo } from "./crew-near.ts";
import { type Pin, pinned } from "./crew-pin.ts";
import { type CrewQuestion, crewQuestion } from "./crew-question.ts";
import { orderFor } from "./order.ts";
import { translate } from "./question.ts";
import { wholeJob } from "./whole-job.ts";

/** Enough for jobs of this size to be proved. */
const ENOUGH = { schedules: 400, conflicts: 4000, seed: 1 };

interface Case {
  readonly seed: number;
  readonly question: CrewQuestion;
  readonly schedule: Schedule;
  readonly elapsed: number;
  readonly proved: boolean;
}

const CASES: readonly Case[] = Array.from({ length: 60 }, (_, seed) => seed).flatMap((seed): Case[] => {
  let looks = 0;
  const asked = translate(randomVehicle(seed), orderFor("one"));
  const { plan } = solve(asked.problem, { stop: () => ++looks > 300 });
  const job = plan === undefined ? undefined : wholeJob(asked, plan);
  if (job === undefined) return [];
  const question = crewQuestion(job, crewOf(2));
  if (question.problem.tasks.length > 24) return [];
  const found = answerCrew(question, ENOUGH);
  if (found.schedule === undefined || found.plan === undefined) return [];
  return [
    { seed, question, schedule: found.schedule, elapsed: found.plan.elapsed, proved: found.status === "optimal" },
  ];
});

const attended = ({ problem }: CrewQuestion) => problem.tasks.filter(({ crew }) => crew.length > 0);

const holds = ({ tasks }: Schedule, pin: Pin): boolean => {
  const placed = tasks.find(({ task }) => task === pin.step);
  if (placed === undefined) return false;
  if ("by" in pin) return placed.people.includes(pin.by);
  return "at" in pin ? Math.abs(placed.start - pin.at) < 1e-6 : placed.start >= pin.from - 1e-6;
};

/** One to three pins that contradict one another nowhere. */
const somePins = ({ seed, question, elapsed }: Case): readonly Pin[] => {
  const next = chance(seed + 7);
  const steps = attended(question);
  const step = () => steps[Math.floor(next() * steps.length)]?.id ?? "";
  const minute = () => Math.floor(next() * elapsed);
  const [one, other] = [step(), step()];
  return [
    { step: one, from: minute() },
    { step: other, by: `person-${1 + Math.floor(next() * 2)}` },
    ...(one !== other && next() < 0.5 ? [{ step: other, at: Math.ceil(elapsed) + minute() }] : []),
  ];
};

test("there is something to try", () => {
  expect(CASES.length).toBeGreaterThan(25);
  expect(CASES.filter(({ proved }) => proved).length).toBeGreaterThan(15);
});

test("every pin holds by the schedule, the checker agrees, and no pin makes a job quicker than proved possible", () => {
  let answered = 0;
  for (const one of CASES) {
    const pins = somePins(one);
    const { question, faults } = pinned(one.question, pins);
    expect(faults, `seed ${one.seed}`).toEqual([]);
    const found = answerCrew(question, ENOUGH);
    if (found.schedule === undefined) continue;
    answered += 1;
    for (const pin of pins) expect(holds(found.schedule, pin), `seed ${one.seed} ${JSON.stringify(pin)}`).toBe(true);
    expect(check(question.problem, found.schedule).legal).toBe(true);
    // What keeps more rules keeps fewer: without the pins it is legal as well.
    const bare = { ...found.schedule, tasks: found.schedule.tasks.filter(({ task }) => !task.startsWith("pin:")) };
    expect(check(one.question.problem, bare).faults, `seed ${one.seed}`).toEqual([]);
    if (one.proved) expect(found.plan?.elapsed, `seed ${one.seed}`).toBeGreaterThanOrEqual(one.elapsed - 1e-6);
  }
  expect(answered).toBeGreaterThan(CASES.length * 0.7);
});

test("pinned to what it does anyhow, a proved schedule costs nothing, and is carried over as it stands", () => {
  for (const { seed, question, schedule, elapsed, proved } of CASES) {
    if (!proved) continue;
    const pins = attended(question).flatMap(({ id }): Pin[] => {
      const placed = schedule.tasks.find(({ task }) => task === id);
      if (placed === undefined) return [];
      const by = placed.people.map((person): Pin => ({ step: id, by: person }));
      return Number.isInteger(placed.start) ? [...by, { step: id, at: placed.start }] : by;
    });
    const asked = pinned(question, pins);
    expect(asked.faults, `seed ${seed}`).toEqual([]);
    const near = nearTo(question, asked.question, schedule, pins);
    expect(near, `seed ${seed}`).toBeDefined();
    const found = answerCrew(asked.question, { ...ENOUGH, schedules: 1, conflicts: 1 }, near);
    expect(found.plan?.elapsed, `seed ${seed}`).toBeCloseTo(elapsed, 6);
  }
});

test("what is not legal without the pin's minute is found by trying every minute", () => {
  // Brute force over the one thing a pin fixes: the best over all minutes of "at" is the best without it.
  let tried = 0;
  for (const { seed, question, elapsed, proved } of CASES) {
    const step = attended(question)[0];
    if (!proved || step === undefined || elapsed > 40 || tried >= 3) continue;
    tried += 1;
    let least = Number.POSITIVE_INFINITY;
    for (let at = 0; at <= elapsed; at += 1) {
      const { question: asked } = pinned(question, [{ step: step.id, at }]);
      const found = solveCrew(asked.problem, ENOUGH);
      if (found.schedule !== undefined) expect(holds(found.schedule, { step: step.id, at }), `seed ${seed}`).toBe(true);
      least = Math.min(least, found.figures?.elapsed ?? Number.POSITIVE_INFINITY);
    }
    expect(least, `seed ${seed}`).toBeGreaterThanOrEqual(elapsed - 1e-6);
    // A first step may begin at half a minute only where people walk before it.
    expect(least, `seed ${seed}`).toBeLessThanOrEqual(elapsed + 1);
  }
  expect(tried).toBeGreaterThan(0);
});

test("what holds each step is named, and a pin as one", () => {
  for (const { question, schedule } of CASES.slice(0, 10)) {
    const held = heldIn(question, schedule);
    expect(held).toHaveLength(schedule.tasks.length + schedule.changes.length);
    for (const { after } of held)
      if (after !== undefined)
        expect([
          ...question.steps.keys(),
          ...question.waitings.keys(),
          ...question.job.states.map(({ id }) => id),
        ]).toContain(after);
  }
  const one = CASES.find(({ proved }) => proved);
  const step = one === undefined ? undefined : attended(one.question).at(-1);
  if (one === undefined || step === undefined) throw new Error("nothing to pin");
  const at = Math.ceil(one.elapsed) + 30;
  const asked = pinned(one.question, [{ step: step.id, at }]).question;
  const found = answerCrew(asked, ENOUGH);
  if (found.schedule === undefined) throw new Error("no schedule");
  expect(heldIn(asked, found.schedule).find(({ id }) => id === step.id)).toMatchObject({ because: "pin", start: at });
  expect(found.plan?.chain.some(({ because }) => because === "pin")).toBe(true);
  expect(JSON.stringify(found.plan)).not.toContain("pin:clock");
});

describe("a pin that cannot be is refused, and the others hold", () => {
  const one = CASES[0];
  if (one === undefined) throw new Error("no case");
  const { question } = one;
  const step = attended(question)[0]?.id ?? "";
  const refused = (...pins: readonly Pin[]) => pinned(question, pins).faults.map(({ kind }) => kind);

  test.each<[string, readonly Pin[]]>([
    ["no such step", [{ step: "nothing", at: 10 }]],
    ["no such step", [{ step: "pin:clock", at: 10 }]],
    ["no such person", [{ step, by: "nobody" }]],
    ["past", [{ step, at: -5 }]],
    ["no minute", [{ step, from: 2.5 }]],
    ["no minute", [{ step, at: Number.NaN }]],
    [
      "against another pin",
      [
        { step, at: 5 },
        { step, at: 10 },
      ],
    ],
    [
      "against another pin",
      [
        { step, from: 50 },
        { step, at: 10 },
      ],
    ],
    [
      "against another pin",
      [
        { step, at: 10 },
        { step, from: 50 },
      ],
    ],
  ])("%s", (kind, pins) => {
    expect(refused(...pins)).toContain(kind);
    for (const { what, mend } of pinned(question, pins).faults) expect(what.length * mend.length).toBeGreaterThan(0);
  });

  test("a minute before what must come first is over is answered in words, without a search", () => {
    const late = CASES.flatMap(({ question: asked, schedule }) =>
      schedule.tasks.flatMap(({ task, start }) => {
        const waits = asked.problem.tasks.find(({ id }) => id === task);
        return start > 0 &&
          waits?.crew.length !== 0 &&
          waits?.after.some((after) => asked.steps.get(after.task)?.says.minutes !== 0)
          ? [{ asked, task }]
          : [];
      }),
    )[0];
    if (late === undefined) throw new Error("nothing waits");
    const found = answerCrew(pinned(late.asked, [{ step: late.task, at: 0 }]).question, ENOUGH);
    expect(found.status).toBe("infeasible");
    expect(found.lacks[0]?.what).toMatch(/^what comes before what is pinned takes longer/);
    expect(JSON.stringify(found.lacks)).not.toContain("pin:");
  });

  test("who lacks the skill that the step asks for", () => {
    const crew = {
      ...question.crew,
      able: false,
      people: [
        { id: "ann", label: "Ann", skills: ["rigger"] },
        { id: "ben", label: "Ben", skills: [] },
      ],
    };
    const skilled = (count: number): CrewQuestion => ({
      ...question,
      crew,
      problem: {
        ...question.problem,
        people: crew.people.map(({ id, skills }) => ({ id, skills })),
        tasks: question.problem.tasks.map((task) =>
          task.id === step
            ? { ...task, crew: [{ count: 1, skill: "rigger" }, ...(count > 1 ? [{ count: 1 }] : [])] }
            : task,
        ),
      },
    });
    const [fault] = pinned(skilled(1), [{ step, by: "ben" }]).faults;
    expect(fault).toMatchObject({ kind: "without the skill", skill: "rigger", mend: "Give it to Ann." });
    expect(pinned(skilled(1), [{ step, by: "ann" }]).faults).toEqual([]);
    // Beside one who is able, anybody helps.
    expect(pinned(skilled(2), [{ step, by: "ben" }]).faults).toEqual([]);
    expect(
      pinned(skilled(2), [
        { step, by: "ben" },
        { step, by: "ann" },
      ]).faults,
    ).toEqual([]);
    const [full] = pinned(skilled(1), [
      { step, by: "ann" },
      { step, by: "ben" },
    ]).faults;
    expect(full?.kind).toBe("too many people");
  });

  test("what has begun, and what lies before now", () => {
    const under: CrewQuestion = {
      ...question,
      problem: {
        ...question.problem,
        now: 20,
        tasks: question.problem.tasks.map((task, place) =>
          place === 0 ? { ...task, begun: { start: 0, people: [] } } : task,
        ),
      },
    };
    const first = question.problem.tasks[0]?.id ?? "";
    expect(pinned(under, [{ step: first, at: 40 }]).faults[0]?.kind).toBe("begun");
    const later = attended(question).find(({ id }) => id !== first)?.id ?? "";
    expect(pinned(under, [{ step: later, from: 10 }]).faults[0]?.kind).toBe("past");
  });

  test("a change of state is held back, and is not set to a minute", () => {
    const turning = CASES.find(
      ({ question: { problem }, schedule }) => problem.states.length > 0 && schedule.changes.length > 0,
    );
    const change = turning?.schedule.changes[0];
    if (turning === undefined || change === undefined) throw new Error("no case turns a state");
    const id = `set:${change.state}`;
    expect(pinned(turning.question, [{ step: id, at: 10 }]).faults[0]?.kind).toBe("not to the minute");
    const from = Math.ceil(change.start) + 15;
    const { question: asked, faults } = pinned(turning.question, [
      { step: id, from },
      { step: id, by: "person-2" },
    ]);
    expect(faults).toEqual([]);
    const found = answerCrew(asked, ENOUGH);
    const made = found.schedule?.changes.filter(({ state, to }) => state === change.state && to) ?? [];
    expect(made.length).toBeGreaterThan(0);
    for (const { start, people } of made) {
      expect(start).toBeGreaterThanOrEqual(from);
      expect(people).toContain("person-2");
    }
  });
});

// Trying everything, held to scenes worked out by hand and to the checker.
import { describe, expect, test } from "vitest";
import { check } from "../../src/crew/check.ts";
import { lacksOf } from "../../src/crew/lacks.ts";
import type { Change, Person, Problem, State, Task, Work } from "../../src/crew/problem.ts";
import { brute } from "./brute.ts";
import { shopProblem, tinyProblem } from "./random.ts";

const work = (minutes: number, rest: Partial<Work> = {}): Work => ({
  ...{ minutes, crew: [{ count: 1 }], uses: [], on: [], off: [], empties: [], pauses: false },
  ...rest,
});
const task = (id: string, minutes: number, rest: Partial<Task> = {}): Task => ({
  ...{ ...work(minutes), id, after: [], notBy: [] },
  ...rest,
});
const change = (minutes: number, rest: Partial<Change> = {}): Change => ({
  ...{ ...work(minutes), after: [], before: [] },
  ...rest,
});
const state = (id: string, rest: Partial<State> = {}): State => ({
  ...{ id, on: false, set: change(2), clear: change(1) },
  ...rest,
});
const person = (id: string, rest: Partial<Person> = {}): Person => ({ id, skills: [], ...rest });
const ask = (rest: Partial<Problem> = {}): Problem => ({
  ...{ people: [person("ann"), person("bo")], stocks: [], positions: [], states: [], tasks: [], holds: [], apart: [] },
  ...rest,
});
const under = { id: "under", room: 1 };
const side = { id: "side", room: 1 };
const jack = [{ stock: "jack", count: 1 }];
const breaks = (...edges: number[]): Pick<Person, "shifts"> => ({
  shifts: edges.flatMap((from, place) => (place % 2 === 0 ? [{ from, until: edges[place + 1] ?? 99 }] : [])),
});
const NONE = Number.POSITIVE_INFINITY;

const SCENES: readonly (readonly [scene: string, least: number, problem: Problem])[] = [
  ["nothing to do", 0, ask()],
  ["3 and 4 min for two: side by side", 4, ask({ tasks: [task("a", 3), task("b", 4)] })],
  [
    "3 and 4 min for one: one after the other",
    7,
    ask({ people: [person("ann")], tasks: [task("a", 3), task("b", 4)] }),
  ],
  // 2, 2 and 3 for two people: 2 + 2 beside 3.
  ["three tasks for two", 4, ask({ tasks: [task("a", 2), task("b", 2), task("c", 3)] })],
  [
    "each has one skill, and both tasks want the same",
    4,
    ask({
      people: [person("ann", { skills: ["weld"] }), person("bo", { skills: ["wire"] })],
      tasks: [
        task("a", 2, { crew: [{ count: 1, skill: "weld" }] }),
        task("b", 2, { crew: [{ count: 1, skill: "weld" }] }),
      ],
    }),
  ],
  // Drained from 0 to 1, runs out to 4, then 2.
  [
    "drain, wait, unbolt",
    6,
    ask({ tasks: [task("drain", 1, { alone: 3 }), task("unbolt", 2, { after: [{ task: "drain" }] })] }),
  ],
  [
    "5 min to cure after",
    8,
    ask({ tasks: [task("glue", 1), task("fit", 2, { after: [{ task: "glue", least: 5 }] })] }),
  ],
  [
    "may begin a minute before the end",
    4,
    ask({ tasks: [task("a", 3), task("b", 2, { after: [{ task: "a", least: -1 }] })] }),
  ],
  [
    // Ann fits at once, or after b: seal 0–1, b in between would be too long, so b first: b 0–3, seal 3–4, fit 4–5.
    "fit at once after sealing, one person, and a long task that must come before the fit",
    5,
    ask({
      people: [person("ann")],
      tasks: [task("seal", 1), task("b", 3), task("fit", 1, { after: [{ task: "seal", most: 1 }, { task: "b" }] })],
    }),
  ],
  [
    "at most 1 min after the one, at least 3 after the other, which ends with it",
    NONE,
    ask({
      tasks: [
        task("a", 2),
        task("b", 2, { after: [{ task: "a", least: -2, most: -2 }] }),
        task("c", 1, {
          after: [
            { task: "a", most: 1 },
            { task: "b", least: 3 },
          ],
        }),
      ],
    }),
  ],
  [
    "one jack",
    5,
    ask({ stocks: [{ id: "jack", count: 1 }], tasks: [task("a", 2, { uses: jack }), task("b", 3, { uses: jack })] }),
  ],
  [
    // Held from 0 to 4 by a and c; then b.
    "a jack held from one task to the end of another",
    7,
    ask({
      stocks: [{ id: "jack", count: 1 }],
      tasks: [task("a", 2), task("c", 2, { after: [{ task: "a" }] }), task("b", 3, { uses: jack })],
      holds: [{ stock: "jack", count: 1, from: "a", until: "c" }],
    }),
  ],
  [
    "room for one",
    5,
    ask({ positions: [under], tasks: [task("a", 2, { position: "under" }), task("b", 3, { position: "under" })] }),
  ],
  [
    "nobody under what hangs, to the end of what it does alone",
    6,
    ask({
      positions: [under],
      tasks: [task("hang", 1, { empties: ["under"], alone: 2 }), task("b", 3, { position: "under" })],
    }),
  ],
  ["open fuel apart from sparks", 5, ask({ tasks: [task("fuel", 2), task("spark", 3)], apart: [["fuel", "spark"]] })],
  [
    // Ann: a 0–2 and b there, 2–5; or Bo does b from 0, at once.
    "each where they stand",
    3,
    ask({
      people: [person("ann", { at: "under" }), person("bo", { at: "side" })],
      positions: [under, side],
      moves: [
        [0, 4],
        [4, 0],
      ],
      tasks: [task("a", 2, { position: "under" }), task("b", 3, { position: "side" })],
    }),
  ],
  [
    // 2 there, 1 min way, 3: 6; the other way round 3 + 4 + 2 = 9.
    "the shorter way round",
    6,
    ask({
      people: [person("ann", { at: "under" })],
      positions: [under, side],
      moves: [
        [0, 1],
        [4, 0],
      ],
      tasks: [task("a", 2, { position: "under" }), task("b", 3, { position: "side" })],
    }),
  ],
  // In one go it waits for the spell from 5 on.
  [
    "4 min in one go, and lunch from 3 to 5",
    9,
    ask({ people: [person("ann", breaks(0, 3, 5, 99))], tasks: [task("a", 4)] }),
  ],
  [
    "4 min with a pause",
    6,
    ask({ people: [person("ann", breaks(0, 3, 5, 99))], tasks: [task("a", 4, { pauses: true })] }),
  ],
  [
    // Together they are there from 0 to 2 and from 5 on.
    "3 min for two with different lunches",
    6,
    ask({
      people: [person("ann", breaks(0, 2, 4, 99)), person("bo", breaks(0, 3, 5, 99))],
      tasks: [task("a", 3, { crew: [{ count: 2 }], pauses: true })],
    }),
  ],
  ["nobody is there long enough", NONE, ask({ people: [person("ann", breaks(0, 3, 5, 7))], tasks: [task("a", 4)] })],
  // Up 2, work 3, down 1.
  [
    "raised and lowered again",
    6,
    ask({ states: [state("raised", { end: false })], tasks: [task("a", 3, { on: ["raised"] })] }),
  ],
  [
    "raised, and nobody says how it is left",
    5,
    ask({ states: [state("raised")], tasks: [task("a", 3, { on: ["raised"] })] }),
  ],
  // Up 0–2, a 2–5, c 2–4 beside it, down 5–6; b is done before with nobody to raise: b 0–1 beside nothing, since it wants the vehicle down. So 1 later: 7; or at the end: 6–7.
  [
    "grouped between two changes",
    7,
    ask({
      states: [state("raised", { end: false })],
      tasks: [task("a", 3, { on: ["raised"] }), task("c", 2, { on: ["raised"] }), task("b", 1, { off: ["raised"] })],
    }),
  ],
  // Up 2, a 1, down 1, b 1, up 2, c 1.
  [
    "up, down and up again, because of what comes after what",
    8,
    ask({
      states: [state("raised")],
      tasks: [
        task("a", 1, { on: ["raised"] }),
        task("b", 1, { off: ["raised"], after: [{ task: "a" }] }),
        task("c", 1, { on: ["raised"], after: [{ task: "b" }] }),
      ],
    }),
  ],
  // Raised 2, slung 2 while raised, a 1.
  [
    "a state that wants another first",
    5,
    ask({
      states: [state("raised"), state("slung", { set: change(2, { on: ["raised"] }) })],
      tasks: [task("a", 1, { on: ["slung"] })],
    }),
  ],
  // Nobody under the vehicle while it goes up: b 0–3, up 3–5, a 5–6; or up 0–2, a 2–3 and b 2–5.
  [
    "nobody under it while it goes up",
    5,
    ask({
      positions: [under],
      states: [state("raised", { set: change(2, { empties: ["under"] }) })],
      tasks: [task("a", 1, { on: ["raised"] }), task("b", 3, { position: "under" })],
    }),
  ],
  // b 0–3, up 3–5, a 5–6.
  [
    "raised only after b",
    6,
    ask({
      states: [state("raised", { set: change(2, { after: ["b"] }) })],
      tasks: [task("a", 1, { on: ["raised"] }), task("b", 3)],
    }),
  ],
  // Up 0–2, b 2–5 beside a 2–3.
  [
    "never raised once b has begun",
    5,
    ask({
      states: [state("raised", { set: change(2, { before: ["b"] }) })],
      tasks: [task("a", 1, { on: ["raised"] }), task("b", 3)],
    }),
  ],
  // Ann cannot do both: fit 0–3 by one, verified by the other, who does c from 0 to 2.
  [
    "a second person verifies",
    4,
    ask({ tasks: [task("fit", 3), task("c", 2), task("verify", 1, { after: [{ task: "fit" }], notBy: ["fit"] })] }),
  ],
  [
    "nobody is left to verify",
    NONE,
    ask({ people: [person("ann")], tasks: [task("fit", 3), task("verify", 1, { notBy: ["fit"] })] }),
  ],
  // It is 3; a has 2 of 4 min behind it and ends at 5, b is 1 min more: 3 min from now.
  [
    "under way since 1, now 3",
    3,
    ask({
      now: 3,
      people: [person("ann")],
      tasks: [task("a", 4, { begun: { start: 1, people: ["ann"] } }), task("b", 1)],
    }),
  ],
  // It ended at 2 and ran on alone to 5, now 3; b waits for it and is 1 min.
  [
    "under way and running on alone",
    3,
    ask({
      now: 3,
      tasks: [
        task("a", 1, { alone: 3, begun: { start: 1, people: ["ann"] } }),
        task("b", 1, { after: [{ task: "a" }] }),
      ],
    }),
  ],
  [
    "under way, against what must be apart from it",
    NONE,
    ask({
      now: 3,
      tasks: [
        task("a", 4, { begun: { start: 1, people: ["ann"] } }),
        task("b", 1, { begun: { start: 2, people: ["bo"] } }),
      ],
      apart: [["a", "b"]],
    }),
  ],
];

describe("the least time, worked out by hand", () => {
  for (const [scene, least, problem] of SCENES)
    test(`${scene}: ${least === NONE ? "none" : `${least} min`}`, () => {
      const { elapsed, schedule } = brute(problem);
      expect(elapsed).toBe(least);
      if (schedule === undefined) return;
      expect(check(problem, schedule)).toMatchObject({ legal: true, figures: { elapsed: least } });
    });
});

test("given up, it says so, and with more it finds the same as ever", () => {
  const problem = tinyProblem(8);
  expect(brute(problem, 300)).toEqual({ elapsed: Number.NaN, states: 300 });
  expect(brute(problem, 3000).elapsed).toBe(brute(problem).elapsed);
});

describe("random problems", () => {
  const SEEDS = Array.from({ length: 250 }, (_, seed) => seed);

  test("what it finds is legal and as long as it says", () => {
    let found = 0;
    for (const seed of SEEDS) {
      const problem = tinyProblem(seed);
      const { elapsed, schedule } = brute(problem, 700);
      if (schedule === undefined) continue;
      found += 1;
      const { faults, figures } = check(problem, schedule);
      expect(faults, `seed ${seed}`).toEqual([]);
      expect(figures.elapsed, `seed ${seed}`).toBe(elapsed);
    }
    expect(found).toBeGreaterThan(80);
  });

  test("the same seed gives the same, every feature is in some and not in all", () => {
    const tiny = SEEDS.map(tinyProblem);
    expect(SEEDS.map(tinyProblem)).toEqual(tiny);
    const works = ({ tasks, states }: Problem): readonly Work[] => [
      ...tasks,
      ...states.flatMap(({ set, clear }) => [set, clear]),
    ];
    const FEATURES: Readonly<Record<string, (problem: Problem) => boolean>> = {
      breaks: ({ people }) => people.some(({ shifts }) => shifts !== undefined),
      pausing: ({ tasks }) => tasks.some(({ pauses }) => pauses),
      moves: ({ moves }) => moves !== undefined,
      alone: ({ tasks }) => tasks.some(({ alone }) => alone !== undefined),
      holds: ({ holds }) => holds.length > 0,
      apart: ({ apart }) => apart.length > 0,
      empties: (problem) => works(problem).some(({ empties }) => empties.length > 0),
      verifiers: ({ tasks }) => tasks.some(({ notBy }) => notBy.length > 0),
      lags: ({ tasks }) => tasks.some(({ after }) => after.some(({ least }) => least !== undefined)),
      most: ({ tasks }) => tasks.some(({ after }) => after.some(({ most }) => most !== undefined)),
      begun: ({ tasks }) => tasks.some(({ begun }) => begun !== undefined),
      now: ({ now }) => now !== undefined,
      stocks: (problem) => works(problem).some(({ uses }) => uses.length > 0),
      states: (problem) => works(problem).some(({ on, off }) => on.length + off.length > 0),
      "changes at a position": ({ states }) =>
        states.some(({ set }) => set.position !== undefined && set.crew.length > 0),
    };
    for (const [feature, has] of Object.entries(FEATURES)) {
      const count = tiny.filter(has).length;
      expect(count, feature).toBeGreaterThan(10);
      expect(count, feature).toBeLessThan(tiny.length - 10);
    }
    const lacking = tiny.filter((problem) => lacksOf(problem).length > 0).length;
    expect(lacking).toBeLessThan(tiny.length / 2);
  });

  test("a shop has 20 to 60 tasks or a few more for verifying", () => {
    for (const seed of SEEDS) {
      const { tasks } = shopProblem(seed);
      expect(tasks.length).toBeGreaterThanOrEqual(20);
      expect(tasks.length).toBeLessThanOrEqual(72);
    }
  });
});

// What is ill-posed in a crew's question: each lack on the smallest question that has it, the nearest question that has not, and none where trying everything finds a schedule.
import { describe, expect, test } from "vitest";
import { brute } from "../../bench/crew/brute.ts";
import { shopProblem, tinyProblem } from "../../bench/crew/random.ts";
import { lacksOf } from "./lacks.ts";
import type { Change, Person, Problem, State, Task, Work } from "./problem.ts";
import type { Lack } from "./result.ts";

const ONE = [{ count: 1 }];
const work = (minutes: number, rest: Partial<Work> = {}): Work => ({
  ...{ minutes, crew: ONE, uses: [], on: [], off: [], empties: [], pauses: false },
  ...rest,
});
const task = (id: string, rest: Partial<Task> = {}): Task => ({ ...work(4), id, after: [], notBy: [], ...rest });
const change = (rest: Partial<Change> = {}): Change => ({ ...work(3), after: [], before: [], ...rest });
const state = (id: string, rest: Partial<State> = {}): State => ({
  ...{ id, on: false, set: change(), clear: change() },
  ...rest,
});
const person = (id: string, rest: Partial<Person> = {}): Person => ({ id, skills: [], ...rest });
const ask = (rest: Partial<Problem> = {}): Problem => ({
  ...{ people: [person("ann"), person("bo")], stocks: [], positions: [], states: [], tasks: [], holds: [], apart: [] },
  ...rest,
});
const welder = person("ann", { skills: ["weld"] });
const under = { id: "under", room: 1 };
const jack = { id: "jack", count: 1 };
const begun = (start: number, ...people: string[]): Pick<Task, "begun"> => ({ begun: { start, people } });

interface Row {
  readonly why: string;
  readonly has: Problem;
  readonly lacks: readonly Record<string, unknown>[];
  /** The same without the lack. */
  readonly hasNot: Problem;
}

/** A kind of lack without a row does not compile. */
const ROWS: Readonly<Record<Lack["what"], readonly Row[]>> = {
  "no such skill": [
    {
      why: "nobody can weld",
      has: ask({ tasks: [task("seam", { crew: [{ count: 1, skill: "weld" }] })] }),
      lacks: [{ at: "seam", skill: "weld", count: 1, have: 0 }],
      hasNot: ask({ people: [welder], tasks: [task("seam", { crew: [{ count: 1, skill: "weld" }] })] }),
    },
    {
      why: "two welders in two seats, and there is one",
      has: ask({
        people: [welder, person("bo")],
        tasks: [
          task("seam", {
            crew: [
              { count: 1, skill: "weld" },
              { count: 1, skill: "weld" },
            ],
          }),
        ],
      }),
      lacks: [{ at: "seam", skill: "weld", count: 2, have: 1 }],
      hasNot: ask({
        people: [welder, person("bo")],
        tasks: [task("seam", { crew: [{ count: 1, skill: "weld" }, { count: 1 }] })],
      }),
    },
    {
      why: "nobody can drive the hoist that the task wants the unit slung by",
      has: ask({
        states: [state("slung", { set: change({ crew: [{ count: 1, skill: "hoist" }] }) })],
        tasks: [task("mount", { on: ["slung"] })],
      }),
      lacks: [{ at: "slung", skill: "hoist", count: 1, have: 0 }],
      // A change that nothing wants need not be possible.
      hasNot: ask({
        states: [state("slung", { set: change({ crew: [{ count: 1, skill: "hoist" }] }) })],
        tasks: [task("mount")],
      }),
    },
  ],
  "too few skilled": [
    {
      why: "one who can weld, one who can sling, and they are one",
      has: ask({
        people: [person("ann", { skills: ["weld", "sling"] }), person("bo"), person("cy")],
        tasks: [task("lug", { crew: [{ count: 1, skill: "weld" }, { count: 1, skill: "sling" }, { count: 1 }] })],
      }),
      lacks: [{ at: "lug", skills: ["sling", "weld"], count: 2, have: 1 }],
      hasNot: ask({
        people: [person("ann", { skills: ["weld", "sling"] }), person("bo", { skills: ["sling"] }), person("cy")],
        tasks: [task("lug", { crew: [{ count: 1, skill: "weld" }, { count: 1, skill: "sling" }, { count: 1 }] })],
      }),
    },
  ],
  "too few people": [
    {
      why: "three of two",
      has: ask({ tasks: [task("door", { crew: [{ count: 2 }, { count: 1 }] })] }),
      lacks: [{ at: "door", count: 3, have: 2 }],
      hasNot: ask({ tasks: [task("door", { crew: [{ count: 2 }] })] }),
    },
    {
      why: "a state that must be otherwise at the end takes three",
      has: ask({ states: [state("tilted", { end: true, set: change({ crew: [{ count: 3 }] }) })] }),
      lacks: [{ at: "tilted", count: 3, have: 2 }],
      hasNot: ask({ states: [state("tilted", { end: false, set: change({ crew: [{ count: 3 }] }) })] }),
    },
    {
      why: "so does the way back, and it must be made",
      has: ask({
        states: [state("tilted", { end: false, clear: change({ crew: [{ count: 3 }] }) })],
        tasks: [task("belt", { on: ["tilted"] })],
      }),
      lacks: [{ at: "tilted", count: 3, have: 2 }],
      hasNot: ask({
        states: [state("tilted", { clear: change({ crew: [{ count: 3 }] }) })],
        tasks: [task("belt", { on: ["tilted"] })],
      }),
    },
  ],
  "position too small": [
    {
      why: "two where one fits",
      has: ask({ positions: [under], tasks: [task("gear", { crew: [{ count: 2 }], position: "under" })] }),
      lacks: [{ at: "gear", position: "under", count: 2, room: 1 }],
      hasNot: ask({ positions: [under], tasks: [task("gear", { position: "under" })] }),
    },
    {
      why: "two are at it already",
      has: ask({ positions: [under], tasks: [task("gear", { position: "under", ...begun(-1, "ann", "bo") })] }),
      lacks: [{ at: "gear", position: "under", count: 2, room: 1 }],
      hasNot: ask({ positions: [under], tasks: [task("gear", { position: "under", ...begun(-1, "ann") })] }),
    },
  ],
  "stock too small": [
    {
      why: "two jacks of one, counted together",
      has: ask({
        stocks: [jack],
        tasks: [
          task("axle", {
            uses: [
              { stock: "jack", count: 1 },
              { stock: "jack", count: 1 },
            ],
          }),
        ],
      }),
      lacks: [{ at: "axle", stock: "jack", count: 2, have: 1 }],
      hasNot: ask({ stocks: [jack], tasks: [task("axle", { uses: [{ stock: "jack", count: 1 }] })] }),
    },
    {
      why: "one held from its beginning and one used",
      has: ask({
        stocks: [jack],
        tasks: [task("axle", { uses: [{ stock: "jack", count: 1 }] }), task("down", { after: [{ task: "axle" }] })],
        holds: [{ stock: "jack", count: 1, from: "axle", until: "down" }],
      }),
      lacks: [{ at: "axle", stock: "jack", count: 2, have: 1 }],
      hasNot: ask({
        stocks: [jack],
        tasks: [task("axle"), task("down", { after: [{ task: "axle" }] })],
        holds: [{ stock: "jack", count: 1, from: "axle", until: "down" }],
      }),
    },
  ],
  "no verifier": [
    {
      why: "the only one does it",
      has: ask({ people: [person("ann")], tasks: [task("fit"), task("verify", { notBy: ["fit"] })] }),
      lacks: [{ at: "verify", of: ["fit"] }],
      hasNot: ask({ tasks: [task("fit"), task("verify", { notBy: ["fit"] })] }),
    },
    {
      why: "the only welder welds, and only she may verify",
      has: ask({
        people: [welder, person("bo")],
        tasks: [
          task("seam", { crew: [{ count: 1, skill: "weld" }] }),
          task("verify", { crew: [{ count: 1, skill: "weld" }], notBy: ["seam"] }),
        ],
      }),
      lacks: [{ at: "verify", of: ["seam"] }],
      hasNot: ask({
        people: [welder, person("bo")],
        tasks: [task("seam", { crew: [{ count: 1, skill: "weld" }] }), task("verify", { notBy: ["seam"] })],
      }),
    },
    {
      why: "one thing is for Ann, the other for Bo, and neither is left",
      has: ask({
        people: [welder, person("bo", { skills: ["wire"] })],
        tasks: [
          task("seam", { crew: [{ count: 1, skill: "weld" }] }),
          task("loom", { crew: [{ count: 1, skill: "wire" }] }),
          task("verify", { notBy: ["seam", "loom"] }),
        ],
      }),
      lacks: [{ at: "verify", of: ["seam", "loom"] }],
      hasNot: ask({
        people: [welder, person("bo", { skills: ["wire"] })],
        tasks: [
          task("seam", { crew: [{ count: 1, skill: "weld" }] }),
          task("loom", { crew: [{ count: 1, skill: "wire" }] }),
          task("verify", { notBy: ["seam"] }),
        ],
      }),
    },
    {
      why: "both have begun it",
      has: ask({ tasks: [task("fit", begun(-1, "ann", "bo")), task("verify", { notBy: ["fit"] })] }),
      lacks: [{ at: "verify", of: ["fit"] }],
      hasNot: ask({ tasks: [task("fit", begun(-1, "ann")), task("verify", { notBy: ["fit"] })] }),
    },
    {
      why: "its own verifier",
      has: ask({ tasks: [task("verify", { notBy: ["verify"] })] }),
      lacks: [{ at: "verify", of: ["verify"] }],
      hasNot: ask({ tasks: [task("verify")] }),
    },
  ],
  "no spell long enough": [
    {
      why: "6 min in one go, and there are 5 and 5",
      has: ask({
        people: [
          person("ann", {
            shifts: [
              { from: 0, until: 5 },
              { from: 8, until: 13 },
            ],
          }),
        ],
        tasks: [task("lift", { minutes: 6 })],
      }),
      lacks: [{ at: "lift", minutes: 6 }],
      hasNot: ask({
        people: [
          person("ann", {
            shifts: [
              { from: 0, until: 5 },
              { from: 8, until: 13 },
            ],
          }),
        ],
        tasks: [task("lift", { minutes: 6, pauses: true })],
      }),
    },
    {
      why: "both for 4 min, and they meet for 3",
      has: ask({
        people: [
          person("ann", { shifts: [{ from: 0, until: 9 }] }),
          person("bo", { shifts: [{ from: 6, until: 20 }] }),
        ],
        tasks: [task("lift", { crew: [{ count: 2 }] })],
      }),
      lacks: [{ at: "lift", minutes: 4 }],
      hasNot: ask({
        people: [
          person("ann", { shifts: [{ from: 0, until: 10 }] }),
          person("bo", { shifts: [{ from: 6, until: 20 }] }),
        ],
        tasks: [task("lift", { crew: [{ count: 2 }] })],
      }),
    },
    {
      why: "what is left of the last spell is too little, pauses or not",
      has: ask({
        now: 8,
        people: [person("ann", { shifts: [{ from: 0, until: 11 }] })],
        tasks: [task("clean", { pauses: true })],
      }),
      lacks: [{ at: "clean", minutes: 4 }],
      hasNot: ask({
        now: 7,
        people: [person("ann", { shifts: [{ from: 0, until: 11 }] })],
        tasks: [task("clean", { pauses: true })],
      }),
    },
    {
      why: "begun, and not to be done before the last of her goes",
      has: ask({
        people: [person("ann", { shifts: [{ from: -9, until: 2 }] })],
        tasks: [task("clean", { pauses: true, ...begun(-1, "ann") })],
      }),
      lacks: [{ at: "clean", minutes: 4 }],
      hasNot: ask({
        people: [person("ann", { shifts: [{ from: -9, until: 3 }] })],
        tasks: [task("clean", { pauses: true, ...begun(-1, "ann") })],
      }),
    },
  ],
  "empties its own position": [
    {
      why: "work under the vehicle while nobody may be there",
      has: ask({ positions: [under], tasks: [task("lower", { position: "under", empties: ["under"] })] }),
      lacks: [{ at: "lower", position: "under" }],
      hasNot: ask({ positions: [under], tasks: [task("lower", { empties: ["under"] })] }),
    },
  ],
  "on and off": [
    {
      why: "raised and lowered",
      has: ask({ states: [state("raised")], tasks: [task("look", { on: ["raised"], off: ["raised"] })] }),
      lacks: [{ at: "look", state: "raised" }],
      hasNot: ask({ states: [state("raised")], tasks: [task("look", { on: ["raised"] })] }),
    },
  ],
  "wants what it changes": [
    {
      why: "raised while it is being raised",
      has: ask({ states: [state("raised", { set: change({ off: ["raised"] }) })] }),
      lacks: [{ at: "raised" }],
      hasNot: ask({ states: [state("raised"), state("slung", { set: change({ off: ["raised"] }) })] }),
    },
  ],
  circle: [
    {
      why: "each after the next",
      has: ask({
        tasks: [
          task("a", { after: [{ task: "c" }] }),
          task("b", { after: [{ task: "a" }] }),
          task("c", { after: [{ task: "b" }] }),
        ],
      }),
      lacks: [{ tasks: expect.toSatisfy((ids: string[]) => ids.toSorted().join() === "a,b,c") }],
      hasNot: ask({ tasks: [task("a"), task("b", { after: [{ task: "a" }] }), task("c", { after: [{ task: "b" }] })] }),
    },
    {
      why: "two circles, both told",
      has: ask({
        tasks: [
          task("a", { after: [{ task: "b" }] }),
          task("b", { after: [{ task: "a" }] }),
          task("c", { after: [{ task: "c" }] }),
        ],
      }),
      lacks: [{ tasks: ["c"] }, { tasks: expect.arrayContaining(["a", "b"]) }],
      hasNot: ask({ tasks: [task("a"), task("b", { after: [{ task: "a" }] }), task("c")] }),
    },
    {
      // a ends at the earliest 4 after it starts, b takes 4 and c starts when b has ended: 4 min after a, and at most 3 are left.
      why: "within 3 min of a, with 4 min of work between",
      has: ask({
        tasks: [
          task("a"),
          task("b", { after: [{ task: "a" }] }),
          task("c", { after: [{ task: "b" }, { task: "a", most: 3 }] }),
        ],
      }),
      lacks: [{ tasks: expect.toSatisfy((ids: string[]) => ids.toSorted().join() === "a,b,c") }],
      hasNot: ask({
        tasks: [
          task("a"),
          task("b", { after: [{ task: "a" }] }),
          task("c", { after: [{ task: "b" }, { task: "a", most: 4 }] }),
        ],
      }),
    },
    {
      // While a pauses its end comes later, so that nothing is sure.
      why: "at least 5 and at most 4",
      has: ask({ tasks: [task("a", { pauses: true }), task("b", { after: [{ task: "a", least: 5, most: 4 }] })] }),
      lacks: [{ tasks: expect.arrayContaining(["a", "b"]) }],
      hasNot: ask({ tasks: [task("a", { pauses: true }), task("b", { after: [{ task: "a", least: 4, most: 4 }] })] }),
    },
    {
      why: "raised only after what wants it raised",
      has: ask({
        states: [state("raised", { set: change({ after: ["wheel"] }) })],
        tasks: [task("wheel", { on: ["raised"] })],
      }),
      lacks: [{ tasks: expect.arrayContaining(["raised", "wheel"]) }],
      hasNot: ask({
        states: [state("raised", { set: change({ after: ["wheel"] }) })],
        tasks: [task("wheel", { off: ["raised"] })],
      }),
    },
    {
      why: "never raised once `drain` has begun, and `wheel`, which wants it, comes after",
      has: ask({
        states: [state("raised", { end: false, clear: change({ before: ["drain"] }) })],
        tasks: [task("drain"), task("wheel", { on: ["raised"], after: [{ task: "drain" }] })],
      }),
      lacks: [{ tasks: expect.arrayContaining(["raised", "drain", "wheel"]) }],
      hasNot: ask({
        states: [state("raised", { clear: change({ before: ["drain"] }) })],
        tasks: [task("drain"), task("wheel", { on: ["raised"], after: [{ task: "drain" }] })],
      }),
    },
    {
      why: "each state wants the other first",
      has: ask({
        states: [
          state("raised", { set: change({ on: ["slung"] }) }),
          state("slung", { set: change({ on: ["raised"] }) }),
        ],
        tasks: [task("wheel", { on: ["raised"] })],
      }),
      lacks: [{ tasks: expect.arrayContaining(["raised", "slung"]) }],
      hasNot: ask({
        states: [state("raised", { set: change({ on: ["slung"] }) }), state("slung")],
        tasks: [task("wheel", { on: ["raised"] })],
      }),
    },
  ],
  "unknown id": [
    {
      why: "everywhere that an id is named",
      has: ask({
        people: [person("ann", { at: "p1" })],
        states: [
          state("raised", { set: change({ uses: [{ stock: "s1", count: 1 }], after: ["t1"], before: ["t2"] }) }),
        ],
        tasks: [
          task("a", {
            uses: [{ stock: "s2", count: 1 }],
            position: "p2",
            empties: ["p3"],
            on: ["z1"],
            off: ["z2"],
            after: [{ task: "t3" }],
            notBy: ["t4"],
            ...begun(-1, "cy"),
          }),
        ],
        holds: [{ stock: "s3", count: 1, from: "t5", until: "t6" }],
        apart: [["t7", "a"]],
        told: { worth: 1, tasks: [{ task: "t8", start: 0, people: ["dee"] }] },
      }),
      lacks: [
        ["ann", "p1"],
        ["a", "s2"],
        ["a", "p2"],
        ["a", "p3"],
        ["a", "z1"],
        ["a", "z2"],
        ["raised", "s1"],
        ["a", "t3"],
        ["a", "t4"],
        ["a", "cy"],
        ["raised", "t1"],
        ["raised", "t2"],
        ["t5", "s3"],
        ["t5", "t5"],
        ["t5", "t6"],
        ["t7", "t7"],
        ["t8", "t8"],
        ["t8", "dee"],
      ].map(([at, id]) => ({ at, id })),
      hasNot: ask({ tasks: [task("a")] }),
    },
  ],
  twice: [
    {
      why: "of each kind, and one person twice at one thing",
      has: ask({
        people: [person("ann"), person("ann")],
        stocks: [jack, jack],
        positions: [under, under],
        states: [state("raised"), state("raised")],
        tasks: [task("a", begun(-1, "ann", "ann")), task("a")],
      }),
      lacks: ["ann", "jack", "under", "raised", "a", "ann"].map((at) => ({ at })),
      // What is of two kinds may share a name.
      hasNot: ask({ people: [person("ann")], stocks: [{ id: "ann", count: 1 }], tasks: [task("ann")] }),
    },
  ],
  "not a figure": [
    {
      why: "negative, broken, without end, none",
      has: ask({
        now: Number.NaN,
        people: [person("ann", { shifts: [{ from: Number.NaN, until: 4 }] })],
        stocks: [{ id: "jack", count: 0.5 }],
        positions: [{ id: "under", room: -1 }],
        states: [state("raised", { set: change({ minutes: Number.POSITIVE_INFINITY }) })],
        tasks: [
          task("a", { minutes: -1, crew: [{ count: 0 }], uses: [{ stock: "jack", count: 1.5 }], alone: Number.NaN }),
          task("b", { after: [{ task: "a", least: Number.NEGATIVE_INFINITY, most: Number.NaN }] }),
        ],
        holds: [{ stock: "jack", count: -2, from: "a", until: "b" }],
        told: { worth: -3, tasks: [{ task: "a", start: Number.NaN, people: [] }] },
      }),
      lacks: [
        { at: "now", field: "now", value: Number.NaN },
        { at: "ann", field: "from", value: Number.NaN },
        { at: "jack", field: "count", value: 0.5 },
        { at: "under", field: "room", value: -1 },
        { at: "a", field: "minutes", value: -1 },
        { at: "a", field: "crew", value: 0 },
        { at: "a", field: "uses", value: 1.5 },
        { at: "raised", field: "minutes", value: Number.POSITIVE_INFINITY },
        { at: "a", field: "alone", value: Number.NaN },
        { at: "b", field: "least", value: Number.NEGATIVE_INFINITY },
        { at: "b", field: "most", value: Number.NaN },
        { at: "a", field: "holds", value: -2 },
        { at: "told", field: "worth", value: -3 },
        { at: "a", field: "told", value: Number.NaN },
      ],
      hasNot: ask({
        people: [person("ann", { shifts: [{ from: 0, until: Number.POSITIVE_INFINITY }] })],
        tasks: [task("a")],
      }),
    },
    {
      why: "begun after now",
      has: ask({ now: 3, tasks: [task("a", begun(4, "ann"))] }),
      lacks: [{ at: "a", field: "begun", value: 4 }],
      hasNot: ask({ now: 3, tasks: [task("a", begun(3, "ann"))] }),
    },
    {
      why: "a way that takes less than no time, and one that leads nowhere",
      has: ask({
        positions: [under, { id: "side", room: 1 }],
        moves: [
          [0, -1],
          [2, 1],
        ],
      }),
      lacks: [
        { at: "under", field: "side", value: -1 },
        { at: "side", field: "side", value: 1 },
      ],
      hasNot: ask({
        positions: [under, { id: "side", room: 1 }],
        moves: [
          [0, 1],
          [2, 0],
        ],
      }),
    },
  ],
  "spells not rising": [
    {
      why: "touching, falling, empty",
      has: ask({
        people: [
          person("ann", {
            shifts: [
              { from: 0, until: 5 },
              { from: 5, until: 9 },
            ],
          }),
          person("bo", {
            shifts: [
              { from: 6, until: 9 },
              { from: 0, until: 5 },
            ],
          }),
          person("cy", { shifts: [{ from: 6, until: 6 }] }),
        ],
      }),
      lacks: ["ann", "bo", "cy"].map((at) => ({ at })),
      hasNot: ask({
        people: [
          person("ann", {
            shifts: [
              { from: 0, until: 5 },
              { from: 6, until: 9 },
            ],
          }),
        ],
      }),
    },
  ],
  "not square": [
    {
      why: "a row too few, and a figure too many",
      has: ask({ positions: [under, { id: "side", room: 1 }], moves: [[0, 1, 2]] }),
      lacks: [
        { at: "moves", count: 2, have: 1 },
        { at: "under", count: 2, have: 3 },
      ],
      hasNot: ask({
        positions: [under, { id: "side", room: 1 }],
        moves: [
          [0, 1],
          [1, 0],
        ],
      }),
    },
  ],
  "shorter way round": [
    {
      why: "5 straight, 2 and 2 by the bench",
      has: ask({
        positions: [under, { id: "side", room: 1 }, { id: "bench", room: 1 }],
        moves: [
          [0, 5, 2],
          [5, 0, 4],
          [4, 2, 0],
        ],
      }),
      lacks: [{ at: "under", to: "side", over: "bench", minutes: 5, round: 4 }],
      hasNot: ask({
        positions: [under, { id: "side", room: 1 }, { id: "bench", room: 1 }],
        moves: [
          [0, 4, 2],
          [5, 0, 4],
          [4, 2, 0],
        ],
      }),
    },
  ],
  contradiction: [
    {
      why: "one person at two things begun",
      has: ask({ tasks: [task("a", begun(-2, "ann")), task("b", begun(-1, "ann"))] }),
      lacks: [{ tasks: ["a", "b"], rules: ["under way", "people"] }],
      hasNot: ask({ tasks: [task("a", begun(-5, "ann")), task("b", begun(-1, "ann"))] }),
    },
    {
      why: "begun together what must be apart",
      has: ask({ tasks: [task("a", begun(-2, "ann")), task("b", begun(-1, "bo"))], apart: [["b", "a"]] }),
      lacks: [{ tasks: ["a", "b"], rules: ["under way", "apart"] }],
      hasNot: ask({ tasks: [task("a", begun(-2, "ann")), task("b")], apart: [["b", "a"]] }),
    },
    {
      why: "apart from itself",
      has: ask({ tasks: [task("a")], apart: [["a", "a"]] }),
      lacks: [{ tasks: ["a"], rules: ["apart"] }],
      hasNot: ask({ tasks: [task("a", { minutes: 0 })], apart: [["a", "a"]] }),
    },
    {
      why: "somebody is where nobody may be",
      has: ask({
        positions: [under],
        tasks: [
          task("hang", { empties: ["under"], ...begun(-2, "ann") }),
          task("b", { position: "under", ...begun(-1, "bo") }),
        ],
      }),
      lacks: [{ tasks: ["hang", "b"], rules: ["under way", "empty positions"] }],
      hasNot: ask({
        positions: [under],
        tasks: [task("hang", { empties: ["under"], ...begun(-2, "ann") }), task("b", { position: "under" })],
      }),
    },
    {
      why: "one jack under two things, one of them held to the end of what has not begun",
      has: ask({
        stocks: [jack],
        tasks: [
          task("a", begun(-9, "ann")),
          task("b", { uses: [{ stock: "jack", count: 1 }], ...begun(-1, "bo") }),
          task("c"),
        ],
        holds: [{ stock: "jack", count: 1, from: "a", until: "c" }],
      }),
      lacks: [{ tasks: ["b", "a"], rules: ["under way", "stocks"] }],
      hasNot: ask({
        stocks: [{ id: "jack", count: 2 }],
        tasks: [
          task("a", begun(-9, "ann")),
          task("b", { uses: [{ stock: "jack", count: 1 }], ...begun(-1, "bo") }),
          task("c"),
        ],
        holds: [{ stock: "jack", count: 1, from: "a", until: "c" }],
      }),
    },
    {
      why: "two in a place for one",
      has: ask({
        positions: [under],
        tasks: [
          task("a", { position: "under", ...begun(-2, "ann") }),
          task("b", { position: "under", ...begun(-1, "bo") }),
        ],
      }),
      lacks: [{ tasks: ["a", "b"], rules: ["under way", "room"] }],
      hasNot: ask({
        positions: [under],
        tasks: [task("a", { position: "under", ...begun(-2, "ann") }), task("b", { position: "under" })],
      }),
    },
    {
      why: "begun on a raised vehicle that is not raised",
      has: ask({ states: [state("raised")], tasks: [task("a", { on: ["raised"], ...begun(-1, "ann") })] }),
      lacks: [{ tasks: ["a"], rules: ["under way", "states"] }],
      hasNot: ask({
        states: [state("raised", { on: true })],
        tasks: [task("a", { on: ["raised"], ...begun(-1, "ann") })],
      }),
    },
    {
      why: "begun before what it comes after has ended",
      has: ask({ tasks: [task("a", begun(-2, "ann")), task("b", { after: [{ task: "a" }], ...begun(-1, "bo") })] }),
      lacks: [{ tasks: expect.arrayContaining(["a", "b"]), rules: ["under way", "after"] }],
      hasNot: ask({ tasks: [task("a", begun(-5, "ann")), task("b", { after: [{ task: "a" }], ...begun(-1, "bo") })] }),
    },
    {
      // It ended at -5, and it is 0.
      why: "too late already after what it must soon follow",
      has: ask({ tasks: [task("a", begun(-9, "ann")), task("b", { after: [{ task: "a", most: 4 }] })] }),
      lacks: [{ tasks: expect.arrayContaining(["a", "b"]), rules: ["under way", "after"] }],
      hasNot: ask({ tasks: [task("a", begun(-9, "ann")), task("b", { after: [{ task: "a", most: 5 }] })] }),
    },
  ],
};

describe("each lack, and the nearest question that has none", () => {
  for (const [what, list] of Object.entries(ROWS))
    for (const { why, has, lacks, hasNot } of list)
      test(`${what}: ${why}`, () => {
        expect(lacksOf(has).filter((lack) => lack.what === what)).toEqual(lacks.map((lack) => ({ what, ...lack })));
        expect(lacksOf(hasNot)).toEqual([]);
      });
});

test("all of it at once", () => {
  const lacks = lacksOf(
    ask({
      positions: [under],
      stocks: [jack],
      tasks: [
        task("a", { crew: [{ count: 3 }], position: "nowhere", after: [{ task: "b" }] }),
        task("b", {
          crew: [{ count: 2 }],
          position: "under",
          after: [{ task: "a" }],
          uses: [{ stock: "jack", count: 2 }],
        }),
      ],
    }),
  );
  expect(lacks.map(({ what }) => what)).toEqual([
    "unknown id",
    "too few people",
    "stock too small",
    "position too small",
    "circle",
  ]);
});

test("nothing is said of figures that are none, but that they are none", () => {
  const lacks = lacksOf(ask({ tasks: [task("a", { crew: [{ count: Number.POSITIVE_INFINITY }] })] }));
  expect(lacks).toEqual([{ what: "not a figure", at: "a", field: "crew", value: Number.POSITIVE_INFINITY }]);
});

describe("on random questions", () => {
  test("what lacks something has no schedule", () => {
    let lacking = 0;
    for (let seed = 0; seed < 120; seed += 1) {
      const problem = tinyProblem(seed);
      const lacks = lacksOf(problem);
      if (lacks.length === 0) continue;
      const { elapsed } = brute(problem, 600);
      if (Number.isNaN(elapsed)) continue;
      lacking += 1;
      expect(elapsed, `seed ${seed}: ${JSON.stringify(lacks)}`).toBe(Number.POSITIVE_INFINITY);
    }
    expect(lacking).toBeGreaterThan(18);
  });

  test("what a shop could have lacks nothing", () => {
    for (let seed = 0; seed < 60; seed += 1) expect(lacksOf(shopProblem(seed)), `seed ${seed}`).toEqual([]);
  });
});

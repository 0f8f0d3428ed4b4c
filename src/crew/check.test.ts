// The rules C1 to C13 of docs/crew.md: a legal schedule broken in each way that the checker must notice, what just keeps them, and the figures.
import { describe, expect, test } from "vitest";
import { brute } from "../../bench/crew/brute.ts";
import { tinyProblem } from "../../bench/crew/random.ts";
import { type Chance, makeChance } from "../../bench/release/chance.ts";
import { type Breach, check, type Fault, type Rule } from "./check.ts";
import type { Change, Person, Problem, State, Task, Work } from "./problem.ts";
import type { Changed, Placed, Schedule } from "./result.ts";

const ONE = [{ count: 1 }];
const work = (minutes: number, rest: Partial<Work> = {}): Work => ({
  ...{ minutes, crew: ONE, uses: [], on: [], off: [], empties: [], pauses: false },
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
const person = (id: string, rest: Partial<Person> = {}): Person => ({ id, skills: [], ...rest });
const state = (id: string, set: Change, clear: Change, rest: Partial<State> = {}): State => ({
  ...{ id, on: false, set, clear },
  ...rest,
});
const ask = (rest: Partial<Problem>): Problem => ({
  ...{ people: [person("ann"), person("bo")], stocks: [], positions: [], states: [], tasks: [], holds: [], apart: [] },
  ...rest,
});
/** Placed from `start` for so many minutes. */
const put = (id: string, start: number, minutes: number, people: readonly string[], alone = 0): Placed => ({
  ...{ task: id, start, free: start + minutes, end: start + minutes + alone, people },
});
const turn = (id: string, to: boolean, start: number, minutes: number, people: readonly string[]): Changed => ({
  ...{ state: id, to, start, free: start + minutes, end: start + minutes, people },
});
const plan = (tasks: readonly Placed[], changes: readonly Changed[] = []): Schedule => ({ tasks, changes });

const under = { id: "under", room: 2 };
const side = { id: "side", room: 2 };
const raised = state("raised", change(3), change(2));
/** Wheels come off a vehicle that is raised for it: 3 min up, then 5 at the wheels, then 2 down. */
const wheels = ask({ states: [{ ...raised, end: false }], tasks: [task("wheels", 5, { on: ["raised"] })] });
const up = turn("raised", true, 0, 3, ["ann"]);
const down = turn("raised", false, 8, 2, ["ann"]);
/** Ann drains at the side from 0 to 4, and then is 2 min on the way to a job under the vehicle. */
const walk = ask({
  positions: [under, side],
  moves: [
    [0, 2],
    [3, 0],
  ],
  tasks: [task("drain", 4, { position: "under" }), task("hose", 5, { position: "side" })],
});
const two = ask({ tasks: [task("a", 4), task("b", 3)] });
const lunch = [
  { from: 0, until: 10 },
  { from: 15, until: 30 },
];

interface Row {
  readonly rule: Rule;
  readonly problem: Problem;
  readonly legal: Schedule;
  readonly broken: Schedule;
  readonly minute: number;
  readonly what: Omit<Breach, "kind"> & Record<string, unknown>;
  /** Faults that cannot be had without this one. */
  readonly also?: readonly Breach["kind"][];
}

/** One way to break each rule per kind of fault; a kind without a row does not compile. */
const ROWS: Readonly<Record<Breach["kind"], readonly Row[]>> = {
  missing: [
    {
      ...{ rule: "C1", problem: two, minute: Number.NaN, what: { task: "b" } },
      legal: plan([put("a", 0, 4, ["ann"]), put("b", 0, 3, ["bo"])]),
      broken: plan([put("a", 0, 4, ["ann"])]),
    },
  ],
  twice: [
    {
      ...{ rule: "C1", problem: two, minute: Number.NaN, what: { task: "b" } },
      legal: plan([put("a", 0, 4, ["ann"]), put("b", 0, 3, ["bo"])]),
      broken: plan([put("a", 0, 4, ["ann"]), put("b", 0, 3, ["bo"]), put("b", 5, 3, ["bo"])]),
    },
  ],
  unknown: [
    {
      ...{ rule: "C1", problem: two, minute: 9, what: { id: "c" } },
      legal: plan([put("a", 0, 4, ["ann"]), put("b", 0, 3, ["bo"])]),
      broken: plan([put("a", 0, 4, ["ann"]), put("b", 0, 3, ["bo"]), put("c", 9, 3, ["bo"])]),
    },
    {
      ...{ rule: "C1", problem: wheels, minute: 0, what: { id: "tilted" } },
      legal: plan([put("wheels", 3, 5, ["ann"])], [up, down]),
      broken: plan([put("wheels", 3, 5, ["ann"])], [turn("tilted", true, 0, 1, ["bo"]), up, down]),
    },
    {
      // A stranger cannot be seated either.
      ...{ rule: "C1", problem: two, minute: 0, what: { id: "cy" }, also: ["skill"] },
      legal: plan([put("a", 0, 4, ["ann"]), put("b", 0, 3, ["bo"])]),
      broken: plan([put("a", 0, 4, ["cy"]), put("b", 0, 3, ["bo"])]),
    },
  ],
  "no time": [
    {
      ...{ rule: "C1", problem: two, minute: Number.NaN, what: { of: { task: "b" } } },
      legal: plan([put("a", 0, 4, ["ann"]), put("b", 0, 3, ["bo"])]),
      broken: plan([put("a", 0, 4, ["ann"]), put("b", Number.NaN, 3, ["bo"])]),
    },
  ],
  early: [
    {
      ...{ rule: "C1", problem: { ...two, now: 2 }, minute: 1, what: { of: { task: "b" }, now: 2 } },
      legal: plan([put("a", 2, 4, ["ann"]), put("b", 2, 3, ["bo"])]),
      broken: plan([put("a", 2, 4, ["ann"]), put("b", 1, 3, ["bo"])]),
    },
    {
      ...{ rule: "C1", problem: { ...wheels, now: 1 }, minute: 0 },
      what: { of: { state: "raised", to: true, turn: 0 }, now: 1 },
      legal: plan(
        [put("wheels", 4, 5, ["ann"])],
        [turn("raised", true, 1, 3, ["ann"]), turn("raised", false, 9, 2, ["bo"])],
      ),
      broken: plan([put("wheels", 3, 5, ["ann"])], [up, down]),
    },
  ],
  begun: [
    {
      ...{ rule: "C1", minute: -1, what: { task: "a", start: -2, people: ["ann"] } },
      problem: ask({ tasks: [task("a", 4, { begun: { start: -2, people: ["ann"] } })] }),
      legal: plan([put("a", -2, 4, ["ann"])]),
      broken: plan([put("a", -1, 4, ["ann"])]),
    },
    {
      ...{ rule: "C1", minute: -2, what: { task: "a", start: -2, people: ["ann"] } },
      problem: ask({ tasks: [task("a", 4, { begun: { start: -2, people: ["ann"] } })] }),
      legal: plan([put("a", -2, 4, ["ann"])]),
      broken: plan([put("a", -2, 4, ["bo"])]),
    },
  ],
  away: [
    {
      // In one go, and lunch begins at 10.
      ...{ rule: "C2", minute: 7, what: { of: { task: "lift" }, person: "ann" } },
      problem: ask({ people: [person("ann", { shifts: lunch })], tasks: [task("lift", 4)] }),
      legal: plan([put("lift", 6, 4, ["ann"])]),
      broken: plan([put("lift", 7, 4, ["ann"])]),
    },
    {
      // What pauses still begins with everybody there.
      ...{ rule: "C2", minute: 12, what: { of: { task: "clean" }, person: "ann" } },
      problem: ask({ people: [person("ann", { shifts: lunch })], tasks: [task("clean", 4, { pauses: true })] }),
      legal: plan([put("clean", 15, 4, ["ann"])]),
      broken: plan([{ task: "clean", start: 12, free: 19, end: 19, people: ["ann"] }]),
    },
    {
      // At the end of a spell, not in a break.
      ...{ rule: "C2", minute: 11, what: { of: { task: "sign" }, person: "ann" } },
      problem: ask({ people: [person("ann", { shifts: lunch })], tasks: [task("sign", 0)] }),
      legal: plan([put("sign", 10, 0, ["ann"])]),
      broken: plan([put("sign", 11, 0, ["ann"])]),
    },
  ],
  free: [
    {
      ...{ rule: "C2", problem: two, minute: 3, what: { of: { task: "a" }, free: 3, due: 4 } },
      legal: plan([put("a", 0, 4, ["ann"]), put("b", 0, 3, ["bo"])]),
      broken: plan([put("a", 0, 3, ["ann"]), put("b", 0, 3, ["bo"])]),
    },
    {
      // 3 min from 7 to 10, lunch, 3 min from 15 on.
      ...{ rule: "C2", minute: 13, what: { of: { task: "clean" }, free: 13, due: 18 } },
      problem: ask({ people: [person("ann", { shifts: lunch })], tasks: [task("clean", 6, { pauses: true })] }),
      legal: plan([{ task: "clean", start: 7, free: 18, end: 18, people: ["ann"] }]),
      broken: plan([put("clean", 7, 6, ["ann"])]),
    },
    {
      // Ann has lunch from 10 to 15, Bo from 15 to 18: together until 10 and from 18 on.
      ...{ rule: "C2", minute: 17, what: { of: { task: "clean" }, free: 17, due: 20 } },
      problem: ask({
        people: [
          person("ann", { shifts: lunch }),
          person("bo", {
            shifts: [
              { from: 0, until: 15 },
              { from: 18, until: 30 },
            ],
          }),
        ],
        tasks: [task("clean", 4, { crew: [{ count: 2 }], pauses: true })],
      }),
      legal: plan([{ task: "clean", start: 8, free: 20, end: 20, people: ["ann", "bo"] }]),
      broken: plan([{ task: "clean", start: 8, free: 17, end: 17, people: ["ann", "bo"] }]),
    },
    {
      // Nobody is there for the last 4 min.
      ...{ rule: "C2", minute: 36, what: { of: { task: "clean" }, free: 36, due: Number.POSITIVE_INFINITY } },
      problem: ask({ people: [person("ann", { shifts: lunch })], tasks: [task("clean", 8, { pauses: true })] }),
      legal: plan([put("clean", 22, 8, ["ann"])]),
      broken: plan([{ task: "clean", start: 26, free: 36, end: 36, people: ["ann"] }]),
    },
    {
      // Nobody attends it, so nothing stops it.
      ...{ rule: "C2", minute: 20, what: { of: { task: "soak" }, free: 20, due: 8 } },
      problem: ask({
        people: [person("ann", { shifts: lunch })],
        tasks: [task("soak", 8, { crew: [], pauses: true })],
      }),
      legal: plan([put("soak", 0, 8, [])]),
      broken: plan([{ task: "soak", start: 0, free: 20, end: 20, people: [] }]),
    },
  ],
  end: [
    {
      ...{ rule: "C2", minute: 4, what: { of: { task: "drain" }, end: 4, due: 14 } },
      problem: ask({ tasks: [task("drain", 4, { alone: 10 })] }),
      legal: plan([put("drain", 0, 4, ["ann"], 10)]),
      broken: plan([put("drain", 0, 4, ["ann"])]),
    },
    {
      ...{ rule: "C2", minute: 4, what: { of: { state: "raised", to: true, turn: 0 }, end: 4, due: 3 } },
      problem: ask({ states: [raised] }),
      legal: plan([], [up]),
      broken: plan([], [{ ...up, end: 4 }]),
    },
  ],
  count: [
    {
      ...{ rule: "C3", problem: two, minute: 0, what: { of: { task: "a" }, people: 2, seats: 1 } },
      legal: plan([put("a", 0, 4, ["ann"]), put("b", 4, 3, ["bo"])]),
      broken: plan([put("a", 0, 4, ["ann", "bo"]), put("b", 4, 3, ["bo"])]),
    },
    {
      ...{ rule: "C3", problem: two, minute: 0, what: { of: { task: "a" }, people: 0, seats: 1 } },
      legal: plan([put("a", 0, 4, ["ann"]), put("b", 4, 3, ["bo"])]),
      broken: plan([put("a", 0, 4, []), put("b", 4, 3, ["bo"])]),
    },
  ],
  same: [
    {
      ...{ rule: "C3", minute: 0, what: { of: { task: "a" }, person: "ann" }, also: ["skill"] },
      problem: ask({ tasks: [task("a", 4, { crew: [{ count: 2 }] })] }),
      legal: plan([put("a", 0, 4, ["ann", "bo"])]),
      broken: plan([put("a", 0, 4, ["ann", "ann"])]),
    },
  ],
  skill: [
    {
      ...{ rule: "C3", minute: 0, what: { of: { task: "weld" }, skill: "welder" } },
      problem: ask({
        people: [person("ann", { skills: ["welder"] }), person("bo")],
        tasks: [task("weld", 4, { crew: [{ count: 1, skill: "welder" }] })],
      }),
      legal: plan([put("weld", 0, 4, ["ann"])]),
      broken: plan([put("weld", 0, 4, ["bo"])]),
    },
    {
      // Each seat has somebody, both have only Ann: Bo can neither sling nor drive, Cy can drive.
      ...{ rule: "C3", minute: 0, what: { of: { task: "lift" }, skill: "drive" } },
      problem: ask({
        people: [person("ann", { skills: ["sling", "drive"] }), person("bo"), person("cy", { skills: ["drive"] })],
        tasks: [
          task("lift", 4, {
            crew: [
              { count: 1, skill: "sling" },
              { count: 1, skill: "drive" },
            ],
          }),
        ],
      }),
      legal: plan([put("lift", 0, 4, ["cy", "ann"])]),
      broken: plan([put("lift", 0, 4, ["bo", "ann"])]),
    },
  ],
  both: [
    {
      ...{ rule: "C4", problem: two, minute: 3, what: { person: "ann", works: [{ task: "a" }, { task: "b" }] } },
      legal: plan([put("a", 0, 4, ["ann"]), put("b", 4, 3, ["ann"])]),
      broken: plan([put("a", 0, 4, ["ann"]), put("b", 3, 3, ["ann"])]),
    },
    {
      // A change of state is work too.
      ...{
        rule: "C4",
        minute: 2,
        what: { person: "ann", works: [{ state: "raised", to: true, turn: 0 }, { task: "a" }] },
      },
      problem: ask({ states: [raised], tasks: [task("a", 4)] }),
      legal: plan([put("a", 3, 4, ["ann"])], [up]),
      broken: plan([put("a", 2, 4, ["ann"])], [up]),
    },
    {
      // Ann is at `clean` over lunch, from 8 to 17.
      ...{ rule: "C4", minute: 15, what: { person: "ann", works: [{ task: "clean" }, { task: "b" }] } },
      problem: ask({
        people: [person("ann", { shifts: lunch })],
        tasks: [task("clean", 4, { pauses: true }), task("b", 1)],
      }),
      legal: plan([{ task: "clean", start: 8, free: 17, end: 17, people: ["ann"] }, put("b", 17, 1, ["ann"])]),
      broken: plan([{ task: "clean", start: 8, free: 17, end: 17, people: ["ann"] }, put("b", 15, 1, ["ann"])]),
    },
  ],
  way: [
    {
      // 2 min from under to the side.
      ...{
        rule: "C5",
        problem: walk,
        minute: 5,
        what: { of: { task: "hose" }, person: "ann", from: "under", to: "side", due: 6 },
      },
      legal: plan([put("drain", 0, 4, ["ann"]), put("hose", 6, 5, ["ann"])]),
      broken: plan([put("drain", 0, 4, ["ann"]), put("hose", 5, 5, ["ann"])]),
    },
    {
      // 3 min the other way.
      ...{
        rule: "C5",
        problem: walk,
        minute: 7,
        what: { of: { task: "drain" }, person: "ann", from: "side", to: "under", due: 8 },
      },
      legal: plan([put("hose", 0, 5, ["ann"]), put("drain", 8, 4, ["ann"])]),
      broken: plan([put("hose", 0, 5, ["ann"]), put("drain", 7, 4, ["ann"])]),
    },
    {
      // From where she stands at the beginning.
      ...{ rule: "C5", minute: 2, what: { of: { task: "hose" }, person: "ann", from: "under", to: "side", due: 3 } },
      problem: { ...walk, now: 1, people: [person("ann", { at: "under" })] },
      legal: plan([put("hose", 3, 5, ["ann"]), put("drain", 11, 4, ["ann"])]),
      broken: plan([put("hose", 2, 5, ["ann"]), put("drain", 11, 4, ["ann"])]),
    },
    {
      // `note` is written where she stands, under: the way counts from its end.
      ...{ rule: "C5", minute: 6, what: { of: { task: "hose" }, person: "ann", from: "under", to: "side", due: 8 } },
      problem: { ...walk, tasks: [...walk.tasks, task("note", 2)] },
      legal: plan([put("drain", 0, 4, ["ann"]), put("hose", 8, 5, ["ann"]), put("note", 4, 2, ["ann"])]),
      broken: plan([put("drain", 0, 4, ["ann"]), put("hose", 6, 5, ["ann"]), put("note", 4, 2, ["ann"])]),
    },
    {
      // Without length, but at a place: not while she is at work elsewhere.
      ...{ rule: "C5", minute: 2, what: { of: { task: "look" }, person: "ann", to: "under", due: 4 } },
      problem: { ...walk, tasks: [task("drain", 4, { position: "under" }), task("look", 0, { position: "under" })] },
      legal: plan([put("drain", 0, 4, ["ann"]), put("look", 4, 0, ["ann"])]),
      broken: plan([put("drain", 0, 4, ["ann"]), put("look", 2, 0, ["ann"])]),
    },
  ],
  crowded: [
    {
      ...{
        rule: "C6",
        minute: 3,
        what: { position: "under", works: [{ task: "a" }, { task: "b" }], people: 2, room: 1 },
      },
      problem: ask({
        positions: [{ id: "under", room: 1 }],
        tasks: [task("a", 4, { position: "under" }), task("b", 3, { position: "under" })],
      }),
      legal: plan([put("a", 0, 4, ["ann"]), put("b", 4, 3, ["bo"])]),
      broken: plan([put("a", 0, 4, ["ann"]), put("b", 3, 3, ["bo"])]),
    },
  ],
  "not empty": [
    {
      // Nobody under what runs on alone either: from 0 to 6.
      ...{ rule: "C7", minute: 5, what: { position: "under", of: { task: "hang" }, with: { task: "b" } } },
      problem: ask({
        positions: [under],
        tasks: [task("hang", 4, { empties: ["under"], alone: 2 }), task("b", 3, { position: "under" })],
      }),
      legal: plan([put("hang", 0, 4, ["ann"], 2), put("b", 6, 3, ["bo"])]),
      broken: plan([put("hang", 0, 4, ["ann"], 2), put("b", 5, 3, ["bo"])]),
    },
    {
      ...{
        rule: "C7",
        minute: 0,
        what: { position: "under", of: { state: "raised", to: true, turn: 0 }, with: { task: "b" } },
      },
      problem: ask({
        positions: [under],
        states: [state("raised", change(3, { empties: ["under"] }), change(2))],
        tasks: [task("b", 3, { position: "under" })],
      }),
      legal: plan([put("b", 3, 3, ["bo"])], [up]),
      broken: plan([put("b", 0, 3, ["bo"])], [up]),
    },
  ],
  overdrawn: [
    {
      // The jack is used to the end of what runs on alone.
      ...{
        rule: "C8",
        minute: 5,
        what: { stock: "jack", taken: 2, count: 1, works: [{ task: "a" }, { task: "b" }], holds: [] },
      },
      problem: ask({
        stocks: [{ id: "jack", count: 1 }],
        tasks: [
          task("a", 4, { uses: [{ stock: "jack", count: 1 }], alone: 2 }),
          task("b", 3, { uses: [{ stock: "jack", count: 1 }] }),
        ],
      }),
      legal: plan([put("a", 0, 4, ["ann"], 2), put("b", 6, 3, ["bo"])]),
      broken: plan([put("a", 0, 4, ["ann"], 2), put("b", 5, 3, ["bo"])]),
    },
    {
      // Held from the start of `set` at 0 to the end of `fetch` at 9.
      ...{
        rule: "C8",
        minute: 5,
        what: { stock: "jack", taken: 2, count: 1, works: [{ task: "b" }], holds: [["set", "fetch"]] },
      },
      problem: ask({
        stocks: [{ id: "jack", count: 1 }],
        tasks: [task("set", 2), task("fetch", 2), task("b", 3, { uses: [{ stock: "jack", count: 1 }] })],
        holds: [{ stock: "jack", count: 1, from: "set", until: "fetch" }],
      }),
      legal: plan([put("set", 0, 2, ["ann"]), put("fetch", 7, 2, ["ann"]), put("b", 9, 3, ["bo"])]),
      broken: plan([put("set", 0, 2, ["ann"]), put("fetch", 7, 2, ["ann"]), put("b", 5, 3, ["bo"])]),
    },
    {
      // Two of three lines each.
      ...{
        rule: "C8",
        minute: 2,
        what: { stock: "line", taken: 4, count: 3, works: [{ task: "a" }, { task: "b" }], holds: [] },
      },
      problem: ask({
        stocks: [{ id: "line", count: 3 }],
        tasks: [
          task("a", 4, { uses: [{ stock: "line", count: 2 }] }),
          task("b", 3, { uses: [{ stock: "line", count: 2 }] }),
        ],
      }),
      legal: plan([put("a", 0, 4, ["ann"]), put("b", 4, 3, ["bo"])]),
      broken: plan([put("a", 0, 4, ["ann"]), put("b", 2, 3, ["bo"])]),
    },
  ],
  soon: [
    {
      ...{ rule: "C9", minute: 3, what: { task: "b", after: "a", due: 4 } },
      problem: ask({ tasks: [task("a", 4), task("b", 3, { after: [{ task: "a" }] })] }),
      legal: plan([put("a", 0, 4, ["ann"]), put("b", 4, 3, ["bo"])]),
      broken: plan([put("a", 0, 4, ["ann"]), put("b", 3, 3, ["bo"])]),
    },
    {
      // Ends at 4, runs on to 6, and 5 min more.
      ...{ rule: "C9", minute: 10, what: { task: "b", after: "a", due: 11 } },
      problem: ask({ tasks: [task("a", 4, { alone: 2 }), task("b", 3, { after: [{ task: "a", least: 5 }] })] }),
      legal: plan([put("a", 0, 4, ["ann"], 2), put("b", 11, 3, ["bo"])]),
      broken: plan([put("a", 0, 4, ["ann"], 2), put("b", 10, 3, ["bo"])]),
    },
    {
      ...{ rule: "C9", minute: 1, what: { task: "b", after: "a", due: 2 } },
      problem: ask({ tasks: [task("a", 4), task("b", 3, { after: [{ task: "a", least: -2 }] })] }),
      legal: plan([put("a", 0, 4, ["ann"]), put("b", 2, 3, ["bo"])]),
      broken: plan([put("a", 0, 4, ["ann"]), put("b", 1, 3, ["bo"])]),
    },
  ],
  late: [
    {
      // Sealant: fit within 10 min.
      ...{ rule: "C9", minute: 15, what: { task: "fit", after: "seal", due: 14 } },
      problem: ask({ tasks: [task("seal", 4), task("fit", 3, { after: [{ task: "seal", most: 10 }] })] }),
      legal: plan([put("seal", 0, 4, ["ann"]), put("fit", 14, 3, ["bo"])]),
      broken: plan([put("seal", 0, 4, ["ann"]), put("fit", 15, 3, ["bo"])]),
    },
  ],
  turned: [
    {
      ...{
        rule: "C10",
        problem: ask({ states: [raised] }),
        minute: 3,
        what: { of: { state: "raised", to: true, turn: 1 } },
      },
      legal: plan([], [up, turn("raised", false, 3, 2, ["ann"])]),
      broken: plan([], [up, turn("raised", true, 3, 3, ["ann"])]),
    },
    {
      ...{
        rule: "C10",
        problem: ask({ states: [raised] }),
        minute: 0,
        what: { of: { state: "raised", to: false, turn: 0 } },
      },
      legal: plan([]),
      broken: plan([], [turn("raised", false, 0, 2, ["ann"])]),
    },
  ],
  changing: [
    {
      ...{ rule: "C10", problem: ask({ states: [raised] }), minute: 2 },
      what: { of: { state: "raised", to: false, turn: 1 }, due: 3 },
      legal: plan([], [up, turn("raised", false, 3, 2, ["bo"])]),
      broken: plan([], [up, turn("raised", false, 2, 2, ["bo"])]),
    },
  ],
  unlike: [
    {
      // Not while it goes up.
      ...{ rule: "C10", problem: wheels, minute: 2, what: { of: { task: "wheels" }, state: "raised", on: true } },
      legal: plan([put("wheels", 3, 5, ["bo"])], [up, down]),
      broken: plan([put("wheels", 2, 5, ["bo"])], [up, down]),
    },
    {
      // Not while it comes down.
      ...{ rule: "C10", problem: wheels, minute: 4, what: { of: { task: "wheels" }, state: "raised", on: true } },
      legal: plan([put("wheels", 3, 5, ["bo"])], [up, down]),
      broken: plan([put("wheels", 4, 5, ["bo"])], [up, down]),
    },
    {
      // Not without.
      ...{ rule: "C10", problem: wheels, minute: 3, what: { of: { task: "wheels" }, state: "raised", on: true } },
      legal: plan([put("wheels", 3, 5, ["bo"])], [up, down]),
      broken: plan([put("wheels", 3, 5, ["bo"])]),
    },
    {
      // Lowered throughout, to the end of what runs on alone at 6.
      ...{ rule: "C10", minute: 0, what: { of: { task: "a" }, state: "raised", on: false } },
      problem: ask({ states: [raised], tasks: [task("a", 4, { off: ["raised"], alone: 2 })] }),
      legal: plan([put("a", 0, 4, ["bo"], 2)], [turn("raised", true, 6, 3, ["ann"])]),
      broken: plan([put("a", 0, 4, ["bo"], 2)], [turn("raised", true, 5, 3, ["ann"])]),
    },
    {
      // Up again in between: off at neither end is not off throughout.
      ...{ rule: "C10", minute: 0, what: { of: { task: "a" }, state: "raised", on: false } },
      problem: ask({ states: [raised], tasks: [task("a", 9, { off: ["raised"] })] }),
      legal: plan([put("a", 0, 9, ["bo"])]),
      broken: plan([put("a", 0, 9, ["bo"])], [up, turn("raised", false, 5, 2, ["ann"])]),
    },
    {
      // A look that takes no time still sees the vehicle up.
      ...{ rule: "C10", minute: 2, what: { of: { task: "look" }, state: "raised", on: true } },
      problem: ask({ states: [raised], tasks: [task("look", 0, { on: ["raised"] })] }),
      legal: plan([put("look", 3, 0, ["bo"])], [up]),
      broken: plan([put("look", 2, 0, ["bo"])], [up]),
    },
    {
      // A change may want another state.
      ...{ rule: "C10", minute: 2, what: { of: { state: "slung", to: true, turn: 0 }, state: "raised", on: true } },
      problem: ask({ states: [raised, state("slung", change(4, { on: ["raised"] }), change(4))] }),
      legal: plan([], [up, turn("slung", true, 3, 4, ["bo"])]),
      broken: plan([], [up, turn("slung", true, 2, 4, ["bo"])]),
    },
  ],
  left: [
    {
      ...{ rule: "C10", problem: wheels, minute: 3, what: { state: "raised", on: true } },
      legal: plan([put("wheels", 3, 5, ["bo"])], [up, down]),
      broken: plan([put("wheels", 3, 5, ["bo"])], [up]),
    },
    {
      ...{ rule: "C10", minute: Number.NEGATIVE_INFINITY, what: { state: "raised", on: false } },
      problem: ask({ states: [{ ...raised, end: true }] }),
      legal: plan([], [up]),
      broken: plan([]),
    },
  ],
  "change soon": [
    {
      ...{ rule: "C11", minute: 3 },
      what: { of: { state: "raised", to: true, turn: 0 }, task: "a", due: 4 },
      problem: ask({ states: [state("raised", change(3, { after: ["a"] }), change(2))], tasks: [task("a", 4)] }),
      legal: plan([put("a", 0, 4, ["bo"])], [turn("raised", true, 4, 3, ["ann"])]),
      broken: plan([put("a", 0, 4, ["bo"])], [turn("raised", true, 3, 3, ["ann"])]),
    },
  ],
  "change late": [
    {
      ...{ rule: "C11", minute: 10, what: { of: { state: "raised", to: false, turn: 1 }, task: "a", due: 9 } },
      problem: ask({ states: [state("raised", change(3), change(2, { before: ["a"] }))], tasks: [task("a", 4)] }),
      legal: plan([put("a", 10, 4, ["bo"])], [up, down]),
      broken: plan([put("a", 9, 4, ["bo"])], [up, down]),
    },
  ],
  together: [
    {
      // Open fuel is there to the end of what drains on alone.
      ...{ rule: "C12", minute: 5, what: { tasks: ["fuel", "grind"] } },
      problem: ask({ tasks: [task("fuel", 4, { alone: 2 }), task("grind", 3)], apart: [["fuel", "grind"]] }),
      legal: plan([put("fuel", 0, 4, ["ann"], 2), put("grind", 6, 3, ["bo"])]),
      broken: plan([put("fuel", 0, 4, ["ann"], 2), put("grind", 5, 3, ["bo"])]),
    },
  ],
  "own verifier": [
    {
      ...{ rule: "C13", minute: 4, what: { task: "verify", of: "fit", person: "ann" } },
      problem: ask({ tasks: [task("fit", 4), task("verify", 1, { notBy: ["fit"] })] }),
      legal: plan([put("fit", 0, 4, ["ann"]), put("verify", 4, 1, ["bo"])]),
      broken: plan([put("fit", 0, 4, ["ann"]), put("verify", 4, 1, ["ann"])]),
    },
  ],
};

const rows = Object.entries(ROWS).flatMap(([kind, list]) => list.map((row, place) => ({ kind, row, place })));

describe("a legal schedule broken in one way has that fault and no other", () => {
  for (const { kind, row, place } of rows)
    test(`[${row.rule}] ${kind}, ${place + 1}`, () => {
      expect(check(row.problem, row.legal).faults).toEqual([]);
      const { legal, faults } = check(row.problem, row.broken);
      expect(legal).toBe(false);
      const own: Fault = { rule: row.rule, minute: row.minute, what: { kind, ...row.what } as Breach };
      expect(faults.filter(({ what }) => !row.also?.includes(what.kind))).toEqual([own]);
    });

  test("each rule has its rows", () => {
    const RULES = Array.from({ length: 13 }, (_, place) => `C${place + 1}`);
    expect([...new Set(rows.map(({ row }) => row.rule))].sort()).toEqual(RULES.sort());
  });
});

describe("what just keeps the rules is legal", () => {
  const legal = (problem: Problem, schedule: Schedule): void => expect(check(problem, schedule).faults).toEqual([]);

  test("[C2] of work under way nothing is asked of shifts, seats or ways, and it ends as planned", () => {
    const begun = { start: -2, people: ["ann"] };
    const tasks = [task("a", 4, { begun, position: "under", crew: [{ count: 2, skill: "welder" }] })];
    const people = [person("ann", { shifts: [{ from: 20, until: 30 }], at: "side" })];
    legal(
      ask({
        people,
        positions: [under, side],
        tasks,
        moves: [
          [0, 9],
          [9, 0],
        ],
      }),
      plan([put("a", -2, 4, ["ann"])]),
    );
  });

  test("[C4] work without length meets nothing", () => {
    legal(ask({ tasks: [task("a", 4), task("sign", 0)] }), plan([put("a", 0, 4, ["ann"]), put("sign", 2, 0, ["ann"])]));
  });

  test("[C5] work without length at one minute may have been done in any order", () => {
    // No way from under to the side, 3 min back: first under, then at the side, whatever the list says.
    const tasks = [task("b", 0, { position: "side" }), task("a", 0, { position: "under" })];
    const problem = ask({
      positions: [under, side],
      moves: [
        [0, 0],
        [3, 0],
      ],
      tasks,
    });
    const schedule = plan([put("b", 5, 0, ["ann"]), put("a", 5, 0, ["ann"])]);
    legal(problem, schedule);
    expect(check(problem, schedule).figures.moves).toBe(1);
  });

  test("[C5] on the way over lunch", () => {
    const people = [person("ann", { shifts: lunch })];
    legal({ ...walk, people }, plan([put("drain", 6, 4, ["ann"]), put("hose", 15, 5, ["ann"])]));
  });

  test("[C6] [C8] [C12] where spans touch, or one has no length", () => {
    const uses = [{ stock: "jack", count: 1 }];
    const problem = ask({
      positions: [{ id: "under", room: 1 }],
      stocks: [{ id: "jack", count: 1 }],
      tasks: [
        task("a", 4, { position: "under", uses }),
        task("b", 3, { position: "under", uses }),
        task("look", 0, { position: "under", uses, crew: [] }),
      ],
      apart: [
        ["a", "b"],
        ["a", "look"],
      ],
    });
    legal(problem, plan([put("a", 0, 4, ["ann"]), put("b", 4, 3, ["bo"]), put("look", 2, 0, [])]));
  });

  test("[C10] a look without length at the minute at which the vehicle comes down", () => {
    const problem = ask({ states: [raised], tasks: [task("look", 0, { on: ["raised"] })] });
    legal(problem, plan([put("look", 8, 0, ["bo"])], [up, down]));
  });

  test("thirds of a minute that do not quite add up", () => {
    const third = 1 / 3;
    const tasks = Array.from({ length: 30 }, (_, place) =>
      task(`t${place}`, third, place > 0 ? { after: [{ task: `t${place - 1}` }] } : {}),
    );
    let start = 0;
    const placed = tasks.map(({ id }) => {
      const one = put(id, start, third, ["ann"]);
      start += third;
      return one;
    });
    legal(ask({ tasks }), plan(placed));
  });
});

describe("the figures", () => {
  test("elapsed, labour, moves and people changed, worked out by hand", () => {
    // Now is 1. Up 1–4 (1 × 3), Ann and Bo under 4–9 (2 × 5), down 9–11 (1 × 2): 15 person-minutes. Ann from the side to under, to the side, back: 3 moves with
    // 2 min each way; Bo stood nowhere known and goes under: none. Ann's hose 11–16 at the side (5), note 18–20 under (2), drying alone to 30. Labour 22.
    const problem = ask({
      now: 1,
      people: [person("ann", { at: "side" }), person("bo")],
      positions: [under, side],
      moves: [
        [0, 2],
        [2, 0],
      ],
      states: [{ ...raised, end: false }],
      tasks: [
        task("gear", 5, { crew: [{ count: 2 }], position: "under", on: ["raised"] }),
        task("hose", 5, { position: "side" }),
        task("note", 2, { position: "under", alone: 10 }),
      ],
      told: {
        worth: 5,
        tasks: [
          { task: "gear", start: 0, people: ["bo", "ann"] },
          { task: "hose", start: 0, people: ["bo"] },
        ],
      },
    });
    const { faults, figures } = check(
      problem,
      plan(
        [put("gear", 4, 5, ["ann", "bo"]), put("hose", 11, 5, ["ann"]), put("note", 18, 2, ["ann"], 10)],
        [turn("raised", true, 1, 3, ["bo"]), turn("raised", false, 9, 2, ["bo"])],
      ),
    );
    expect(faults).toEqual([]);
    expect(figures).toEqual({ elapsed: 29, labour: 22, moves: 3, retold: 1 });
  });

  test("nothing to do takes no time", () => {
    expect(check(ask({}), plan([])).figures).toEqual({ elapsed: 0, labour: 0, moves: 0, retold: 0 });
  });

  test("labour leaves out the break", () => {
    const problem = ask({ people: [person("ann", { shifts: lunch })], tasks: [task("clean", 6, { pauses: true })] });
    const { figures } = check(problem, plan([{ task: "clean", start: 7, free: 18, end: 18, people: ["ann"] }]));
    expect(figures).toEqual({ elapsed: 18, labour: 6, moves: 0, retold: 0 });
  });
});

/** Moves each work by up to two minutes, gives some to others, loses a change. */
const jumble = (chance: Chance, problem: Problem, { tasks, changes }: Schedule): Schedule => {
  const shift = <P extends Placed | Changed>(placed: P): P => {
    const by = chance.pick([0, 0, 0, -1, -2, 1]);
    const people = placed.people.map((id) => (chance.hit(0.15) ? chance.pick(problem.people).id : id));
    return { ...placed, start: placed.start + by, free: placed.free + by, end: placed.end + by, people };
  };
  return { tasks: tasks.map(shift), changes: changes.filter(() => chance.hit(0.9)).map(shift) };
};

test("whatever ends before the least that trying everything finds is illegal", () => {
  let tried = 0;
  for (let seed = 0; seed < 80; seed += 1) {
    const problem = tinyProblem(seed);
    const { elapsed, schedule } = brute(problem, 600);
    if (schedule === undefined) continue;
    const chance = makeChance(seed);
    for (let time = 0; time < 60; time += 1) {
      const other = check(problem, jumble(chance, problem, schedule));
      if (other.figures.elapsed >= elapsed) continue;
      tried += 1;
      expect(other.legal, `seed ${seed}`).toBe(false);
    }
  }
  expect(tried).toBeGreaterThan(200);
});

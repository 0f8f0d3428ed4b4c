// The bridge to the crew: whatever order its question allows is legal under the release rules and on the way back, on every job of the demo.
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { chance, randomVehicle } from "../../test/random-vehicle.ts";
import { check, type Placed, type Problem, type Schedule, solve, type Work } from "../crew/index.ts";
import { solve as release } from "../release/index.ts";
import { readVehicle, type Vehicle } from "../vehicle/index.ts";
import { crewOf } from "./crew.ts";
import { type CrewQuestion, crewQuestion } from "./crew-question.ts";
import { replaySchedule } from "./crew-replay.ts";
import { oneByOne } from "./one-by-one.ts";
import { orderFor } from "./order.ts";
import { translate } from "./question.ts";
import { wholeJob } from "./whole-job.ts";

const DEMO = ["bench-pump", "marten-t1", "plover-28"];

const load = (name: string): Vehicle => {
  const { vehicle } = readVehicle(`demo/${name}.vehicle.yaml`, (path) =>
    readFileSync(new URL(`../../${path}`, import.meta.url), "utf8"),
  );
  if (vehicle === undefined) throw new Error(`${name} has faults`);
  return vehicle;
};

const vehicles = new Map(DEMO.map((name) => [name, load(name)]));
const asked = new Map<string, CrewQuestion>();

/** The question of some jobs for three people who can do anything. */
const questionOf = (name: string, ...jobs: readonly string[]): CrewQuestion => {
  const key = [name, ...jobs].join(" ");
  const known = asked.get(key);
  if (known !== undefined) return known;
  const vehicle = vehicles.get(name);
  if (vehicle === undefined) throw new Error(`no ${name}`);
  const order = translate(vehicle, orderFor(...jobs));
  const { plan } = release(order.problem);
  const job = plan === undefined ? undefined : wholeJob(order, plan);
  if (job === undefined) throw new Error(`no whole job for ${key}`);
  const made = crewQuestion(job, crewOf(3));
  asked.set(key, made);
  return made;
};

const taskOf = ({ problem }: CrewQuestion, id: string) => {
  const task = problem.tasks.find((one) => one.id === id);
  if (task === undefined) throw new Error(`no task ${id}`);
  return task;
};

/** Everything that a task waits for, through others too. */
const waitsFor = (question: CrewQuestion, id: string, met = new Set<string>()): ReadonlySet<string> => {
  for (const { task } of taskOf(question, id).after) {
    if (met.has(task)) continue;
    met.add(task);
    waitsFor(question, task, met);
  }
  return met;
};

/**
 * One of all the orders that the question allows, taken blindly: whatever may come next, with states turned now and then for no reason. Undefined where it runs into a dead end,
 * because a state was turned at the wrong time.
 */
const anyOrder = (problem: Problem, next: () => number): Schedule | undefined => {
  const tasks: Placed[] = [];
  const changes: { state: string; to: boolean; start: number; free: number; end: number; people: string[] }[] = [];
  const ended = new Set<string>();
  const on = new Set<string>();
  const begun = new Set<string>();
  let minute = 0;
  const place = (work: Work & { readonly alone?: number }) => {
    const people = problem.people
      .slice(
        0,
        work.crew.reduce((sum, seat) => sum + seat.count, 0),
      )
      .map(({ id }) => id);
    const start = minute;
    const free = start + work.minutes;
    minute = free + (work.alone ?? 0) + 10;
    return { start, free, end: free + (work.alone ?? 0), people };
  };
  const fits = (work: Work) => work.on.every((id) => on.has(id)) && work.off.every((id) => !on.has(id));
  const wanted = (state: string) => problem.tasks.some((task) => !begun.has(task.id) && task.on.includes(state));
  const mayTask = (id: string) => {
    const task = problem.tasks.find((one) => one.id === id);
    if (task === undefined || begun.has(id) || !fits(task)) return false;
    if (task.after.some((one) => !ended.has(one.task) || one.most !== undefined)) return false;
    // What shuts a state in, or out, for good.
    return problem.states.every((state) => !state.set.before.includes(id) || (!on.has(state.id) && !wanted(state.id)));
  };
  const held = (stock: string) =>
    problem.holds.some((hold) => hold.stock === stock && begun.has(hold.from) && !ended.has(hold.until));
  const mayTurn = (id: string) => {
    const state = problem.states.find((one) => one.id === id);
    if (state === undefined) return false;
    const change = on.has(id) ? state.clear : state.set;
    return (
      fits(change) &&
      change.after.every((task) => ended.has(task)) &&
      change.before.every((task) => !begun.has(task)) &&
      !change.uses.some(({ stock }) => held(stock))
    );
  };
  for (let turns = 0; tasks.length < problem.tasks.length || on.size > 0; ) {
    const can = problem.tasks.filter((task) => mayTask(task.id));
    const turn = problem.states.filter((state) => mayTurn(state.id));
    const idle = can.length === 0 || next() < 0.06;
    if (idle && turn.length > 0 && turns < 300) {
      const state = turn[Math.floor(next() * turn.length)];
      if (state === undefined) return undefined;
      const to = !on.has(state.id);
      changes.push({ state: state.id, to, ...place(to ? state.set : state.clear) });
      if (to) on.add(state.id);
      else on.delete(state.id);
      turns += 1;
      continue;
    }
    const task = can[Math.floor(next() * can.length)];
    if (task === undefined) return undefined;
    begun.add(task.id);
    const placed = place(task);
    tasks.push({ task: task.id, ...placed });
    ended.add(task.id);
    const waiting = problem.tasks.find((one) => one.id === `wait:${task.id}`);
    if (waiting === undefined) continue;
    begun.add(waiting.id);
    const end = placed.end + waiting.minutes;
    tasks.push({ task: waiting.id, start: placed.end, free: end, end, people: [] });
    ended.add(waiting.id);
    minute = end + 10;
  }
  return { tasks, changes };
};

const every = DEMO.flatMap((name) => (vehicles.get(name)?.jobs ?? []).map(({ id }) => [name, id] as const));

describe.each(every)("%s, %s", (name, job) => {
  test("the order for one pair of hands is a schedule, and replays legal", () => {
    const question = questionOf(name, job);
    const schedule = oneByOne(question);
    expect(schedule).toBeDefined();
    if (schedule === undefined) return;
    expect(check(question.problem, schedule).faults).toEqual([]);
    expect(replaySchedule(question, schedule)).toEqual([]);
  });

  test("what waits, waits for something that comes sooner in that order", () => {
    const { job: whole } = questionOf(name, job);
    const met = new Set<string>();
    for (const step of whole.steps) {
      expect([...step.after].filter((id) => !met.has(id))).toEqual([]);
      met.add(step.id);
    }
  });

  test("orders taken blindly of all that it allows replay legal", () => {
    const question = questionOf(name, job);
    const next = chance(7);
    let found = 0;
    for (let tries = 0; tries < 60 && found < 4; tries += 1) {
      const schedule = anyOrder(question.problem, next);
      if (schedule === undefined) continue;
      found += 1;
      expect(replaySchedule(question, schedule)).toEqual([]);
    }
    expect(found).toBeGreaterThan(0);
  });

  test.each([1, 2])("what the search finds from seed %d replays legal", (seed) => {
    const question = questionOf(name, job);
    const { schedule } = solve(question.problem, { schedules: 8, conflicts: 0, seed });
    // So few tries may find none of a big job; what is found must hold.
    if (question.problem.tasks.length < 150) expect(schedule).toBeDefined();
    if (schedule === undefined) return;
    expect(check(question.problem, schedule).faults).toEqual([]);
    expect(replaySchedule(question, schedule)).toEqual([]);
  });
});

describe("two jobs at a time", () => {
  test.each([
    ["plover-28", ["reseal-pump", "renew-starter"]],
    ["plover-28", ["renew-radiator", "renew-generator", "renew-manifold-gasket"]],
    ["marten-t1", ["renew-water-pump", "renew-cradle-mount"]],
  ] as const)("%s %j: one may come back while the other still goes, and every order replays legal", (name, jobs) => {
    const question = questionOf(name, ...jobs);
    const next = chance(11);
    let found = 0;
    let mixed = 0;
    for (let tries = 0; tries < 80 && found < 12; tries += 1) {
      const schedule = anyOrder(question.problem, next);
      if (schedule === undefined) continue;
      found += 1;
      const first = schedule.tasks.findIndex(({ task }) => task.startsWith("back:"));
      const last = schedule.tasks.findLastIndex(({ task }) => question.steps.get(task)?.out !== undefined);
      if (first < last) mixed += 1;
      expect(replaySchedule(question, schedule)).toEqual([]);
    }
    expect(found).toBeGreaterThan(0);
    expect(mixed).toBeGreaterThan(0);
  });
});

describe("small random vehicles, with everything on them that a file can say", () => {
  test.each([1, 2, 3, 4])("every order that the question allows replays legal, set %d", (set) => {
    let orders = 0;
    let mixed = 0;
    for (let seed = set * 1000; seed < set * 1000 + 10; seed += 1)
      for (const jobs of [["one"], ["two"], ["three"], ["one", "two"], ["one", "three"]]) {
        const order = translate(randomVehicle(seed), orderFor(...jobs));
        const { plan } = release(order.problem);
        const job = plan === undefined ? undefined : wholeJob(order, plan);
        if (job === undefined) continue;
        const question = crewQuestion(job, crewOf(3));
        const next = chance(seed + 99);
        for (let tries = 0; tries < 4; tries += 1) {
          const schedule = anyOrder(question.problem, next);
          if (schedule === undefined) continue;
          orders += 1;
          const first = schedule.tasks.findIndex(({ task }) => task.startsWith("back:"));
          if (first < schedule.tasks.findLastIndex(({ task }) => question.steps.get(task)?.out !== undefined))
            mixed += 1;
          expect(replaySchedule(question, schedule), `seed ${seed}, ${jobs.join(" ")}`).toEqual([]);
        }
      }
    expect(orders).toBeGreaterThan(80);
    expect(mixed).toBeGreaterThan(8);
  });
});

describe("the bench pump", () => {
  const pump = () => questionOf("bench-pump", "shaft-seal");

  test("hoses that have nothing to do with one another wait for one another no longer", () => {
    expect(waitsFor(pump(), "return-hose").has("case-drain")).toBe(false);
    expect(waitsFor(pump(), "case-drain").has("return-hose")).toBe(false);
  });

  test("the flange waits for the sling, which nobody takes off until the pump is bolted on again", () => {
    expect(taskOf(pump(), "flange-bolts").on).toContain("sling");
    expect(pump().problem.holds).toEqual([
      { stock: "keep:sling", count: 1, from: "flange-bolts", until: "back:flange-bolts" },
    ]);
    const { clear } = pump().problem.states[0] ?? {};
    expect(clear?.uses).toContainEqual({ stock: "keep:sling", count: 1 });
  });

  test("the lift waits for everything that would tie the pump, and stays away until the work is done and looked at", () => {
    const all = waitsFor(pump(), "lift-off");
    for (const id of ["coupling", "suction-hose", "case-drain", "pressure-hose", "return-hose", "flange-bolts"])
      expect(all.has(id), id).toBe(true);
    const back = waitsFor(pump(), "back:lift-off");
    expect(back.has("shaft-seal/work-1")).toBe(true);
    expect(back.has("look:back:lift-off")).toBe(true);
    expect(taskOf(pump(), "look:back:lift-off").notBy).toEqual(["shaft-seal/work-1"]);
  });

  test("the tank is filled when every hose that held oil is on", () => {
    const filled = waitsFor(pump(), "back:drain-oil");
    for (const id of ["suction-hose", "case-drain", "pressure-hose", "return-hose"])
      expect(filled.has(`back:${id}`), id).toBe(true);
  });
});

describe("the shop", () => {
  test("equipment exists once, hand tools are everybody's", () => {
    const { stocks } = questionOf("plover-28", "clutch-plate").problem;
    expect(stocks).toContainEqual({ id: "tool:shop crane", count: 1 });
    expect(stocks.some(({ id }) => id.startsWith("tool:socket") || id.startsWith("tool:torque wrench"))).toBe(false);
  });

  test("fuel, air and high voltage are worked by one step at a time, coolant by as many as find room", () => {
    const stocks = [
      ...questionOf("plover-28", "clutch-plate").problem.stocks,
      ...questionOf("marten-t1", "renew-inverter").problem.stocks,
    ].map(({ id }) => id);
    for (const id of ["system:fuel", "system:air", "system:400 V"]) expect(stocks).toContain(id);
    expect(stocks).not.toContain("system:coolant");
  });

  test("no load is left hanging over lunch, and a tank drains while its place is used for something else", () => {
    const question = questionOf("plover-28", "clutch-plate");
    expect(taskOf(question, "lift-out").pauses).toBe(false);
    expect(question.problem.states.every(({ set, clear }) => !set.pauses && !clear.pauses)).toBe(true);
    const [drain, waiting] = [taskOf(question, "drain-coolant"), taskOf(question, "wait:drain-coolant")];
    expect(drain.off).toContain("cab-tilt");
    expect([waiting.off, waiting.crew, waiting.after]).toEqual([
      [],
      [],
      [{ task: "drain-coolant", least: 0, most: 0 }],
    ]);
  });
});

describe("the replay notices", () => {
  const question = () => questionOf("bench-pump", "shaft-seal");
  /** The schedule of one thing after the other, with one step's span put somewhere else. */
  const moved = (id: string, start: number): Schedule => {
    const schedule = oneByOne(question());
    if (schedule === undefined) throw new Error("no schedule");
    return {
      ...schedule,
      tasks: schedule.tasks.map((one) => (one.task === id ? { ...one, start, free: start + 1, end: start + 1 } : one)),
    };
  };

  test("a mount released before the sling is on", () => {
    expect(replaySchedule(question(), moved("flange-bolts", 0.5)).join(" ")).toMatch(/R5/);
  });

  test("a step whose needs do not hold yet", () => {
    expect(replaySchedule(question(), moved("suction-hose", 0)).join(" ")).toMatch(/R2/);
  });

  test("the pump brought back before the work that it is out for", () => {
    const start = oneByOne(question())?.tasks.find(({ task }) => task === "shaft-seal/work-1")?.start ?? 0;
    expect(replaySchedule(question(), moved("back:lift-off", start - 2)).join(" ")).toMatch(/R2/);
  });

  test("the tank filled while a hose is still off", () => {
    const start = oneByOne(question())?.tasks.find(({ task }) => task === "back:lift-off")?.end ?? 0;
    expect(replaySchedule(question(), moved("back:drain-oil", start + 0.5)).join(" ")).toMatch(/B5/);
  });
});

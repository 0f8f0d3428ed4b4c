// The order of a choice of steps, and the clauses learnt where there is none, against every order of these very steps.
import { describe, expect, test } from "vitest";
import { brute } from "../../bench/release/brute.ts";
import { randomProblem } from "../../bench/release/random.ts";
import { ask, frame, part, task, tie, way } from "../../bench/release/scene.ts";
import { check } from "./check.ts";
import { type Choice, decode } from "./choice.ts";
import { type Compiled, compile, sideAtom } from "./compile.ts";
import { type Encoding, encode } from "./encode.ts";
import { minimise } from "./minimise.ts";
import { sequence } from "./order.ts";
import type { Problem, Task } from "./problem.ts";
import type { Step } from "./result.ts";
import { solve } from "./solve.ts";
import { type Wiring, wire } from "./wiring.ts";

const patient = { nodes: 0, stop: () => false, gap: 0 };

function ready(problem: Problem): { readonly c: Compiled; readonly w: Wiring; readonly e: Encoding } {
  const c = compile(problem);
  const w = wire(c, sideAtom(c, c.contexts.length, 0));
  return { c, w, e: encode(c, w) };
}

/** The question whether some order makes every chosen step of the way out, and no other. */
function exactly(c: Compiled, choice: Choice): Problem {
  const { problem, wayCount, steps } = c;
  const chosen = new Set(steps.flatMap((step, s) => (choice.steps[s] === 1 ? [step.id] : [])));
  const released = problem.connections.filter((each) => each.ways.some((way) => chosen.has(way.id)));
  const all: Task = {
    ...{ id: "every chosen step", labour: 0, without: [], entails: [], toggle: false, back: false, must: true },
    ...{ supports: [], needs: released.map((each) => ({ released: each.id })) },
  };
  return {
    ...problem,
    connections: problem.connections.map((each) => ({ ...each, ways: each.ways.filter((way) => chosen.has(way.id)) })),
    tasks: [
      ...problem.tasks.map((task, t) => {
        if (task.back) return task;
        if (choice.steps[wayCount + t] === 0) return { ...task, needs: [{ any: [] }] };
        // A state may be off again at the end, so only the rest is held to be done.
        return task.toggle ? task : { ...task, must: true };
      }),
      all,
    ],
  };
}

describe("the cheapest choice of a random problem", () => {
  test("put in order, it is legal; said to have none, it has none", () => {
    const kinds = new Set<string>();
    for (let seed = 0; seed < 200; seed++) {
      const problem = randomProblem(seed);
      const { c, w, e } = ready(problem);
      const { values } = minimise(e.network, patient);
      if (values === undefined) {
        expect({ seed, least: brute(problem)?.labour }).toEqual({ seed, least: undefined });
        continue;
      }
      const choice = decode(c, e, values);
      const found = sequence(c, w, choice);
      kinds.add(found.kind);
      if (found.kind === "order") {
        const order = found.events.map((event): Step => {
          if (event < 0) return { undo: problem.tasks[-1 - event]?.id ?? "" };
          const tie = problem.connections[c.connectionOf[event] ?? -1];
          const id = c.steps[event]?.id ?? "";
          return tie ? { release: tie.id, way: id } : { do: id };
        });
        expect({ seed, faults: check(problem, order).faults }).toEqual({ seed, faults: [] });
        continue;
      }
      // The sides of lifts and separations are part of a choice, so with these a failure says less than "these steps never".
      if (c.contexts.length > 0 || (found.kind === "stuck" && !found.complete)) continue;
      expect({ seed, kind: found.kind, order: brute(exactly(c, choice))?.order }).toEqual({
        ...{ seed, kind: found.kind, order: undefined },
      });
    }
    expect([...kinds].sort()).toEqual(expect.arrayContaining(["fallen", "order", "stuck", "unfounded", "unheld"]));
  }, 30_000);
});

describe("a box on the frame, a switch on the box, and a hose from the box to the load", () => {
  // Before the lift the box must leave the frame, for the hose ties it to the load. With the switch on it nothing holds the two; without the switch
  // the box is in hand only once its hose is off, and that is cheap only after the lift.
  const problem = ask({
    parts: [frame, part("core", 200), part("box", 5), part("switch", 1)],
    connections: [
      tie("core-mount", ["core", "frame"], { carrying: true, ways: [way("core-mount/1", 4, [{ done: "sling" }])] }),
      tie("box-mount", ["box", "frame"], { carrying: true, ways: [way("box-mount/1", 2)] }),
      tie("switch-mount", ["switch", "box"], { carrying: true, ways: [way("switch-mount/1", 1)] }),
      tie("hose", ["box", "core"], { ways: [way("hose/1", 1, [{ done: "lift" }]), way("hose/2", 9)] }),
    ],
    tasks: [
      task("sling", { supports: ["core"] }),
      task("lift", { needs: [{ done: "sling" }], lift: { parts: ["core"], limit: 300 } }),
      task("work", {
        labour: 0,
        must: true,
        needs: [{ done: "lift" }, { released: "box-mount" }, { released: "switch-mount" }, { released: "hose" }],
      }),
    ],
  });

  test("whichever of the box's two mounts goes last, it falls: that is a reason, and no search", () => {
    const { c, w, e } = ready(problem);
    const { values } = minimise(e.network, patient);
    const least = decode(c, e, values as Uint8Array);
    // The lift parts the machine with the switch on the box's side, so that its mount may go before or after.
    const side = [Uint8Array.of(0, 1, 1, 1)];
    const found = sequence(c, w, { ...least, side, cut: [[0, 1]] });
    expect(found).toMatchObject({ kind: "unheld", bodies: [{ cases: [{ made: [1] }, { made: [1, 2] }] }] });
  });

  test("so the hose comes off before the lift, by its dear way", () => {
    const { status, plan } = solve(problem);
    expect({ status, labour: plan?.labour }).toEqual({ status: "optimal", labour: brute(problem)?.labour });
    expect(plan?.releases.map((each) => each.way)).toContain("hose/2");
  });
});

test("of two that go up together what carries nothing is parted before the lift, where the state for it is on anyway", () => {
  const problem = ask({
    parts: [frame, part("engine", 100), part("gearbox", 60)],
    take: ["engine", "gearbox"],
    connections: [
      tie("mount", ["engine", "frame"], { carrying: true, ways: [way("mount/1", 4, [{ done: "sling" }])] }),
      tie("rear-mount", ["gearbox", "frame"], { carrying: true, ways: [way("rear-mount/1", 4, [{ done: "raise" }])] }),
      tie("bell", ["engine", "gearbox"], { carrying: true, ways: [way("bell/1", 9, [{ done: "lift" }])] }),
      tie("coupling", ["engine", "gearbox"], { ways: [way("coupling/1", 3, [{ done: "raise" }])] }),
    ],
    tasks: [
      task("sling", { supports: ["engine"] }),
      task("raise", { labour: 8, toggle: true }),
      task("lift", { needs: [{ done: "sling" }], without: ["raise"], lift: { parts: ["engine"], limit: 300 } }),
      task("work", { labour: 0, must: true, needs: [{ released: "bell" }, { released: "coupling" }] }),
    ],
  });
  const { c, w, e } = ready(problem);
  const { values } = minimise(e.network, patient);
  const found = sequence(c, w, decode(c, e, values as Uint8Array));
  const raise = c.wayCount + problem.tasks.findIndex(({ id }) => id === "raise");
  expect(found.kind === "order" && found.events.filter((event) => event === raise)).toEqual([raise]);
});

describe("the clauses before anything is learnt", () => {
  test("cost no more than the best plan, and are only without an answer where there is no plan", () => {
    let tight = 0;
    for (let seed = 0; seed < 80; seed++) {
      const problem = randomProblem(seed);
      const least = brute(problem);
      if (least === undefined) continue;
      const { e } = ready(problem);
      const { cost } = minimise(e.network, patient);
      expect({ seed, over: e.minutes(cost) > least.labour }).toEqual({ seed, over: false });
      if (e.minutes(cost) === least.labour) tight++;
    }
    expect(tight).toBeGreaterThan(15);
  }, 30_000);
});

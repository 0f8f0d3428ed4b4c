import { describe, expect, test } from "vitest";
import { brute } from "../../bench/release/brute.ts";
import { type Chance, makeChance } from "../../bench/release/chance.ts";
import { randomProblem } from "../../bench/release/random.ts";
import type { Breach } from "./check.ts";
import type { Connection, Part, Problem, Task, Way } from "./problem.ts";
import type { Plan } from "./result.ts";
import { solve } from "./solve.ts";
import { type Alternative, choiceOf, edgeParts, reasonFor, reasonsFor } from "./why.ts";

const nothing = { labour: 0, needs: [], without: [], entails: [] };
const way = (id: string, labour: number, more: Partial<Way> = {}): Way => ({ ...nothing, id, labour, ...more });
const tie = (id: string, joins: readonly string[], labour: number, more: Partial<Way> = {}): Connection => ({
  id,
  joins,
  carrying: false,
  rests: false,
  ways: [way(`${id}/1`, labour, more)],
});
const task = (id: string, more: Partial<Task> = {}): Task => ({
  ...nothing,
  id,
  toggle: false,
  back: false,
  must: false,
  supports: [],
  ...more,
});
const part = (id: string, mass = 0): Part => ({ id, fixed: id === "frame", mass });
const problemOf = (given: Partial<Problem>): Problem => ({
  parts: [],
  connections: [],
  tasks: [],
  handLimit: 20,
  margin: 0,
  keep: [],
  take: [],
  released: [],
  ...given,
});

/**
 * An engine on a mount with a pump on it. A hose ties the pump to the frame (9 min), a bracket the pump to the engine (4 min), and the mount
 * lies under a cover (3 min) whose refit calls for a bleed (1 min). Pump up: 9; pump left behind: 4.
 */
const scene = problemOf({
  parts: [part("frame"), part("engine", 100), part("pump", 8), part("cover", 1)],
  connections: [
    { ...tie("mount", ["engine", "frame"], 5, { needs: [{ released: "screws" }] }), carrying: true },
    { ...tie("bracket", ["pump", "engine"], 4), carrying: true },
    { ...tie("hose", ["pump", "frame"], 9), carrying: true },
    { ...tie("screws", ["cover", "frame"], 3, { entails: ["bleed"] }), carrying: true },
  ],
  tasks: [
    task("sling", { labour: 2, supports: ["engine"] }),
    task("lift", { labour: 6, lift: { parts: ["engine"], limit: 500 }, needs: [{ done: "sling" }] }),
    task("bleed", { labour: 1, back: true }),
    task("job", { must: true, needs: [{ done: "lift" }] }),
  ],
});

function planOf(problem: Problem): Plan {
  const { status, plan } = solve(problem);
  if (status !== "optimal" || plan === undefined) throw new Error(`no plan: ${status}`);
  return plan;
}

const steps = (problem: Problem, id: string) => reasonFor(problem, planOf(problem), id).map((one) => one.step);

describe("a chain of reasons leads from a step to what the order asks for", () => {
  const plan = planOf(scene);

  test("every step of the plan has one", () => {
    expect(plan.labour).toBe(4 + 5 + 3 + 1 + 2 + 6);
    expect([...reasonsFor(scene, plan)].map(([id, chain]) => [id, chain.at(-1)?.for])).toEqual(
      expect.arrayContaining(
        ["bracket", "mount", "screws", "sling", "lift", "job", "bleed"].map((id) => [id, undefined]),
      ),
    );
  });

  test("through needs and the lift's freedom", () => {
    expect(reasonFor(scene, plan, "screws")).toEqual([
      {
        step: "screws",
        breaks: { kind: "need", of: "mount/1", need: { released: "screws" } },
        for: "mount",
      },
      { step: "mount", breaks: { kind: "tied", lift: "lift", chain: ["engine", "mount", "frame"] }, for: "lift" },
      { step: "lift", breaks: { kind: "need", of: "job", need: { done: "lift" } }, for: "job" },
      { step: "job", breaks: { kind: "must", task: "job" } },
    ]);
  });

  test("a task of the way back is there for what calls for it", () => {
    expect(steps(scene, "bleed")).toEqual(["bleed", "screws", "mount", "lift", "job"]);
  });

  test("what is not in the plan has none", () => {
    expect(reasonFor(scene, plan, "hose")).toEqual([]);
  });

  test("a support is there because something would drop", () => {
    const unneeded = scene.tasks.map((one) => (one.id === "lift" ? { ...one, needs: [] } : one));
    const loose = { ...scene, tasks: unneeded };
    const [first] = reasonFor(loose, planOf(loose), "sling");
    expect(first?.breaks).toMatchObject({ kind: "drops", parts: ["engine"] });
  });

  test("a part that must go up ends a chain", () => {
    const taken = { ...scene, tasks: scene.tasks.filter(({ must }) => !must), take: ["engine"] };
    expect(reasonFor(taken, planOf(taken), "mount").at(-1)).toEqual({
      step: "lift",
      breaks: { kind: "left", part: "engine" },
    });
  });

  test("a strap asks for what is too short for it, and the step that needs the strap for both", () => {
    const short = problemOf({
      parts: [part("frame"), part("pump", 8)],
      connections: [{ ...tie("bolts", ["pump", "frame"], 3), carrying: true }, tie("pipe", ["pump", "frame"], 2)],
      tasks: [
        task("strap", { labour: 1, hang: { part: "pump", to: "frame", taut: ["pipe"] } }),
        task("job", { must: true, needs: [{ released: "bolts" }, { done: "strap" }] }),
      ],
    });
    expect(reasonFor(short, planOf(short), "pipe").map(({ breaks }) => breaks)).toEqual([
      { kind: "taut", hang: "strap", connection: "pipe" },
      { kind: "need", of: "job", need: { done: "strap" } },
      { kind: "must", task: "job" },
    ]);
  });

  test("no time, no reasons", () => {
    expect(reasonsFor(scene, plan, { stop: () => true }).size).toBe(0);
  });
});

describe("another choice is the changed question, answered in full", () => {
  const plan = planOf(scene);

  test("without the bracket's release the pump goes up, and its hose comes off instead", () => {
    const { made, way: by, without } = choiceOf(scene, plan, "bracket");
    expect([made, by]).toEqual([true, "bracket/1"]);
    expect(without).toEqual({
      status: "optimal",
      labour: plan.labour + 5,
      more: 5,
      bound: plan.labour + 5,
      adds: ["hose"],
      spares: ["bracket"],
      changes: [],
    });
  });

  test("what cannot be spared is infeasible", () => {
    expect(choiceOf(scene, plan, "mount").without?.status).toBe("infeasible");
    expect(choiceOf(scene, plan, "bleed").without?.status).toBe("infeasible");
  });

  test("the work of the job is no choice", () => {
    expect(choiceOf(scene, plan, "job").without).toBeUndefined();
  });

  test("what is not in the plan: each way with what forcing it adds", () => {
    const { made, without, ways } = choiceOf(scene, plan, "hose");
    expect([made, without]).toEqual([false, undefined]);
    // With the hose off the bracket may stay: 9 for 4.
    expect(ways).toMatchObject([{ way: "hose/1", with: { more: 5, adds: ["hose"], spares: ["bracket"] } }]);
  });

  test("another way of the same connection is a change, not a step more", () => {
    const two = {
      ...scene,
      connections: scene.connections.map((one) =>
        one.id === "mount" ? { ...one, ways: [...one.ways, way("mount/2", 11)] } : one,
      ),
    };
    expect(choiceOf(two, plan, "mount").ways).toMatchObject([
      // 11 for 5, but the cover stays on: 3, and no bleed: 1.
      {
        way: "mount/2",
        with: { more: 2, adds: [], spares: ["screws", "bleed"], changes: [{ id: "mount", way: "mount/2" }] },
      },
    ]);
  });

  test("what was released before is no choice either", () => {
    const before = { ...scene, released: ["hose"] };
    expect(choiceOf(before, planOf(before), "hose")).toEqual({ id: "hose", made: false, ways: [] });
  });

  test("when the time is up nothing is claimed", () => {
    expect(choiceOf(scene, plan, "bracket", { stop: () => true }).without).toMatchObject({
      status: "unknown",
      bound: 0,
    });
  });
});

describe("parts at the edge of the lifted group", () => {
  test("one that stays could go, for what its other ties cost more", () => {
    expect(edgeParts(scene, planOf(scene))).toMatchObject([
      { part: "pump", lift: "lift", goes: false, ties: ["bracket"], otherwise: { more: 5, adds: ["hose"] } },
    ]);
  });

  test("one that goes could stay", () => {
    const dear = {
      ...scene,
      connections: scene.connections.map((one) =>
        one.id === "bracket" ? { ...one, ways: [way("bracket/1", 40)] } : one,
      ),
    };
    expect(edgeParts(dear, planOf(dear))).toMatchObject([
      { part: "pump", goes: true, ties: ["hose"], otherwise: { more: 31, adds: ["bracket"], spares: ["hose"] } },
    ]);
  });

  test("the time is for all of them together", () => {
    let time = 0;
    const problem = unit(makeChance(1));
    const plan = planOf(problem);
    const statuses = (milliseconds: number) =>
      edgeParts(problem, plan, { milliseconds, now: () => ++time }).map(({ otherwise }) => otherwise.status);
    expect(statuses(1_000_000)).toEqual(["optimal", "optimal", "optimal"]);
    expect(statuses(0)).toEqual(["unknown", "unknown", "unknown"]);
  });

  test("what the order has settled is not asked again", () => {
    expect(edgeParts({ ...scene, keep: ["pump"] }, planOf({ ...scene, keep: ["pump"] }))).toEqual([]);
  });
});

describe("on random questions", () => {
  /** Labour of its own for every step, so that nothing is in a least plan for nothing. */
  const dear = (problem: Problem): Problem => ({
    ...problem,
    connections: problem.connections.map((one) => ({
      ...one,
      ways: one.ways.map((each) => ({ ...each, labour: each.labour + 0.5 })),
    })),
    tasks: problem.tasks.map((one) => ({ ...one, labour: one.labour + 0.5 })),
  });
  /** Gives up after so many looks at whether to stop, of which there are the same on every machine. */
  const few = () => {
    let looks = 0;
    return { stop: () => ++looks > 30 };
  };
  const asked = Array.from({ length: 150 }, (_, seed) => dear(randomProblem(seed + 1))).flatMap((problem) => {
    const { status, plan } = solve(problem, few());
    return status === "optimal" && plan !== undefined ? [{ problem, plan }] : [];
  });
  /** What brute force answers quickly. */
  const small = asked.filter(({ problem: { connections, tasks } }) => connections.length + tasks.length <= 11);

  test("every step of a least plan has a chain, and every link of it is in the plan", () => {
    expect(asked.length).toBeGreaterThan(40);
    const kinds = new Set<Breach["kind"] | "called">();
    for (const { problem, plan } of asked) {
      const made = new Set([...plan.releases.map(({ id }) => id), ...plan.tasks]);
      for (const [id, chain] of reasonsFor(problem, plan)) {
        expect(chain[0]?.step, id).toBe(id);
        chain.forEach(({ step, breaks, for: next }, index) => {
          kinds.add(breaks.kind);
          expect(made.has(step)).toBe(true);
          expect(next).toBe(chain[index + 1]?.step);
        });
      }
    }
    for (const kind of ["need", "tied", "drops", "must", "called", "taut", "left"]) expect([...kinds]).toContain(kind);
  });

  test("doing without a connection, and forcing one, cost what brute force finds", () => {
    let compared = 0;
    const equal = ({ status, labour }: Alternative, changed: Problem) => {
      if (status === "unknown" || status === "feasible") return;
      expect(labour).toBe(brute(changed)?.labour);
      compared++;
    };
    for (const { problem, plan } of small) {
      for (const { id } of problem.connections.filter((one) => !problem.released.includes(one.id)).slice(0, 3)) {
        const { made, without, ways } = choiceOf(problem, plan, id, few());
        const connections = (left: (way: Way) => boolean) =>
          problem.connections.map((one) => (one.id === id ? { ...one, ways: one.ways.filter(left) } : one));
        expect(without !== undefined).toBe(made);
        if (without !== undefined) equal(without, { ...problem, connections: connections(() => false) });
        for (const { way: by, with: forced } of ways) {
          const tasks = [...problem.tasks, task("forced", { must: true, needs: [{ released: id }] })];
          equal(forced, { ...problem, connections: connections((one) => one.id === by), tasks });
        }
      }
    }
    expect(compared).toBeGreaterThan(20);
  });

  test("having an edge part on the other side costs what brute force finds", () => {
    const sides = new Set<boolean>();
    for (let seed = 1; seed <= 12; seed++) {
      const problem = unit(makeChance(seed));
      const edge = edgeParts(problem, planOf(problem));
      expect(edge.map(({ part: id }) => id).sort()).toEqual(["fan", "pump", "starter"]);
      for (const { part: id, goes, otherwise } of edge) {
        sides.add(goes);
        const changed = goes ? { keep: [id] } : { take: [id] };
        expect(otherwise.labour).toBe(brute({ ...problem, ...changed })?.labour);
      }
    }
    expect(sides.size).toBe(2);
  });
});

/** An engine to lift, and three parts on it that are tied to the frame as well: each goes or stays, as its labours fall. */
function unit(chance: Chance): Problem {
  const labour = () => chance.whole(1, 40) / 2;
  const own = ["fan", "pump", "starter"].flatMap((id) => [
    { ...tie(`${id}-bracket`, [id, "engine"], labour()), carrying: true },
    { ...tie(`${id}-line`, [id, "frame"], labour()), carrying: true },
  ]);
  return {
    ...scene,
    parts: [part("frame"), part("engine", 100), ...["fan", "pump", "starter"].map((id) => part(id, 8))],
    connections: [{ ...tie("mount", ["engine", "frame"], labour()), carrying: true }, ...own],
    tasks: scene.tasks.filter(({ back }) => !back),
  };
}

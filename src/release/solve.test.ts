// The solver against brute force, published values and itself. Wherever a test fails, the seed or the scene's name says on what.
import { describe, expect, test } from "vitest";
import { brute } from "../../bench/release/brute.ts";
import { type Chance, makeChance } from "../../bench/release/chance.ts";
import { generateMachine } from "../../bench/release/generate.ts";
import { PUBLISHED } from "../../bench/release/published.ts";
import { randomProblem } from "../../bench/release/random.ts";
import { ask, frame, part, task, tie, way } from "../../bench/release/scene.ts";
import { checkPlan } from "./check.ts";
import { IllPosed } from "./compile.ts";
import type { Problem, Task, Way } from "./problem.ts";
import type { Limits, Result } from "./result.ts";
import { solve } from "./solve.ts";

/**
 * Seeds whose proof by rounds alone asks for too many of them: the bound and the status are held to the truth all the same. Kept by hand: a seed that is
 * proved after all may be taken out.
 */
const NOT_PROVED_IN_TIME: readonly number[] = [10, 30, 37, 182, 248, 253, 273, 280, 292];

/** Seeds on which earlier solvers were wrong: by cutting off more than was disproved, by paying for a change of state that an order spares, (5158) by telling otherwise than
 * the check what was set aside, or (12351) by one parting of the machine for two steps, with a strap put on between them. */
const ONCE_WRONG: readonly number[] = [
  442, 641, 1613, 2149, 2393, 2418, 2462, 2469, 2487, 2512, 2825, 2921, 3441, 5158, 12351,
];

/** Stops by the number of times that the solver asks, not by the clock: the same on every computer. */
function patience(most: number): Limits {
  let asked = 0;
  return { stop: () => ++asked > most };
}

const off = (...ids: readonly string[]): Task =>
  task("work", { labour: 0, must: true, needs: ids.map((id) => ({ released: id })) });
const waysOf = (result: Result): readonly string[] => (result.plan?.releases ?? []).map((each) => each.way);

/** Minutes of the least plan; infinite when there is none. */
const labourOf = (result: Result): number => result.plan?.labour ?? Number.POSITIVE_INFINITY;

/** What is wrong with an answer, given the truth: nothing, when all is well. */
function lies(problem: Problem, result: Result, least: ReturnType<typeof brute>): string[] {
  const truth = least?.labour ?? Number.POSITIVE_INFINITY;
  const { status, plan, bound } = result;
  const found: string[] = [];
  if (bound > truth) found.push(`bound ${bound} above the least labour ${truth}`);
  if (status === "infeasible" && least) found.push(`infeasible, and there is a plan of ${truth}`);
  if (plan === undefined) {
    if (status === "optimal" || status === "feasible") found.push(`${status} without a plan`);
    return found;
  }
  const { verdict, mismatched } = checkPlan(problem, plan);
  if (!verdict.legal) found.push(`illegal: ${JSON.stringify(verdict.faults)}`);
  if (mismatched.length > 0) found.push(`not as the check finds it: ${mismatched.join(", ")}`);
  if (status !== "optimal") return found;
  if (plan.labour !== truth) found.push(`labour ${plan.labour}, the least is ${truth}`);
  if (plan.releases.length !== least?.connections)
    found.push(`${plan.releases.length} connections, the fewest are ${least?.connections}`);
  return found;
}

describe("against every order of small random problems", () => {
  const blocks = Array.from({ length: 3 }, (_, i) => i * 100);
  test.each(blocks)(
    "100 seeds from %i: status, labour and fewest connections are those of brute force",
    (from) => {
      const wrong: string[] = [];
      for (let seed = from; seed < from + 100; seed++) {
        const problem = randomProblem(seed);
        const least = brute(problem);
        // By rounds alone, as a great machine is answered; and with its states beside them, by which every one is proved.
        for (const states of [0, undefined]) {
          const late = states === 0 && NOT_PROVED_IN_TIME.includes(seed);
          const result = solve(problem, { ...patience(late ? 0 : 60), ...(states === undefined ? {} : { states }) });
          const found = lies(problem, result, least);
          if (!late && result.status !== "optimal" && result.status !== "infeasible")
            found.push(`only ${result.status}`);
          wrong.push(...found.map((each) => `seed ${seed}, ${states ?? "all"} states: ${each}`));
        }
      }
      expect(wrong).toEqual([]);
    },
    30_000,
  );

  test.each(ONCE_WRONG)(
    "seed %i, once answered wrongly",
    (seed) => {
      const problem = randomProblem(seed);
      expect(lies(problem, solve(problem, { ...patience(10), states: 0 }), brute(problem))).toEqual([]);
    },
    20_000,
  );

  test("every labour alike: ties everywhere, and still the fewest connections", () => {
    const wrong: string[] = [];
    for (let seed = 600; seed < 640; seed++) {
      const problem = everyLabour(randomProblem(seed), () => 1);
      wrong.push(...lies(problem, solve(problem, patience(10)), brute(problem)).map((each) => `seed ${seed}: ${each}`));
    }
    expect(wrong).toEqual([]);
  }, 60_000);

  test("no labour at all: the plan is still one with the fewest connections", () => {
    const wrong: string[] = [];
    for (let seed = 700; seed < 740; seed++) {
      const problem = everyLabour(randomProblem(seed), () => 0);
      wrong.push(...lies(problem, solve(problem, patience(10)), brute(problem)).map((each) => `seed ${seed}: ${each}`));
    }
    expect(wrong).toEqual([]);
  }, 60_000);
});

test.each(PUBLISHED)("published: $name ($source)", ({ problem, least }) => {
  const result = solve(problem);
  expect(result).toMatchObject({ status: "optimal", bound: least, plan: { labour: least } });
  expect(lies(problem, result, brute(problem))).toEqual([]);
});

function everyLabour(problem: Problem, labour: (old: number) => number): Problem {
  return {
    ...problem,
    connections: problem.connections.map((each) => ({
      ...each,
      ways: each.ways.map((one) => ({ ...one, labour: labour(one.labour) })),
    })),
    tasks: problem.tasks.map((each) => ({ ...each, labour: labour(each.labour) })),
  };
}

describe("what must not change the answer, or only one way", () => {
  /** Pairs of what is asked and what is asked changed, where both are proved. */
  function compare(
    change: (problem: Problem, chance: Chance) => Problem | undefined,
    right: (before: Result, after: Result) => boolean,
    count = 40,
  ): { readonly wrong: readonly number[]; readonly compared: number } {
    const wrong: number[] = [];
    let compared = 0;
    for (let seed = 1000; seed < 1000 + count; seed++) {
      const problem = randomProblem(seed);
      const changed = change(problem, makeChance(seed));
      if (changed === undefined) continue;
      const [before, after] = [solve(problem, patience(12)), solve(changed, patience(12))];
      if ([before, after].some(({ status }) => status !== "optimal" && status !== "infeasible")) continue;
      compared++;
      if (!right(before, after)) wrong.push(seed);
    }
    return { wrong, compared };
  }

  test("one more way to release a connection never raises the least labour", () => {
    const { wrong, compared } = compare(
      (problem, chance) => {
        const chosen = chance.pick(problem.connections).id;
        const more = way(`${chosen}/more`, chance.whole(0, 6) / 2);
        return {
          ...problem,
          connections: problem.connections.map((each) =>
            each.id === chosen ? { ...each, ways: [...each.ways, more] } : each,
          ),
        };
      },
      (before, after) => labourOf(after) <= labourOf(before),
    );
    expect(wrong).toEqual([]);
    expect(compared).toBeGreaterThan(30);
  }, 60_000);

  test("a connection that carries nothing and that nothing names, left out, never raises it", () => {
    // Only where nothing must go up and nothing is strapped: a hose takes along what is outside R5.
    const { wrong, compared } = compare(
      (problem) => {
        if (problem.take.length > 0 || problem.tasks.some((each) => each.hang)) return undefined;
        const { connections, ...rest } = problem;
        const named = JSON.stringify([
          rest,
          connections.map((each) => each.ways.map(({ needs, without }) => [needs, without])),
        ]);
        const idle = connections.find((each) => !each.carrying && !named.includes(`"${each.id}"`));
        return idle && { ...problem, connections: connections.filter((each) => each !== idle) };
      },
      (before, after) => labourOf(after) <= labourOf(before),
      150,
    );
    expect(wrong).toEqual([]);
    expect(compared).toBeGreaterThan(10);
  }, 60_000);

  const alike = (before: Result, after: Result) =>
    before.status === after.status &&
    labourOf(before) === labourOf(after) &&
    before.plan?.releases.length === after.plan?.releases.length;

  test("other ids", () => {
    const backwards = (text: string): string => [...text].reverse().join("");
    // Every string of a problem is an id or a position.
    const rename = (problem: Problem): Problem =>
      JSON.parse(JSON.stringify(problem), (_, value: unknown) =>
        typeof value === "string" ? backwards(value) : value,
      );
    const { wrong, compared } = compare(rename, alike);
    expect(wrong).toEqual([]);
    expect(compared).toBeGreaterThan(30);
  }, 60_000);

  test("another order of the parts, connections, ways, tasks and needs", () => {
    const { wrong, compared } = compare((problem, chance) => {
      const mix = <T>(list: readonly T[]): T[] => chance.some(list, list.length);
      return {
        ...problem,
        parts: mix(problem.parts),
        connections: mix(problem.connections).map((each) => ({
          ...each,
          joins: mix(each.joins),
          ways: mix(each.ways).map((one) => ({ ...one, needs: mix(one.needs) })),
        })),
        tasks: mix(problem.tasks).map((each) => ({ ...each, needs: mix(each.needs), supports: mix(each.supports) })),
      };
    }, alike);
    expect(wrong).toEqual([]);
    expect(compared).toBeGreaterThan(30);
  }, 60_000);
});

describe("scenes", () => {
  /** The answer, after brute force and the check have agreed with it. */
  function answer(problem: Problem): Result {
    const result = solve(problem);
    expect(lies(problem, result, brute(problem))).toEqual([]);
    return result;
  }

  /** A unit of 200 kg on four mounts at the corners of a rectangle about its centre, to be lifted out. */
  const unit = (rests: boolean): Problem =>
    ask({
      parts: [frame, part("unit", 200, [0, 0, 1])],
      connections: [
        [0.5, 0.3],
        [0.5, -0.3],
        [-0.5, 0.3],
        [-0.5, -0.3],
      ].map(([x = 0, y = 0], i) =>
        tie(`mount-${i + 1}`, ["unit", "frame"], { carrying: true, rests, at: [x, y, 0.4] }),
      ),
      tasks: [
        task("sling", { labour: 5, supports: ["unit"], toggle: true }),
        task("lift", { labour: 10, must: true, lift: { parts: ["unit"], limit: 250 } }),
      ],
      take: ["unit"],
    });

  test("a unit that sits on its mounts is unbolted and lifted: no sling beforehand", () => {
    const result = answer(unit(true));
    expect(result).toMatchObject({ status: "optimal", bound: 14, plan: { labour: 14, tasks: ["lift"] } });
  });

  test("a unit that hangs from its mounts is slung before the last of them goes", () => {
    const result = answer(unit(false));
    expect(result).toMatchObject({ status: "optimal", plan: { labour: 19, tasks: ["sling", "lift"] } });
    const order = (result.plan?.order ?? []).map((step) => ("release" in step ? "mount" : "do" in step ? step.do : ""));
    expect(order.indexOf("sling")).toBeLessThan(order.lastIndexOf("mount"));
    expect(order.at(-1)).toBe("lift");
  });

  /** An engine of 100 kg with a flywheel housing of 50 kg on it by a tie of 7 minutes, under a hoist. */
  const hoisted = (limit: number): Problem =>
    ask({
      parts: [frame, part("engine", 100), part("housing", 50)],
      connections: [
        tie("mount", ["engine", "frame"], { carrying: true }),
        tie("flange", ["engine", "housing"], { carrying: true, ways: [way("flange/1", 7)] }),
      ],
      tasks: [
        task("sling", { toggle: true, supports: ["engine"] }),
        task("stand", { labour: 2, supports: ["housing"] }),
        task("lift", { must: true, lift: { parts: ["engine"], limit } }),
      ],
    });

  test("a limit of the hoist met to the gram: everything goes up together", () => {
    expect(answer(hoisted(150)).plan).toMatchObject({ labour: 3, lifts: [{ mass: 150 }] });
  });

  test("and missed by one gram: the housing comes off first, on its stand", () => {
    expect(answer(hoisted(149.999)).plan).toMatchObject({ labour: 12, lifts: [{ parts: ["engine"], mass: 100 }] });
  });

  test("an engine tied straight to the frame by what nobody can release does not come out", () => {
    const welded = { ...tie("weld", ["engine", "frame"]), ways: [] };
    const problem = { ...hoisted(150), connections: [...hoisted(150).connections, welded] };
    expect(answer(problem)).toMatchObject({ status: "infeasible", bound: Number.POSITIVE_INFINITY });
    expect(answer(problem).plan).toBeUndefined();
  });

  test("a lift does not make true what it needs itself", () => {
    const cheap = way("hose/1", 1, [{ done: "lift" }]);
    const hose = (...ways: readonly Way[]): Problem =>
      ask({
        parts: [frame, part("engine", 5)],
        connections: [tie("hose", ["engine", "frame"], { carrying: true, ways })],
        tasks: [task("lift", { must: true, lift: { parts: ["engine"], limit: 10 } })],
      });
    expect(answer(hose(cheap)).status).toBe("infeasible");
    expect(waysOf(answer(hose(cheap, way("hose/2", 20))))).toEqual(["hose/2"]);
  });

  /** Three ties between two fixed parts, of which nothing is asked but what they need. */
  const tangle = (ways: Record<string, readonly Way[]>): Problem =>
    ask({
      parts: [frame, { ...frame, id: "cab" }],
      connections: Object.entries(ways).map(([id, each]) => tie(id, ["frame", "cab"], { ways: each })),
      tasks: [off(...Object.keys(ways))],
    });

  test("a ring that waits for itself is opened where that is cheapest", () => {
    const result = answer(
      tangle({
        a: [way("a/1", 1, [{ released: "b" }]), way("a/2", 12)],
        b: [way("b/1", 1, [{ released: "c" }]), way("b/2", 10)],
        c: [way("c/1", 1, [{ released: "a" }]), way("c/2", 11)],
      }),
    );
    expect(result.plan?.labour).toBe(12);
    expect(waysOf(result)).toEqual(["b/2", "a/1", "c/1"]);
  });

  test("a ring that nothing opens is no plan", () => {
    const problem = tangle({ a: [way("a/1", 1, [{ released: "b" }])], b: [way("b/1", 1, [{ released: "a" }])] });
    expect(answer(problem).status).toBe("infeasible");
  });

  test("two rings that share a step: one way into it opens both", () => {
    const result = answer(
      tangle({
        a: [way("a/1", 1, [{ released: "b" }]), way("a/2", 6)],
        b: [way("b/1", 4, [{ released: "a" }]), way("b/2", 4, [{ released: "c" }]), way("b/3", 8)],
        c: [way("c/1", 1, [{ released: "b" }]), way("c/2", 6)],
      }),
    );
    expect(result.plan?.labour).toBe(10);
    expect(waysOf(result)[0]).toBe("b/3");
  });

  test("among plans of equal labour the one with fewer connections", () => {
    const problem = ask({
      parts: [frame, { ...frame, id: "cab" }],
      connections: [
        tie("a", ["frame", "cab"], { ways: [way("a/1", 2)] }),
        tie("b", ["frame", "cab"]),
        tie("c", ["frame", "cab"]),
      ],
      tasks: [
        task("work", {
          ...{ labour: 0, must: true },
          needs: [{ any: [{ released: "a" }, { all: [{ released: "b" }, { released: "c" }] }] }],
        }),
      ],
    });
    expect(answer(problem).plan).toMatchObject({ labour: 2, releases: [{ id: "a" }] });
  });

  test("a cab that is tilted, let down and tilted again is paid for each time", () => {
    const tilted = { done: "tilt" } as const;
    const problem = ask({
      parts: [frame, { ...frame, id: "cab" }],
      connections: [
        tie("under", ["frame", "cab"], { ways: [way("under/1", 1, [tilted])] }),
        tie("inside", ["frame", "cab"], { ways: [way("inside/1", 1, [{ released: "under" }], { without: ["tilt"] })] }),
        tie("behind", ["frame", "cab"], { ways: [way("behind/1", 1, [{ released: "inside" }, tilted])] }),
      ],
      tasks: [task("tilt", { labour: 4, toggle: true }), off("behind")],
    });
    const result = answer(problem);
    expect(result.plan?.labour).toBe(3 + 3 * 4);
    expect(result.plan?.order.filter((step) => !("release" in step) && !("do" in step && step.do === "work"))).toEqual([
      { do: "tilt" },
      { undo: "tilt" },
      { do: "tilt" },
    ]);
  });

  test("a bleed that two releases call for is counted once", () => {
    const called = (id: string) => tie(id, ["frame", "cab"], { ways: [way(`${id}/1`, 1, [], { entails: ["bleed"] })] });
    const problem = ask({
      parts: [frame, { ...frame, id: "cab" }],
      connections: [called("a"), called("b")],
      tasks: [
        task("bleed", { labour: 9, back: true, entails: ["test"] }),
        task("test", { labour: 3, back: true }),
        off("a", "b"),
      ],
    });
    expect(answer(problem).plan).toMatchObject({ labour: 14, tasks: ["work", "bleed", "test"] });
  });
});

test("a machine whose order was once given up: proved, for the reasons why its bodies fall are found", () => {
  const { problem } = generateMachine({ family: "thin", size: 45, hoist: "tight", seed: 19 });
  const result = solve(problem, patience(5000));
  expect(result.status).toBe("optimal");
  expect(checkPlan(problem, result.plan as NonNullable<Result["plan"]>)).toMatchObject({
    ...{ verdict: { legal: true }, mismatched: [] },
  });
}, 20_000);

describe("stopping early", () => {
  const machine = (hoist: "loose" | "tight") => generateMachine({ family: "thin", size: 120, hoist, seed: 3 }).problem;
  /** A clock of its own: each look at it is a millisecond later. */
  const clock = () => {
    let at = 0;
    return () => at++;
  };

  test.each(["loose", "tight"] as const)(
    "no time at all, hoist %s: a legal plan under a bound, or none known",
    (hoist) => {
      const problem = machine(hoist);
      const result = solve(problem, { milliseconds: 0, now: clock() });
      expect(["optimal", "feasible", "unknown"]).toContain(result.status);
      expect(result.plan === undefined).toBe(result.status === "unknown");
      if (result.plan === undefined) return;
      expect(checkPlan(problem, result.plan)).toMatchObject({ verdict: { legal: true }, mismatched: [] });
      expect(result.bound).toBeLessThanOrEqual(result.plan.labour);
      expect(result.ms).toBeGreaterThan(0);
    },
    20_000,
  );

  test("the time is up while the question is still being put into clauses: nothing is known, and that is said at once", () => {
    let at = 0;
    const result = solve(machine("loose"), { milliseconds: 50, now: () => (at += 60) });
    expect(result).toMatchObject({ status: "unknown", bound: 0, rounds: 0 });
  });

  test("without `now` no time passes, whatever the limit", () => {
    expect(solve(machine("loose"), { milliseconds: 0 })).toMatchObject({ status: "optimal", ms: 0 });
  }, 20_000);

  test("a gap: what is left between bound and labour is within it, and the bound holds", () => {
    const problem = machine("loose");
    const best = solve(problem);
    for (const gap of [0.02, 0.2, 0.5]) {
      const result = solve(problem, { gap });
      expect(labourOf(result) - result.bound).toBeLessThanOrEqual(gap * labourOf(result) + 1e-9);
      expect(result.bound).toBeLessThanOrEqual(labourOf(best));
      expect(labourOf(result)).toBeGreaterThanOrEqual(labourOf(best));
    }
  }, 20_000);

  test("each best plan is told as it is found: labour falling, its bound below it", () => {
    const told: [number, number][] = [];
    const result = solve(unevenStates(), { onBest: (labour, bound) => told.push([labour, bound]) });
    expect(told.length).toBeGreaterThan(0);
    expect(told.at(-1)?.[0]).toBe(labourOf(result));
    told.forEach(([labour, bound], i) => {
      expect(bound).toBeLessThanOrEqual(labour);
      expect(labour).toBeLessThan(told[i - 1]?.[0] ?? Number.POSITIVE_INFINITY);
    });
  });

  /** The first order found pays for a change of state that the clauses do not yet know of. */
  function unevenStates(): Problem {
    const on = { done: "tilt" } as const;
    return ask({
      parts: [frame, { ...frame, id: "cab" }],
      connections: [
        tie("a", ["frame", "cab"], { ways: [way("a/1", 1, [on])] }),
        tie("b", ["frame", "cab"], {
          ways: [way("b/1", 1, [{ released: "a" }], { without: ["tilt"] }), way("b/2", 3)],
        }),
        tie("c", ["frame", "cab"], { ways: [way("c/1", 1, [{ released: "b" }, on])] }),
      ],
      tasks: [task("tilt", { labour: 4, toggle: true }), off("c")],
    });
  }
});

describe("what is no question is refused", () => {
  test.each([
    ["a connection that is not there", ask({ released: ["hose"] }), /"hose"/],
    ["an id twice", ask({ parts: [frame, frame] }), /"frame" stands twice/],
    ["labour below nothing", ask({ tasks: [task("drain", { labour: -1 })] }), /labour of "drain"/],
    ["a mass that is no number", ask({ parts: [part("engine", Number.NaN)] }), /mass of "engine"/],
    ["a connection of one part", ask({ connections: [tie("stud", ["frame"])] }), /"stud" joins fewer than two/],
  ])("%s", (_, problem, says) => {
    expect(() => solve(problem)).toThrow(IllPosed);
    expect(() => solve(problem)).toThrow(says);
  });
});

describe("a variable left cheaper true than false", () => {
  test.each(["loose", "tight"] as const)(
    "does not hide the cheapest plan behind a base that is too high, hoist %s",
    (hoist) => {
      // Once answered "optimal 494.5", with this plan of 493.5 left unseen.
      const { problem } = generateMachine({ family: "extra", size: 70, hoist, seed: 5 });
      const result = solve(problem);
      expect([result.status, result.plan?.labour, result.bound]).toEqual(["optimal", 493.5, 493.5]);
    },
    30_000,
  );
});

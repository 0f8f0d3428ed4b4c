// What is learnt from a choice that cannot be carried out: it cuts off that choice, and no plan.
import { describe, expect, test } from "vitest";
import { brute } from "../../bench/release/brute.ts";
import { randomProblem } from "../../bench/release/random.ts";
import { ask, frame, part, task, tie, way } from "../../bench/release/scene.ts";
import { type Choice, decode } from "./choice.ts";
import { type Compiled, compile, sideAtom } from "./compile.ts";
import { cutChanges, cutChoice, cutFallen, cutLeft, cutLoops, cutTied, cutUnheld } from "./cuts.ts";
import { type Encoding, encode } from "./encode.ts";
import { minimise } from "./minimise.ts";
import { type Sequenced, sequence } from "./order.ts";
import type { Problem } from "./problem.ts";
import { wire } from "./wiring.ts";

const patient = { nodes: 0, stop: () => false, gap: 0 };

function ready(problem: Problem) {
  const c = compile(problem);
  const w = wire(c, sideAtom(c, c.contexts.length, 0));
  const e = encode(c, w);
  /** The cheapest choice as things stand, and what comes of it; undefined: there is none. */
  const next = (): { cost: number; values: Uint8Array; choice: Choice; found: Sequenced } | undefined => {
    const { values, cost } = minimise(e.network, patient);
    if (values === undefined) return undefined;
    const choice = decode(c, e, values);
    return { cost: e.minutes(cost), values, choice, found: sequence(c, w, choice) };
  };
  return { c, w, e, next };
}

/** Learns from a failure by a clause that names its reason. False: no such clause is known. */
function learn(c: Compiled, e: Encoding, choice: Choice, found: Sequenced): boolean {
  if (found.kind === "tied") cutTied(c, e, found.chains);
  else if (found.kind === "unfounded") cutLoops(c, e, choice, found.atoms);
  else if (found.kind === "fallen") cutFallen(c, e, choice, found);
  else if (found.kind === "unheld") for (const body of found.bodies) cutUnheld(c, e, body);
  else if (found.kind === "left") cutLeft(c, e, found);
  else return false;
  return true;
}

const told = ({ steps, side, active }: Choice): string =>
  JSON.stringify([[...steps], active, side.map((each) => [...each])]);

test("random problems: a choice that failed does not come back, and what is cheapest then is never dearer than the best plan", () => {
  const kinds = new Set<string>();
  for (let seed = 200; seed < 380; seed++) {
    const problem = randomProblem(seed);
    const least = brute(problem)?.labour ?? Number.POSITIVE_INFINITY;
    const { c, e, next } = ready(problem);
    const seen = new Set<string>();
    for (let round = 0; round < 12; round++) {
      const answer = next();
      if (answer === undefined) {
        expect({ seed, round, least }).toEqual({ seed, round, least: Number.POSITIVE_INFINITY });
        break;
      }
      const choice = told(answer.choice);
      expect({ seed, round, dearer: answer.cost > least, again: seen.has(choice) }).toEqual({
        ...{ seed, round, dearer: false, again: false },
      });
      seen.add(choice);
      if (!learn(c, e, answer.choice, answer.found)) break;
      kinds.add(answer.found.kind);
    }
  }
  expect([...kinds].sort()).toEqual(expect.arrayContaining(["fallen", "tied", "unfounded", "unheld"]));
}, 60_000);

describe("by hand", () => {
  /** A hose and a bracket, each cheaply released once the other or a clip is; the clip once either of them is. The bracket has a dear way of its own. */
  const inACircle = ask({
    parts: [frame, part("hose", 1), part("bracket", 1), part("clip", 1)],
    connections: [
      tie("hose", ["hose", "frame"], {
        ways: [way("hose/1", 1, [{ any: [{ released: "bracket" }, { released: "clip" }] }])],
      }),
      tie("clip", ["clip", "frame"], {
        ways: [way("clip/1", 1, [{ any: [{ released: "bracket" }, { released: "hose" }] }])],
      }),
      tie("bracket", ["bracket", "frame"], { ways: [way("bracket/1", 9)] }),
    ],
    tasks: [task("work", { labour: 0, must: true, needs: [{ released: "hose" }] })],
  });

  test("steps that only justify one another: one of them is begun from outside", () => {
    const { c, e, next } = ready(inACircle);
    const before = next();
    expect(before).toMatchObject({ cost: 2, found: { kind: "unfounded" } });
    if (before?.found.kind === "unfounded") cutLoops(c, e, before.choice, before.found.atoms);
    expect(next()).toMatchObject({ cost: 10, found: { kind: "order" } });
  });

  test("a choice cut off by itself leaves the next best, and one with a charge costs that much more", () => {
    const { c, e, next } = ready(
      ask({
        parts: [frame, part("hose", 1)],
        connections: [tie("hose", ["hose", "frame"], { ways: [way("hose/1", 3), way("hose/2", 5)] })],
        tasks: [task("work", { labour: 0, must: true, needs: [{ released: "hose" }] })],
      }),
    );
    const first = next();
    expect(first).toMatchObject({ cost: 3 });
    if (first !== undefined) cutChoice(c, e, first.choice, 1);
    const charged = next();
    expect(charged).toMatchObject({ cost: 4 });
    if (charged !== undefined) cutChoice(c, e, charged.choice, undefined);
    expect(next()).toMatchObject({ cost: 5 });
  });

  test("a state wanted on, then off, then on: it is paid for as often as it changes, once", () => {
    const { c, e, next } = ready(
      ask({
        parts: [frame, part("a", 1), part("b", 1), part("d", 1)],
        connections: [
          tie("a", ["a", "frame"], { ways: [way("a/1", 1, [{ done: "tilt" }])] }),
          tie("b", ["b", "frame"], { ways: [way("b/1", 1, [{ released: "a" }], { without: ["tilt"] })] }),
          tie("d", ["d", "frame"], { ways: [way("d/1", 1, [{ released: "b" }, { done: "tilt" }])] }),
        ],
        tasks: [
          task("tilt", { labour: 6, toggle: true }),
          task("work", { labour: 0, must: true, needs: [{ released: "d" }] }),
        ],
      }),
    );
    const first = next();
    expect(first).toMatchObject({ cost: 9, found: { kind: "order" } });
    if (first === undefined) return;
    const paid = (values: Uint8Array): number => e.paidChanges(0, values);
    expect(cutChanges(c, e, first.choice, 0, paid(first.values))).toBe(true);
    const second = next();
    expect(second).toMatchObject({ cost: 21 });
    if (second !== undefined) expect(cutChanges(c, e, second.choice, 0, paid(second.values))).toBe(false);
  });
});

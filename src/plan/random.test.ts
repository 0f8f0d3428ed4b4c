import { expect, test } from "vitest";
import { randomVehicle } from "../../test/random-vehicle.ts";
import { check, type Problem, type Step, solve } from "../release/index.ts";
import { arrange, fewestFor, idOf, turningLabour, visitsOf } from "./arrange.ts";
import { wayBack } from "./back.ts";
import { makePlan } from "./make-plan.ts";
import { orderFor } from "./order.ts";
import { translate } from "./question.ts";
import { sequence } from "./sequence.ts";
import { writePlan } from "./text.ts";

/** The solver's answer, stopped after so many looks at the clock: the same on every machine. */
const answered = (seed: number) => {
  const file = randomVehicle(seed);
  const question = translate(file, orderFor(["one", "two", "three"][seed % 3]!));
  let looks = 0;
  return { seed, question, result: solve(question.problem, { stop: () => ++looks > 300 }) };
};

const ANSWERS = Array.from({ length: 120 }, (_, seed) => answered(seed)).flatMap(({ seed, question, result }) =>
  result.plan === undefined ? [] : [{ seed, question, result, plan: result.plan }],
);

test("every answer on random vehicles is put in a legal order that moves no more, at no more labour", () => {
  expect(ANSWERS.length).toBeGreaterThan(80);
  let better = 0;
  for (const { seed, question, plan } of ANSWERS) {
    const own = visitsOf(question.problem, plan.order);
    const found = sequence(question, plan);
    expect(found.verdict.faults, `seed ${seed}`).toEqual([]);
    expect(found.verdict.labour, `seed ${seed}`).toBeLessThanOrEqual(plan.labour + 1e-9);
    expect(found.visits, `seed ${seed}`).toBeLessThanOrEqual(own);
    expect(found.fewest(), `seed ${seed}`).toBeLessThanOrEqual(found.visits);
    if (found.visits < own) better++;
  }
  expect(better).toBeGreaterThan(4);
});

test("every way back on random vehicles holds under the replay that shares no code with it", () => {
  let asked = 0;
  for (const { seed, question, plan } of ANSWERS) {
    const { order, verdict } = sequence(question, plan);
    const { faults } = wayBack(question, order, verdict);
    // A file may ask for what cannot be: this hose after that one, though what it hangs on is carried only once it is on. Then that is what is said.
    const impossible = faults.filter((fault) => fault.rule === "B5");
    expect(
      faults.filter((fault) => fault.rule !== "B5"),
      `seed ${seed}`,
    ).toEqual([]);
    if (impossible.length > 0) asked++;
  }
  expect(asked).toBeLessThan(3);
});

test("every plan on random vehicles can be written, with what goes in coming out", () => {
  for (const { seed, question, result } of ANSWERS) {
    const plan = makePlan(question, result);
    for (const thing of plan!.temporary) expect(thing.out, `seed ${seed}: ${thing.item}`).toBeGreaterThan(thing.in);
    expect(writePlan(plan!)).not.toMatch(/undefined|NaN|Infinity/);
  }
});

/** The fewest visits of any legal order of these steps, toggles within the labour, by trying them all. */
const fewestByTrying = (problem: Problem, own: readonly Step[], labour: number): number => {
  const once = own.filter((step) => !problem.tasks.some((one) => one.toggle && one.id === idOf(step)));
  const toggles = problem.tasks.filter((one) => one.toggle && own.some((step) => idOf(step) === one.id));
  let fewest = Number.POSITIVE_INFINITY;
  const tryFrom = (order: readonly Step[], left: readonly Step[], on: ReadonlySet<string>) => {
    if (visitsOf(problem, order) >= fewest) return;
    if (left.length === 0) {
      if (check(problem, order).legal) fewest = visitsOf(problem, order);
      return;
    }
    // A fault of the end is none on the way there.
    if (check(problem, order).faults.some((fault) => fault.step !== "end")) return;
    for (const step of left)
      tryFrom(
        [...order, step],
        left.filter((one) => one !== step),
        on,
      );
    for (const { id } of toggles) {
      const step = on.has(id) ? { undo: id } : { do: id };
      const turned = new Set(on);
      if (!turned.delete(id)) turned.add(id);
      if (turningLabour(problem, [...order, step]) <= labour + 1e-9) tryFrom([...order, step], left, turned);
    }
  };
  tryFrom([], once, new Set());
  return fewest;
};

test("no order has fewer visits than the bound, and the search finds the fewest on small plans", () => {
  let compared = 0;
  for (const { seed, question, plan } of ANSWERS) {
    const { problem } = question;
    const steps = plan.order;
    if (steps.length > 6) continue;
    const labour = turningLabour(problem, steps);
    const best = fewestByTrying(problem, steps, labour);
    const ask = { problem, steps, last: new Set<string>(), bothWays: false, labour, visits: steps.length };
    const order = arrange(ask);
    expect(fewestFor(ask), `seed ${seed}`).toBeLessThanOrEqual(best);
    expect(order === undefined ? undefined : visitsOf(problem, order), `seed ${seed}`).toBe(best);
    compared++;
  }
  expect(compared).toBeGreaterThan(24);
});

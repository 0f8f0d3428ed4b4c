// What runs teach: the worked update, pooling, what was broken off, what is odd, and the traps of learning times, each by name.
import { describe, expect, test } from "vitest";
import {
  type Belief,
  medianBelief,
  plugInMean,
  predictedChance,
  predictedPercentile,
  predictive,
  see,
} from "./belief.ts";
import { learnCauses } from "./causes.ts";
import { type Datum, infer, predict } from "./conjugate.ts";
import { crawford, learnCrew, wright } from "./curve.ts";
import { countsAt, learn, type Seen, USUAL_HABITS } from "./learn.ts";
import { type Looked, stillMadeChance } from "./left-on.ts";
import { fillNormal, uniformOf } from "./random.ts";

const PRIOR: Belief = { centre: Math.log(20), weight: 2, alpha: 2, beta: 0.09 };
const TIMES = [26, 31, 24, 29, 38];
const believing = (times: readonly number[]) => times.reduce((belief, minutes) => see(belief, minutes), PRIOR);

describe("one time, normal–inverse-gamma on its logarithm", () => {
  test("the worked update, step by step", () => {
    const steps = TIMES.map((_, index) => believing(TIMES.slice(0, index + 1)));
    expect(steps.map(({ centre }) => centre)).toEqual(
      [3.083187, 3.1708871, 3.1723204, 3.2048163, 3.2666406].map((one) => expect.closeTo(one, 6)),
    );
    expect(steps.map(({ beta }) => beta)).toEqual(
      [0.112945, 0.1590928, 0.1591133, 0.1749531, 0.2552201].map((one) => expect.closeTo(one, 6)),
    );
  });

  test("percentiles before and after, and of the median", () => {
    expect([0.05, 0.5, 0.95].map((p) => predictedPercentile(predictive(PRIOR), p))).toEqual(
      [11.4944, 20, 34.7995].map((one) => expect.closeTo(one, 4)),
    );
    const next = predictive(believing(TIMES));
    expect(next).toMatchObject({ freedom: 9, scale: expect.closeTo(0.25459341, 7) });
    expect([0.05, 0.1, 0.5, 0.8, 0.9, 0.95].map((p) => predictedPercentile(next, p))).toEqual(
      [16.4437, 18.4402, 26.2231, 32.8368, 37.2909, 41.8185].map((one) => expect.closeTo(one, 4)),
    );
    expect([0.05, 0.95].map((p) => predictedPercentile(medianBelief(believing(TIMES)), p))).toEqual(
      [22.2343, 30.9274].map((one) => expect.closeTo(one, 4)),
    );
    expect(predictedChance(next, 37.2909)).toBeCloseTo(0.9, 5);
  });

  test("trap: all orders give the same", () => {
    const [a, b] = [believing(TIMES), believing(TIMES.toReversed())];
    expect([b.centre, b.beta]).toEqual([expect.closeTo(a.centre, 12), expect.closeTo(a.beta, 12)]);
  });

  test("trap: the prediction has no mean: its partial mean grows without end, and the plug-in mean is another figure", () => {
    expect(plugInMean(believing(TIMES))).toBeCloseTo(27.1968, 4);
    const { centre, scale, freedom } = predictive(believing(TIMES));
    // ∫ exp(scale·t)·density(t) dt up to a bound, by steps; Student's tail is a power, so the exponential wins.
    const upTo = (bound: number) => {
      let sum = 0;
      for (let t = -60; t < bound; t += 0.05)
        sum += Math.exp(centre + scale * t) * (1 + (t * t) / freedom) ** (-(freedom + 1) / 2) * 0.05;
      return sum;
    };
    expect(upTo(200) / upTo(100)).toBeGreaterThan(1e3);
    expect(upTo(400) / upTo(200)).toBeGreaterThan(1e12);
  });

  test("against integration over a grid of μ and σ", () => {
    const posterior = believing(TIMES);
    const logs = TIMES.map(Math.log);
    let [mass, first] = [0, 0];
    for (let u = -4.5; u < 1.5; u += 0.01) {
      const variance = Math.exp(2 * u);
      for (let mu = 2; mu < 4.6; mu += 0.01) {
        const log =
          -u +
          (-PRIOR.weight * (mu - PRIOR.centre) ** 2) / (2 * variance) -
          (PRIOR.alpha + 1) * 2 * u -
          PRIOR.beta / variance +
          2 * u -
          logs.length * u -
          logs.reduce((sum, y) => sum + (y - mu) ** 2, 0) / (2 * variance);
        mass += Math.exp(log);
        first += mu * Math.exp(log);
      }
    }
    expect(first / mass).toBeCloseTo(posterior.centre, 4);
  });
});

describe("effects that add", () => {
  const datum = (minutes: number, censored = false): Datum => ({
    row: [[0, 1]],
    y: Math.log(minutes / 20),
    counts: 1,
    censored,
  });
  const prior = { variances: [0.5], alpha: 2, beta: 0.09 };

  test("with one column it is the belief of one time", () => {
    const next = predict(
      infer(
        TIMES.map((minutes) => datum(minutes)),
        prior,
      ),
      [[0, 1]],
    );
    const { centre, scale, freedom } = predictive(believing(TIMES));
    expect(next).toEqual({
      centre: expect.closeTo(centre - Math.log(20), 12),
      scale: expect.closeTo(scale, 12),
      freedom,
    });
  });

  test("trap: what was broken off lengthens, and is not thrown away nor taken for the whole", () => {
    const whole = [26, 31, 24].map((minutes) => datum(minutes));
    const centre = (data: readonly Datum[]) => predict(infer(data, prior), [[0, 1]]).centre;
    const thrown = centre(whole);
    const taken = centre([...whole, datum(22)]);
    const censored = centre([...whole, datum(22, true)]);
    expect(taken).toBeLessThan(thrown);
    expect(censored).toBeGreaterThan(thrown);
    // Broken off after a moment it says nothing.
    expect(centre([...whole, datum(0.1, true)])).toBeCloseTo(thrown, 6);
  });

  test("what was broken off, against integration over μ and σ: within a hundredth of the logarithm", () => {
    const data = [26, 31, 24, 29, 38].map((minutes) => datum(minutes));
    const cut = Math.log(34 / 20);
    const fitted = infer([...data, datum(34, true)], prior);
    let [mass, first] = [0, 0];
    const tail = (a: number) => {
      // 1 − Φ(a) by the trapezoid rule.
      let sum = 0;
      for (let x = a; x < a + 10; x += 0.05) sum += (Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI)) * 0.05;
      return sum;
    };
    for (let u = -3.5; u < 0.5; u += 0.05) {
      const variance = Math.exp(2 * u);
      for (let mu = -0.6; mu < 1.4; mu += 0.02) {
        const log =
          -u -
          (2 * mu * mu) / (2 * variance) -
          6 * u -
          0.09 / variance +
          2 * u -
          5 * u -
          data.reduce((sum, { y }) => sum + (y - mu) ** 2, 0) / (2 * variance);
        const density = Math.exp(log) * tail((cut - mu) / Math.sqrt(variance));
        mass += density;
        first += mu * density;
      }
    }
    expect(Math.abs((fitted.effects[0] ?? 0) - first / mass)).toBeLessThan(0.01);
  });
});

describe("a shop's runs", () => {
  const seen = (work: string, minutes: number, more: Partial<Seen> = {}): Seen => ({
    work,
    kind: "hose",
    guess: 10,
    minutes,
    broken: false,
    age: 0,
    ...more,
  });
  const middle = (lesson: ReturnType<typeof learn>, work: string, more: Partial<Seen> = {}) =>
    predictedPercentile(lesson.next({ work, kind: "hose", guess: 10, people: [], ...more }), 0.5);

  test("what is learnt on one hose helps the next, and less the work of another kind", () => {
    const lesson = learn([20, 21, 19, 22, 20].map((minutes) => seen("top", minutes)));
    const [own, alike, other] = [middle(lesson, "top"), middle(lesson, "bottom"), middle(lesson, "x", { kind: "rod" })];
    expect(own).toBeGreaterThan(alike);
    expect(alike).toBeGreaterThan(other);
    expect(other).toBeGreaterThan(10);
    // What is less known is given wider.
    const width = (work: string) => lesson.next({ work, kind: "hose", guess: 10, people: [] }).scale;
    expect(width("bottom")).toBeGreaterThan(width("top"));
  });

  test("a quick hand is told from quick work", () => {
    const runs = ["a", "b", "c", "d", "e", "f", "g", "h", "i"].flatMap((work) => [
      seen(work, 7, { people: ["quick"] }),
      seen(work, 14, { people: ["slow"] }),
    ]);
    const lesson = learn(runs);
    expect(middle(lesson, "a", { people: ["quick"] })).toBeLessThan(middle(lesson, "a", { people: ["slow"] }));
    const effect = (name: string) => lesson.effects.find((one) => one.name === name && one.group === "person");
    expect(effect("quick")?.high).toBeLessThan(effect("slow")?.low ?? 0);
  });

  test("what is old counts less: half after the half-life", () => {
    expect(countsAt(730, USUAL_HABITS.halfLife)).toBe(0.5);
    const now = learn([seen("top", 20), seen("top", 20)]);
    const old = learn([seen("top", 20, { age: 5000 }), seen("top", 20, { age: 5000 })]);
    expect(middle(old, "top")).toBeLessThan(middle(now, "top"));
    expect(middle(old, "top")).toBeGreaterThan(10);
  });

  test("hours taken for minutes are flagged, and only they", () => {
    const runs = Array.from({ length: 20 }, (_, index) => seen(`w${index % 4}`, 9 + (index % 3)));
    const lesson = learn([...runs, seen("w1", 600)]);
    expect(lesson.odd.map(({ index }) => index)).toEqual([20]);
    expect(learn(runs).odd).toEqual([]);
  });

  test("trap: a time of zero is refused", () => {
    expect(() => learn([seen("top", 0)])).toThrow("above 0");
  });

  test("nothing seen: the prediction is the guess with the spread of habit", () => {
    const lesson = learn([]);
    expect(middle(lesson, "top")).toBeCloseTo(10, 10);
    expect(lesson.next({ work: "top", guess: 10 })).toEqual(lesson.before({ work: "top", guess: 10 }));
  });
});

describe("coverage", () => {
  test("on synthetic histories the 90 % intervals hold 88 to 92 % of what comes next", () => {
    let [held, all] = [0, 0];
    for (let history = 0; history < 60; history++) {
      const normals = new Float64Array(400);
      fillNormal(normals, uniformOf("history", history));
      let at = 0;
      const draw = (spread: number) => spread * (normals[at++] ?? 0);
      const shop = draw(0.4);
      const kinds = [draw(0.25), draw(0.25), draw(0.25)];
      const people = [draw(0.15), draw(0.15), draw(0.15)];
      const works = Array.from({ length: 12 }, () => draw(0.3));
      // The scatter of a shop is not what we guessed: 0.3, give or take a quarter.
      const scatter = 0.3 * Math.exp(draw(0.25));
      const one = (index: number): Seen => {
        const [w, p] = [(index * 7) % 12, index % 3];
        const y = shop + (kinds[w % 3] ?? 0) + (people[p] ?? 0) + (works[w] ?? 0) + draw(scatter);
        return {
          work: `w${w}`,
          kind: `k${w % 3}`,
          people: [`p${p}`],
          guess: 10,
          minutes: 10 * Math.exp(y),
          broken: false,
          age: 0,
        };
      };
      const lesson = learn(Array.from({ length: 40 }, (_, index) => one(index)));
      for (let index = 0; index < 60; index++) {
        const next = one(index);
        const chance = predictedChance(lesson.next(next), next.minutes);
        if (chance > 0.05 && chance < 0.95) held++;
        all++;
      }
    }
    expect(held / all).toBeGreaterThan(0.88);
    expect(held / all).toBeLessThan(0.92);
  });
});

test("waiting and fetching are causes of their own, dearest first", () => {
  const course = (...causes: readonly (readonly [string, number])[]) => ({
    causes: causes.map(([cause, minutes]) => ({ cause, minutes })),
  });
  const learnt = learnCauses([course(["waiting", 20]), course(["fetching", 4]), course(["fetching", 6]), course()]);
  expect(learnt.map(({ cause, came, of, minutes }) => [cause, came, of, minutes])).toEqual([
    ["waiting", 1, 4, 20],
    ["fetching", 2, 4, 10],
  ]);
  expect(learnt[1]?.chance.middle).toBeCloseTo(0.5, 10);
  expect(predictedPercentile(learnt[0]?.lasts ?? predictive(PRIOR), 0.5)).toBeCloseTo(Math.sqrt(5 * 20), 10);
});

test("the ties likeliest to be found still made are the hidden ones of a kind that was forgotten; unseen groups take after the wider", () => {
  const looks: Looked[] = Array.from({ length: 400 }, (_, index) => ({
    kind: index % 2 === 0 ? "hose" : "wire",
    hidden: index % 4 < 2,
    due: "late",
    // Every fifth hidden wire.
    stillMade: index % 4 === 1 && index % 20 === 1,
  }));
  const chance = stillMadeChance(looks);
  const of = (kind: string, hidden: boolean, due: "early" | "late" = "late") => chance({ kind, hidden, due }).mean;
  expect(of("wire", true)).toBeGreaterThan(of("hose", true));
  expect(of("hose", true)).toBeGreaterThan(of("hose", false));
  expect(of("rod", true)).toBeGreaterThan(of("rod", false));
  expect(chance({ kind: "wire", hidden: true, due: "early" }).seen).toBe(0);
  expect(stillMadeChance([])({ kind: "hose", hidden: true, due: "early" }).mean).toBeCloseTo(0.01, 12);
});

describe("the learning curve", () => {
  test("trap: Wright's 80 % is of the average, Crawford's of the unit", () => {
    const figures = (one: { average: number; unit: number; total: number }) => [one.average, one.unit, one.total];
    const close = (...list: readonly number[]) => list.map((one) => expect.closeTo(one, 4));
    expect(figures(wright(10, 0.8, 2))).toEqual(close(8, 6, 16));
    expect(figures(wright(10, 0.8, 4))).toEqual(close(6.4, 4.53689, 25.6));
    expect(figures(wright(10, 0.9, 8))).toEqual(close(7.29, 6.24365, 58.32));
    expect(crawford(10, 0.8, 4)).toMatchObject({ unit: expect.closeTo(6.4, 4), total: expect.closeTo(31.42104, 4) });
    expect(crawford(10, 0.9, 8)).toMatchObject({ unit: expect.closeTo(7.29, 4), total: expect.closeTo(65.73726, 4) });
  });

  test("a crew's curve comes out of its turns, and nothing seen is the usual one", () => {
    const turns = Array.from({ length: 40 }, (_, index) => ({
      n: index + 1,
      minutes: crawford(100, 0.8, index + 1).unit,
    }));
    const learnt = learnCrew(turns, 120);
    expect(Math.abs(learnt.rate.middle - 0.8)).toBeLessThan(0.015);
    expect(predictedPercentile(learnt.nth(64), 0.5) / (100 * 0.8 ** 6)).toBeCloseTo(1, 1);
    expect(learnCrew([], 120).rate.middle).toBeCloseTo(0.9, 12);
  });
});

// The simulation of a finish against cases known exactly; tolerances are four standard errors at a fixed seed.
import { describe, expect, test } from "vitest";
import { betaQuantile } from "./beta.ts";
import { chanceOf, gain, meanFinish, percentile, worthKnowing } from "./finish.ts";
import { type Lognormal, meanOf, percentileOf } from "./lognormal.ts";
import { type Activity, type Network, onCalendar } from "./network.ts";
import { Replay } from "./replay.ts";
import { simulate } from "./simulate.ts";

const LUCK = { runs: 10_000, seed: 1, common: 0 };
const lognormal = (median: number, spread: number): Lognormal => ({ centre: Math.log(median), spread });
const activity = (id: string, time: Activity["time"], ...after: readonly string[]): Activity => ({
  id,
  time,
  after: after.map((one) => ({ id: one, lag: 0 })),
});
const discrete = (...steps: readonly (readonly [number, number])[]) => ({
  quantile: (p: number) => {
    let sum = 0;
    for (const [minutes, chance] of steps) {
      sum += chance;
      if (sum >= p) return minutes;
    }
    return steps.at(-1)?.[0] ?? 0;
  },
});
const run = (activities: readonly Activity[], luck = LUCK) => {
  const simulated = simulate({ activities }, luck);
  return { simulated, sorted: simulated.finishes.slice().sort() };
};
const criticality = (simulated: ReturnType<typeof simulate>, id: string) =>
  simulated.activities.find((one) => one.id === id)?.criticality ?? Number.NaN;

test("one lognormal: P95 115.8488 within four standard errors of 0.979, and the error stated is about that", () => {
  const { sorted } = run([activity("a", lognormal(60, 0.4))]);
  const { value, error } = percentile(sorted, 0.95);
  expect(Math.abs(value - 115.8488)).toBeLessThan(4 * 0.979);
  expect(error).toBeGreaterThan(0.6);
  expect(error).toBeLessThan(1.5);
});

test("the later of two lognormals: percentiles, mean, and which is last", () => {
  const { simulated, sorted } = run([activity("a", lognormal(30, 0.3)), activity("b", lognormal(25, 0.6))]);
  for (const [p, minutes] of [
    [0.5, 35.1103],
    [0.8, 47.2475],
    [0.9, 56.9403],
    [0.95, 68.2533],
  ] as const) {
    const { value, error } = percentile(sorted, p);
    expect(Math.abs(value - minutes)).toBeLessThan(4 * error);
  }
  const mean = meanFinish(simulated);
  expect(Math.abs(mean.value - 38.7277)).toBeLessThan(4 * mean.error);
  expect(Math.abs(criticality(simulated, "a") - 0.607108)).toBeLessThan(4 * 0.0049);
});

test("a discrete network, A → (B ∥ C) → D: the whole distribution; on mean times alone it would be 20.8", () => {
  const { simulated, sorted } = run([
    activity("A", discrete([4, 0.5], [6, 0.3], [9, 0.2])),
    activity("B", discrete([10, 0.6], [14, 0.4]), "A"),
    activity("C", discrete([8, 0.5], [12, 0.3], [18, 0.2]), "A"),
    activity("D", discrete([3, 0.7], [5, 0.3]), "B", "C"),
  ]);
  for (const [minutes, chance] of [
    [17, 0.105],
    [19, 0.276],
    [21, 0.4798],
    [22, 0.5218],
    [24, 0.6964],
    [26, 0.8508],
    [28, 0.942],
    [30, 0.988],
    [32, 1],
  ] as const)
    expect(Math.abs(chanceOf(sorted, minutes).value - chance)).toBeLessThanOrEqual(
      4 * Math.sqrt((chance * (1 - chance)) / LUCK.runs),
    );
  expect([0.5, 0.8, 0.9, 0.95].map((p) => percentile(sorted, p).value)).toEqual([22, 26, 27, 29]);
  expect(meanFinish(simulated).value).toBeGreaterThan(20.8 + 1);
  expect(Math.abs(criticality(simulated, "B") - 0.62)).toBeLessThan(0.02);
});

test("the published PERT network: later than PERT's 15, and D is critical in a quarter of the runs though not on PERT's path", () => {
  const three = (a: number, m: number, b: number) => ({
    quantile: (p: number) => a + (b - a) * betaQuantile(p, 1 + (4 * (m - a)) / (b - a), 1 + (4 * (b - m)) / (b - a)),
  });
  const { simulated, sorted } = run(
    [
      activity("A", three(2, 5, 8)),
      activity("B", three(1, 2, 9), "A"),
      activity("C", three(0.25, 0.5, 3.75), "A"),
      activity("D", three(1, 1, 7), "B"),
      activity("E", three(1, 2, 9), "B", "C"),
      activity("F", three(1, 3, 11), "D", "E"),
    ],
    { ...LUCK, runs: 2000 },
  );
  const mean = meanFinish(simulated);
  expect(Math.abs(mean.value - 15.2363)).toBeLessThan(4 * mean.error);
  const late = percentile(sorted, 0.95);
  expect(Math.abs(late.value - 19.965)).toBeLessThan(4 * late.error);
  for (const [id, share] of [
    ["A", 1],
    ["B", 0.9577],
    ["C", 0.0423],
    ["D", 0.2539],
    ["E", 0.7461],
    ["F", 1],
  ] as const)
    expect(Math.abs(criticality(simulated, id) - share)).toBeLessThanOrEqual(
      4 * Math.sqrt((share * (1 - share)) / 2000),
    );
});

test("trap: ties count for every path that is tied, so shares of parallel branches sum to more than 1", () => {
  const { simulated } = run([activity("a", { minutes: 10 }), activity("b", { minutes: 10 })], { ...LUCK, runs: 100 });
  expect([criticality(simulated, "a"), criticality(simulated, "b")]).toEqual([1, 1]);
});

test("common random numbers: what is not changed meets the same luck, so one minute less is exactly one minute less", () => {
  const plan = (last: number) => [
    activity("a", lognormal(30, 0.5)),
    activity("b", lognormal(20, 0.5), "a"),
    activity("c", { minutes: last }, "b"),
  ];
  const [before, after] = [run(plan(5)).simulated, run(plan(4)).simulated];
  const { value, error } = gain(before.finishes, after.finishes, 0.95);
  expect(value).toBeCloseTo(1, 9);
  expect(error).toBeLessThan(1e-9);
  // In whatever order the activities are given.
  expect(run(plan(5).toReversed()).simulated.finishes.every((one, index) => one === before.finishes[index])).toBe(true);
});

test("trap: what all tasks of a day have in common widens the finish, where independent ones would even out", () => {
  const chain = Array.from({ length: 40 }, (_, i) =>
    activity(`t${i}`, lognormal(10, 0.3), ...(i > 0 ? [`t${i - 1}`] : [])),
  );
  const late = (common: number) => percentile(run(chain, { ...LUCK, runs: 4000, common }).sorted, 0.95).value;
  // Independent: 40 × mean ± 1.645·√40·sd.
  const mean = 40 * meanOf(lognormal(10, 0.3));
  expect(late(0) / mean).toBeLessThan(1.1);
  expect(late(0.15) / mean).toBeGreaterThan(1.2);
});

test("the uncertainty worth reducing is the one on the longest path that spreads most, not the longest task", () => {
  const network = {
    activities: [
      activity("long", lognormal(100, 0.02)),
      activity("doubtful", lognormal(30, 0.7), "long"),
      activity("aside", lognormal(40, 0.9)),
    ],
  };
  const known = simulate(network, LUCK);
  const worth = worthKnowing(network, LUCK, known, 0.95, 3);
  expect(worth[0]?.id).toBe("doubtful");
  const certain = 100 + meanOf(lognormal(30, 0.7));
  expect(worth[0]?.gain.value).toBeGreaterThan(100 + percentileOf(lognormal(30, 0.7), 0.95) - certain - 10);
});

test("work stops for the night or waits for a spell that is long enough", () => {
  const spells = [
    { from: 0, until: 60 },
    { from: 100, until: 200 },
  ];
  expect(onCalendar({ spells, pauses: true }, 40, 30)).toEqual({ start: 40, end: 110 });
  expect(onCalendar({ spells, pauses: false }, 40, 30)).toEqual({ start: 100, end: 130 });
  expect(onCalendar({ spells, pauses: true }, 70, 10)).toEqual({ start: 100, end: 110 });
  // After the last spell nobody knows more, and it goes on.
  expect(onCalendar({ spells, pauses: true }, 190, 30)).toEqual({ start: 190, end: 220 });
});

test("lags hold both ways, and a ring is refused", () => {
  const a = activity("a", { minutes: 10 });
  const b = { ...activity("b", { minutes: 5 }), after: [{ id: "a", lag: 3 }] };
  const c = { ...activity("c", { minutes: 20 }), after: [{ id: "a", lag: -4 }], notBefore: 2 };
  expect(run([b, a], { ...LUCK, runs: 1 }).sorted[0]).toBe(18);
  expect(run([c, a], { ...LUCK, runs: 1 }).sorted[0]).toBe(26);
  expect(() => run([activity("a", { minutes: 1 }, "b"), activity("b", { minutes: 1 }, "a")])).toThrow("one another");
  expect(() => run([activity("a", { minutes: 1 }, "z")])).toThrow("not there");
});

describe("one luck for many variants", () => {
  const network: Network = {
    activities: [
      { id: "a", time: { centre: Math.log(30), spread: 0.3 }, after: [] },
      { id: "b", time: { centre: Math.log(25), spread: 0.6 }, after: [{ id: "a", lag: 5 }] },
      { id: "c", time: { minutes: 20 }, after: [{ id: "a", lag: 0 }] },
      { id: "d", time: { centre: Math.log(12), spread: 0.4 }, after: [{ id: "c", lag: 0 }], alone: true },
    ],
  };
  const luck = { runs: 1500, seed: 7, common: 0.2 };

  test("as it is, the finishes are those of the simulation, run by run", () => {
    expect([...new Replay(network, luck).finishes()]).toEqual([...simulate(network, luck).finishes]);
  });

  test("a time that is half as long is that of a network whose median is half", () => {
    const half: Network = {
      activities: network.activities.map((one) =>
        one.id === "b" ? { ...one, time: { centre: Math.log(12.5), spread: 0.6 } } : one,
      ),
    };
    const replayed = new Replay(network, luck).finishes(new Map([["b", 0.5]]));
    const simulated = simulate(half, luck).finishes;
    for (const [index, finish] of replayed.entries()) expect(finish).toBeCloseTo(simulated[index] ?? 0, 9);
  });
});

describe("what must follow soon: b within 10 min of a, held up by c", () => {
  const wait = (id: string, lag = 0) => ({ id, lag });
  const networkOf = (c: Activity["time"], calendar?: Activity["calendar"]): Network => ({
    activities: [
      { id: "z", time: { minutes: 3 }, after: [] },
      { id: "a", time: { minutes: 10 }, after: [wait("z")], soon: [wait("z", 1)] },
      { id: "c", time: c, after: [] },
      {
        id: "b",
        time: { minutes: 5 },
        after: [wait("a", 2), wait("c")],
        soon: [wait("a", 10)],
        ...(calendar === undefined ? {} : { calendar }),
      },
    ],
  });
  const once = { runs: 1, seed: 1, common: 0 };
  const finishes = (network: Network, luck = once) => [...simulate(network, luck).finishes];

  test("in time, nothing is done again: c ends at 23, just 10 min after a", () => {
    expect(finishes(networkOf({ minutes: 23 }))).toEqual([28]);
  });

  test("too late, a is done again, and z that a must follow, and a's own 2 min are kept: 24 + 3 + 10 + 2 + 5", () => {
    expect(finishes(networkOf({ minutes: 24 }))).toEqual([44]);
  });

  test("a night between is too long as well: c ends in time, b's spell begins at 60", () => {
    const calendar = { spells: [{ from: 60, until: 200 }], pauses: false };
    expect(finishes(networkOf({ minutes: 20 }, calendar))).toEqual([80]);
  });

  test("with what is done again it does not fit the spell in which it would have fitted alone", () => {
    const spells = [
      { from: 0, until: 40 },
      { from: 60, until: 200 },
    ];
    expect(finishes(networkOf({ minutes: 24 }, { spells, pauses: false }))).toEqual([80]);
  });

  test("it is counted, in the half of the runs in which c is above its median, within 4 standard errors of 0.0035", () => {
    const { activities } = simulate(networkOf({ centre: Math.log(23), spread: 0.3 }), { ...once, runs: 20_000 });
    const late = (id: string) => activities.find((one) => one.id === id)?.late ?? Number.NaN;
    expect(Math.abs(late("b") - 0.5)).toBeLessThan(0.014);
    expect([late("a"), late("c")]).toEqual([0, 0]);
  });

  test("the same luck gives the same finishes, changed or not", () => {
    const luck = { runs: 3000, seed: 1, common: 0.1 };
    const network = networkOf({ centre: Math.log(23), spread: 0.3 });
    const replay = new Replay(network, luck);
    expect([...replay.finishes()]).toEqual(finishes(network, luck));
    const slower = new Replay(network, luck).finishes(new Map([["c", 1.2]]));
    const anew = finishes(networkOf({ centre: Math.log(23 * 1.2), spread: 0.3 }), luck);
    for (const [index, finish] of slower.entries()) expect(finish).toBeCloseTo(anew[index] ?? 0, 9);
  });
});

// Owns the proof's specification: what it says is compared with trying everything, with itself under hostile options, and each clause it learns with a schedule that is better.

import { describe, expect, test } from "vitest";
import type { Arcs, Model } from "../model.ts";
import { randomFrom } from "../random.ts";
import { layoutOf } from "./lanes.ts";
import { makeProver, type ProverOptions } from "./prove.ts";
import { putQuestion } from "./question.ts";

const FAR = 2 ** 28;
const EVER = { conflicts: 100_000 };
const HOSTILE: ProverOptions = { clauses: 5, unit: 1, energy: 1 };

type Triple = readonly [from: number, to: number, lag: number];
interface Use {
  readonly first: number;
  readonly last: number;
  readonly head: number;
  readonly tail: number;
  readonly need: readonly number[];
}
interface Sketch {
  readonly ticks: readonly number[];
  readonly capacity: readonly number[];
  readonly arcs?: readonly Triple[];
  readonly choices?: readonly (readonly [Triple, Triple])[];
  readonly uses?: readonly Use[];
  readonly uncounted?: readonly number[];
  readonly earliest?: readonly number[];
  readonly latest?: readonly number[];
  readonly bars?: readonly (readonly (readonly [number, number])[])[];
}

const arcsOf = (list: readonly Triple[]): Arcs => ({
  from: Int32Array.from(list, ([from]) => from),
  to: Int32Array.from(list, ([, to]) => to),
  lag: Int32Array.from(list, ([, , lag]) => lag),
});

const modelOf = (sketch: Sketch): Model => {
  const { ticks, capacity, arcs = [], choices = [], uses = [], uncounted = [], bars = [] } = sketch;
  const size = ticks.length;
  const bar = new Int32Array(size + 1);
  for (let item = 0; item < size; item += 1) bar[item + 1] = (bar[item] ?? 0) + (bars[item]?.length ?? 0);
  return {
    size,
    ticks: Int32Array.from(ticks),
    counted: Uint8Array.from(ticks, (_, item) => (uncounted.includes(item) ? 0 : 1)),
    earliest: Int32Array.from(ticks, (_, item) => sketch.earliest?.[item] ?? 0),
    latest: Int32Array.from(ticks, (_, item) => sketch.latest?.[item] ?? FAR),
    arcs: arcsOf(arcs),
    either: arcsOf(choices.map(([one]) => one)),
    or: arcsOf(choices.map(([, other]) => other)),
    lanes: capacity.length,
    capacity: Int32Array.from(capacity),
    uses: {
      first: Int32Array.from(uses, ({ first }) => first),
      last: Int32Array.from(uses, ({ last }) => last),
      head: Int32Array.from(uses, ({ head }) => head),
      tail: Int32Array.from(uses, ({ tail }) => tail),
      need: Int32Array.from(uses.flatMap(({ need }) => need)),
    },
    bar,
    barFrom: Int32Array.from(bars.flatMap((spells) => spells.map(([from]) => from))),
    barUntil: Int32Array.from(bars.flatMap((spells) => spells.map(([, until]) => until))),
  };
};

const holds = ({ from, to, lag }: Arcs, arc: number, starts: ArrayLike<number>): boolean =>
  starts[to[arc]!]! >= starts[from[arc]!]! + lag[arc]!;

/** Whether starts satisfy a model, rule by rule and tick by tick; shares nothing with the search. */
const satisfies = (model: Model, starts: ArrayLike<number>): boolean => {
  for (let item = 0; item < model.size; item += 1) {
    const start = starts[item]!;
    if (start < model.earliest[item]! || start > model.latest[item]!) return false;
    for (let spell = model.bar[item]!; spell < model.bar[item + 1]!; spell += 1)
      if (start >= model.barFrom[spell]! && start < model.barUntil[spell]!) return false;
  }
  for (let arc = 0; arc < model.arcs.lag.length; arc += 1) if (!holds(model.arcs, arc, starts)) return false;
  for (let pair = 0; pair < model.or.lag.length; pair += 1)
    if (!holds(model.either, pair, starts) && !holds(model.or, pair, starts)) return false;
  const { first, last, head, tail, need } = model.uses;
  const taken = new Map<number, number>();
  for (let use = 0; use < first.length; use += 1) {
    for (let tick = starts[first[use]!]! + head[use]!; tick < starts[last[use]!]! + tail[use]!; tick += 1) {
      for (let lane = 0; lane < model.lanes; lane += 1) {
        const key = tick * model.lanes + lane;
        const sum = (taken.get(key) ?? 0) + need[use * model.lanes + lane]!;
        if (sum > model.capacity[lane]!) return false;
        taken.set(key, sum);
      }
    }
  }
  return true;
};

const makespanOf = (model: Model, starts: ArrayLike<number>): number => {
  let length = 0;
  for (let item = 0; item < model.size; item += 1)
    if (model.counted[item] === 1) length = Math.max(length, starts[item]! + model.ticks[item]!);
  return length;
};

/** The least makespan with starts from 0 to `most`, by trying them all; Infinity: none. */
const tryAll = (model: Model, most: number): number => {
  const starts = new Int32Array(model.size);
  let best = Number.POSITIVE_INFINITY;
  const place = (item: number): void => {
    if (item === model.size) {
      const length = makespanOf(model, starts);
      if (length < best && satisfies(model, starts)) best = length;
      return;
    }
    for (let start = 0; start <= most; start += 1) {
      starts[item] = start;
      if (model.counted[item] === 1 && start + model.ticks[item]! >= best) break;
      let fine = true;
      for (let arc = 0; arc < model.arcs.lag.length && fine; arc += 1)
        if (model.arcs.from[arc]! <= item && model.arcs.to[arc]! <= item) fine = holds(model.arcs, arc, starts);
      if (fine) place(item + 1);
    }
  };
  place(0);
  return best;
};

/** Searches downwards to the end. */
const prove = (model: Model, options: ProverOptions = {}, below = Number.POSITIVE_INFINITY) => {
  const prover = makeProver(model, options);
  prover.below(below);
  let verdict = prover.run(EVER);
  while (verdict === "better") {
    expect(satisfies(model, prover.starts!)).toBe(true);
    expect(makespanOf(model, prover.starts!)).toBe(prover.makespan);
    verdict = prover.run(EVER);
  }
  expect(verdict).toBe("closed");
  expect(prover.bound).toBe(prover.makespan);
  return prover;
};

/** A tiny model with something of every kind. */
const tinyModel = (seed: number): { model: Model; most: number } => {
  const random = randomFrom(seed);
  const up = (count: number): number => Math.floor(random() * count);
  const size = 3 + up(3);
  const most = [20, 11, 8][size - 3]!;
  const items = Array.from({ length: size }, (_, item) => item);
  const ticks = items.map(() => up(5));
  const pick = (): [number, number] => {
    const a = up(size);
    return [a, (a + 1 + up(size - 1)) % size];
  };
  const triple = (least: number, span: number): Triple => [...pick(), least + up(span)];
  const arcs = Array.from({ length: up(4) }, (): Triple => {
    const [a, b] = pick();
    // Now and then a greatest distance; most are plain orders, in a direction that closes no circle.
    if (up(4) === 0) return [a, b, -1 - up(5)];
    return [Math.min(a, b), Math.max(a, b), up(5)];
  });
  if (up(40) === 0) arcs.push(triple(1, 3), triple(1, 3));
  const lanes = 1 + up(3);
  const capacity = Array.from({ length: lanes }, () => 1 + up(4));
  const use = (first: number, last: number, head: number, tail: number): Use => ({
    first,
    last,
    head,
    tail,
    need: capacity.map((count) => (up(3) === 0 ? 0 : 1 + up(count))),
  });
  const uses = items.filter(() => up(4) > 0).map((item) => use(item, item, 0, ticks[item]!));
  if (up(2) === 0) {
    const [a, b] = pick();
    uses.push(use(a, b, up(3) - 1, up(4)));
    if (up(3) > 0) arcs.push([Math.min(a, b), Math.max(a, b), up(3)]);
  }
  if (up(3) === 0) uses.push(use(0, 0, 1 + up(2), 2 + up(4)));
  const pair = (): readonly [Triple, Triple] => {
    const [a, b] = pick();
    return up(3) === 0
      ? [triple(-2, 6), triple(-2, 6)]
      : [
          [a, b, ticks[a]! + up(2)],
          [b, a, ticks[b]! + up(2)],
        ];
  };
  const far = size === 3 && up(2) === 0;
  return {
    most,
    model: modelOf({
      ticks,
      capacity,
      arcs,
      uses,
      choices: Array.from({ length: up(3) }, pair),
      uncounted: items.filter(() => up(5) === 0),
      earliest: items.map(() => (up(4) === 0 ? up(4) : 0)),
      latest: items.map(() => (far ? FAR : up(5) === 0 ? up(most) : most)),
      bars: items.map(() => (up(4) === 0 ? [[1 + up(2), 3 + up(2)] as const, [6, 6 + up(3)] as const] : [])),
    }),
  };
};

/** The tiny models with their least makespans, tried once for all tests. */
const TINY = Array.from({ length: 1000 }, (_, seed) => {
  const { model, most } = tinyModel(seed);
  return { seed, model, least: tryAll(model, most) };
});

/** Some tasks cut from a full rectangle of lane × time, so that no makespan is less than its length, and mixed with arcs that the cut allows. */
const cutModel = (seed: number, pieces: number, length: number, height: number, arcs: number): Model => {
  const random = randomFrom(seed);
  const up = (count: number): number => Math.floor(random() * count);
  interface Piece {
    readonly at: number;
    readonly ticks: number;
    readonly need: number;
  }
  const list: Piece[] = [{ at: 0, ticks: length, need: height }];
  for (let tries = 0; list.length < pieces && tries < 1000; tries += 1) {
    const place = up(list.length);
    const { at, ticks, need } = list[place]!;
    if (up(2) === 0 && ticks > 1) {
      const cut = 1 + up(ticks - 1);
      list.splice(place, 1, { at, ticks: cut, need }, { at: at + cut, ticks: ticks - cut, need });
    } else if (need > 1) {
      const cut = 1 + up(need - 1);
      list.splice(place, 1, { at, ticks, need: cut }, { at, ticks, need: need - cut });
    }
  }
  const found: Triple[] = [];
  for (let tries = 0; found.length < arcs && tries < 1000; tries += 1) {
    const [a, b] = [up(list.length), up(list.length)];
    const [one, two] = [list[a]!, list[b]!];
    if (a !== b && one.at + one.ticks <= two.at) found.push([a, b, one.ticks]);
  }
  return modelOf({
    ticks: list.map(({ ticks }) => ticks),
    capacity: [height],
    arcs: found,
    uses: list.map(({ ticks, need }, item) => ({ first: item, last: item, head: 0, tail: ticks, need: [need] })),
  });
};

/** A project of some twenty tasks on three lanes, with greatest distances, choices and a use that spans two tasks. */
const mediumSketch = (seed: number): Sketch => {
  const random = randomFrom(seed);
  const up = (count: number): number => Math.floor(random() * count);
  const size = 17 + up(6);
  const ticks = Array.from({ length: size }, () => 1 + up(8));
  const arcs: Triple[] = [];
  for (let item = 2; item < size; item += 1) {
    const before = Math.max(0, item - 1 - up(10));
    arcs.push([before, item, ticks[before]!]);
    if (up(9) === 0) arcs.push([item, before, -ticks[before]! - 24 - up(10)]);
  }
  const capacity = [6, 7, 5];
  const uses: Use[] = ticks.map((tail, item) => ({
    first: item,
    last: item,
    head: 0,
    tail,
    need: capacity.map((count) => (up(3) === 0 ? 0 : 1 + up(count - 1))),
  }));
  const [hold, until] = arcs[3 + up(5)]!;
  uses.push({ first: hold, last: until, head: 0, tail: ticks[until]!, need: [0, 0, 1] });
  const choices = Array.from({ length: 3 }, (): readonly [Triple, Triple] => {
    const a = up(size);
    const b = (a + 1 + up(size - 1)) % size;
    return [
      [a, b, ticks[a]! + 1],
      [b, a, ticks[b]! + 2],
    ];
  });
  return { ticks, capacity, arcs, uses, choices };
};

/** The same read from behind: each item's start is where its end was. Its least makespan is the same. */
const reversed = ({ ticks, capacity, arcs = [], choices = [], uses = [] }: Sketch): Sketch => {
  // s' = length - s - ticks, so s[to] ≥ s[from] + lag is s'[from] ≥ s'[to] + lag + ticks[to] - ticks[from].
  const turn = ([from, to, lag]: Triple): Triple => [to, from, lag + ticks[to]! - ticks[from]!];
  return {
    ticks,
    capacity,
    arcs: arcs.map(turn),
    choices: choices.map(([one, other]) => [turn(one), turn(other)] as const),
    uses: uses.map(({ first, last, head, tail, need }) => ({
      first: last,
      last: first,
      head: ticks[last]! - tail,
      tail: ticks[first]! - head,
      need,
    })),
  };
};

const scaled = (sketch: Sketch, by: number): Sketch => {
  const longer = ([from, to, lag]: Triple): Triple => [from, to, lag * by];
  return {
    ...sketch,
    ticks: sketch.ticks.map((ticks) => ticks * by),
    arcs: (sketch.arcs ?? []).map(longer),
    choices: (sketch.choices ?? []).map(([one, other]) => [longer(one), longer(other)] as const),
    uses: (sketch.uses ?? []).map((use) => ({ ...use, head: use.head * by, tail: use.tail * by })),
  };
};

/** Watches the clauses learnt below a makespan; each must hold of these starts, which are better, whatever an order says that both of its arcs allow. */
const watchful = (model: Model, below: number, better: Int32Array): ProverOptions => {
  const { edges, orders, items } = putQuestion(model, layoutOf(model), below);
  const makespan = makespanOf(model, better);
  const points = [0, 1].map((free) => {
    const values = [...better, free === 0 ? makespan : below - 1, ...orders.lag.map(() => free)];
    for (let edge = 0; edge < edges.guard.length; edge += 2) {
      const guard = edges.guard[edge]!;
      if (guard < 0) continue;
      const fine = better[edges.to[edge]! >> 1]! >= better[edges.from[edge]! >> 1]! + edges.lag[edge]!;
      if (!fine) values[guard >> 1] = guard & 1;
    }
    return values;
  });
  expect(points[0]).toHaveLength(items + 1 + orders.lag.length);
  return {
    heard: (learnt, size) => {
      for (const values of points) {
        let fine = false;
        for (let at = 0; at < size * 2; at += 2) {
          const side = learnt[at]!;
          const value = values[side >> 1]!;
          if (((side & 1) === 0 ? value : -value) >= learnt[at + 1]!) fine = true;
        }
        if (!fine)
          throw new Error(`a learnt clause forbids a schedule of ${makespan}: ${learnt.subarray(0, size * 2)}`);
      }
    },
  };
};

describe("Tiny models of every kind", () => {
  test.each([
    ["as it is", {}],
    ["with five clauses and a restart at each conflict", HOSTILE],
    ["with another seed", { seed: 7, clauses: 5, unit: 3 }],
  ] satisfies [string, ProverOptions][])(
    "downwards, the least makespan is that of trying everything, %s",
    (_, options) => {
      let infeasible = 0;
      for (const { seed, model, least } of TINY) {
        const prover = prove(model, options);
        expect([seed, prover.makespan]).toEqual([seed, least]);
        if (least === Number.POSITIVE_INFINITY) infeasible += 1;
      }
      expect(infeasible).toBeGreaterThan(100);
      expect(infeasible).toBeLessThan(500);
    },
  );

  test("upwards, the first starts found are least, and no bound on the way is above", () => {
    for (const { seed, model, least } of TINY) {
      const prover = makeProver(model, HOSTILE);
      let verdict = prover.raise({ conflicts: 1 });
      while (verdict === "spent") {
        expect(prover.bound).toBeLessThanOrEqual(least);
        verdict = prover.raise({ conflicts: 1 });
      }
      if (verdict === "better") {
        expect(satisfies(model, prover.starts!)).toBe(true);
        verdict = prover.raise(EVER);
      }
      expect([seed, verdict, prover.makespan, prover.bound]).toEqual([seed, "closed", least, least]);
    }
  });

  test("nothing is found below the least makespan, and it is found below one more", () => {
    for (const { seed, model, least } of TINY) {
      if (least === Number.POSITIVE_INFINITY) continue;
      const prover = makeProver(model);
      prover.below(least);
      expect([seed, prover.run(EVER)]).toEqual([seed, "closed"]);
      expect(prove(model, HOSTILE, least + 1).makespan).toBe(least);
    }
  });

  test("windows too wide to lay out give the bound of the arcs, and no search", () => {
    const model = modelOf({ ticks: [90_000_000, 5], capacity: [], arcs: [[0, 1, 90_000_000]] });
    const prover = makeProver(model);
    expect([prover.run(EVER), prover.conflicts, prover.bound]).toEqual(["spent", 0, 90_000_005]);
  });

  test("a circle of arcs is named", () => {
    const model = modelOf({
      ticks: [1, 1, 1, 1],
      capacity: [],
      arcs: [
        [0, 1, 4],
        [1, 2, 3],
        [2, 1, -2],
        [3, 0, 1],
      ],
    });
    const prover = makeProver(model);
    expect([...prover.circle!].sort()).toEqual([1, 2]);
    expect(prover.run(EVER)).toBe("closed");
    expect(prover.starts).toBeUndefined();
    expect(prover.makespan).toBe(Number.POSITIVE_INFINITY);
  });
});

describe("Medium models", () => {
  test("what is cut from a rectangle goes back into it, and into nothing shorter", () => {
    for (let seed = 0; seed < 12; seed += 1) {
      const model = cutModel(seed, 11, 12, 5, 4);
      expect([seed, prove(model, seed % 2 === 0 ? {} : HOSTILE).makespan]).toEqual([seed, 12]);
    }
  });

  test("read from behind, scaled, seeded otherwise, with hostile options, upwards: the least makespan is one, and no clause forbids it", () => {
    let conflicts = 0;
    for (let seed = 0; seed < 3; seed += 1) {
      const sketch = mediumSketch(seed);
      const model = modelOf(sketch);
      const first = prove(model);
      conflicts += first.conflicts;
      const { makespan, starts } = first;
      expect([seed, prove(modelOf(reversed(sketch)), { clauses: 50, unit: 5 }).makespan]).toEqual([seed, makespan]);
      expect([seed, prove(modelOf(scaled(sketch, 3))).makespan]).toEqual([seed, makespan * 3]);
      if (starts === undefined) continue;
      expect([seed, prove(model, { clauses: 20, unit: 5, energy: 1, seed }, makespan).starts]).toEqual([
        seed,
        undefined,
      ]);
      for (const more of [1, 2, 6]) {
        const watched = makeProver(model, {
          ...watchful(model, makespan + more, starts),
          clauses: 20,
          unit: 5,
          energy: 1,
        });
        watched.below(makespan + more);
        while (watched.makespan > makespan || watched.starts === undefined) expect(watched.run(EVER)).toBe("better");
        expect(watched.makespan).toBe(makespan);
      }
      const upwards = makeProver(model);
      expect([seed, upwards.raise(EVER), upwards.makespan]).toEqual([seed, "better", makespan]);
    }
    expect(conflicts).toBeGreaterThan(800);
  });

  test("two runs are the same run, conflict by conflict", () => {
    const model = modelOf(mediumSketch(3));
    const once = prove(model, { seed: 5 });
    const again = prove(model, { seed: 5 });
    expect([again.conflicts, again.makespan, again.starts]).toEqual([once.conflicts, once.makespan, once.starts]);
  });

  test("a block set free finds what is better, and says nothing of the rest when there is none", () => {
    const model = modelOf({
      ticks: [4, 4, 2, 3],
      capacity: [1, 1],
      arcs: [[0, 2, 4]],
      uses: [
        { first: 0, last: 0, head: 0, tail: 4, need: [1, 0] },
        { first: 1, last: 1, head: 0, tail: 4, need: [1, 0] },
        { first: 2, last: 2, head: 0, tail: 2, need: [0, 1] },
        { first: 3, last: 3, head: 0, tail: 3, need: [0, 1] },
      ],
    });
    // 1, then 0, then 2: 4 + 4 + 2. With 0 first, 2 runs beside 1: 8, which is the work of the first lane.
    const prover = makeProver(model);
    prover.begin([4, 0, 8, 0]);
    expect(prover.reoptimise(Uint8Array.of(0, 0, 1, 1), new Int32Array(4), EVER)).toBe("spent");
    expect(prover.makespan).toBe(10);
    expect(prover.reoptimise(Uint8Array.of(1, 1, 1, 0), new Int32Array(4), EVER)).toBe("better");
    expect([prover.makespan, satisfies(model, prover.starts!)]).toEqual([8, true]);
    expect(prover.run(EVER)).toBe("closed");
  });
});

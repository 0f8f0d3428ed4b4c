import { expect, test } from "vitest";
import { Draft } from "./draft.ts";
import { lowerBound } from "./lower.ts";

const items = (draft: Draft, lengths: readonly number[]) =>
  lengths.map((ticks) => draft.item({ ticks, counted: true, earliest: 0, latest: 1000 }, []));

test("the longest chain, lags and all", () => {
  const draft = new Draft();
  const [a = 0, b = 0, c = 0] = items(draft, [3, 4, 5]);
  draft.arc(a, b, 5);
  draft.arc(b, c, 4);
  expect(lowerBound(draft.model())).toMatchObject({ bound: 14, lane: -1 });
});

test("a lane takes what passes through it one after the other, between what comes before and after all of it", () => {
  const draft = new Draft();
  const [first = 0, a = 0, b = 0, c = 0, last = 0] = items(draft, [2, 4, 4, 4, 3]);
  const lane = draft.lane(2);
  for (const item of [a, b, c]) {
    draft.arc(first, item, 2);
    draft.arc(item, last, 4);
    draft.use({ first: item, last: item, head: 0, tail: 4, need: [[lane, 1]] });
  }
  // 2, then 12 of work two at a time, then 3; the chain alone is 2 + 4 + 3.
  expect(lowerBound(draft.model())).toMatchObject({ bound: 11, lane });
});

test("arcs in a circle leave nothing", () => {
  const draft = new Draft();
  const [a = 0, b = 0] = items(draft, [3, 4]);
  draft.arc(a, b, 3);
  draft.arc(b, a, -2);
  expect(lowerBound(draft.model()).bound).toBe(Number.POSITIVE_INFINITY);
});

test("what may lie beyond the end counts nothing", () => {
  const draft = new Draft();
  const a = draft.item({ ticks: 3, counted: true, earliest: 0, latest: 10 }, []);
  const change = draft.item({ ticks: 50, counted: false, earliest: 0, latest: 100 }, []);
  draft.arc(a, change, 3);
  expect(lowerBound(draft.model()).bound).toBe(3);
});

test("what is raised on the way does not take along what begins sooner", () => {
  // Two at a time: p, p and p from 0, so y from 2 on; x from 1 on; w after x and y. p p | p x | y x | w: the end is 4, though 2 + ⌈(1 + 2) / 2⌉ would put w at 4.
  const draft = new Draft();
  const ps = items(draft, [1, 1, 1]);
  const x = draft.item({ ticks: 2, counted: true, earliest: 1, latest: 1000 }, []);
  const [y = 0, w = 0] = items(draft, [1, 1]);
  const lane = draft.lane(2);
  for (const [item, ticks] of [...ps.map((p) => [p, 1]), [x, 2], [y, 1], [w, 1]] as [number, number][])
    draft.use({ first: item, last: item, head: 0, tail: ticks, need: [[lane, 1]] });
  for (const p of ps) draft.arc(p, y, 1);
  draft.arc(x, w, 2);
  draft.arc(y, w, 1);
  const { bound, heads } = lowerBound(draft.model());
  expect([heads[y], heads[w], bound]).toEqual([2, 3, 4]);
});

test("a lane of nobody that nothing takes bounds nothing", () => {
  const draft = new Draft();
  const [a = 0, b = 0] = items(draft, [3, 4]);
  draft.lane(0);
  draft.arc(a, b, 3);
  const still = { work: new Int32Array(2), changes: 2 };
  expect(lowerBound(draft.model())).toMatchObject({ bound: 7, lane: -1 });
  expect(lowerBound(draft.model(), still)).toMatchObject({ bound: 7, lane: -1 });
});

// The annotated narrations hold the aims of a draft.
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";
import { aims, narrations, scoreNarration } from "./score.ts";

const scores = narrations().map((name) => scoreNarration(name));

test("at least twelve narrations are annotated", () => {
  expect(scores.length).toBeGreaterThanOrEqual(12);
});

test("connections, kinds, positions, counts, order and remarks are as good as aimed at", () => {
  const figures = aims(scores);
  expect(figures.precision).toBeGreaterThanOrEqual(0.92);
  expect(figures.recall).toBeGreaterThanOrEqual(0.95);
  expect(figures.kind).toBeGreaterThanOrEqual(0.92);
  expect(figures.position).toBeGreaterThanOrEqual(0.95);
  expect(figures.count).toBeGreaterThanOrEqual(0.95);
  expect(figures.tau).toBeGreaterThanOrEqual(0.98);
  expect(figures.omissions).toBeGreaterThanOrEqual(0.8);
  expect(figures.falseAlarmsPerTen).toBeLessThan(1);
});

test.each([
  ["unpunctuated", 0.78, 0.84, 0.92, 0.85],
  ["terse", 0.84, 0.92, 0.85, 0.9],
  ["later", 0.88, 0.91, 0.93, 0.91],
])(
  "talk that misses the aims (%s) is understood as well as it has been",
  (name, precision, recall, position, count) => {
    const folder = fileURLToPath(new URL(`${name}/`, import.meta.url));
    const figures = aims(narrations(folder).map((one) => scoreNarration(one, folder)));
    expect(figures.precision).toBeGreaterThanOrEqual(precision);
    expect(figures.recall).toBeGreaterThanOrEqual(recall);
    expect(figures.position).toBeGreaterThanOrEqual(position);
    expect(figures.count).toBeGreaterThanOrEqual(count);
  },
);

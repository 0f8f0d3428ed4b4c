import { expect, test } from "vitest";
import { Lane } from "./lane.ts";
import { randomFrom } from "./random.ts";

test("fits where it is taken least, and after what is taken to the full", () => {
  const lane = new Lane(3);
  lane.take(0, 10, 2);
  lane.take(4, 6, 1);
  expect(lane.earliest(0, 4, 1)).toBe(0);
  expect(lane.earliest(0, 5, 1)).toBe(6);
  expect(lane.earliest(0, 5, 2)).toBe(10);
  expect(lane.earliest(0, 1, 4)).toBe(Number.POSITIVE_INFINITY);
});

test("what has no length meets nothing", () => {
  const lane = new Lane(1);
  lane.take(0, 10, 1);
  expect(lane.earliest(5, 0, 1)).toBe(5);
});

test("an open span is closed later", () => {
  const lane = new Lane(1);
  const span = lane.take(2, Number.POSITIVE_INFINITY, 1);
  expect(lane.earliest(0, 3, 1)).toBe(Number.POSITIVE_INFINITY);
  lane.close(span, 7);
  expect(lane.earliest(0, 3, 1)).toBe(7);
  lane.clear();
  expect(lane.earliest(0, 3, 1)).toBe(0);
});

test("agrees with looking at every tick", () => {
  for (let seed = 0; seed < 300; seed += 1) {
    const random = randomFrom(seed);
    const whole = (most: number) => Math.floor(random() * most);
    const capacity = 1 + whole(4);
    const lane = new Lane(capacity);
    const taken = new Array<number>(60).fill(0);
    for (let span = 0; span < 6; span += 1) {
      const [start, length, count] = [whole(20), 1 + whole(6), 1 + whole(capacity)];
      const at = lane.earliest(start, length, count);
      lane.take(at, at + length, count);
      let wanted = start;
      const fits = (from: number) => taken.slice(from, from + length).every((already) => already + count <= capacity);
      while (!fits(wanted)) wanted += 1;
      expect(at, `seed ${seed}`).toBe(wanted);
      for (let tick = at; tick < at + length; tick += 1) taken[tick] = (taken[tick] ?? 0) + count;
    }
  }
});

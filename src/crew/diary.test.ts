import { expect, test } from "vitest";
import { Diary, workedOff } from "./diary.ts";

const ALWAYS = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
/** Three positions in a line, two ticks from one to the next. */
const MOVES = [
  [0, 2, 4],
  [2, 0, 2],
  [4, 2, 0],
];
const ask = (ticks: number, position: number, pauses = false) => ({ ticks, position, pauses });

test("the way there and the way on to what follows both take their time", () => {
  const diary = new Diary({ skills: 0, spells: ALWAYS, at: 0 }, MOVES, 0);
  // At position 0 from 0 to 5, at position 0 again from 20: to position 2 and back is 4 ticks each.
  diary.add({ start: 0, free: 5, position: 0 });
  diary.add({ start: 20, free: 25, position: 0 });
  expect(diary.slot(ask(7, 2), 0, 7)).toBe(9);
  // 9 + 8 + 4 is past 20: it goes after 25.
  expect(diary.slot(ask(8, 2), 0, 8)).toBe(29);
  expect(diary.slot(ask(8, -1), 0, 8)).toBe(5);
});

test("work without a position leaves the person where the last one did", () => {
  const diary = new Diary({ skills: 0, spells: ALWAYS, at: -1 }, MOVES, 0);
  diary.add({ start: 0, free: 5, position: 0 });
  diary.add({ start: 5, free: 8, position: -1 });
  expect(diary.wayTo(8, 2)).toBe(4);
  expect(diary.slot(ask(1, 2), 0, 1)).toBe(12);
});

test("work put in before work without a position moves where that leaves the person for the next", () => {
  const diary = new Diary({ skills: 0, spells: ALWAYS, at: 0 }, MOVES, 0);
  diary.add({ start: 10, free: 12, position: -1 });
  diary.add({ start: 13, free: 15, position: 0 });
  // At position 2 from 4 to 6, then 10 to 12 anywhere, then 4 ticks back to position 0: not by 13.
  expect(diary.slot(ask(2, 2), 0, 2)).toBe(19);
});

test("work done in one go waits for a spell that is long enough, work that pauses goes on after it", () => {
  const spells = [0, 10, 15, 40];
  const diary = new Diary({ skills: 0, spells, at: -1 }, [], 0);
  expect(diary.slot(ask(12, -1), 3, 12)).toBe(15);
  expect(diary.slot(ask(12, -1, true), 3, 12)).toBe(3);
  expect(workedOff([spells], 3, 12)).toBe(20);
  // With somebody who comes at 8: 2 ticks until 10, 10 more from 15.
  expect(workedOff([spells, [8, 100]], 3, 12)).toBe(25);
  expect(workedOff([spells], 3, 100)).toBe(Number.POSITIVE_INFINITY);
});

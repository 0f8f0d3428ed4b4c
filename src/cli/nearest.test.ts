import { expect, test } from "vitest";
import { findNearest } from "./nearest.ts";

const IDS = ["gearbox-jack", "gearbox", "clutch-plate", "clutch-cover", "coolant-return", "raise"];

test.each([
  ["gearbox-jak", ["gearbox-jack"]],
  ["clutch", ["clutch-cover", "clutch-plate"]],
  ["colant-retrun", ["coolant-return"]],
  ["RAISE", ["raise"]],
  ["rasie", ["raise"]],
])("%s was meant to be %j", (word, wanted) => {
  expect(findNearest(word, IDS).slice(0, wanted.length)).toEqual(wanted);
});

test("a word that is like nothing gets no guess", () => {
  expect(findNearest("propeller", IDS)).toEqual([]);
});

// Owns the checks that the words of a pattern are read as a mechanic means them.

import { expect, test } from "vitest";
import { readStyle } from "./style.ts";

test.each([
  ["cross", { style: "cross", plain: true }],
  ["star", { style: "cross", plain: true }],
  ["cross in three stages", { style: "cross", shares: [0.3, 0.6, 1], plain: true }],
  ["crosswise, in 2 stages", { style: "cross", shares: [0.5, 1], plain: true }],
  ["from the middle outwards", { style: "centre outwards", plain: true }],
  ["spiral", { style: "centre outwards", plain: true }],
  ["cross on each side", { style: "cross", plain: false }],
  ["as the book says", { plain: false }],
] as const)("%s", (text, reading) => {
  expect(readStyle(text)).toEqual(reading);
});

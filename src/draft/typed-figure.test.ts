// Typed quickly, and still a figure with its unit.
import { expect, test } from "vitest";
import { asWritten } from "./typed-figure.ts";

test.each([
  ["mass", "262", "262 kg"],
  ["mass", "262,5", "262.5 kg"],
  ["mass", "262 kg ± 5 %", "262 kg ± 5 %"],
  ["count", "4", "4"],
  ["torque", " 48 ", "48 N·m"],
  ["torque", "25 lbf·ft", "25 lbf·ft"],
  ["centre", "1.1 0 0.78", "[1.1 m, 0 m, 0.78 m]"],
  ["centre", "1.1, -0.02, 0.78", "[1.1 m, -0.02 m, 0.78 m]"],
  ["centre", "[1.1 m, 0 m, 780 mm]", "[1.1 m, 0 m, 780 mm]"],
  ["centre", "1,1; 0; 0,78", "[1.1 m, 0 m, 0.78 m]"],
  ["mass", "{ no: 1 }", '"{ no: 1 }"'],
])("%s: %s is written %s", (key, typed, written) => {
  expect(asWritten(key, typed)).toBe(written);
});

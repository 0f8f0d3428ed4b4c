// Owns the tests of what is typed about changes.

import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { readVehicle } from "../../vehicle/index.ts";
import { bodyOf, NOTHING_SAID, readNumber } from "./form.ts";

const text = readFileSync(new URL("../../../demo/bench-pump.vehicle.yaml", import.meta.url), "utf8");
const { vehicle } = readVehicle("bench-pump.vehicle.yaml", () => text);
if (vehicle === undefined) throw new Error("the demo does not read");

describe("a number as it is typed", () => {
  it.each([
    ["12", 12],
    ["0,5", 0.5],
    [" 3.5 ", 3.5],
  ])("%j", (typed, value) => expect(readNumber(typed)).toBe(value));
  it.each(["", " ", "0", "-1", "twice", "1e999"])("%j is none", (typed) => expect(readNumber(typed)).toBeUndefined());
});

describe("the question", () => {
  it("has every job alike where nobody said how often", () => {
    const { jobs, weighed } = bodyOf(NOTHING_SAID, vehicle, undefined, {});
    expect(weighed).toBe(false);
    expect(jobs.map(({ weight }) => weight)).toEqual([1, 1, 1]);
  });

  it("has those that come where somebody said", () => {
    const asked = bodyOf({ often: { "shaft-seal": "12", "relief-valve": "" }, rate: "70" }, vehicle, 2, {});
    expect(asked).toEqual({ jobs: [{ id: "shaft-seal", weight: 12 }], weighed: true, crew: 2, rate: 70, taught: {} });
  });
});

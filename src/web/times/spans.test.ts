// Owns the tests of the time of each release and refit as a spread.

import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { readVehicle } from "../../vehicle/index.ts";
import { firstGuess, middleOf, rangeOf, spansOf } from "./spans.ts";

const text = readFileSync(new URL("../../../demo/bench-pump.vehicle.yaml", import.meta.url), "utf8");
const { vehicle } = readVehicle("bench-pump.vehicle.yaml", () => text);
if (vehicle === undefined) throw new Error("the demo does not read");
const spans = spansOf(vehicle);
const spanOf = (way: string, all = spans) => {
  const found = all.find((one) => one.way === way);
  if (found === undefined) throw new Error(`no ${way}`);
  return found;
};

describe("spans", () => {
  it("has one for each way", () =>
    expect(spans).toHaveLength(vehicle.connections.reduce((sum, { ways }) => sum + ways.length, 0)));

  it("takes the file's number for the median, with the usual spread", () => {
    const { off, on } = spanOf("guard-screws/1");
    expect(off.from).toBe("file");
    expect(middleOf(off.time)).toBeCloseTo(2);
    expect(middleOf(on.time)).toBeCloseTo(3);
    // 2 · e^(±1.28155 · 0.3)
    expect(rangeOf(off.time)[0]).toBeCloseTo(1.362, 3);
    expect(rangeOf(off.time)[1]).toBeCloseTo(2.938, 3);
  });

  it("takes what runs taught before the file", () => {
    const taught = { "coupling/1": { centre: Math.log(9), spread: 0.2 } };
    const { off, on } = spanOf("coupling/1", spansOf(vehicle, taught));
    expect(off.from).toBe("runs");
    expect(middleOf(off.time)).toBeCloseTo(9);
    expect(on.from).toBe("file");
  });

  it("guesses by kind and hardware out of the catalogue", () => {
    const connection = vehicle.connections.find(({ id }) => id === "guard-screws");
    const way = connection?.ways[0];
    if (connection === undefined || way === undefined) throw new Error("no guard-screws");
    // Cover fixing 1.0 + 4 × screw 0.16, M6: no factor.
    expect(middleOf(firstGuess(connection, way)?.off ?? { centre: 0, spread: 0 })).toBeCloseTo(1.64);
  });
});

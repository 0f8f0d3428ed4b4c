import { expect, test } from "vitest";
import type { Pin } from "../../plan/index.ts";
import { pinnedTo, pinnedWhen, readPin, writePin } from "./pins.ts";

test("a pin is read as it was written", () => {
  const pins: readonly Pin[] = [
    { step: "coolant-return", at: 90 },
    { step: "back:bell-bolts", from: 0 },
    { step: "set:raise", by: "dora" },
    { step: "clutch-plate/work-1", by: "person-2" },
  ];
  for (const pin of pins) expect(readPin(writePin(pin))).toEqual(pin);
});

test("what is no pin is none, and a minute before the beginning is read, to be refused in words", () => {
  for (const text of ["", "hose", "@5", "hose@", "hose@soon", "hose~1.5"]) expect(readPin(text)).toBeUndefined();
  expect(readPin("hose@-5")).toEqual({ step: "hose", at: -5 });
});

test("a step begins at one time and is given on from one person to another", () => {
  const pins: readonly Pin[] = [
    { step: "a", at: 5 },
    { step: "a", by: "dora" },
    { step: "b", at: 9 },
  ];
  expect(pinnedWhen(pins, "a", { step: "a", from: 20 })).toEqual([
    { step: "a", by: "dora" },
    { step: "b", at: 9 },
    { step: "a", from: 20 },
  ]);
  expect(pinnedWhen(pins, "a", undefined)).toHaveLength(2);
  expect(pinnedTo(pins, "a", "emil", "dora")).toEqual([
    { step: "a", at: 5 },
    { step: "b", at: 9 },
    { step: "a", by: "emil" },
  ]);
  expect(pinnedTo(pins, "a", "emil")).toHaveLength(4);
});

// Kinds are told apart without colour: no two have the same line and mark.
import { expect, test } from "vitest";
import { KINDS } from "../../vehicle/index.ts";
import { KIND_MARKS, pathOf } from "./kind-marks.ts";

test("every kind has a mark of its own", () => {
  const marks = KINDS.map((kind) => `${KIND_MARKS[kind].mark} ${KIND_MARKS[kind].solid ?? false}`);
  expect(new Set(marks).size).toBe(KINDS.length);
});

test("a double line runs beside its middle on both sides; a coil begins and ends where it is told", () => {
  expect(pathOf({ run: "double", apart: 2, width: 1, mark: "" }, [0, 0], [10, 0])).toBe("M0 2L10 2M0 -2L10 -2");
  expect(pathOf({ run: "coil", width: 1, mark: "" }, [0, 0], [18, 0])).toBe("M0 0L4.5 3L13.5 -3L18 0");
  expect(pathOf({ run: "single", width: 1, mark: "" }, [1, 2], [3, 4])).toBe("M1 2L3 4");
});

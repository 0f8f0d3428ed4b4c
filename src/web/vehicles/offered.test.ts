// What is offered at a place of the vehicle file, by its published schema.
import { expect, test } from "vitest";
import { KINDS, vehicleSchema } from "../../vehicle/index.ts";
import { meaningOf, offeredAt } from "./offered.ts";

const schema = vehicleSchema();
const keys = (...path: readonly string[]) => offeredAt(schema, path).keys.map(({ key }) => key);
const ids = (...path: readonly string[]) => [...offeredAt(schema, path).ids].sort();

test("keys at the top, in a thing, in an item of a list, and where one item needs no list", () => {
  expect(keys()).toContain("connections");
  expect(keys("parts", "pump")).toEqual(expect.arrayContaining(["mass", "centre", "fixed"]));
  expect(keys("connections", "bolts", "release", "-")).toEqual(expect.arrayContaining(["at", "time", "needs"]));
  expect(keys("connections", "bolts", "release")).toEqual(keys("connections", "bolts", "release", "-"));
  expect(keys("connections", "bolts", "refit")).toContain("torque");
  expect(keys("lifting", "hoists", "crane")).toContain("reach");
  expect(keys("parts")).toEqual([]);
});

test("the words of which a value is one", () => {
  expect(offeredAt(schema, ["connections", "a", "kind"]).values).toEqual([...KINDS]);
  expect(offeredAt(schema, ["parts", "a", "fixed"]).values).toEqual(["true", "false"]);
  expect(offeredAt(schema, ["parts", "a", "mass"]).values).toEqual([]);
});

test("the kinds of thing whose ids may stand there", () => {
  expect(ids("first", "-")).toEqual(["connection", "task"]);
  expect(ids("first")).toEqual(["connection", "task"]);
  expect(ids("connections", "a", "joins", "-")).toEqual(["part"]);
  expect(ids("connections", "a", "release", "-", "at")).toEqual(["position"]);
  expect(ids("connections", "a", "release", "-", "without", "-")).toEqual(["task"]);
  expect(ids("connections", "a", "release", "needs")).toEqual(["connection", "part", "task"]);
  expect(ids("jobs", "a", "needs", "-", "any", "-")).toEqual(["connection", "part", "task"]);
  expect(ids("jobs", "a", "needs", "-", "out")).toEqual(["part"]);
  expect(ids("tasks", "a", "hoist")).toEqual(["hoist"]);
  expect(ids("tasks", "a", "empties", "-")).toEqual(["position"]);
  expect(ids("connections", "a", "at")).toEqual([]);
  expect(ids("parts", "a", "label")).toEqual([]);
});

test("a need offers its forms as keys", () => {
  expect([...keys("jobs", "a", "needs", "-")].sort()).toEqual(["all", "any", "apart", "clear", "out"]);
});

test("what a key means, and what holds where it is left out", () => {
  expect(meaningOf(schema, ["connections", "a", "hidden"])).toEqual({
    means: "cannot be seen from where people stand",
    usually: "false",
  });
  expect(meaningOf(schema, ["connections", "a", "refit"])?.means).toBe("how it is made again");
  expect(meaningOf(schema, ["connections", "a"])).toBeUndefined();
  expect(meaningOf(schema, ["connections", "a", "nonsense"])).toBeUndefined();
});

// The order in the address: written and read it is the same, whatever the ids, and nothing else of the address is touched.
import fc from "fast-check";
import { expect, test } from "vitest";
import { isPlain, readOrder, writeOrder } from "./order-state.ts";

const ids = fc.uniqueArray(fc.string({ minLength: 1, maxLength: 12 }), { maxLength: 4 });

test("what is written is read again", () => {
  fc.assert(
    fc.property(
      ids,
      ids,
      ids,
      fc.option(fc.string({ minLength: 1 }), { nil: undefined }),
      fc.option(fc.integer({ min: 1, max: 30 }), { nil: undefined }),
      (jobs, keep, released, hoist, crew) => {
        const order = {
          jobs,
          keep,
          take: [],
          released,
          without: ["socket 10, long"],
          ...(hoist === undefined ? {} : { hoist }),
          ...(crew === undefined ? {} : { crew }),
          begins: "2026-11-27T07:00",
        };
        expect(readOrder(writeOrder(order, "step=4&jobs=old"))).toEqual(order);
        expect(new URLSearchParams(writeOrder(order, "step=4&jobs=old")).get("step")).toBe("4");
      },
    ),
    { seed: 1 },
  );
});

test("what is no time and no crew is left out, and an empty address asks for nothing of its own", () => {
  expect(readOrder("begins=tomorrow&crew=400")).toMatchObject({ crew: 30 });
  expect(readOrder("begins=tomorrow")).not.toHaveProperty("begins");
  expect(readOrder("crew=dora&crew=emil").crew).toEqual(["dora", "emil"]);
  expect(isPlain(readOrder("step=3&tie=hose"))).toBe(true);
  expect(isPlain(readOrder("hoist=crane"))).toBe(false);
});

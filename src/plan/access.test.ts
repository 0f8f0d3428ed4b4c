import { expect, test } from "vitest";
import { connection, frame, job, part, task, vehicle } from "../../test/small-vehicle.ts";
import { solve } from "../release/index.ts";
import type { Vehicle } from "../vehicle/index.ts";
import { accessOf } from "./access.ts";
import { orderFor } from "./order.ts";
import { translate } from "./question.ts";

function access(file: Vehicle) {
  const question = translate(file, orderFor("renew"));
  const { plan } = solve(question.problem);
  if (plan === undefined) throw new Error("no plan");
  return accessOf(question, plan);
}

/** A filter under a cover that a drain gives leave to open: 3 + 3 for the cover, 5 to drain, 2 + 2 for the filter itself. */
const box = (more: Partial<Vehicle> = {}) =>
  vehicle({
    parts: [frame(), part("cover", 1), part("filter", 1)],
    connections: [
      connection("cover-screws", ["cover", "frame"], "cover fixing", [{ time: 3, needs: ["drain"] }]),
      connection("filter-clamp", ["filter", "frame"], "clamp", [{ time: 2, needs: ["cover-screws"] }]),
    ],
    tasks: [task("drain", { time: 5 })],
    jobs: [job("renew", { needs: ["filter-clamp"], work: [{ label: "Renew the filter", time: 4 }] })],
    ...more,
  });

test("what serves one step alone is its access, through one another too, with its labour out and back", () => {
  expect(access(box()).dearest).toEqual({ id: "filter-clamp", steps: ["drain", "cover-screws"], labour: 11 });
});

test("the step that most others wait for, directly or through one another", () => {
  expect(access(box()).blocksMost).toEqual({ id: "drain", blocked: ["cover-screws", "filter-clamp", "renew/work-1"] });
});

test("what serves two ends is the access of neither", () => {
  const both = box();
  const { dearest } = access({
    ...both,
    connections: [
      ...both.connections,
      connection("sensor-plug", ["filter", "frame"], "wire", [{ time: 1, needs: ["cover-screws"] }]),
    ],
    jobs: [job("renew", { needs: ["filter"], work: [{ label: "Renew it", time: 4 }] })],
  });
  // The cover serves clamp and plug alike; only the drain is there for the cover alone.
  expect(dearest).toEqual({ id: "cover-screws", steps: ["drain"], labour: 5 });
});

test("with two ways open neither is waited for", () => {
  const file = box({
    connections: [
      connection("cover-screws", ["cover", "frame"], "cover fixing", [{ time: 3 }]),
      connection("filter-clamp", ["filter", "frame"], "clamp", [
        { time: 2, needs: [{ any: [{ id: "cover-screws" }, { id: "drain" }] }] },
      ]),
    ],
    jobs: [job("renew", { needs: ["filter-clamp", "cover-screws", "drain"], work: [{ label: "Renew it", time: 4 }] })],
  });
  const found = access(file);
  expect(found.dearest).toBeUndefined();
  expect(found.blocksMost?.blocked).toEqual(["renew/work-1"]);
});

test("a tie that keeps two parts together is waited for by whoever needs them apart", () => {
  const file = box({
    connections: [
      connection("hose", ["filter", "frame"], "hose", [{ time: 2 }]),
      connection("clamp", ["filter", "frame"], "clamp", [{ time: 2 }]),
      connection("plug", ["cover", "frame"], "wire", [{ time: 1, needs: [{ apart: ["filter", "frame"] }] }]),
    ],
    jobs: [job("renew", { needs: ["plug"], work: [{ label: "Renew it", time: 4 }] })],
  });
  expect(access(file).dearest).toEqual({ id: "plug", steps: expect.arrayContaining(["hose", "clamp"]), labour: 8 });
});

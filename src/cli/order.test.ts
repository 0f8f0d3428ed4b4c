// The order of a call: what is said twice is asked once.
import { expect, test } from "vitest";
import type { Vehicle } from "../vehicle/index.ts";
import { readOrder } from "./order.ts";

test("a job, a part or a tool named twice stands in the order once, in the place where it was named first", () => {
  const vehicle = { shop: { people: [] } } as unknown as Vehicle;
  const flags = new Map([
    ["job", ["clutch-plate", "renew-belt", "clutch-plate"]],
    ["keep", ["gearbox", "gearbox"]],
    ["without-tool", ["puller", "puller"]],
  ]);
  expect(readOrder(vehicle, { flags, words: [], json: false } as unknown as Parameters<typeof readOrder>[1])).toEqual({
    ...{ jobs: ["clutch-plate", "renew-belt"], keep: ["gearbox"], take: [], released: [] },
    withoutTools: ["puller"],
  });
});

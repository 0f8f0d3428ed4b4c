// Owns the checks of how a refit step tells its fastening; the joint is the one that docs/vehicle-file.md works out.

import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { tighten } from "../fastening/index.ts";
import { newtonMetres, newtons } from "../quantity/index.ts";
import { type Connection, type Refit, readVehicle } from "../vehicle/index.ts";
import { tighteningOf } from "./hardware-step.ts";
import { sayConsumed, sayCount, sayTightening } from "./hardware-text.ts";
import { jointOf } from "./joint.ts";

const page = readFileSync(new URL("../../docs/vehicle-file.md", import.meta.url), "utf8");
const blocks = [...page.matchAll(/^```yaml ?(\w*)\n([\s\S]*?)^```/gm)];
const whole = blocks.find(([, sort]) => sort === "")?.[2] ?? "";
const piece = blocks.find(([, , text]) => text?.includes("filter-cover:"))?.[2] ?? "";
const { vehicle } = readVehicle("rig.vehicle.yaml", (path) =>
  path === "axles.yaml" ? piece : whole.replace("positions:", "include: axles.yaml\npositions:"),
);
if (vehicle === undefined) throw new Error("the page's file has faults");
const cover = vehicle.connections.find(({ id }) => id === "filter-cover") as Connection;
const told = (refit: Partial<Refit>, more: Partial<Connection> = {}) => {
  const { torque: _torque, stages: _stages, meant: _meant, threads: _threads, ...bare } = cover.refit;
  const connection = { ...cover, ...more, refit: { ...bare, ...refit } };
  const [way] = connection.ways;
  if (way === undefined) throw new Error("no way");
  return tighteningOf(vehicle, connection, way);
};
const exactly = (value: number) => ({
  nominal: newtonMetres(value),
  low: newtonMetres(value),
  high: newtonMetres(value),
});
const step = (tightening: ReturnType<typeof told>) =>
  sayTightening({ tightening } as Parameters<typeof sayTightening>[0]).map(([name, text]) => `${name}: ${text}`);

describe("the cover of the page: eight bolts, 48 N·m for dry threads, oiled, 40 bar on 90 mm", () => {
  const one = told(cover.refit);

  test("stages as the file has them, the order of a circle of eight, the lengths at their holes", () => {
    expect(one?.stages.map((torque) => Number(torque.toFixed(9)))).toEqual([15, 30, 48]);
    expect(one?.order?.join("-")).toBe("1-5-3-7-2-6-4-8");
    expect(one?.holes).toEqual([
      { item: "bolt M10×30", at: ["2", "3", "4", "6", "7", "8"] },
      { item: "bolt M10×45", at: ["1", "5"] },
    ]);
    expect(one).toMatchObject({ torque: 48, proposal: false, fasteners: 8, round: true });
  });

  test("48 × 0.15/0.20 = 36 N·m gives the preload that was meant, and the step says the difference", () => {
    expect(one?.otherThreads?.torque).toBeCloseTo(36, 9);
    expect(step(one)).toContain(
      "threads: oiled, and the torque is meant for dry: 36 N·m gives the same preload, 12 N·m less, if the maker agrees",
    );
  });

  test("32 kN in each bolt, 95 % of proof; the pressure pushes with 3.2 kN a bolt", () => {
    const reading = jointOf(vehicle, cover);
    if (!("joint" in reading)) throw new Error(reading.what);
    expect(reading.joint.clamp).toBeCloseTo((40e5 * Math.PI * 0.09 ** 2) / 4 / 8, 6);
    const answer = tighten(reading.joint);
    if ("faults" in answer) throw new Error("no answer");
    expect(answer.answer.preload.nominal).toBeCloseTo(32_000, 6);
    expect(answer.answer.proofShare?.nominal).toBeCloseTo(0.951, 3);
    expect(answer.answer.verdicts.find(({ rule }) => rule === "under-clamp")?.standing).toBe("holds");
  });
});

test("no torque: a proposal, marked so in the data and in words", () => {
  const one = told({});
  expect(one?.proposal).toBe(true);
  expect(step(one)[0]).toMatch(/^torque: NOT IN THE FILE\. Proposed: .* no gate takes a proposal for a torque$/);
});

test("of a cover's screws nobody proposes a torque", () => {
  expect(told({}, { kind: "cover fixing" })).toBeUndefined();
});

test("a preload is reckoned back to a torque: 24 kN at K 0.2 in M10 is 48 N·m", () => {
  const one = told({ preload: newtons(24_000) });
  expect(one?.torque).toBeCloseTo(48, 9);
  expect(one?.proposal).toBe(false);
  expect(step(one)[0]).toContain("reckoned for the preload that is given");
});

test("a running torque is added and told apart", () => {
  expect(told({ torque: exactly(48), running: newtonMetres(3) })).toMatchObject({ torque: 51, seat: 48 });
});

test("words that are no plain order stand as they are, without an order of our own", () => {
  const { layout: _, ...rest } = cover;
  const [way] = rest.ways;
  if (way === undefined) throw new Error("no way");
  const one = tighteningOf(vehicle, { ...rest, refit: { ...cover.refit, pattern: "cross on each side" } }, way);
  expect(one?.order).toBeUndefined();
  expect(one?.stages).toHaveLength(3);
});

test("what is thrown away does not come out of the bag", () => {
  const items = [
    { item: "bolt M10×30", count: 4 },
    { item: "lock nut M10", count: 4 },
  ];
  const some = { hardware: items, id: "shaft", scrap: 4 } as unknown as Parameters<typeof sayCount>[0];
  expect(sayCount({ ...some, action: "release" })).toBe(
    "4 × bolt M10×30, 4 × lock nut M10; 4 into bag shaft, 4 to scrap",
  );
  expect(sayCount({ ...some, action: "refit" })).toBe("4 × bolt M10×30, 4 × lock nut M10; 4 from bag shaft, 4 new");
});

test("what is used up is told in the unit it is measured out in", () => {
  expect(sayConsumed({ item: "thread-lock medium", amount: { value: 0.0005, dimension: "volume" } })).toBe(
    "thread-lock medium 0.5 mL",
  );
  expect(sayConsumed({ item: "grease", amount: { value: 0.25, dimension: "mass" } })).toBe("grease 0.25 kg");
  expect(sayConsumed({ item: "paint mark" })).toBe("paint mark");
});

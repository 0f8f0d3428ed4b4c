// Owns the checks of the store file: where a thing lies, how many there are, what the shop's own findings do to the stand-by list.

import { readFileSync } from "node:fs";
import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { solve } from "../release/index.ts";
import { readVehicle, sentence } from "../vehicle/index.ts";
import { kitOf } from "./kit.ts";
import { readStore, storeSchema } from "./kit-store.ts";
import { makePlan } from "./make-plan.ts";
import { orderFor } from "./order.ts";
import { translate } from "./question.ts";

const root = new URL("../../", import.meta.url);
const text = readFileSync(new URL("demo/shop.store.yaml", root), "utf8");
const read = (content: string) => {
  const { store, faults } = readStore("shop.store.yaml", content);
  if (store === undefined) throw new Error(faults.map(sentence).join("\n"));
  return store;
};
const SHELVES = `format: unmoor-store/1
shelves:
  - { shelf: B1, holds: [bolt, bolt M1] }
  - { shelf: B2, holds: bolt M10 }
stock: { item: bolt m10x45, count: 0 }
`;

test("the demo's store is sound, to the schema as well", () => {
  const validate = new Ajv2020({ strict: true, allowUnionTypes: true, strictTypes: false }).compile(storeSchema());
  expect(readStore("shop.store.yaml", text).faults).toEqual([]);
  validate(parse(text));
  expect(validate.errors ?? []).toEqual([]);
});

describe("a thing", () => {
  const store = read(SHELVES);
  test("lies with the longest name that it begins with, whole sizes only", () => {
    expect(store.shelfOf("bolt M10×45")).toBe("B2");
    expect(store.shelfOf("bolt M12×45")).toBe("B1");
    expect(store.shelfOf("bolting cloth")).toBeUndefined();
  });
  test("is counted under any spelling; that none is there is said, that nobody counted is not", () => {
    expect(store.stockOf("bolt M10×45")).toBe(0);
    expect(store.stockOf("bolt M10×50")).toBeUndefined();
  });
});

test.each([
  ["a chance above one", "findings: { item: a, finding: b, at: c, chance: 12, delay: 3 h }", "chance"],
  [
    "a price with its money",
    "findings: { item: a, finding: b, at: c, chance: 0.1, delay: 3 h, price: 3 EUR }",
    "price",
  ],
  ["half a bolt below nothing", "stock: { item: bolt M8×20, count: -1 }", "count"],
  ["a delay without a unit", "findings: { item: a, finding: b, at: c, chance: 0.1, delay: 3 }", "delay"],
])("%s is a fault at its place, with the mend", (_, line, key) => {
  const { store, faults } = readStore("x.store.yaml", `format: unmoor-store/1\n${line}\n`);
  expect(store).toBeUndefined();
  expect(faults).toHaveLength(1);
  expect(faults[0]?.at.line).toBe(2);
  expect(faults[0]?.what).toContain(key);
  expect(faults[0]?.mend).not.toBe("");
});

describe("the kit with a store", () => {
  const { vehicle } = readVehicle("demo/bench-pump.vehicle.yaml", (path) => readFileSync(new URL(path, root), "utf8"));
  if (vehicle === undefined) throw new Error("the demo has faults");
  const question = translate(vehicle, orderFor("shaft-seal"));
  const plan = makePlan(question, solve(question.problem));
  if (plan === undefined) throw new Error("no plan");
  const own = `${SHELVES}minute: 2
findings:
  - { item: bolt M12×35, finding: stretched, at: flange-bolts, chance: 10 %, delay: 100 min, price: 3 }
  - { item: ghost, finding: never, at: bell-bolts, chance: 90 %, delay: 1000 min }
`;
  const kit = kitOf(plan, vehicle, { store: read(own), drained: new Map([["hydraulic oil", 14]]) });

  test("is walked shelf by shelf", () => {
    const shelves = kit.picking.map(({ shelf }) => shelf);
    const known = shelves.filter((shelf) => shelf !== undefined);
    expect(shelves.slice(0, known.length)).toEqual([...known].sort());
  });
  test("ranks the shop's own finding by chance × delay × money, and leaves out what is not released", () => {
    const bolt = kit.standBy.find(({ item }) => item === "bolt M12×35");
    expect(bolt).toMatchObject({ delay: 100, price: 3, worth: true });
    expect(bolt?.chance).toBeCloseTo(0.1, 12);
    expect(bolt?.saves).toBeCloseTo(20, 9);
    expect(kit.standBy.map(({ item }) => item)).not.toContain("ghost");
  });
  test("fills what was measured", () => {
    expect(kit.fluids).toEqual([{ fluid: "hydraulic oil", litres: 14, unstated: [] }]);
  });
  test("every temporary thing goes in before it comes out", () => {
    expect(kit.inAndOut.length).toBeGreaterThan(0);
    for (const { in: into, out } of kit.inAndOut) expect(out).toBeGreaterThan(into);
  });
});

// The published schema is valid under 2020-12 and agrees with the reader where both can tell. (test/schema.test.ts holds the file to the shapes.)
import { readFileSync } from "node:fs";
import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { BROKEN, DUBIOUS } from "./fixture/corpus.ts";
import { readVehicle, vehicleSchema } from "./index.ts";

const root = new URL("../../", import.meta.url);
const validate = new Ajv2020({ strict: true, allowUnionTypes: true, strictTypes: false }).compile(vehicleSchema());
const read = (path: string): string => readFileSync(new URL(path, root), "utf8");

/** Faults that lie in one value of one file: what a schema can see. */
const VISIBLE = new Set([
  "unknown-key",
  "missing-key",
  "wrong-form",
  "not-a-flag",
  "not-a-count",
  "unknown-word",
  "bad-id",
  "bad-need",
  "quantity-no-unit",
]);

test("every key says what it means, so that an editor can show it", () => {
  const bare: string[] = [];
  const walk = (schema: unknown, path: string): void => {
    if (typeof schema !== "object" || schema === null) return;
    for (const [name, value] of Object.entries(schema)) {
      if (name === "properties")
        for (const [key, each] of Object.entries(value as Record<string, { description?: string }>))
          if ((each.description ?? "").length < 5) bare.push(`${path}/${key}`);
      walk(value, `${path}/${name}`);
    }
  };
  walk(vehicleSchema(), "");
  expect(bare).toEqual([]);
});

test.each([
  "src/vehicle/fixture/sketch.vehicle.yaml",
  "demo/plover-28.vehicle.yaml",
  "demo/marten-t1.vehicle.yaml",
  "demo/bench-pump.vehicle.yaml",
])("%s is sound to the schema as to the reader", (path) => {
  expect(readVehicle(path, read).faults).toEqual([]);
  validate(parse(read(path)));
  expect(validate.errors ?? []).toEqual([]);
});

describe("what the reader takes, the schema takes", () => {
  test.each(DUBIOUS)("$rule", ({ files }) => {
    validate(parse(files["main.vehicle.yaml"]!));
    expect(validate.errors ?? []).toEqual([]);
  });
});

describe("what a schema can see, it sees", () => {
  test.each(BROKEN.filter(({ rule, schema }) => VISIBLE.has(rule) && schema))("$rule: $story", ({ files }) => {
    expect(validate(parse(files["main.vehicle.yaml"]!))).toBe(false);
  });
});

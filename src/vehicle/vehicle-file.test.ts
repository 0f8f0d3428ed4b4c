// docs/vehicle-file.md held to the reader: every example reads as the page says, and nothing that there is goes unexplained.
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { BASE_UNITS, type Dimension, unitsOf } from "../quantity/index.ts";
import { FAULTS, type Fault, KINDS, readVehicle, sentence, vehicleSchema, WARNINGS } from "./index.ts";

const page = readFileSync(new URL("../../docs/vehicle-file.md", import.meta.url), "utf8");
const blocks = [...page.matchAll(/^```(yaml|text) ?(\w*)\n([\s\S]*?)^```/gm)].map(([, language, sort, text]) => ({
  language,
  sort,
  text: text!,
}));
const yaml = (sort: string) =>
  blocks.filter((block) => block.language === "yaml" && block.sort === sort).map(({ text }) => text);
const said = blocks.filter((block) => block.language === "text").map(({ text }) => text.trim());
const [whole] = yaml("");

/** The whole file of the page, with a piece beside it. */
const readWith = (piece: string) =>
  readVehicle("rig.vehicle.yaml", (path) =>
    path === "axles.yaml" ? piece : whole!.replace("positions:", "include: axles.yaml\npositions:"),
  );
const say = (faults: readonly Fault[]): string => faults.map(sentence).join("\n");

test("the whole file has neither fault nor warning", () => {
  const { faults, warnings } = readVehicle("rig.vehicle.yaml", () => whole!);
  expect(say([...faults, ...warnings])).toBe("");
});

test.each(yaml("fragment").map((text) => [text.split("\n")[1], text]))(
  "the piece %s reads without a fault",
  (_, text) => {
    expect(say(readWith(text!).faults)).toBe("");
  },
);

test("the variant of it is sound, with its own pump and no guard", () => {
  const { faults, warnings, vehicle } = readVehicle("variant.vehicle.yaml", (path) =>
    path === "rig.vehicle.yaml" ? whole! : yaml("variant")[0]!,
  );
  expect(say([...faults, ...warnings])).toBe("");
  expect(vehicle?.parts.map(({ id, mass }) => [id, mass?.nominal])).toEqual([
    ["frame", undefined],
    ["pump", 55],
  ]);
});

test("what the page says the reader says, it says", () => {
  expect(say(readWith(yaml("broken")[0]!).faults)).toBe(said[0]);
  const doubted = readWith(yaml("doubted")[0]!);
  expect(say(doubted.faults)).toBe("");
  expect(say(doubted.warnings)).toBe(said[1]);
});

/** The rows of the page's tables, by their first cell. */
const rows = [...page.matchAll(/^\| `([^`]+)`( \*must\*)? \|(.*)\|$/gm)].map(([, name, must, rest]) => ({
  name: name!,
  must: must !== undefined,
  cells: rest!.split(/ \| /).map((cell) => cell.trim()),
}));

test.each([...FAULTS, ...WARNINGS])("the rule %s is explained, once", (rule) => {
  expect(rows.filter(({ name }) => name === rule)).toHaveLength(1);
});

describe("every key is in a table, with what it means and whether it must be", () => {
  interface Schema {
    readonly properties?: Readonly<Record<string, { readonly description: string }>>;
    readonly required?: readonly string[];
  }
  const keys: [string, string, boolean][] = [];
  const walk = (value: unknown, top: boolean): void => {
    if (typeof value !== "object" || value === null) return;
    const { properties, required } = value as Schema;
    for (const [key, { description }] of Object.entries(properties ?? {}))
      keys.push([key, description, required?.includes(key) ?? (top && ["format", "vehicle", "parts"].includes(key))]);
    for (const each of Object.values(value)) walk(each, false);
  };
  walk(vehicleSchema(), true);
  const unique = new Map(keys.map((key) => [key.join(), key]));
  const prose: readonly string[] = ["all", "any", "apart", "out", "clear"];
  test.each([...unique.values()])("%s: %s", (name, description, must) => {
    if (prose.includes(name)) return;
    const row = rows.find(
      (each) => each.name === name && description.startsWith(each.cells.at(-1)!) && each.must === must,
    );
    expect(row?.name).toBe(name);
  });
  test("and the forms of need in theirs", () => {
    for (const form of ["`any: [ … ]`", "`all: [ … ]`", "`apart: [a, b]`", "`out: part`", "`clear: part`"])
      expect(page).toContain(`| ${form}`);
  });
});

test("every kind and every unit is named", () => {
  expect(page).toContain(KINDS.join(", "));
  for (const dimension of Object.keys(BASE_UNITS) as Dimension[])
    for (const unit of unitsOf(dimension)) expect(page).toContain(`\`${unit.name}\``);
});

// Spreadsheets go out and come in without loss; what was changed is put where it stands, and what cannot be is said by its line.
import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { readVehicle } from "../vehicle/index.ts";
import { draftVehicle } from "./index.ts";
import { readRows, writeRows } from "./rows.ts";
import { sheetOf, takeInSheet } from "./spreadsheet.ts";

const demo = new URL("../../demo/", import.meta.url);
const files = readdirSync(demo).filter((name) => name.endsWith(".vehicle.yaml"));
const textOf = (name: string) => readFileSync(new URL(name, demo), "utf8");

test.each(files)("the spreadsheet of %s comes in as it went out, and changes nothing", (name) => {
  const text = textOf(name);
  const table = sheetOf(text);
  expect(readRows(table).length).toBeGreaterThan(8);
  expect(takeInSheet(text, table)).toEqual({ text, changed: [], added: [], missing: [] });
  // A spreadsheet that writes semicolons, a mark of the encoding and plain line ends.
  const other = `\uFEFF${readRows(table)
    .map((row) => row.map((cell) => `"${cell.replaceAll('"', '""')}"`).join(";"))
    .join("\n")}`;
  expect(takeInSheet(text, other)).toEqual({ text, changed: [], added: [], missing: [] });
});

test("a time, a torque, a count and a place are put where they stand, and nothing else is touched", () => {
  const draft = draftVehicle([{ file: "a", text: "On the left, undo the three exhaust bolts. Undo the heater hose." }]);
  if (!("yaml" in draft)) throw new Error("no draft");
  const rows = readRows(sheetOf(draft.yaml));
  const column = (name: string) => rows[0]?.indexOf(name) ?? -1;
  const bolts = rows.find(([id]) => id === "exhaust-bolts");
  if (bolts === undefined) throw new Error(JSON.stringify(rows));
  bolts[column("time")] = "9 min";
  bolts[column("torque")] = "47 N·m";
  bolts[column("position")] = "Up top, at the back";
  const taken = takeInSheet(draft.yaml, writeRows(rows));
  if (!("text" in taken)) throw new Error(JSON.stringify(taken));
  expect(taken.changed).toEqual(["exhaust-bolts"]);
  const before = draft.yaml.split("\n");
  const changed = taken.text.split("\n").filter((line) => !before.includes(line));
  expect(changed).toEqual([
    '  up-top-at-the-back: { label: "Up top, at the back" }',
    "    release: { at: up-top-at-the-back, time: 9 min }",
    "    refit: { torque: 47 N·m }",
  ]);
  expect(readVehicle("f", () => taken.text).faults).toEqual([]);
});

test("a row of its own is a new connection; a row that is gone stays in the file and is told", () => {
  const text = textOf("bench-pump.vehicle.yaml");
  const rows = readRows(sheetOf(text));
  const [gone] = rows.splice(1, 1);
  const column = (name: string) => rows[0]?.indexOf(name) ?? -1;
  const parts = rows[1]?.[column("joins")] ?? "";
  const more = Array.from({ length: rows[0]?.length ?? 0 }, () => "");
  more[column("label")] = "Level switch";
  more[column("kind")] = "wire";
  more[column("joins")] = parts;
  more[column("time")] = "3 min";
  const taken = takeInSheet(text, writeRows([...rows, more]));
  if (!("text" in taken)) throw new Error(JSON.stringify(taken));
  expect(taken).toMatchObject({ added: ["level-switch"], missing: [gone?.[0]] });
  expect(taken.text).toContain("time: 3 min");
});

test.each([
  ["kind", "rope", "line 2: rope is no kind of connection"],
  ["time", "soon", "with it the file would have a fault"],
  ["way", "7", "line 2: "],
  ["joins", "moon + sun", "line 2: moon is no part of the file"],
])("a %s that cannot be is refused with its line, and nothing is taken in", (name, value, what) => {
  const text = textOf("bench-pump.vehicle.yaml");
  const rows = readRows(sheetOf(text));
  const row = rows[1];
  if (row === undefined) throw new Error("no row");
  row[rows[0]?.indexOf(name) ?? -1] = value;
  const taken = takeInSheet(text, writeRows(rows));
  expect("text" in taken).toBe(false);
  expect(JSON.stringify(taken)).toContain(what);
});

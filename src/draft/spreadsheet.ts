// Owns the connections of a vehicle file as a spreadsheet, out and in again: one row for each way of release, every cell as it is written in the file. What comes
// in unchanged changes nothing; what was changed is put where it stands, and comments, order and all else stay.

import { KINDS, readVehicle } from "../vehicle/index.ts";
import { addConnection } from "./add.ts";
import { CannotBe, placed } from "./lookup.ts";
import type { Item } from "./outline.ts";
import { lengthIn, put, sourceIn, textIn, textsIn, written } from "./patch.ts";
import { BY_KIND } from "./question.ts";
import { readRows, writeRows } from "./rows.ts";
import { Sheet } from "./sheet.ts";

/** What a spreadsheet that came in did. */
export interface TakenIn {
  readonly text: string;
  readonly changed: readonly string[];
  readonly added: readonly string[];
  /** Connections of the file that the spreadsheet does not have; they stay. */
  readonly missing: readonly string[];
}

/** Why it cannot be taken in; nothing is. */
export interface RowFault {
  readonly what: string;
  readonly mend: string;
}

/** Where each column stands in the file; a way's own begin at its release. */
const OWN = {
  label: ["label"],
  kind: ["kind"],
  hardware: ["hardware", "item"],
  count: ["hardware", "count"],
  "refit time": ["refit", "time"],
  torque: ["refit", "torque"],
} as const;
const OF_WAY = { position: "at", time: "time" } as const;
const SHEET_COLUMNS = [
  "id",
  "way",
  "label",
  "kind",
  "joins",
  "position",
  "time",
  "hardware",
  "count",
  "refit time",
  "torque",
] as const;
type Name = (typeof SHEET_COLUMNS)[number];

/** Rows for the connections of a file's own text, in its order; those of files that it includes are in theirs. */
export function sheetOf(text: string): string {
  const sheet = new Sheet(text);
  const rows = sheet.itemsOf("connections").flatMap((item) => rowsOf(sheet, item));
  return writeRows([SHEET_COLUMNS, ...rows.map((row) => SHEET_COLUMNS.map((name) => row[name] ?? ""))]);
}

type Row = Partial<Record<Name, string>>;

function rowsOf(sheet: Sheet, item: Item): Row[] {
  const block = sheet.blockOf(item);
  const ways = lengthIn(block, "release");
  const first: Row = { id: item.id, joins: textsIn(block, "joins").join(" + ") };
  for (const [name, path] of Object.entries(OWN)) first[name as Name] = textIn(block, ...path) ?? "";
  return Array.from({ length: Math.max(1, ways ?? 1) }, (_, way) => {
    const row: Row = way === 0 ? { ...first } : { id: item.id };
    if (ways !== undefined && ways > 1) row.way = String(way + 1);
    for (const [name, key] of Object.entries(OF_WAY))
      row[name as Name] = textIn(block, ...pathOf(ways, way), key) ?? "";
    return row;
  });
}

const pathOf = (ways: number | undefined, way: number): readonly string[] =>
  ways === undefined ? ["release"] : ["release", String(way)];

/**
 * Takes a spreadsheet in. An empty cell leaves what the file says; a row without a connection of the file adds one.
 *
 * @param table as `sheetOf` gives it; columns may be moved, and those that are left out are left alone
 */
export function takeInSheet(text: string, table: string): TakenIn | readonly RowFault[] {
  const [head = [], ...rows] = readRows(table.replace(/^\uFEFF/, ""));
  const names = head.map((cell) => SHEET_COLUMNS.find((name) => name === cell.toLowerCase()));
  if (!names.includes("id"))
    return [
      {
        what: `line 1: there is no column id; there are ${head.join(", ") || "none"}`,
        mend: "Keep the first line as it was given out.",
      },
    ];
  const sheet = new Sheet(text);
  const faults: RowFault[] = [];
  const changed = new Set<string>();
  const added: string[] = [];
  const seen = new Set<string>();
  rows.forEach((cells, i) => {
    const cell = (name: Name): string => cells[names.indexOf(name)] ?? "";
    const place = `line ${i + 2}`;
    try {
      const id = cell("id");
      if (id === "" || (!seen.has(id) && !sheet.itemsOf("connections").some((one) => one.id === id))) {
        const made = addRow(sheet, cell);
        seen.add(made);
        added.push(made);
        return;
      }
      seen.add(id);
      if (changeRow(sheet, id, cell)) changed.add(id);
    } catch (error) {
      if (!(error instanceof CannotBe)) throw error;
      faults.push({ what: `${place}: ${error.message}`, mend: error.mend });
    }
  });
  if (faults.length > 0) return faults;
  const sound = readVehicle("file", () => text).faults.length === 0;
  const [fault] = sound ? readVehicle("file", () => sheet.text).faults : [];
  if (fault !== undefined)
    return [{ what: `with it the file would have a fault: ${fault.what.replace(/\.$/, "")}`, mend: fault.mend }];
  const missing = sheet.itemsOf("connections").flatMap(({ id }) => (seen.has(id) ? [] : [id]));
  return { text: sheet.text, changed: [...changed], added, missing };
}

function changeRow(sheet: Sheet, id: string, cell: (name: Name) => string): boolean {
  const item = sheet.find(id, "connections");
  if (item === undefined)
    throw new CannotBe(`${id} is written in brackets with others`, "Write it on lines of its own, in the text.");
  const before = sheet.blockOf(item);
  const ways = lengthIn(before, "release");
  const way = cell("way") === "" ? 0 : Number(cell("way")) - 1;
  if (!(Number.isInteger(way) && way >= 0 && way < (ways ?? 1)))
    throw new CannotBe(`${id} has no way ${cell("way")}`, `Write a number from 1 to ${ways ?? 1}.`);
  let block = before;
  const set = (name: Name, path: readonly string[], value: string): void => {
    if (value === "" || value === (textIn(block, ...path) ?? "")) return;
    const parent = path.slice(0, -1);
    const key = path.at(-1) ?? "";
    if (
      parent.length > 0 &&
      parent.at(-1) !== undefined &&
      !/^\d+$/.test(parent.at(-1) ?? "") &&
      sourceIn(block, ...parent) === undefined
    )
      block = put(block, parent, `{ ${key}: ${written(value)} }`);
    else block = put(block, path, written(value));
    if (textIn(block, ...path) !== value)
      throw new CannotBe(`${name} of ${id} cannot be written where it stands`, "Change it in the text.");
  };
  if (way === 0) {
    if (cell("kind") !== "" && !KINDS.some((kind) => kind === cell("kind")))
      throw new CannotBe(`${cell("kind")} is no kind of connection`, `Write one of ${KINDS.join(", ")}.`);
    for (const [name, path] of Object.entries(OWN)) set(name as Name, path, cell(name as Name));
    const joins = joinsIn(cell("joins"));
    if (joins.length > 0 && joins.join(" + ") !== textsIn(block, "joins").join(" + ")) {
      for (const part of joins)
        if (!sheet.itemsOf("parts").some((one) => one.id === part))
          throw new CannotBe(`${part} is no part of the file`, "Write ids of its parts, with + between them.");
      block = put(block, ["joins"], `[${joins.join(", ")}]`);
    }
  }
  const untimed = block;
  set("time", [...pathOf(ways, way), "time"], cell("time"));
  // Minutes that somebody filled in are the catalogue's no longer.
  if (block !== untimed) block = block.replace(BY_KIND, "");
  const at = cell("position");
  if (at !== "" && at !== textIn(block, ...pathOf(ways, way), "at")) {
    sheet.write(item, sheet.headOf(item), block);
    const position = placed(
      sheet,
      sheet.itemsOf("positions").some((one) => one.id === at) ? { id: at } : { label: at },
      "positions",
    );
    const now = sheet.find(id, "connections");
    if (now === undefined) throw new CannotBe(`${id} cannot be changed here`, "Change it in the text.");
    block = put(sheet.blockOf(now), [...pathOf(ways, way), "at"], position);
    sheet.write(now, sheet.headOf(now), block);
  } else if (block !== before) sheet.write(item, sheet.headOf(item), block);
  return block !== before;
}

const joinsIn = (cell: string): string[] =>
  cell
    .split("+")
    .map((one) => one.trim())
    .filter((one) => one !== "");

function addRow(sheet: Sheet, cell: (name: Name) => string): string {
  const label = cell("label") || cell("id");
  if (label === "") throw new CannotBe("a new connection has neither an id nor a label", "Write what it is called.");
  const kind = KINDS.find((one) => one === cell("kind"));
  if (kind === undefined)
    throw new CannotBe(
      `${label}: ${cell("kind") || "nothing"} is no kind of connection`,
      `Write one of ${KINDS.join(", ")}.`,
    );
  const [from, to] = joinsIn(cell("joins"));
  if (from === undefined || to === undefined)
    throw new CannotBe(`${label} joins fewer than two parts`, "Write the ids of two parts with + between them.");
  const part = (id: string) => (sheet.itemsOf("parts").some((one) => one.id === id) ? { id } : { label: id });
  const at = cell("position");
  const id = addConnection(
    sheet,
    {
      kind,
      label,
      joins: [part(from), part(to)],
      ...(at === ""
        ? {}
        : { at: sheet.itemsOf("positions").some((one) => one.id === at) ? { id: at } : { label: at } }),
      ...(/^\d+$/.test(cell("count")) ? { count: Number(cell("count")) } : {}),
    },
    [],
  );
  changeRow(sheet, id, (name) => (["time", "refit time", "torque", "hardware"].includes(name) ? cell(name) : ""));
  return id;
}

// Owns tables: a pasted or saved sheet of connections, its columns found by their names, its rows told as a narration's items are.

import { KINDS } from "../vehicle/index.ts";
import type { Refusal } from "./intake.ts";
import type { PositionTold, Tie, Told } from "./item.ts";
import type { Language } from "./language.ts";
import { capital, Ids } from "./names.ts";
import { readRows } from "./rows.ts";

export const COLUMNS = ["label", "kind", "position", "count", "joins"] as const;
export type Column = (typeof COLUMNS)[number];

/** What a column may be called; more are added by `columns` of a call. */
const CALLED: Readonly<Record<Column, readonly string[]>> = {
  label: ["label", "connection", "name", "item", "what", "description", "tie"],
  kind: ["kind", "type", "sort"],
  position: ["position", "place", "where", "at", "side", "location"],
  count: ["count", "qty", "quantity", "number", "no", "how many", "pcs"],
  joins: ["joins", "from", "on", "part", "between"],
};

/** What a table tells. `columns` maps the names of a sheet to ours, where they are others. */
export function tellTable(
  text: string,
  file: string,
  columns: ReadonlyMap<string, Column>,
  language: Language,
): Told | Refusal {
  const [head = [], ...rows] = readRows(text);
  const of = (name: string): Column | undefined => {
    const plain = name.toLowerCase().trim();
    return columns.get(plain) ?? COLUMNS.find((column) => CALLED[column].includes(plain));
  };
  const places = head.map(of);
  if (!places.includes("label"))
    return {
      what: `${file} has no column that names the connections; it has ${head.join(", ")}`,
      mend: "Say which does: --column NAME=label.",
    };
  const told: Told = { ties: [], parts: [], tasks: [], positions: [], closings: [], bothSides: [], twoNames: [] };
  const ids = new Ids();
  rows.forEach((row, i) => {
    const cell = (column: Column): string => row[places.indexOf(column)] ?? "";
    const label = cell("label");
    if (label === "") return;
    const words = label
      .toLowerCase()
      .split(/[^\p{L}\p{N}]+/u)
      .map((word) => ({ text: word }));
    const noun = words.flatMap((_, k) => language.nouns.at(words, k)?.value ?? []).at(-1);
    const written = KINDS.find((one) => one === cell("kind").toLowerCase());
    const count = Number(cell("count"));
    const place = cell("position");
    const tie: Tie = {
      id: ids.make(label),
      label: capital(label),
      kind: written ?? KINDS.find((one) => one === noun?.kind) ?? "bolted joint",
      ...(count > 0 && Number.isInteger(count) ? { count } : {}),
      ...(place === "" ? {} : { at: positionOf(place, told.positions as PositionTold[], ids) }),
      undone: true,
      verb: "disconnect",
      joins: cell("joins")
        .toLowerCase()
        .split(/[,;/+]| and | to /)
        .map((name) => name.trim())
        .filter((name) => name !== ""),
      sure: written === undefined ? 0.7 : 1,
      assumed: written === undefined ? ["its kind, from its name"] : [],
      sources: [{ file, line: i + 2, words: row.join(" | ") }],
    };
    told.ties.push(tie);
  });
  if (told.ties.length === 0) return { what: `${file} has no row with a name`, mend: "Fill the column of the names." };
  return told;
}

function positionOf(label: string, positions: PositionTold[], ids: Ids): string {
  const known = positions.find((one) => one.label.toLowerCase() === label.toLowerCase());
  if (known !== undefined) return known.id;
  const id = ids.make(label);
  positions.push({ id, label: capital(label), closed: [] });
  return id;
}

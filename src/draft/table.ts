// Owns tables: a pasted or saved sheet of connections, its columns found by their names, its rows told as a narration's items are.

import { readQuantity } from "../quantity/index.ts";
import { KINDS } from "../vehicle/index.ts";
import type { Refusal } from "./intake.ts";
import type { PositionTold, Tie, Told } from "./item.ts";
import type { Language } from "./language.ts";
import { capital, Ids } from "./names.ts";
import { readRows } from "./rows.ts";
import { COLUMNS, type Column } from "./words.ts";

/** "(N·m)" or "[min]" behind the name of a column. */
const UNIT = /[([]([^)\]]*)[)\]]\s*$/;
/** What a figure of a column is of. */
const MEASURED = { time: "time", torque: "torque" } as const;

/** What a table tells. `columns` maps the names of a sheet to ours, where they are others. */
export function tellTable(
  text: string,
  file: string,
  columns: ReadonlyMap<string, Column>,
  language: Language,
): Told | Refusal {
  const [head = [], ...rows] = readRows(text);
  const of = (name: string): Column | undefined => {
    // "Torque (N·m)": the unit of what has none.
    const plain = name.toLowerCase().replace(UNIT, "").trim();
    return columns.get(plain) ?? COLUMNS.find((column) => language.columns[column].includes(plain));
  };
  const places = head.map(of);
  if (!places.includes("label"))
    return {
      what: `${file} has no column that names the connections; it has ${head.join(", ")}`,
      mend: "Say which does: --column NAME=label.",
      columns: head,
    };
  const units = head.map((name) => UNIT.exec(name)?.[1]?.trim());
  /** A figure with its unit; a bare number has that of its column's name, and a time is of minutes. */
  const figure = (column: keyof typeof MEASURED, cell: string, line: number): string | Refusal | undefined => {
    if (cell === "" || cell === "?") return undefined;
    const bare = /^\d+([.,]\d+)?$/.test(cell);
    const unit = units[places.indexOf(column)] ?? (column === "time" ? "min" : undefined);
    const text = bare ? `${cell.replace(",", ".")}${unit === undefined ? "" : ` ${unit}`}` : cell;
    const read = readQuantity(text, MEASURED[column]);
    return "fault" in read
      ? {
          what: `${file}, line ${line}: ${column} ${cell}: ${read.fault.what}`,
          mend: bare
            ? `Put the unit into the name of the column: ${column} (${column === "time" ? "min" : "N·m"}).`
            : read.fault.mend,
        }
      : text;
  };
  const joining = [...language.set.and.firsts, ...language.set.to.firsts].map((word) => `\\s${word}\\s`);
  const between = new RegExp(["[,;/+]", ...joining].join("|"));
  const wrong: Refusal[] = [];
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
    const [time, torque] = (["time", "torque"] as const).map((column) => figure(column, cell(column), i + 2));
    for (const one of [time, torque]) if (typeof one === "object") wrong.push(one);
    const tie: Tie = {
      id: ids.make(label),
      label: capital(label),
      kind: written ?? KINDS.find((one) => one === noun?.kind) ?? "bolted joint",
      ...(count > 0 && Number.isInteger(count) ? { count } : {}),
      ...(place === "" ? {} : { at: positionOf(place, told.positions as PositionTold[], ids) }),
      ...(typeof time === "string" ? { time } : {}),
      ...(typeof torque === "string" ? { torque } : {}),
      ...(cell("hardware") === "" ? {} : { hardware: cell("hardware") }),
      undone: true,
      verb: "disconnect",
      joins: cell("joins")
        .toLowerCase()
        .split(between)
        .map((name) => name.trim())
        .filter((name) => name !== ""),
      sure: written === undefined ? 0.7 : 1,
      assumed: written === undefined ? [language.says.kindByName] : [],
      sources: [{ file, line: i + 2, words: row.join(" | ") }],
    };
    told.ties.push(tie);
  });
  const [first] = wrong;
  if (first !== undefined)
    return wrong.length === 1 ? first : { ...first, what: `${first.what} (and ${wrong.length - 1} more such)` };
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

// Owns how a change of a draft finds what it is about, makes a position or part that is not there yet, counts hardware, and says why it cannot be done.

import { VEHICLE } from "./joined.ts";
import { capital } from "./names.ts";
import type { Item } from "./outline.ts";
import { put, sourceIn, textIn, written } from "./patch.ts";
import type { Sheet } from "./sheet.ts";

/** A position of the file, or a new one by what it is called. */
export type At = { readonly id: string } | { readonly label: string };

export class CannotBe extends Error {
  readonly mend: string;
  constructor(what: string, mend: string) {
    super(what);
    this.mend = mend;
  }
}

export function found(sheet: Sheet, id: string, ...sections: readonly string[]): Item {
  const item = sheet.find(id, ...sections);
  if (item === undefined)
    throw new CannotBe(
      `${id} is none of the ${sections.join(", ")} that can be changed here`,
      "Change it in the text: it is written in brackets with others, or not there.",
    );
  return item;
}

export const labelOf = (block: string, id: string): string =>
  textIn(block, "label") ?? capital(id.replaceAll("-", " "));

/** The id of a position or part; one that is not there is made. */
export function placed(sheet: Sheet, at: At, section: "positions" | "parts"): string {
  const items = sheet.itemsOf(section);
  if ("id" in at) {
    if (items.some(({ id }) => id === at.id)) return at.id;
    if (section === "parts" && at.id === VEHICLE)
      return made(sheet, VEHICLE, section, "{ label: The vehicle, fixed: true }");
    throw new CannotBe(`${at.id} is none of the ${section}`, "Choose one that is there, or name a new one.");
  }
  const label = at.label.trim();
  if (label === "" || label === "?") throw new CannotBe("a name is needed", "Write what it is called.");
  const known = items.find(({ id, ...item }) => labelOf(sheet.blockOf(item), id).toLowerCase() === label.toLowerCase());
  if (known !== undefined) return known.id;
  const value =
    section === "parts" ? `{ label: ${written(capital(label))}, mass: "?" }` : `{ label: ${written(capital(label))} }`;
  return made(sheet, sheet.fresh(label), section, value);
}

export function made(sheet: Sheet, id: string, section: string, value: string): string {
  if (!sheet.add(section, [], `  ${id}: ${value}`))
    throw new CannotBe(`the ${section} are written in brackets`, "Write each on a line of its own, in the text.");
  return id;
}

/** How many pieces of hardware; undefined where nobody said. */
export function countIn(block: string): number | undefined {
  const count = textIn(block, "hardware", "count");
  if (count === undefined) return sourceIn(block, "hardware") === undefined ? 1 : undefined;
  return /^\d+$/.test(count) ? Number(count) : undefined;
}

export function withCount(block: string, count: number | undefined, id: string): string {
  if (count === countIn(block)) return block;
  const source = count === undefined ? '"?"' : String(count);
  if (sourceIn(block, "hardware", "count") !== undefined || sourceIn(block, "hardware", "item") !== undefined)
    return put(block, ["hardware", "count"], source);
  if (sourceIn(block, "hardware") !== undefined) return block;
  return put(block, ["hardware"], `{ item: ${written(labelOf(block, id).toLowerCase())}, count: ${source} }`);
}

export function counted(count: number): number {
  if (!Number.isInteger(count) || count < 1 || count > 9999)
    throw new CannotBe(`${count} is no count`, "Write a whole number from 1 on.");
  return count;
}

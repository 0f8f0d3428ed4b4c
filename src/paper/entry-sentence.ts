// Owns an entry of the ledger as a sentence on paper: its kind, what it is about, and whatever else it says.

import { type Contradiction, type Entry, KINDS } from "../ledger/index.ts";
import type { Figures } from "./figures.ts";
import type { Words } from "./said.ts";

/** Sorts of fields that hold a reading with its unit. */
const READINGS: readonly string[] = ["torque", "force", "angle", "length", "volume", "time"];

/** Who says what the things and the people of a run are called. */
export interface Called {
  label(id: string): string;
  person(id: string): string;
}

export interface Recorded extends Called {
  /** The number of an entry in the order of the record. */
  entry(id: string): number | undefined;
}

export function entrySentence({ body }: Entry, called: Recorded, { ledger: say }: Words, figures: Figures): string {
  const fields: Readonly<Record<string, string>> = KINDS[body.kind].fields;
  const told = Object.entries(body).flatMap(([name, value]: readonly [string, unknown]) => {
    if (name === "kind" || value === undefined) return [];
    const sort = fields[name]?.replace("?", "") ?? "";
    const one = (each: unknown): string =>
      sort === "id"
        ? called.label(String(each))
        : sort === "person" || sort === "people"
          ? called.person(String(each))
          : sort === "entry"
            ? say.entry(called.entry(String(each)) ?? String(each))
            : READINGS.includes(sort)
              ? figures.asRead(String(each))
              : sort.includes("|") || sort === "flag"
                ? say.value(String(each))
                : String(each);
    const named = say.field(name);
    if (sort === "photos" || sort === "voices") return [`${named} ${Array.isArray(value) ? value.length : 0}`];
    if (typeof value === "object" && value !== null && !Array.isArray(value))
      return [
        Object.entries(value)
          .map(([key, amount]) => `${key} ${figures.asRead(String(amount))}`)
          .join(", "),
      ];
    const text = Array.isArray(value) ? value.map(one).join(", ") : one(value);
    return [sort === "id" || sort === "text" ? text : `${named} ${text}`];
  });
  const kind = say.kind(body.kind);
  return told.length === 0 ? kind : `${kind}: ${told.join("; ")}`;
}

/** What contradicts itself, by whose entries, and what settles it. */
export function contradictionSentence(
  { rule, about, key, entries }: Contradiction,
  told: readonly { readonly entry: Entry }[],
  called: Called,
  { ledger: say }: Words,
): string {
  const who = entries.flatMap((id) => {
    const entry = told.find((one) => one.entry.id === id)?.entry;
    return entry === undefined ? [] : [`${called.person(entry.author)}: ${say.kind(entry.body.kind)}`];
  });
  return say.contradiction(rule, called.label(about), say.rule(rule), who.join("; "), key);
}

// Owns the draft of a vehicle file from texts: taken in, heard, remarked on and written.

import { hear } from "./hear.ts";
import { type Kind, type Passage, type Refusal, type Taken, takeIn } from "./intake.ts";
import type { Off, Tie, Told } from "./item.ts";
import { joinsOf } from "./joined.ts";
import type { Language } from "./language.ts";
import { languageFor } from "./languages.ts";
import { capital, Ids } from "./names.ts";
import { type Remark, remarksOn } from "./remark.ts";
import type { Heard } from "./rethink.ts";
import { hearWords } from "./spoken.ts";
import { withStops } from "./stops.ts";
import { tellTable } from "./table.ts";
import type { Column } from "./words.ts";
import { writeVehicle } from "./write.ts";

export interface Text {
  readonly file: string;
  readonly text: string;
}

export interface Draft {
  readonly kinds: readonly {
    readonly file: string;
    readonly kind: Kind;
    readonly passages: number;
    readonly odd: Taken["odd"];
    readonly late?: number;
    readonly overlapping?: number;
  }[];
  readonly told: Told;
  /** What each connection joins: ids of the file. */
  readonly joins: ReadonlyMap<string, readonly [string, string]>;
  readonly remarks: readonly Remark[];
  /** What the remarks were made of, so that they can be thought anew; a table tells of nothing but what is in it. */
  readonly heard?: Heard;
  /** The vehicle file. */
  readonly yaml: string;
}

export interface Wishes {
  /** What the vehicle is called. */
  readonly name?: string;
  /** Names of a sheet's columns, in small letters, and what they are. */
  readonly columns?: ReadonlyMap<string, Column>;
}

/** Makes a draft of texts that tell one vehicle, in their order; or says why there is none. */
export function draftVehicle(
  texts: readonly Text[],
  wishes: Wishes = {},
  language: Language = languageFor(texts.map(({ text }) => text).join("\n")),
): Draft | readonly Refusal[] {
  const refusals: Refusal[] = [];
  const kinds: Draft["kinds"][number][] = [];
  const passages: Passage[] = [];
  let table: Told | undefined;
  for (const { file, text } of texts) {
    const taken = takeIn(text, file, language.set.steps);
    if ("what" in taken) {
      refusals.push(taken);
      continue;
    }
    kinds.push({ ...taken, file, passages: taken.passages.length });
    if (taken.kind === "vehicle file")
      refusals.push({
        what: `${file} is a vehicle file already`,
        mend: "Name the narration alone, and put what it tells into that file.",
      });
    else if (taken.kind === "table") {
      const told = tellTable(text, file, wishes.columns ?? new Map(), language);
      if ("what" in told) refusals.push(told);
      else if (table === undefined) table = told;
      else refusals.push({ what: `${file} is a second table`, mend: "Put the rows into one." });
    } else passages.push(...taken.passages);
  }
  if (refusals.length > 0) return refusals;
  if (table !== undefined && passages.length > 0)
    return [{ what: "a table and a narration cannot be put together", mend: "Draft them one by one." }];
  const heard = hear(withStops(hearWords(passages, language), language), language);
  const told = table ?? heard.told;
  if (told.ties.length === 0)
    return [
      {
        what: "no connection was found in what was said",
        mend: "Say what is undone, and how many of it: undo the two heater hoses.",
      },
    ];
  const assembly = nameThings(told, language);
  const joins = new Map(told.ties.map((tie) => [tie.id, joinsOf(tie, told, assembly.id, language)]));
  const remarks = table === undefined ? remarksOn(told, assembly.id, heard.stood, heard.oneSide, language, joins) : [];
  return {
    kinds,
    told,
    joins,
    remarks,
    ...(table === undefined
      ? { heard: { told, stood: heard.stood, oneSide: heard.oneSide, language: language.code } }
      : {}),
    yaml: writeVehicle(wishes.name ?? language.labels.name, told, assembly, joins, language),
  };
}

/** Gives every part and task its id, and the connections theirs again, so that none is twice. */
function nameThings(told: Told, { compounds, labels }: Language): { readonly id: string; readonly label: string } {
  const ids = new Ids();
  ids.take("vehicle");
  for (const { id } of told.positions) ids.take(id);
  const renamed = new Map<string, string>();
  for (const tie of told.ties as Tie[]) {
    tie.label = compounds.written(tie.label);
    if (tie.hardware !== undefined) tie.hardware = compounds.written(tie.hardware);
    const id = ids.make(tie.label);
    renamed.set(tie.id, id);
    tie.id = id;
  }
  const label = compounds.written(capital(told.assembly ?? labels.assembly));
  const assembly = { id: ids.make(label), label };
  ids.take(`remove-${assembly.id}`);
  for (const part of told.parts as Off[]) {
    part.label = compounds.written(part.label);
    part.by = part.by.map((id) => renamed.get(id) ?? id);
    part.id = ids.make(`${part.label} part`).replace(/-part$/, "-part");
  }
  for (const task of told.tasks) {
    task.id = ids.make(task.label);
  }
  return assembly;
}

// Owns a task of one's own in a draft: what it does, where, how long and by how many, and what waits for it from then on.

import { comeFirst, wait } from "./before.ts";
import { type At, CannotBe, counted, placed } from "./lookup.ts";
import { put, sourceIn, textIn, written } from "./patch.ts";
import type { Sheet } from "./sheet.ts";
import { taskEntry } from "./write.ts";

export const DOES = ["raise", "chock", "tilt", "isolate", "vent", "drain", "support", "sling", "other"] as const;
export type Does = (typeof DOES)[number];

/** What a task of one's own is. */
export interface AddedTask {
  readonly does: Does;
  readonly label: string;
  readonly at?: At;
  readonly minutes: number;
  readonly people: number;
  /** The fluid that is drained; what is off once it is done. */
  readonly of?: string;
  /** What it is called when it is undone: lowering what was raised. */
  readonly undo?: string;
}

export function addTask(sheet: Sheet, { does, label, at, minutes, people, of = "", undo = "" }: AddedTask): string {
  const name = label.trim();
  if (name === "" || name === "?") throw new CannotBe("a name is needed", "Write what it is called.");
  const what = of.trim();
  if (what === "" && (does === "drain" || does === "isolate"))
    throw new CannotBe(`nothing says what to ${does}`, "Write which fluid, or what is off then.");
  const position = at === undefined ? undefined : placed(sheet, at, "positions");
  const id = sheet.fresh(name);
  const assembly = sheet.assembly();
  const entry = taskEntry({
    label: written(name),
    ...(position === undefined ? {} : { at: position }),
    time: timed(minutes),
    people: counted(people),
    ...((does === "support" || does === "sling") && assembly !== undefined ? { supports: assembly } : {}),
    ...(does === "drain" ? { drains: written(what) } : {}),
    ...(does === "isolate" ? { isolates: written(what) } : {}),
    ...(does === "raise" && undo !== "" ? { undo: written(undo) } : {}),
  });
  if (!sheet.add("tasks", [], `  ${id}: ${entry}`))
    throw new CannotBe("the tasks are written in brackets", "Write each on a line of its own, in the text.");
  haveRoom(sheet, id);
  for (const one of waitingFor(sheet, does, what)) wait(sheet, one, id, true);
  if (does === "raise") reachedOnlyAfter(sheet, id);
  if (does === "isolate") comeFirst(sheet, id, true);
  return id;
}

/** Minutes as they are written. */
export function timed(minutes: number): string {
  if (!(minutes > 0 && minutes < 10_000))
    throw new CannotBe("that is no time", "Write minutes, more than none and fewer than 10000.");
  return `${minutes} min`;
}

const ROOM_ASSUMED = "# room assumed";

/** A position of which nobody said how many it has room for has room for those whom a task at it takes. */
export function haveRoom(sheet: Sheet, id: string): void {
  const task = sheet.find(id, "tasks");
  const block = task === undefined ? "" : sheet.blockOf(task);
  const position = sheet.find(textIn(block, "at") ?? "", "positions");
  const people = Number(textIn(block, "people") ?? 1);
  if (position === undefined || people === 1) return;
  const place = sheet.blockOf(position);
  const room = textIn(place, "people");
  if (room !== undefined && !place.includes(ROOM_ASSUMED)) return;
  if (Number(room ?? 1) >= people) return;
  const wider = put(place, ["people"], String(people));
  sheet.write(
    position,
    sheet.headOf(position),
    room === undefined ? wider.replace(/(?=\n)/, `  ${ROOM_ASSUMED}`) : wider,
  );
}

/** What holds the fluid that is drained, and the mounts where something takes the weight: of those with one way, the only ones that can be told here. */
const waitingFor = (sheet: Sheet, does: Does, what: string): readonly string[] =>
  sheet.itemsOf("connections").flatMap((item) => {
    const block = sheet.blockOf(item);
    const isWaiting =
      does === "drain"
        ? textIn(block, "holds", "fluid")?.toLowerCase() === what.toLowerCase()
        : (does === "support" || does === "sling") && textIn(block, "kind") === "mount";
    const needs = sourceIn(block, "release", "needs");
    const isPlain = needs === undefined || needs.startsWith("[") || textIn(block, "release", "needs") !== undefined;
    return isWaiting && isPlain && textIn(block, "release", "time") !== undefined ? [item.id] : [];
  });

/** Nobody works underneath before it stands raised. */
function reachedOnlyAfter(sheet: Sheet, id: string): void {
  const under = sheet.find("under", "positions");
  if (under === undefined || sourceIn(sheet.blockOf(under), "needs") !== undefined) return;
  sheet.write(under, sheet.headOf(under), put(sheet.blockOf(under), ["needs"], `[${id}]`));
}

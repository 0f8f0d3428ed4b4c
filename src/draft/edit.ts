// Owns what is done to a draft by hand: accept, merge, split, move, mark as a part or as a connection, change, delete, add. Each takes the text of a vehicle
// file and gives it changed there and nowhere else, so that comments, order and whatever else people wrote stay.

import { type Kind, readVehicle } from "../vehicle/index.ts";
import { type Added, addConnection } from "./add.ts";
import { comeFirst, wait } from "./before.ts";
import { type At, CannotBe, counted, countIn, found, labelOf, placed, withCount } from "./lookup.ts";
import { assumedOf, type Item, type Said, saidOf, withoutAssumed } from "./outline.ts";
import { leaveOut, put, sourceIn, textIn, textsIn, written } from "./patch.ts";
import { BY_KIND } from "./question.ts";
import { loosen, toConnection, toPart } from "./role.ts";
import { Sheet } from "./sheet.ts";
import { type AddedTask, addTask, haveRoom, timed } from "./task.ts";

export type Edit =
  | { readonly is: "accept"; readonly id: string }
  /** `together`: they are two, told apart and taken as one; else one thing that was told twice. */
  | { readonly is: "merge"; readonly id: string; readonly with: string; readonly together?: boolean }
  | { readonly is: "split"; readonly id: string }
  | { readonly is: "move"; readonly id: string; readonly to: At }
  | { readonly is: "part"; readonly id: string }
  | { readonly is: "connection"; readonly id: string }
  | {
      readonly is: "change";
      readonly id: string;
      readonly label?: string;
      readonly kind?: Kind;
      readonly count?: number;
      readonly joins?: readonly [At, At];
      /** Of a task alone. */
      readonly minutes?: number;
      readonly people?: number;
    }
  | { readonly is: "delete"; readonly id: string }
  | ({ readonly is: "add" } & Added)
  | ({ readonly is: "add-task" } & AddedTask)
  /** Undone before anything else, as an isolation is; or not any more. */
  | { readonly is: "first"; readonly id: string; readonly isFirst: boolean }
  /** Waits until the other is done; or not any more. */
  | { readonly is: "wait"; readonly id: string; readonly on: string; readonly isNeeded: boolean }
  /** What the vehicle itself is called. */
  | { readonly is: "name"; readonly label: string };

/** The text as it is then, and what it is about from then on; or why it cannot be done. */
export type Edited = { readonly text: string; readonly id: string } | { readonly what: string; readonly mend: string };

/** A thing of a draft, with what its comments say of it. */
export interface Noted {
  readonly id: string;
  readonly section: string;
  readonly assumed: readonly string[];
  readonly said: readonly Said[];
}

const SHOWN = ["parts", "connections", "tasks"] as const;

/** The things of a draft in their order, with what was assumed of each and the words that it comes from. */
export function notesOf(text: string): readonly Noted[] {
  const sheet = new Sheet(text);
  return SHOWN.flatMap((section) =>
    sheet.itemsOf(section).map((item) => ({
      id: item.id,
      section,
      assumed: assumedOf(sheet.lines, item),
      said: saidOf(sheet.lines, item),
    })),
  );
}

/** Changes a draft. Never throws for what stands in the text. */
export function edit(text: string, asked: Edit): Edited {
  const sheet = new Sheet(text);
  try {
    const id = make(sheet, asked);
    // A file has rules that go beyond one thing: an eye is on this part, what rests must carry.
    if (asked.is !== "accept" && asked.is !== "move") checkSound(text, sheet.text);
    return { text: sheet.text, id };
  } catch (error) {
    if (!(error instanceof CannotBe)) throw error;
    return { what: error.message, mend: error.mend };
  }
}

function checkSound(before: string, after: string): void {
  const [fault] = readVehicle("draft", () => after).faults;
  if (fault !== undefined && readVehicle("draft", () => before).faults.length === 0)
    throw new CannotBe(`the file would not hold together then: ${fault.what}`, fault.mend);
}

function make(sheet: Sheet, asked: Edit): string {
  switch (asked.is) {
    case "accept":
      return accept(sheet, found(sheet, asked.id, ...SHOWN));
    case "merge":
      return merge(sheet, asked.id, asked.with, asked.together === true);
    case "split":
      return split(sheet, found(sheet, asked.id, "connections"));
    case "move":
      return move(sheet, asked.id, asked.to);
    case "part":
      return toPart(sheet, found(sheet, asked.id, "connections"));
    case "connection":
      return toConnection(sheet, found(sheet, asked.id, "parts"));
    case "change":
      return change(sheet, asked);
    case "delete":
      return remove(sheet, found(sheet, asked.id, ...SHOWN));
    case "first":
      return comeFirst(sheet, asked.id, asked.isFirst);
    case "wait":
      return wait(sheet, asked.id, asked.on, asked.isNeeded);
    case "name":
      return name(sheet, asked.label);
    case "add":
      return addConnection(sheet, asked);
    case "add-task":
      return addTask(sheet, asked);
  }
}

function accept(sheet: Sheet, item: Item): string {
  const keep = (lines: readonly string[]) => lines.flatMap((line) => withoutAssumed(line) ?? []);
  sheet.write(item, keep(sheet.headOf(item)), `${keep(sheet.blockOf(item).trimEnd().split("\n")).join("\n")}\n`);
  return item.id;
}

/** The later goes into the earlier: its words, and whatever the earlier does not say. */
function merge(sheet: Sheet, one: string, other: string, together: boolean): string {
  if (one === other) throw new CannotBe("a connection cannot be merged with itself", "Choose another one.");
  const [first, second] = [found(sheet, one, "connections"), found(sheet, other, "connections")].sort(
    (a, b) => a.from - b.from,
  ) as [Item, Item];
  const [into, from] = [sheet.blockOf(first), sheet.blockOf(second)];
  const words = [...sheet.headOf(first), ...sheet.headOf(second).filter((line) => !sheet.headOf(first).includes(line))];
  let block = into;
  const counts = [countIn(into), countIn(from)] as const;
  const count = together
    ? counts[0] === undefined || counts[1] === undefined
      ? undefined
      : counts[0] + counts[1]
    : Math.max(counts[0] ?? 0, counts[1] ?? 0) || undefined;
  block = withCount(block, count, first.id);
  for (const key of ["holds", "at", "live", "note"] as const) {
    const value = sourceIn(from, key);
    if (
      value !== undefined &&
      !value.includes("\n") &&
      textIn(block, key) === undefined &&
      sourceIn(block, key) === undefined
    )
      block = put(block, [key], value);
  }
  const torque = sourceIn(from, "refit", "torque");
  if (torque !== undefined && torque !== '"?"' && (textIn(block, "refit", "torque") ?? "?") === "?")
    block =
      sourceIn(block, "refit") === undefined
        ? put(block, ["refit"], `{ torque: ${torque} }`)
        : put(block, ["refit", "torque"], torque);
  if (textIn(block, "release", "at") === undefined) {
    const at = sourceIn(from, "release", "at");
    if (at !== undefined) block = put(block, ["release", "at"], at);
  }
  const needs = textsIn(block, "release", "needs");
  const more = textsIn(from, "release", "needs").filter((id) => !needs.includes(id) && id !== first.id);
  sheet.write(second, [], "");
  sheet.write(first, words, block);
  sheet.rename(second.id, first.id);
  // What each of them needed stays needed, but not one by the other.
  const merged = found(sheet, first.id, "connections");
  const own = [...needs, ...more].filter((id) => id !== second.id && id !== first.id);
  let now = sheet.blockOf(merged);
  if (own.length > 0) now = put(now, ["release", "needs"], `[${own.join(", ")}]`);
  else if (needs.length > 0) now = leaveOut(now, "release", "needs");
  sheet.write(merged, sheet.headOf(merged), now);
  return first.id;
}

/** Two of the same, half the hardware each; what needs the one needs both. */
function split(sheet: Sheet, item: Item): string {
  const block = sheet.blockOf(item);
  const label = labelOf(block, item.id);
  const id = sheet.fresh(`${label} second`);
  const count = countIn(block);
  const [half, rest] =
    count === undefined ? [undefined, undefined] : [Math.ceil(count / 2), Math.max(1, Math.floor(count / 2))];
  const key = /^(\s*)[^:]+?(\s*:)/.exec(block);
  const twin = withCount(
    put(`${key?.[1] ?? "  "}${id}${block.slice((key?.[0].length ?? 1) - 1)}`, ["label"], written(`${label}, second`)),
    rest,
    id,
  );
  const above = sheet.headOf(item);
  sheet.add("connections", above, twin, item);
  sheet.write(item, above, withCount(put(block, ["label"], written(`${label}, first`)), half, item.id));
  sheet.nameBeside(item.id, id);
  return id;
}

function move(sheet: Sheet, id: string, to: At): string {
  found(sheet, id, "connections", "tasks");
  const at = placed(sheet, to, "positions");
  const item = found(sheet, id, "connections", "tasks");
  const block = sheet.blockOf(item);
  const path = item.section === "tasks" ? ["at"] : ["release", "at"];
  const next = put(block, path, at);
  if (textIn(next, ...path) !== at)
    throw new CannotBe(`${id} has no way to be released`, "Write one under release, in the text.");
  sheet.write(item, sheet.headOf(item), next);
  haveRoom(sheet, id);
  return id;
}

function remove(sheet: Sheet, item: Item): string {
  const joins = item.section === "connections" ? textsIn(sheet.blockOf(item), "joins") : [];
  if (item.section === "parts") loosen(sheet, item, "cannot be left out");
  else sheet.forget(item.id);
  sheet.write(found(sheet, item.id, item.section), [], "");
  // A part that this alone held, and of which nobody said anything, was heard with it and goes with it.
  const stay = [...sheet.fixed(), sheet.assembly()];
  for (const id of joins) {
    const part = stay.includes(id) ? undefined : sheet.find(id, "parts");
    if (part === undefined || sheet.tiesOf(id).length > 0 || textIn(sheet.blockOf(part), "mass") !== "?") continue;
    sheet.forget(id);
    sheet.write(found(sheet, id, "parts"), [], "");
  }
  return item.id;
}

/** A name as it is written. */
function called(label: string): string {
  if (label.trim() === "" || label.trim() === "?") throw new CannotBe("a name is needed", "Write what it is called.");
  return written(label.trim());
}

function name(sheet: Sheet, label: string): string {
  const section = sheet.sections.find(({ key }) => key === "vehicle");
  if (section === undefined)
    throw new CannotBe("this file says nothing of the vehicle itself", "Write vehicle: { name: … } into its text.");
  sheet.write(
    { ...section, head: section.from, id: "", section: "" },
    [],
    put(sheet.blockOf(section), ["name"], called(label)),
  );
  return "vehicle";
}

function change(sheet: Sheet, asked: Extract<Edit, { readonly is: "change" }>): string {
  const { id, label, kind, count, minutes, people } = asked;
  found(sheet, id, ...SHOWN);
  const joins = asked.joins?.map((one) => placed(sheet, one, "parts"));
  const item = found(sheet, id, ...SHOWN);
  let block = sheet.blockOf(item);
  if (label !== undefined) {
    block = put(block, ["label"], called(label));
  }
  if (item.section === "connections") {
    if (kind !== undefined) block = put(block, ["kind"], kind);
    if (joins !== undefined) {
      if (joins[0] === joins[1]) throw new CannotBe("it would tie a part to itself", "Choose two parts.");
      block = put(block, ["joins"], `[${joins.join(", ")}]`);
    }
    if (count !== undefined) block = withCount(block, counted(count), id);
  }
  if (item.section === "tasks") {
    if (minutes !== undefined) block = put(block, ["time"], timed(minutes)).replace(BY_KIND, "");
    if (people !== undefined) block = put(block, ["people"], String(counted(people)));
  }
  sheet.write(item, sheet.headOf(item), block);
  haveRoom(sheet, id);
  return id;
}

// Owns what is done to a draft by hand: accept, merge, split, move, mark as a part or as a connection, change, delete, add. Each takes the text of a vehicle
// file and gives it changed there and nowhere else, so that comments, order and whatever else people wrote stay.

import { FASTENERS, guess, medianOf } from "../times/index.ts";
import { type Kind, readVehicle } from "../vehicle/index.ts";
import { VEHICLE } from "./joined.ts";
import { capital } from "./names.ts";
import { assumedOf, type Item, type Said, saidOf, withoutAssumed } from "./outline.ts";
import { leaveOut, put, sourceIn, textIn, textsIn, written } from "./patch.ts";
import { Sheet } from "./sheet.ts";

/** A position of the file, or a new one by what it is called. */
export type At = { readonly id: string } | { readonly label: string };

/** What a connection of one's own is. A part that is not there yet is given by its label. */
export interface Added {
  readonly kind: Kind;
  readonly at?: At;
  readonly joins: readonly [At, At];
  /** Left out, it is asked. */
  readonly count?: number;
  readonly label?: string;
}

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
    }
  | { readonly is: "delete"; readonly id: string }
  | ({ readonly is: "add" } & Added);

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

class CannotBe extends Error {
  readonly mend: string;
  constructor(what: string, mend: string) {
    super(what);
    this.mend = mend;
  }
}

/** Changes a draft. Never throws for what stands in the text. */
export function edit(text: string, asked: Edit): Edited {
  const sheet = new Sheet(text);
  try {
    const id = make(sheet, asked);
    // What a part is named for elsewhere (an eye is on it, a leg goes to it) may not do without it.
    if (asked.is === "connection" || asked.is === "delete") checkSound(text, sheet.text);
    return { text: sheet.text, id };
  } catch (error) {
    if (!(error instanceof CannotBe)) throw error;
    return { what: error.message, mend: error.mend };
  }
}

function checkSound(before: string, after: string): void {
  const [fault] = readVehicle("draft", () => after).faults;
  if (fault !== undefined && readVehicle("draft", () => before).faults.length === 0)
    throw new CannotBe(`the file would not hold together without it: ${fault.what}`, fault.mend);
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
    case "add":
      return add(sheet, asked);
  }
}

function found(sheet: Sheet, id: string, ...sections: readonly string[]): Item {
  const item = sheet.find(id, ...sections);
  if (item === undefined)
    throw new CannotBe(
      `${id} is none of the ${sections.join(", ")} that can be changed here`,
      "Change it in the text: it is written in brackets with others, or not there.",
    );
  return item;
}

const labelOf = (block: string, id: string): string => textIn(block, "label") ?? capital(id.replaceAll("-", " "));

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

/** How many pieces of hardware; undefined where nobody said. */
function countIn(block: string): number | undefined {
  const count = textIn(block, "hardware", "count");
  if (count === undefined) return sourceIn(block, "hardware") === undefined ? 1 : undefined;
  return /^\d+$/.test(count) ? Number(count) : undefined;
}

function withCount(block: string, count: number | undefined, id: string): string {
  if (count === countIn(block)) return block;
  const source = count === undefined ? '"?"' : String(count);
  if (sourceIn(block, "hardware", "count") !== undefined || sourceIn(block, "hardware", "item") !== undefined)
    return put(block, ["hardware", "count"], source);
  if (sourceIn(block, "hardware") !== undefined) return block;
  return put(block, ["hardware"], `{ item: ${written(labelOf(block, id).toLowerCase())}, count: ${source} }`);
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

/** The id of a position or part; one that is not there is made. */
function placed(sheet: Sheet, at: At, section: "positions" | "parts"): string {
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

function made(sheet: Sheet, id: string, section: string, value: string): string {
  if (!sheet.add(section, [], `  ${id}: ${value}`))
    throw new CannotBe(`the ${section} are written in brackets`, "Write each on a line of its own, in the text.");
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
  return id;
}

/** What a connection holds to becomes a part, and it is what holds that. */
function toPart(sheet: Sheet, item: Item): string {
  const block = sheet.blockOf(item);
  const label = labelOf(block, item.id);
  const part = sheet.fresh(`${label} part`);
  const said = sheet.headOf(item);
  made(sheet, part, "parts", `{ label: ${written(label)}, mass: "?" }`);
  const now = found(sheet, item.id, "connections");
  const joins = textsIn(block, "joins");
  const fixed = sheet.fixed();
  const other = joins.find((id) => !fixed.includes(id)) ?? joins[0] ?? VEHICLE;
  let next = put(block, ["joins"], `[${part}, ${other}]`);
  if (!FASTENING.has(textIn(block, "kind") ?? "")) next = leaveOut(put(next, ["kind"], "bolted joint"), "holds");
  sheet.write(now, [...said, `${indentOf(block)}# assumed: ${UNSAID}`], next);
  return part;
}

const UNSAID = "what holds it was not said";
const indentOf = (block: string): string => /^\s*/.exec(block)?.[0] ?? "  ";
const FASTENING: ReadonlySet<string> = new Set([
  "bolted joint",
  "cover fixing",
  "mount",
  "flange",
  "bracket",
  "clamp",
  "clip",
  "coupling",
  "shaft joint",
] satisfies Kind[]);

/** What was taken for a part is a tie itself: what held it joins what it sat between. */
function toConnection(sheet: Sheet, item: Item): string {
  const label = labelOf(sheet.blockOf(item), item.id);
  const [first] = loosen(sheet, item, "is no connection");
  if (first === undefined) {
    const said = sheet.headOf(item);
    sheet.write(found(sheet, item.id, "parts"), [], "");
    const assembly = sheet.assembly();
    if (assembly === undefined) throw new CannotBe("there is no part left that it could tie", "Add one first.");
    return add(
      sheet,
      { kind: "bolted joint", joins: [{ id: assembly }, { id: sheet.fixed()[0] ?? VEHICLE }], label },
      said,
    );
  }
  const tie = found(sheet, first, "connections");
  const head = sheet.headOf(tie).filter((line) => !line.includes(`# assumed: ${UNSAID}`));
  sheet.write(tie, head, put(sheet.blockOf(tie), ["label"], written(label)));
  sheet.write(found(sheet, item.id, "parts"), [], "");
  return first;
}

/** Has nothing join a part any more, and what needs it need its connections. Their ids. */
function loosen(sheet: Sheet, { id }: Item, why: string): readonly string[] {
  const fixed = sheet.fixed();
  const assembly = sheet.assembly();
  if (id === assembly || fixed.includes(id))
    throw new CannotBe(
      `${id} ${why}: it is what comes out, or what it comes out of`,
      "Name another assembly in the jobs first.",
    );
  const ties = sheet.tiesOf(id).map((tie) => tie.id);
  for (const each of ties) {
    const tie = found(sheet, each, "connections");
    const block = sheet.blockOf(tie);
    const rest = textsIn(block, "joins").filter((one) => one !== id);
    const far = fixed.includes(rest[0] ?? "") ? (assembly ?? VEHICLE) : (fixed[0] ?? VEHICLE);
    const joins = rest.length < 2 ? [...rest, far] : rest;
    sheet.write(tie, sheet.headOf(tie), put(block, ["joins"], `[${joins.join(", ")}]`));
  }
  const [first, ...more] = ties;
  if (first !== undefined) {
    for (const each of more.toReversed()) sheet.nameBeside(id, each);
    sheet.rename(id, first);
  }
  sheet.forget(id);
  return ties;
}

function remove(sheet: Sheet, item: Item): string {
  if (item.section === "parts") loosen(sheet, item, "cannot be left out");
  else sheet.forget(item.id);
  sheet.write(found(sheet, item.id, item.section), [], "");
  return item.id;
}

function change(sheet: Sheet, asked: Extract<Edit, { readonly is: "change" }>): string {
  const { id, label, kind, count } = asked;
  found(sheet, id, ...SHOWN);
  const joins = asked.joins?.map((one) => placed(sheet, one, "parts"));
  const item = found(sheet, id, ...SHOWN);
  let block = sheet.blockOf(item);
  if (label !== undefined) {
    if (label.trim() === "" || label.trim() === "?") throw new CannotBe("a name is needed", "Write what it is called.");
    block = put(block, ["label"], written(label.trim()));
  }
  if (item.section === "connections") {
    if (kind !== undefined) block = put(block, ["kind"], kind);
    if (joins !== undefined) {
      if (joins[0] === joins[1]) throw new CannotBe("it would tie a part to itself", "Choose two parts.");
      block = put(block, ["joins"], `[${joins.join(", ")}]`);
    }
    if (count !== undefined) block = withCount(block, counted(count), id);
  }
  sheet.write(item, sheet.headOf(item), block);
  return id;
}

function counted(count: number): number {
  if (!Number.isInteger(count) || count < 1 || count > 9999)
    throw new CannotBe(`${count} is no count`, "Write a whole number from 1 on.");
  return count;
}

function add(sheet: Sheet, { kind, at, joins, count, label }: Added, said: readonly string[] = []): string {
  const [from, to] = [placed(sheet, joins[0], "parts"), placed(sheet, joins[1], "parts")];
  if (from === to) throw new CannotBe("it would tie a part to itself", "Choose two parts.");
  const position = at === undefined ? undefined : placed(sheet, at, "positions");
  const called = (id: string, section: string): string => {
    const item = sheet.itemsOf(section).find((one) => one.id === id);
    return (item === undefined ? id : labelOf(sheet.blockOf(item), id)).toLowerCase();
  };
  const name = label?.trim() || `${capital(kind)}, ${called(from, "parts")} to ${called(to, "parts")}`;
  const id = sheet.fresh(name);
  const wanted = count === undefined ? undefined : counted(count);
  const bolted = kind === "mount" || kind === "bolted joint" || kind === "flange";
  const lines = [
    `  ${id}:`,
    `    label: ${written(name)}`,
    `    joins: [${from}, ${to}]`,
    `    kind: ${kind}`,
    ...(wanted === 1 && !bolted
      ? []
      : [`    hardware: { item: ${bolted ? "bolt" : written(kind)}, count: ${wanted ?? '"?"'} }`]),
    `    release: { ${position === undefined ? "" : `at: ${position}, `}time: ${minutesOf(kind, wanted, bolted)} min }  # time by kind`,
    ...(bolted ? ['    refit: { torque: "?" }'] : []),
  ];
  if (!sheet.add("connections", said, lines.join("\n")))
    throw new CannotBe("the connections are written in brackets", "Write each on a line of its own, in the text.");
  return id;
}

/** Whole minutes out of the catalogue. */
function minutesOf(kind: Kind, count: number | undefined, bolted: boolean): number {
  const fastener = FASTENERS.find(({ id }) => bolted && id === "bolt")?.id;
  const known = guess({
    kind,
    ...(fastener === undefined ? {} : { fastener }),
    ...(count === undefined ? {} : { count }),
  });
  return "off" in known ? Math.max(1, Math.round(medianOf(known.off))) : 3;
}

// Owns the writing of a draft as a vehicle file: every item under the words it comes from, "?" for every figure that is still to be asked.

import { minutesByKind } from "./by-kind.ts";
import type { Off, Source, TaskTold, Tie, Told } from "./item.ts";
import { fluidOf, needsIn, type Suggested, VEHICLE } from "./joined.ts";
import type { Language } from "./language.ts";
import { akinTo } from "./question.ts";
import { filled } from "./says.ts";

const GAP = '"?"';
/** Below this somebody looks: what was named without being done, or done to what was never named. What was told in half a sentence is mostly right. */
const SURE = 0.65;
/** Minutes of a task, where nothing is known but its name. */
export const TASK_MINUTES: Readonly<Record<string, number>> = {
  drain: 10,
  raise: 12,
  support: 8,
  sling: 8,
  lift: 10,
  vent: 3,
  tilt: 4,
  chock: 2,
  bleed: 10,
};

/** Text as YAML takes it: quoted where it would be read as something else. */
const scalar = (text: string): string =>
  /^[\p{L}\p{N}][\p{L}\p{N} ./()'+-]*$/u.test(text) && !/^(true|false|null|~|yes|no)$/i.test(text)
    ? text
    : JSON.stringify(text);

/** Where words come from: "caption 12, 0:41" or "line 7". */
export function sayPlace({ cue, time, line }: Source): string {
  if (cue === undefined) return `line ${line}`;
  if (time === undefined) return `caption ${cue}`;
  const seconds = Math.floor(time);
  return `caption ${cue}, ${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
}

export function writeVehicle(
  name: string,
  told: Told,
  assembly: { readonly id: string; readonly label: string },
  joinsOf: ReadonlyMap<string, readonly [string, string]>,
  language: Language,
): string {
  const lines: string[] = [
    `# ${language.says.head}`,
    "format: unmoor/1",
    `vehicle: { name: ${scalar(name)}, note: ${scalar(language.says.note)} }`,
  ];
  const { labels } = language;
  const removal = labels.remove.replace("{}", language.compounds.inside(assembly.label));
  const battery = told.ties.find(
    (tie, i) => i < 3 && language.set.isolators.within(tie.label) && ["cable", "strap", "wire"].includes(tie.kind),
  );
  if (battery !== undefined) lines.push(`first: [${battery.id}]`);
  if (told.positions.length > 0) {
    lines.push("positions:");
    const raise = told.tasks.find(({ does }) => does === "raise");
    for (const { id, label } of told.positions)
      lines.push(
        `  ${id}: { label: ${scalar(label)}${id === "under" && raise !== undefined ? `, needs: [${raise.id}]` : ""} }`,
      );
  }
  lines.push(
    "parts:",
    `  ${VEHICLE}: { label: ${scalar(labels.vehicle)}, fixed: true }`,
    `  ${assembly.id}: { label: ${scalar(assembly.label)}, mass: ${GAP}, centre: ${GAP} }`,
  );
  for (const part of told.parts) lines.push(...writePart(part));
  if (told.ties.length > 0) lines.push("connections:");
  const isCalledAsPart = akinTo(told.parts.map(({ label }) => label));
  const parts = new Set(told.parts.map(({ id }) => id));
  const needsOf = needsIn(told, language);
  for (const tie of told.ties) {
    const joins = joinsOf.get(tie.id) ?? [assembly.id, VEHICLE];
    // Of a name that a part has too, and joined to none of the parts that come off.
    const isOpen = !joins.some((id) => parts.has(id)) && isCalledAsPart(tie.label);
    lines.push(...writeTie(tie, needsOf(tie), joins, isOpen, language));
  }
  if (told.tasks.length > 0) lines.push("tasks:");
  for (const task of told.tasks) lines.push(...writeTask(task, assembly.id, labels));
  lines.push("jobs:", `  remove-${assembly.id}: { label: ${scalar(removal)}, needs: [out: ${assembly.id}] }`);
  return `${lines.join("\n")}\n`;
}

const quote = (source: Source): string => `# ${sayPlace(source)}: ${source.words}`.slice(0, 140);

function writePart(part: Off): string[] {
  const source = part.sources[0];
  return [
    ...(source === undefined ? [] : [`  ${quote(source)}`]),
    `  ${part.id}: { label: ${scalar(part.label)}, mass: ${GAP} }`,
  ];
}

/** Whether a connection is to be looked at as it was heard. */
export const isDoubtful = ({ assumed, sure }: Tie): boolean => assumed.length > 0 || sure < SURE;

const doubtsOf = (tie: Tie, { says }: Language): readonly string[] =>
  tie.assumed.length === 0 && isDoubtful(tie)
    ? [filled(says.unsure, { share: Math.round(tie.sure * 100) })]
    : tie.assumed;

function writeTie(
  tie: Tie,
  needs: readonly Suggested[],
  joins: readonly string[],
  isOpen: boolean,
  language: Language,
): string[] {
  const lines = [...new Map(tie.sources.map((source) => [sayPlace(source), source])).values()]
    .slice(0, 3)
    .map((source) => `  ${quote(source)}`);
  for (const assumed of doubtsOf(tie, language)) lines.push(`  # assumed: ${assumed}`);
  lines.push(
    `  ${tie.id}:`,
    `    label: ${scalar(tie.label)}`,
    `    joins: [${joins.join(", ")}]${isOpen ? "  # ends not said" : ""}`,
    `    kind: ${tie.kind}`,
  );
  // An earth strap carries current, not weight.
  if (tie.kind === "strap") lines.push("    carrying: false  # assumed");
  const fluid = fluidOf(tie, language);
  if (fluid !== undefined)
    lines.push(`    holds: { fluid: ${scalar(fluid)}, amount: ${GAP} }  # ${language.says.holdsByName}`);
  if (tie.hardware !== undefined || tie.count === undefined || tie.count > 1)
    lines.push(
      `    hardware: { item: ${scalar(tie.hardware ?? tie.label.toLowerCase())}, count: ${tie.count ?? GAP} }`,
    );
  if (tie.place !== undefined)
    lines.push(`    note: ${scalar(language.labels.nearThe.replace("{}", language.compounds.written(tie.place)))}`);
  const way = [
    ...(tie.at === undefined ? [] : [`at: ${tie.at}`]),
    `time: ${tie.time ?? `${minutesByKind(tie.kind, tie.hardware, tie.count)} min`}`,
    ...(tie.verb === "loosen" ? ["loosen: true"] : []),
    ...(needs.length === 0 ? [] : [`needs: [${[...new Set(needs.map(({ id }) => id))].join(", ")}]`]),
  ];
  for (const { id, reason } of needs) lines.push(`    # needs ${id}: ${reason}`);
  lines.push(`    release: { ${way.join(", ")} }${tie.time === undefined ? "  # time by kind" : ""}`);
  if (tie.torque !== undefined) lines.push(`    refit: { torque: ${tie.torque} }`);
  else if (["mount", "bolted joint", "flange"].includes(tie.kind)) lines.push(`    refit: { torque: ${GAP} }`);
  return lines;
}

/** What a task says, each text as it is written. */
interface TaskSays {
  readonly label: string;
  readonly at?: string;
  readonly time: string;
  readonly people?: number;
  readonly supports?: string;
  readonly drains?: string;
  readonly amount?: string;
  readonly isolates?: string;
  readonly undo?: string;
}

export const taskEntry = (says: TaskSays): string => {
  const { label, at, time, people = 1, supports, drains, amount = GAP, isolates, undo } = says;
  return `{ ${[
    `label: ${label}`,
    ...(at === undefined ? [] : [`at: ${at}`]),
    `time: ${time}`,
    ...(people === 1 ? [] : [`people: ${people}`]),
    ...(supports === undefined ? [] : [`supports: [${supports}]`]),
    ...(drains === undefined ? [] : [`drains: [${drains}]`, `amount: ${amount}`]),
    ...(isolates === undefined ? [] : [`isolates: ${isolates}`]),
    ...(undo === undefined ? [] : [`undo: { label: ${undo}, time: 5 min }`]),
  ].join(", ")} }`;
};

function writeTask(task: TaskTold, assembly: string, labels: Language["labels"]): string[] {
  const { id, label, at, does, fluid, amount } = task;
  const source = task.sources[0];
  const entry = taskEntry({
    label: scalar(label),
    ...(at === undefined ? {} : { at }),
    time: `${TASK_MINUTES[does] ?? 5} min`,
    ...(does === "support" || does === "sling" ? { supports: assembly } : {}),
    ...(does === "drain" ? { drains: scalar(fluid ?? labels.fluid), ...(amount === undefined ? {} : { amount }) } : {}),
    ...(does === "raise" ? { undo: scalar(labels.lower) } : {}),
  });
  return [...(source === undefined ? [] : [`  ${quote(source)}`]), `  ${id}: ${entry}  # time assumed`];
}

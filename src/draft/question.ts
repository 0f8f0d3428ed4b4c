// Owns the questions of a file: its "?", and what was taken for granted in it and marked so (minutes, positions, what comes before, what it joins, whether it is there at all).

import type { Connection, Gap, Place, Vehicle } from "../vehicle/index.ts";
import { assumedOf, type Item } from "./outline.ts";
import { Sheet } from "./sheet.ts";

/** What is asked: a figure that is written "?", by its key; or what was taken for granted. */
export type Asks = "figure" | "minutes" | "position" | "before" | "there" | "joins";

export interface Question {
  /** The same as long as it stands, whatever else is changed. */
  readonly name: string;
  readonly asks: Asks;
  readonly of: string;
  readonly label: string;
  readonly key: string;
  readonly means: string;
  readonly at: Place;
  /** Of `before`: what must be done before. */
  readonly on?: { readonly id: string; readonly label: string };
  /** What stands there now, where something does. */
  readonly now?: string;
  /** What may be answered, where it is one of a few. */
  readonly choices?: readonly { readonly value: string; readonly label: string }[];
}

/** Where no stake is known, a figure's by what it decides: whether it may hang, whether hands may take it, how it hangs, how long it takes, how it goes back. */
const WEIGHT: Readonly<Record<string, number>> = { mass: 60, centre: 40, count: 30, time: 25, torque: 15, amount: 5 };
const ASKS: readonly Asks[] = ["figure", "there", "position", "joins", "before", "minutes"];

/** Marks of a draft, as comments. */
export const BY_KIND = /\s*# time (by kind|assumed)\b.*$/m;
export const ENDS_OPEN = /\s*# ends not said\b.*$/m;

/** Every question of a file in an order that needs no plan: figures first, what weighs most by its kind before; then what was taken for granted. */
export function questionsIn(text: string, vehicle: Vehicle, gaps: readonly Gap[], file: string): readonly Question[] {
  const joined = new Map<string, number>();
  for (const { joins } of vehicle.connections) for (const id of joins) joined.set(id, (joined.get(id) ?? 0) + 1);
  const bears = new Set(vehicle.connections.filter(({ carrying }) => carrying).map(({ id }) => id));
  const weight = ({ asks, key, of }: Question): number =>
    asks === "figure" ? (WEIGHT[key] ?? 1) + (bears.has(of) ? 3 : 0) + Math.min(joined.get(of) ?? 0, 9) : 0;
  return [...figuresIn(vehicle, gaps), ...takenIn(text, vehicle, file)].sort(
    (a, b) =>
      ASKS.indexOf(a.asks) - ASKS.indexOf(b.asks) ||
      weight(b) - weight(a) ||
      a.at.line - b.at.line ||
      a.at.column - b.at.column,
  );
}

function figuresIn(vehicle: Vehicle, gaps: readonly Gap[]): Question[] {
  const labels = labelsOf(vehicle);
  const seen = new Map<string, number>();
  return gaps.map(({ of, key, means, at }) => {
    const n = (seen.get(`${of} ${key}`) ?? 0) + 1;
    seen.set(`${of} ${key}`, n);
    return { name: `${of} ${key}${n === 1 ? "" : ` ${n}`}`, asks: "figure", of, label: labels(of), key, means, at };
  });
}

/** What things are called; connections of one name, the driveshafts of both sides, by their place too. */
const labelsOf = ({ parts, connections, tasks, positions }: Vehicle): ((id: string) => string) => {
  const places = new Map(positions.map(({ id, label }) => [id, label]));
  const often = new Map<string, number>();
  for (const { label } of connections) often.set(label, (often.get(label) ?? 0) + 1);
  const labels = new Map([...parts, ...tasks, ...positions].map(({ id, label }) => [id, label]));
  for (const { id, label, ways } of connections) {
    const place = places.get(ways[0]?.at ?? "");
    labels.set(id, (often.get(label) ?? 0) > 1 && place !== undefined ? `${label} (${place})` : label);
  }
  return (id) => labels.get(id) ?? id;
};

/** What the comments of a draft mark as taken for granted. */
function takenIn(text: string, vehicle: Vehicle, file: string): Question[] {
  const sheet = new Sheet(text);
  const labels = labelsOf(vehicle);
  const connections = new Map(vehicle.connections.map((one) => [one.id, one]));
  const tasks = new Map(vehicle.tasks.map((one) => [one.id, one]));
  const about = (item: Item) => ({
    of: item.id,
    label: labels(item.id),
    at: { file, line: item.from + 1, column: 1 + (sheet.lines[item.from] ?? "").search(/\S/) },
  });
  const minutes = (item: Item, now: number): Question => ({
    ...about(item),
    name: `${item.id} minutes`,
    asks: "minutes",
    key: "time",
    now: `${now} min`,
    means: item.section === "tasks" ? "how long it takes" : "how long its release takes",
  });
  const ofTasks = sheet.itemsOf("tasks").flatMap((item) => {
    const task = tasks.get(item.id);
    return task !== undefined && BY_KIND.test(sheet.blockOf(item)) ? [minutes(item, task.time)] : [];
  });
  const ofConnections = sheet.itemsOf("connections").flatMap((item): Question[] => {
    const connection = connections.get(item.id);
    const [way] = connection?.ways ?? [];
    if (connection === undefined || way === undefined || connection.ways.length > 1) return [];
    const block = sheet.blockOf(item);
    const here = about(item);
    return [
      ...(BY_KIND.test(block) ? [minutes(item, way.time)] : []),
      ...thereOf(here, assumedOf(sheet.lines, { ...item, to: item.from })),
      ...(way.at === undefined && vehicle.positions.length > 0 ? [positionOf(here, vehicle)] : []),
      ...(ENDS_OPEN.test(block) ? [joinsOf(here, connection, vehicle, labels)] : []),
      ...beforeOf(here, block, labels),
    ];
  });
  return [...ofTasks, ...ofConnections];
}

type About = Pick<Question, "of" | "label" | "at">;

/** In the languages that a draft is written in. */
const OF_KIND = /\bkind\b|\bArt\b/;

const thereOf = (about: About, assumed: readonly string[]): Question[] =>
  // What kind it is, is seen by its name, and says nothing against it.
  assumed.every((one) => OF_KIND.test(one))
    ? []
    : [
        {
          ...about,
          name: `${about.of} there`,
          asks: "there",
          key: "there",
          now: "yes",
          means: assumed.join("; "),
          choices: YES_NO,
        },
      ];

const YES_NO = [
  { value: "yes", label: "yes" },
  { value: "no", label: "no" },
] as const;

const positionOf = (about: About, { positions }: Vehicle): Question => ({
  ...about,
  name: `${about.of} position`,
  asks: "position",
  key: "at",
  means: "from where it is reached",
  choices: positions.map(({ id, label }) => ({ value: id, label })),
});

const joinsOf = (about: About, connection: Connection, vehicle: Vehicle, labels: (id: string) => string): Question => ({
  ...about,
  name: `${about.of} joins`,
  asks: "joins",
  key: "joins",
  now: connection.joins.map(labels).join(", "),
  means: "what it joins",
  choices: endsFor(vehicle, connection).map((ids) => ({
    value: ids.join(" + "),
    label: ids.map(labels).join(", "),
  })),
});

const wordsIn = (label: string): readonly string[] => label.toLowerCase().split(/[^\p{L}]+/u);

/** The words of a label that say something. */
const sayingIn = (label: string): readonly string[] => wordsIn(label).filter((word) => word.length > 3);

/** Tells of a name whether it has a word of these that says something: starter cable, starter motor. */
export const akinTo = (names: readonly string[]): ((name: string) => boolean) => {
  const said = new Set(names.flatMap(sayingIn));
  return (name) => wordsIn(name).some((word) => said.has(word));
};

/** The numbers of the parts that have a word in their label, found once for all connections of a vehicle. */
function partsByWord(parts: Vehicle["parts"]): ReadonlyMap<string, readonly number[]> {
  const known = partsKnown.get(parts);
  if (known !== undefined) return known;
  const made = new Map<string, number[]>();
  for (const [n, { label }] of parts.entries())
    for (const word of new Set(sayingIn(label))) made.set(word, [...(made.get(word) ?? []), n]);
  partsKnown.set(parts, made);
  return made;
}
const partsKnown = new WeakMap<Vehicle["parts"], ReadonlyMap<string, readonly number[]>>();

/** The ends that a connection may have as well: those it has, and with one of them a part that is called like it. */
export function endsFor(
  { parts }: Vehicle,
  { label, joins }: Pick<Connection, "label" | "joins">,
): readonly (readonly string[])[] {
  const byWord = partsByWord(parts);
  const akin = [...new Set(sayingIn(label).flatMap((word) => byWord.get(word) ?? []))].sort((a, b) => a - b);
  const others = akin.flatMap((n) => parts[n] ?? []).filter((part) => !part.fixed && !joins.includes(part.id));
  return [joins, ...others.flatMap(({ id }) => joins.map((end) => [id, end]))];
}

/** What is to come before it, with the reason that a comment gives. */
const beforeOf = (about: About, block: string, labels: (id: string) => string): Question[] =>
  [...block.matchAll(/^\s*# needs ([^:\s]+): (.*)$/gm)].map(([, on = "", reason = ""]) => ({
    ...about,
    name: `${about.of} before ${on}`,
    asks: "before",
    key: "needs",
    on: { id: on, label: labels(on) },
    now: "yes",
    means: reason,
    choices: YES_NO,
  }));

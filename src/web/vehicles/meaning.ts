// Owns what has changed in meaning between two readings of a vehicle: things that are new, gone or changed, and in which field, by the file's own keys.

import type { Vehicle } from "../../vehicle/index.ts";

/** Where things of a kind stand in the model, by what one of them is called; `vehicle` is the rest of the file. */
const LISTS = {
  part: ({ parts }: Vehicle) => parts,
  connection: ({ connections }: Vehicle) => connections,
  task: ({ tasks }: Vehicle) => tasks,
  job: ({ jobs }: Vehicle) => jobs,
  position: ({ positions }: Vehicle) => positions,
  eye: ({ eyes }: Vehicle) => eyes,
  hoist: ({ hoists }: Vehicle) => hoists,
  leg: ({ legs }: Vehicle) => legs ?? [],
  hook: ({ hooks }: Vehicle) => hooks ?? [],
  beam: ({ beams }: Vehicle) => beams ?? [],
  obstacle: ({ obstacles }: Vehicle) => obstacles ?? [],
  person: ({ shop }: Vehicle) => shop.people,
} as const satisfies Record<string, (vehicle: Vehicle) => readonly { readonly id: string }[]>;

export type ThingKind = keyof typeof LISTS | "vehicle";

export interface FieldChange {
  /** Keys from the thing down, as they are written; in a list of things, their number from 1. */
  readonly path: readonly string[];
  /** In base units; undefined where the file does not say it. Of two lists of words only those that are gone, and those that are new. */
  readonly before: unknown;
  readonly after: unknown;
}

export interface Change {
  readonly thing: ThingKind;
  readonly id: string;
  readonly label: string;
  readonly is: "added" | "removed" | "changed";
  /** Of what is changed. */
  readonly fields: readonly FieldChange[];
}

/** Keys of the model that are written otherwise in the file. */
const WRITTEN: Readonly<Record<string, string>> = { ways: "release", fresh: "new", consumes: "new", lifted: "checks" };
/** Told as a whole: its parts alone say nothing. */
const WHOLE = new Set(["mass", "torque", "needs", "layout", "outline", "path", "pads", "amount"]);
/** Made by the reader, and no word of the file's. */
const MADE = new Set(["id", "handIsDefault", "marginIsDefault"]);

/** Everything that is new, gone or changed, in the order of the newer file, what is gone after it. */
export const compareMeaning = (before: Vehicle, after: Vehicle): readonly Change[] => {
  const rest = fieldsOf(restOf(before), restOf(after));
  const changes: Change[] =
    rest.length === 0 ? [] : [{ thing: "vehicle", id: "", label: after.name, is: "changed", fields: rest }];
  for (const [thing, list] of Object.entries(LISTS) as readonly [keyof typeof LISTS, (typeof LISTS)["part"]][]) {
    const old = new Map(list(before).map((one) => [one.id, one]));
    const now = new Set<string>();
    for (const one of list(after)) {
      now.add(one.id);
      const was = old.get(one.id);
      if (was === undefined) changes.push({ thing, id: one.id, label: labelOf(one), is: "added", fields: [] });
      else {
        const fields = fieldsOf(was, one);
        if (fields.length > 0) changes.push({ thing, id: one.id, label: labelOf(one), is: "changed", fields });
      }
    }
    for (const [id, one] of old)
      if (!now.has(id)) changes.push({ thing, id, label: labelOf(one), is: "removed", fields: [] });
  }
  return changes;
};

const labelOf = (one: { readonly id: string; readonly label?: string }): string => one.label ?? one.id;

/** What belongs to no thing: name, limits, what comes first, tools. */
const restOf = ({ name, note, origin, limits, first, lifted, shop }: Vehicle) => ({
  name,
  note,
  origin,
  limits,
  first,
  lifted,
  tools: shop.tools,
});

const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" && value !== null && !Array.isArray(value);
const isThings = (value: unknown): value is readonly Readonly<Record<string, unknown>>[] =>
  Array.isArray(value) && value.length > 0 && value.every(isRecord);

const isWords = (value: unknown): value is readonly string[] =>
  Array.isArray(value) && value.every((one) => typeof one === "string");

/** The fields in which two values differ. */
const fieldsOf = (before: unknown, after: unknown, path: readonly string[] = []): readonly FieldChange[] => {
  if (areEqual(before, after)) return [];
  const isWhole = WHOLE.has(path.at(-1) ?? "");
  if (!isWhole && isRecord(before) && isRecord(after))
    return [...new Set([...Object.keys(before), ...Object.keys(after)])]
      .filter((key) => !MADE.has(key))
      .flatMap((key) => fieldsOf(before[key], after[key], [...path, WRITTEN[key] ?? key]));
  if (!isWhole && isThings(before) && isThings(after))
    return Array.from({ length: Math.max(before.length, after.length) }, (_, n) =>
      fieldsOf(before[n], after[n], [...path, String(n + 1)]),
    ).flat();
  if (isWords(before) && isWords(after)) {
    // Of a list of words what is gone and what is new; where that is nothing, its order has changed.
    const [gone, fresh] = [before.filter((one) => !after.includes(one)), after.filter((one) => !before.includes(one))];
    if (gone.length > 0 || fresh.length > 0) return [{ path, before: gone, after: fresh }];
  }
  return [{ path, before, after }];
};

const areEqual = (one: unknown, other: unknown): boolean => {
  if (Object.is(one, other)) return true;
  if (Array.isArray(one))
    return Array.isArray(other) && one.length === other.length && one.every((each, n) => areEqual(each, other[n]));
  if (!isRecord(one) || !isRecord(other)) return false;
  return [...new Set([...Object.keys(one), ...Object.keys(other)])].every((key) => areEqual(one[key], other[key]));
};

// Owns the reading of what an entry says: every field checked against the table of kinds, every fault at once.

import { type Dimension, readQuantity } from "../quantity/index.ts";
import { indexWords } from "../vehicle/index.ts";
import type { Fault } from "./fault.ts";
import { type Body, isKind, KINDS, type Kind } from "./kinds.ts";

const WORD = 200;
const TEXT = 4000;
const LIST = 100;
const NUMBERS = 5000;
const DIGEST = /^[0-9a-f]{64}$/;
export const UUID7 = /^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/;

const DIMENSIONS: Readonly<Record<string, Dimension>> = {
  torque: "torque",
  force: "force",
  angle: "angle",
  length: "length",
  volume: "volume",
  time: "time",
};

/** A UUID of version 7 in small letters, as every entry has. */
export const isEntryId = (text: string): boolean => UUID7.test(text);

export type BodyReading = { readonly body: Body } | { readonly faults: readonly Fault[] };

const isText = (value: unknown, most: number): value is string =>
  typeof value === "string" && value.trim() !== "" && value.length <= most;

/** What a value should be and is not; undefined when it is. */
const wrong = (sort: string, value: unknown): { readonly what: string; readonly mend: string } | undefined => {
  const no = (wanted: string, mend: string) => ({ what: `${shown(value)} is ${wanted}`, mend });
  const dimension = DIMENSIONS[sort];
  if (dimension !== undefined) {
    if (!isText(value, WORD)) return no(`no ${dimension}`, "Write it as it was read, with its unit.");
    const reading = readQuantity(value, dimension);
    return "fault" in reading ? { what: reading.fault.what, mend: reading.fault.mend } : undefined;
  }
  if (sort.includes("|"))
    return sort.split("|").includes(value as string)
      ? undefined
      : no("none of the words for it", `Write one of: ${sort.split("|").join(", ")}.`);
  switch (sort) {
    case "id":
    case "person":
    case "word":
      return isText(value, WORD) ? undefined : no("no name", `Write a name of at most ${WORD} letters.`);
    case "text":
      return isText(value, TEXT) ? undefined : no("no text", `Write some words, at most ${TEXT} letters.`);
    case "count":
      return Number.isSafeInteger(value) && (value as number) > 0 && (value as number) <= 1e6
        ? undefined
        : no("no count", "Write a whole number from 1.");
    case "flag":
      return value === true ? undefined : no("not true", "Write true, or leave it out.");
    case "entry":
      return typeof value === "string" && UUID7.test(value)
        ? undefined
        : no("no id of an entry", "Write the id of the entry meant.");
    case "people":
      return Array.isArray(value) && value.length <= LIST && value.every((one) => isText(one, WORD))
        ? undefined
        : no("no list of people", "Write their ids as a list.");
    case "numbers":
      return Array.isArray(value) &&
        value.length <= NUMBERS &&
        value.every((one) => Number.isSafeInteger(one) && one > 0 && one <= 1e6)
        ? undefined
        : no("no list of numbers", "Write whole numbers from 1 as a list.");
    case "photos":
    case "voices":
      return Array.isArray(value) &&
        value.length <= LIST &&
        value.every((one) => typeof one === "string" && DIGEST.test(one))
        ? undefined
        : no(`no list of ${sort}`, "Write the SHA-256 of each, 64 hexadecimal digits.");
    case "amounts":
      return amountsWrong(value);
  }
  throw new Error(`the table of kinds has a sort that nobody reads: ${sort}`);
};

const amountsWrong = (value: unknown): { readonly what: string; readonly mend: string } | undefined => {
  const mend = 'Write each fluid with its volume: {"coolant": "6.2 L"}.';
  if (typeof value !== "object" || value === null || Array.isArray(value) || Object.keys(value).length === 0)
    return { what: `${shown(value)} is no list of amounts`, mend };
  for (const [fluid, amount] of Object.entries(value)) {
    if (!isText(fluid, WORD) || !isText(amount, WORD)) return { what: `${shown(amount)} is no volume`, mend };
    const reading = readQuantity(amount, "volume");
    if ("fault" in reading) return { what: reading.fault.what, mend: reading.fault.mend };
  }
  return undefined;
};

const shown = (value: unknown): string => {
  const text = value === undefined ? "nothing" : JSON.stringify(value);
  return text.length > 60 ? `${text.slice(0, 60)}…` : text;
};

/** A value from outside as what an entry says. */
export const readBody = (value: unknown): BodyReading => {
  if (typeof value !== "object" || value === null || Array.isArray(value))
    return {
      faults: [{ rule: "E4", at: "body", what: `${shown(value)} says nothing`, mend: "Write an object with a kind." }],
    };
  const { kind, ...given } = value as Readonly<Record<string, unknown>>;
  if (typeof kind !== "string" || !isKind(kind)) {
    const near = typeof kind === "string" ? indexWords(Object.keys(KINDS))(kind) : undefined;
    const mend = near === undefined ? `Write one of: ${Object.keys(KINDS).join(", ")}.` : `Nearest: ${near}.`;
    return { faults: [{ rule: "E5", at: "body.kind", what: `there is no kind of entry ${shown(kind)}`, mend }] };
  }
  const faults = faultsOf(kind, given);
  return faults.length > 0 ? { faults } : { body: value as Body };
};

const faultsOf = (kind: Kind, given: Readonly<Record<string, unknown>>): readonly Fault[] => {
  const fields: Readonly<Record<string, string>> = KINDS[kind].fields;
  const faults: Fault[] = [];
  for (const [name, sort] of Object.entries(fields)) {
    const optional = sort.endsWith("?");
    const at = `body.${name}`;
    const value = given[name];
    if (value === undefined) {
      if (!optional)
        faults.push({
          rule: "E2",
          at,
          what: `"${kind}" says nothing of ${name}`,
          mend: `Add ${name}: ${SORTS(sort)}.`,
        });
      continue;
    }
    const fault = wrong(optional ? sort.slice(0, -1) : sort, value);
    if (fault !== undefined) faults.push({ rule: "E4", at, ...fault });
  }
  for (const name of Object.keys(given))
    if (!Object.hasOwn(fields, name))
      faults.push({
        rule: "E3",
        at: `body.${name}`,
        what: `"${kind}" has no field ${name}`,
        mend: `It has: ${Object.keys(fields).join(", ")}.`,
      });
  return faults;
};

const SORTS = (sort: string): string => {
  const bare = sort.replace("?", "");
  if (bare.includes("|")) return bare.split("|").join(" or ");
  return { id: "an id of the vehicle file", person: "who, by id", entry: "the id of an entry" }[bare] ?? `a ${bare}`;
};

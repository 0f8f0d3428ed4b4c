// Owns the entry: one thing that was done, by whom, when, on which device; its text, its hash, and the reading of a text from outside.

import { readBody, UUID7 } from "./body.ts";
import { writeCanonical } from "./canonical.ts";
import { type Clock, compareClocks } from "./clock.ts";
import type { Fault } from "./fault.ts";
import type { Body } from "./kinds.ts";

export interface Entry {
  readonly format: "unmoor/entry/1";
  /** UUIDv7, made by the client. */
  readonly id: string;
  readonly run: string;
  /** Who says so. */
  readonly author: string;
  /** The device it was written on: the first 32 hexadecimal digits of the SHA-256 of its public key. */
  readonly device: string;
  /** 1 for the device's first entry in this run; no gap. */
  readonly number: number;
  /** SHA-256 of the text of the device's previous entry in this run; null for its first. */
  readonly previous: string | null;
  /** What the device had seen of others when it wrote this, by device the number of the last: only what is news since its previous entry. */
  readonly seen: Readonly<Record<string, number>>;
  readonly clock: Clock;
  /** Milliseconds since 1970 UTC as the device's own clock stood: for people, never for the order. */
  readonly at: number;
  readonly body: Body;
  /** Ed25519 of the device over the canonical text without this field, 128 hexadecimal digits. */
  readonly signature: string;
}

export type Unsigned = Omit<Entry, "signature">;

/** An entry beside the text that it was read from. */
export interface Told {
  readonly entry: Entry;
  readonly text: string;
}

/** The one order of all entries of a run: by clock; of equal clocks by device. It never puts an entry before one that its device had seen. */
export const compareEntries = (a: Entry, b: Entry): number => {
  const clocks = compareClocks(a.clock, b.clock);
  if (clocks !== 0) return clocks;
  if (a.device !== b.device) return a.device < b.device ? -1 : 1;
  if (a.number !== b.number) return a.number - b.number;
  return a.id < b.id ? -1 : a.id > b.id ? 1 : 0;
};

export type EntryReading = { readonly told: Told } | { readonly faults: readonly Fault[] };

const HEX32 = /^[0-9a-f]{32}$/;
const HEX64 = /^[0-9a-f]{64}$/;
const HEX128 = /^[0-9a-f]{128}$/;
const isName = (value: unknown): boolean => typeof value === "string" && value.trim() !== "" && value.length <= 200;
const isWhole = (value: unknown, least: number): boolean => Number.isSafeInteger(value) && (value as number) >= least;
const isHex = (value: unknown, form: RegExp): boolean => typeof value === "string" && form.test(value);

const isSeen = (value: unknown): boolean =>
  typeof value === "object" &&
  value !== null &&
  !Array.isArray(value) &&
  Object.entries(value).every(([device, number]) => HEX32.test(device) && isWhole(number, 1));

/** What each field of the envelope must be. */
const ENVELOPE: Readonly<Record<keyof Entry, readonly [is: (value: unknown) => boolean, wanted: string]>> = {
  format: [(value) => value === "unmoor/entry/1", '"unmoor/entry/1"'],
  id: [(value) => isHex(value, UUID7), "a UUID of version 7 in small letters"],
  run: [isName, "the id of the run"],
  author: [isName, "who says so"],
  device: [(value) => isHex(value, HEX32), "32 hexadecimal digits"],
  number: [(value) => isWhole(value, 1), "a whole number from 1"],
  previous: [(value) => value === null || isHex(value, HEX64), "64 hexadecimal digits, or null for the first"],
  seen: [isSeen, "a number from 1 for each device"],
  clock: [
    (value) => Array.isArray(value) && value.length === 2 && value.every((one) => isWhole(one, 0)),
    "milliseconds and a count",
  ],
  at: [(value) => isWhole(value, 0), "milliseconds since 1970"],
  body: [(value) => typeof value === "object" && value !== null, "what it says"],
  signature: [(value) => isHex(value, HEX128), "128 hexadecimal digits"],
};

/** A text from outside as an entry; whether hash and signature are right is for `verifyEntries`. */
export const readEntry = (text: string): EntryReading => {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return {
      faults: [{ rule: "E1", at: "", what: "it is not JSON, or cut off", mend: "Take it from the device again." }],
    };
  }
  if (typeof value !== "object" || value === null || Array.isArray(value))
    return { faults: [{ rule: "E1", at: "", what: "it is no object", mend: "Take it from the device again." }] };
  const given = value as Readonly<Record<string, unknown>>;
  const faults: Fault[] = [];
  for (const [name, [is, wanted]] of Object.entries(ENVELOPE))
    if (given[name] === undefined) faults.push({ rule: "E2", at: name, what: "it is missing", mend: `Add ${wanted}.` });
    else if (!is(given[name]))
      faults.push({ rule: "E4", at: name, what: `it is not ${wanted}`, mend: "Take it from the device again." });
  for (const name of Object.keys(given))
    if (!Object.hasOwn(ENVELOPE, name))
      faults.push({ rule: "E3", at: name, what: "no entry has this field", mend: "Take it from the device again." });
  if (faults.length > 0) return { faults };
  const reading = readBody(given.body);
  if ("faults" in reading) return reading;
  const entry = value as Entry;
  if (!isCanonical(entry, text))
    return {
      faults: [
        {
          rule: "E6",
          at: "",
          what: "it is not written as it was signed",
          mend: "Take it from the device letter for letter.",
        },
      ],
    };
  return { told: { entry, text } };
};

const isCanonical = (entry: Entry, text: string): boolean => {
  try {
    return writeCanonical(entry) === text;
  } catch {
    return false;
  }
};

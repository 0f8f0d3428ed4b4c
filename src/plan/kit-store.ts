// Owns the store file, *.store.yaml: what lies on which shelf, how many, what a minute costs and what the shop's work turns up. Read as the vehicle file is.

import type { Finding } from "../fastening/index.ts";
import { minutes } from "../quantity/index.ts";
import {
  besideSchema,
  type Fault,
  type JsonSchema,
  list,
  may,
  must,
  otherwise,
  quantity,
  readBeside,
  record,
  type Shape,
  text,
  word,
} from "../vehicle/index.ts";

const FORMAT = "unmoor-store/1";

/** A store, as a kit asks it. */
export interface Store {
  readonly note?: string;
  readonly shelfOf: (item: string) => string | undefined;
  readonly stockOf: (item: string) => number | undefined;
  /** What a minute costs that the job stands, in the shop's money; 1 where it is not said: then minutes rank. */
  readonly rate: number;
  readonly costed: boolean;
  /** What the shop's work turns up, by connection; those of an item stand for the ones assumed of it. */
  readonly findings: readonly Finding[];
}

/** A number from nothing upwards, written plainly. */
const figure = (called: string, most: number): Shape<number> => ({
  called,
  read(node, desk, key) {
    const written = node.kind === "text" ? node.text.trim() : "";
    const share = /^(\d+(?:\.\d+)?)( ?%)?$/.exec(written);
    const value = Number(share?.[1]) / (share?.[2] === undefined ? 1 : 100);
    if (share !== null && value <= most && (share[2] === undefined || most === 1)) return value;
    const says = node.kind === "text" ? `"${written}"` : `a ${node.kind}`;
    desk.fault("wrong-form", node, `${key} is ${says}, and ${called} is wanted.`, `Write ${called}.`, {
      key,
      wanted: called,
    });
    return undefined;
  },
  schema: () => ({ type: ["number", "string"], description: called }),
});

const money = figure("a number from 0: 1.20", Number.POSITIVE_INFINITY);
const chance = figure("a chance from 0 to 1: 0.04, or 4 %", 1);
/** A shelf may be empty: that it is, is worth writing down. */
const pieces = figure("a number from 0: 12", 999_999);

const shelf = record(
  "a shelf",
  {
    shelf: must(text, "?", "its name, as the storeman walks: A1, A2, B1"),
    holds: must(list(text), [], "what lies there: the names of things, or how they begin: bolt M10, O-ring"),
  },
  (values) => values,
);

const stock = record(
  "a thing in stock",
  { item: must(text, "?", "its name, as the vehicle file writes it"), count: must(pieces, 0, "how many lie there") },
  (values) => values,
);

const finding = record(
  "a finding",
  {
    item: must(text, "?", "the thing that mends it: stud M10×40, thread insert M8"),
    finding: must(text, "?", "what is found: sheared, thread torn"),
    at: must(text, "?", "the connection that turns it up, by its id"),
    chance: must(chance, 0, "how often, of the times it is released: 4 %"),
    delay: must(quantity("time"), minutes(0), "how long the job stands when the thing is not there: 3 h"),
    price: may(money, "what the thing costs, in the money of minute"),
  },
  ({ price, ...values }): Finding => ({ ...values, ...(price === undefined ? {} : { price }) }),
);

const storeFile: Shape<Store> = record(
  "a store file",
  {
    format: must(word([FORMAT] as const), FORMAT, `the format of the file: ${FORMAT}`),
    note: may(text, "anything worth knowing: invented store"),
    minute: may(money, "what a minute costs that the job stands, in the shop's money"),
    shelves: otherwise(list(shelf), [], "what lies where"),
    stock: otherwise(list(stock), [], "how many there are"),
    findings: otherwise(list(finding), [], "what the shop's own ledgers say that the work turns up"),
  },
  ({ note, minute, shelves, stock: lying, findings }): Store => {
    const starts = shelves.flatMap(({ shelf: name, holds }) => holds.map((start) => [spelt(start), name] as const));
    const counts = new Map(lying.map(({ item, count }) => [spelt(item), count]));
    return {
      ...(note === undefined ? {} : { note }),
      shelfOf: (item) => longest(spelt(item), starts),
      stockOf: (item) => counts.get(spelt(item)),
      rate: minute ?? 1,
      costed: minute !== undefined,
      findings,
    };
  },
);

/** One spelling of a name: ×, one space, small letters. */
const spelt = (item: string): string =>
  item
    .trim()
    .toLowerCase()
    .replace(/(?<=\d) ?[x*×] ?(?=\d)/g, "×")
    .replace(/\s+/g, " ");

/** The shelf of the longest name that this one begins with: "bolt M10×45" lies with "bolt M10" rather than with "bolt". */
function longest(item: string, starts: readonly (readonly [string, string])[]): string | undefined {
  let [length, found]: [number, string | undefined] = [0, undefined];
  for (const [start, shelfName] of starts) {
    // "bolt M1" does not begin "bolt M10".
    const whole = item.startsWith(start) && !/[\p{L}\p{N}.]/u.test(item.charAt(start.length));
    if (whole && start.length > length) [length, found] = [start.length, shelfName];
  }
  return found;
}

/** Reads the text of a store file; absent when there is a fault. */
export const readStore = (
  file: string,
  content: string,
): { readonly store?: Store; readonly faults: readonly Fault[] } => {
  const { value, faults } = readBeside(file, content, storeFile);
  return { ...(value === undefined ? {} : { store: value }), faults };
};

/** The JSON Schema of the store file. */
export const storeSchema = (): JsonSchema =>
  besideSchema(
    "Store file",
    "What lies on which shelf, how many, and what the work turns up: *.store.yaml.",
    storeFile,
  );

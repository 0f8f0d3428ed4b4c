// Owns the shapes that a file is described with. One description reads the tree into the model, with every fault at
// its place, and writes the JSON Schema that editors complete from, so the two cannot part.

import { type Dimension, type Measure, type Quantity, readQuantity, unitsOf } from "../quantity/index.ts";
import { aThing, type Desk, type Thing } from "./desk.ts";
import { indexWords } from "./nearest.ts";
import { isEmpty, type Node, type Text } from "./source.ts";

/** A JSON Schema, as far as this room writes it. */
export type JsonSchema = {
  readonly [key: string]: string | number | boolean | JsonSchema | readonly (string | JsonSchema)[];
};

export interface Shape<T> {
  /** What is wanted, for the sentence: "a list of parts". */
  readonly called: string;
  /** Whether "?" may stand for it: a figure that is still to be asked. */
  readonly waits?: true;
  /** The value, or undefined when it is none: then the desk has the fault. `key` is what it stands under, `n` which of a list it is, from 1. */
  read(node: Node, desk: Desk, key: string, n?: number): T | undefined;
  /** Its JSON Schema; what is used in many places goes to `definitions` and is referred to. */
  schema(definitions: Definitions): JsonSchema;
}

export type Definitions = Map<string, JsonSchema>;

const NAMES = { text: "text", list: "a list", map: "a map" } as const;

function refuse(node: Node, desk: Desk, key: string, called: string, mend: string): undefined {
  if (isEmpty(node))
    desk.fault("empty", node, `${key} is left empty.`, `Write ${called}, or leave the key out.`, { key });
  else
    desk.fault("wrong-form", node, `${key} is ${NAMES[node.kind]} here, and ${called} is wanted.`, mend, {
      key,
      found: node.kind,
      wanted: called,
    });
  return undefined;
}

/** Text as an editor sees it: what looks like a number is text to the reader, quotes or none. */
export const WRITTEN: JsonSchema = { type: ["string", "number"] };

/** Plain words. */
export const text: Shape<string> = {
  called: "text",
  read(node, desk, key) {
    if (node.kind !== "text" || isEmpty(node)) return refuse(node, desk, key, "text", "Write it as one line of text.");
    return node.text.trim();
  },
  schema: () => WRITTEN,
};

/** true or false. */
export const flag: Shape<boolean> = {
  called: "true or false",
  read(node, desk, key) {
    if (node.kind !== "text" || isEmpty(node)) return refuse(node, desk, key, "true or false", "Write true or false.");
    if (node.text === "true") return true;
    if (node.text === "false") return false;
    desk.fault("not-a-flag", node, `${key} is "${node.text}".`, "Write true or false.", { key, text: node.text });
    return undefined;
  },
  schema: () => ({ type: "boolean" }),
};

/** What stands for a figure that is still to be asked. */
export const GAP = "?";

/** A whole number from 1. */
export const count: Shape<number> = {
  waits: true,
  called: "a whole number from 1",
  read(node, desk, key) {
    if (node.kind !== "text" || isEmpty(node)) return refuse(node, desk, key, count.called, "Write a number: 2.");
    if (/^[1-9]\d{0,5}$/.test(node.text)) return Number(node.text);
    desk.fault("not-a-count", node, `${key} is "${node.text}".`, "Write a whole number from 1, without a unit.", {
      key,
      text: node.text,
    });
    return undefined;
  },
  schema: () => ({ type: ["integer", "string"], minimum: 1, maximum: 999_999, pattern: "^\\?$" }),
};

/** One of the words. */
export function word<W extends string>(words: readonly W[]): Shape<W> {
  const called = words.join(", ");
  const nearest = indexWords(words);
  return {
    called: `one of ${called}`,
    read(node, desk, key) {
      if (node.kind !== "text" || isEmpty(node))
        return refuse(node, desk, key, `one of ${called}`, `Write one of ${called}.`);
      const found = words.find((one) => one === node.text);
      if (found !== undefined) return found;
      const near = nearest(node.text);
      desk.fault(
        "unknown-word",
        node,
        `${key} is "${node.text}", which is none of its words.`,
        near === undefined ? `Write one of ${called}.` : `Nearest: ${near}. The words are ${called}.`,
        { key, text: node.text, ...(near === undefined ? {} : { nearest: near }) },
      );
      return undefined;
    },
    schema: () => ({ enum: words }),
  };
}

/** A value with its tolerance. `signed`: may be below nothing (a coordinate). */
export function measure<D extends Dimension>(dimension: D, signed = false): Shape<Measure<D>> {
  const units = unitsOf(dimension).map((unit) => unit.name);
  const called = `a ${dimension} with its unit: ${units.slice(0, 4).join(", ")}`;
  return {
    waits: true,
    called,
    read(node, desk, key) {
      if (node.kind !== "text" || isEmpty(node))
        return refuse(node, desk, key, called, `Write a number and a unit, in ${units.join(", ")}.`);
      const reading = readQuantity(node.text, dimension);
      if ("fault" in reading) {
        const { rule, what, mend } = reading.fault;
        desk.fault(`quantity-${rule}`, node, `${key}: ${what}.`, mend, {
          key,
          text: node.text,
          wanted: dimension,
        });
        return undefined;
      }
      if (!signed && reading.value.low < 0) {
        desk.fault(
          "below-nothing",
          node,
          `${key} is "${node.text}", which is or may be below nothing.`,
          "Write a value from 0.",
          {
            key,
            text: node.text,
          },
        );
        return undefined;
      }
      return reading.value;
    },
    // A number and something of a unit: what exactly is a unit, the reader says better than a pattern could.
    schema: () => ({ type: "string", pattern: "[0-9].*[A-Za-zµμ°]|^\\?$", description: called }),
  };
}

/** A single value: no tolerance. */
export function quantity<D extends Dimension>(dimension: D, signed = false): Shape<Quantity<D>> {
  const inner = measure(dimension, signed);
  return {
    waits: true,
    called: inner.called,
    read(node, desk, key) {
      const value = inner.read(node, desk, key);
      if (value === undefined) return undefined;
      if (value.low !== value.high) {
        desk.fault(
          "one-value",
          node,
          `${key} is "${(node as Text).text}", and one value is wanted.`,
          "Write it without a tolerance.",
          {
            key,
            text: (node as Text).text,
          },
        );
        return undefined;
      }
      return value.nominal;
    },
    schema: inner.schema,
  };
}

/** A shape for which "?" may stand. */
export function mayWait<T>(shape: Shape<T>): Shape<T> {
  return {
    waits: true,
    called: shape.called,
    read: shape.read,
    schema: (definitions) => ({ anyOf: [shape.schema(definitions), { const: GAP }] }),
  };
}

/** A shape that is written once in the schema, under this name, and referred to. */
export function define<T>(name: string, shape: Shape<T>): Shape<T> {
  return {
    called: shape.called,
    read: shape.read,
    schema(definitions) {
      if (!definitions.has(name)) {
        // Taken before it is made: a shape may contain itself.
        definitions.set(name, {});
        definitions.set(name, shape.schema(definitions));
      }
      return { $ref: `#/$defs/${name}` };
    },
  };
}

/** The id of something in the file, looked up when all ids are known. */
export function mention(...wanted: readonly Thing[]): Shape<string> {
  const called = `the id of ${aThing(...wanted)}`;
  return {
    called,
    read(node, desk, key) {
      if (node.kind !== "text" || isEmpty(node)) return refuse(node, desk, key, called, `Write ${called}.`);
      desk.mentions.push({ id: node.text, node, owner: desk.owner, key, wanted });
      return node.text;
    },
    schema: () => ({ ...WRITTEN, description: called }),
  };
}

/** Any number of them; one alone needs no brackets. */
export function list<T>(item: Shape<T>): Shape<readonly T[]> {
  return {
    called: `${item.called}, or a list of such`,
    read(node, desk, key) {
      if (node.kind !== "list") {
        if (isEmpty(node)) return refuse(node, desk, key, item.called, "");
        const one = item.read(node, desk, key);
        return one === undefined ? undefined : [one];
      }
      const items: T[] = [];
      node.items.forEach((each, i) => {
        const one = item.read(each, desk, key, i + 1);
        if (one !== undefined) items.push(one);
      });
      return items;
    },
    schema(definitions) {
      const one = item.schema(definitions);
      return { anyOf: [one, { type: "array", items: one }] };
    },
  };
}

/** Exactly as many, each with its shape: a point, a pair. */
export function row<T extends readonly unknown[]>(
  called: string,
  ...items: { readonly [I in keyof T]: Shape<T[I]> }
): Shape<T> {
  const shapes: readonly Shape<unknown>[] = items;
  return {
    called,
    read(node, desk, key) {
      if (node.kind !== "list" || node.items.length !== shapes.length)
        return refuse(node, desk, key, called, `Write ${called}.`);
      const values = shapes.map((shape, i) => shape.read(node.items[i]!, desk, key));
      return values.some((value) => value === undefined) ? undefined : (values as unknown as T);
    },
    schema: (definitions) => ({
      type: "array",
      prefixItems: shapes.map((shape) => shape.schema(definitions)),
      minItems: shapes.length,
      maxItems: shapes.length,
    }),
  };
}

/** A key of a record: how it is read, what it means, and what stands in for it. */
export interface Key<T, Optional extends boolean> {
  readonly shape: Shape<T>;
  readonly means: string;
  readonly required: boolean;
  /** What it is when it is not written, and when it is written wrong, so that the rest is still read and checked. */
  readonly instead?: T;
  readonly optional: Optional;
}

/** Must be written; `instead` only stands in for it while the rest is checked. */
export const must = <T>(shape: Shape<T>, instead: T, means: string): Key<T, false> => ({
  shape,
  means,
  required: true,
  instead,
  optional: false,
});

/** May be left out, and is then `instead`. */
export const otherwise = <T>(shape: Shape<T>, instead: T, means: string): Key<T, false> => ({
  shape,
  means,
  required: false,
  instead,
  optional: false,
});

/** May be left out, and is then absent. */
export const may = <T>(shape: Shape<T>, means: string): Key<T, true> => ({
  shape,
  means,
  required: false,
  optional: true,
});

export type Keys = { readonly [name: string]: Key<unknown, boolean> };
export type Values<K extends Keys> = {
  readonly [N in keyof K as K[N] extends Key<unknown, true> ? never : N]: K[N] extends Key<infer T, boolean>
    ? T
    : never;
} & {
  readonly [N in keyof K as K[N] extends Key<unknown, true> ? N : never]?: K[N] extends Key<infer T, boolean>
    ? T
    : never;
};

/** Where a record stands: the key or id above it, the id of the thing it belongs to, which of a list it is (from 1). */
export interface Standing {
  readonly key: string;
  readonly owner: string;
  readonly n: number;
}

/** A map with known keys. `make` turns what was read into the thing of the model. */
export function record<K extends Keys, T extends object>(
  called: string,
  keys: K,
  make: (values: Values<K>, place: Standing) => T,
): Shape<T> {
  const names = Object.keys(keys);
  const nearest = indexWords(names);
  return {
    called,
    read(node, desk, key, n = 1) {
      // A thing of which nothing is said but its id is a record without keys.
      const entries = isEmpty(node) ? [] : node.kind === "map" ? node.entries : undefined;
      if (entries === undefined)
        return refuse(
          node,
          desk,
          key,
          called,
          `Write its keys: ${names.slice(0, 6).join(", ")}${names.length > 6 ? " …" : ""}.`,
        );
      const values: Record<string, unknown> = {};
      const seen = new Map<string, Text>();
      const misread = new Set<string>();
      for (const entry of entries) {
        const name = entry.key.text;
        const earlier = seen.get(name);
        if (earlier !== undefined) {
          desk.fault("key-twice", entry.key, `${name} is written twice here.`, "Keep one of them.", { key: name }, [
            earlier,
          ]);
          continue;
        }
        seen.set(name, entry.key);
        let meant = name;
        if (!Object.hasOwn(keys, name)) {
          const near = nearest(name);
          // "{ name: Bench pump, light }": what follows a comma in braces is a key, and has no value.
          const torn = near === undefined && isEmpty(entry.value);
          desk.fault(
            "unknown-key",
            entry.key,
            `${name} is no key of ${called}.`,
            near !== undefined
              ? `Nearest: ${near}.`
              : torn
                ? `If it belongs to the text before it, put all of that in quotes: a comma in braces ends a text. The keys are ${names.join(", ")}.`
                : `The keys are ${names.join(", ")}.`,
            { key: name, ...(near === undefined ? {} : { nearest: near }) },
          );
          // What it most likely meant is read all the same: one slip is one fault, and what it holds has its own told.
          if (near === undefined || seen.has(near) || entries.some((other) => other.key.text === near)) continue;
          seen.set(near, entry.key);
          meant = near;
        }
        const known = keys[meant]!;
        // What stands in for a key that is not written stands in for one that is still to be asked.
        if (
          desk.waiting !== undefined &&
          known.shape.waits &&
          entry.value.kind === "text" &&
          entry.value.text === GAP
        ) {
          desk.waiting.push({ node: entry.value, owner: desk.owner, key: meant, means: known.means });
          continue;
        }
        const before = desk.count;
        const value = known.shape.read(entry.value, desk, meant);
        if (value !== undefined) values[meant] = value;
        if (desk.count > before || meant !== name) misread.add(meant);
      }
      for (const name of names) {
        const known = keys[name]!;
        if (known.required && !seen.has(name)) {
          misread.add(name);
          desk.fault("missing-key", node, `${key} has no ${name}.`, `Write ${name}: ${known.means}.`, {
            key: name,
            of: key,
          });
        }
        if (!(name in values) && known.instead !== undefined) values[name] = known.instead;
      }
      const made = make(values as Values<K>, { key, n, owner: desk.owner });
      desk.remember(made, node, misread.size > 0 ? misread : undefined);
      return made;
    },
    schema(definitions) {
      const properties: Record<string, JsonSchema> = {};
      for (const [name, known] of Object.entries(keys)) properties[name] = describeKey(known, definitions);
      const required = names.filter((name) => keys[name]!.required);
      return {
        // A record that must say nothing may be left empty, and an empty value is null to an editor.
        ...(required.length > 0 ? { type: "object", required } : { type: ["object", "null"] }),
        properties,
        additionalProperties: false,
      };
    },
  };
}

/** The schema of a key's value, with what it means and the default that an editor can show. */
function describeKey(known: Key<unknown, boolean>, definitions: Definitions): JsonSchema {
  const { instead, required, means, shape } = known;
  const schema = shape.schema(definitions);
  const wanted = schema.description === undefined ? "" : `; ${schema.description}`;
  const plain =
    typeof instead === "boolean" ||
    typeof instead === "string" ||
    (Array.isArray(schema.type) && schema.type[0] === "integer");
  return {
    ...schema,
    description: `${means}${wanted}`,
    ...(!required && plain ? { default: instead as boolean | string | number } : {}),
  };
}

/** What an id may look like: a letter or digit, then letters, digits, points, hyphens, underscores. */
const ID_PATTERN = "^[\\p{L}\\p{N}][\\p{L}\\p{N}._-]*$";
/** Letters of an id. Not said in the pattern: a repeat that is counted makes the compiled pattern run to megabytes. */
const ID_LENGTH = 80;
const ID = new RegExp(ID_PATTERN, "u");

/** Things by their ids. Two things of one id are a fault, wherever in the file they stand. */
export function things<T>(thing: Thing, item: Shape<T>): Shape<readonly T[]> {
  return {
    called: `a map from the ids of ${thing}s`,
    read(node, desk, key) {
      if (isEmpty(node)) return [];
      if (node.kind !== "map")
        return refuse(node, desk, key, `a map from ids`, `Write each ${thing} under its id, as a key.`);
      const all: T[] = [];
      for (const { key: id, value } of node.entries) {
        const earlier = desk.ids.get(id.text);
        if (earlier === undefined) desk.ids.set(id.text, { thing, node: id });
        else
          desk.fault(
            "id-twice",
            id,
            `${id.text} is already the id of ${aThing(earlier.thing)}.`,
            earlier.node.source === id.source || earlier.thing !== thing
              ? "Give one of the two another id; ids are unique across the whole file."
              : `Give one of the two another id, or, if this one is meant to stand for that one, write omits: ${id.text} in this file.`,
            { id: id.text, thing: earlier.thing },
            [earlier.node],
          );
        if (id.text.length > ID_LENGTH || !ID.test(id.text))
          desk.fault(
            "bad-id",
            id,
            `"${id.text.slice(0, 90)}" cannot be an id.`,
            `Write letters, digits, points, hyphens and underscores, at most ${ID_LENGTH}: ${suggestId(id.text)}.`,
            { id: id.text },
          );
        desk.owner = id.text;
        const one = item.read(value, desk, id.text);
        desk.owner = "";
        if (one !== undefined) all.push(one);
      }
      return all;
    },
    schema: (definitions) => ({
      type: ["object", "null"],
      propertyNames: { pattern: ID_PATTERN, maxLength: ID_LENGTH },
      additionalProperties: item.schema(definitions),
    }),
  };
}

const suggestId = (text: string): string =>
  text
    .toLowerCase()
    .replace(/[^\p{L}\p{N}._]+/gu, "-")
    .replace(/^[-._]+|[-._]+$/gu, "")
    .slice(0, ID_LENGTH) || "part-1";

/** "bell-bolts" → "Bell bolts": the label of what has none. */
export const readable = (id: string): string => {
  const words = id.replace(/[-_]+/g, " ").trim();
  return words.charAt(0).toUpperCase() + words.slice(1);
};

// Owns what the schema of the vehicle file offers at a place: the keys and values that may stand there, the kinds of thing whose ids may, and what a key means.

import type { JsonSchema } from "../../vehicle/index.ts";

export interface OfferedKey {
  readonly key: string;
  readonly means: string;
  /** Has a map of its own: written on the lines below. */
  readonly isMap: boolean;
}

export interface Offered {
  readonly keys: readonly OfferedKey[];
  /** Words of which the value is one. */
  readonly values: readonly string[];
  /** Kinds of thing whose ids may stand there: "connection", "task". */
  readonly ids: readonly string[];
}

const isSchema = (value: unknown): value is JsonSchema =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/** A schema with everything that it may stand for: what it refers to, and each of its alternatives. */
const forms = (schema: JsonSchema, root: JsonSchema): readonly JsonSchema[] => {
  const reference = schema.$ref;
  const definitions = root.$defs;
  if (typeof reference === "string" && isSchema(definitions)) {
    const found = definitions[reference.slice("#/$defs/".length)];
    return isSchema(found) ? forms(found, root) : [];
  }
  const any = schema.anyOf ?? schema.oneOf;
  return Array.isArray(any) ? any.flatMap((one) => (isSchema(one) ? forms(one, root) : [])) : [schema];
};

/** What may stand under a key, or in an item, of what a schema describes. */
const below = (schema: JsonSchema, step: string, root: JsonSchema): readonly JsonSchema[] => {
  if (step === "-") {
    const found = [schema.items, ...(Array.isArray(schema.prefixItems) ? schema.prefixItems : [])];
    return found.flatMap((one) => (isSchema(one) ? forms(one, root) : []));
  }
  const { properties, additionalProperties } = schema;
  const own = isSchema(properties) ? properties[step] : undefined;
  const found = isSchema(own) ? own : additionalProperties;
  return isSchema(found) ? forms(found, root) : [];
};

const atPath = (root: JsonSchema, path: readonly string[]): readonly JsonSchema[] =>
  path.reduce<readonly JsonSchema[]>(
    (schemas, step) => schemas.flatMap((schema) => below(schema, step, root)),
    forms(root, root),
  );

const KINDS = ["connection", "part", "task", "position", "hoist", "eye", "leg", "hook", "beam"] as const;

/** The kinds of thing that a description speaks of as ids: "the id of a connection or a task". */
const idsIn = (description: string): readonly string[] => {
  const named = /the id of ([^;:]*)/.exec(description)?.[1] ?? "";
  return KINDS.filter((kind) => new RegExp(`\\b${kind}\\b`).test(named));
};

/** A need is written in forms of its own, whose descriptions speak of no id. */
const IN_NEEDS: Readonly<Record<string, readonly string[]>> = {
  needs: ["connection", "part", "task"],
  all: ["connection", "part", "task"],
  any: ["connection", "part", "task"],
  apart: ["part"],
  out: ["part"],
  clear: ["part"],
};

const describe = (schema: JsonSchema): string => (typeof schema.description === "string" ? schema.description : "");

/** What may stand in what the path leads to. */
export const offeredAt = (root: JsonSchema, path: readonly string[]): Offered => {
  const found = atPath(root, path);
  const keys = new Map<string, OfferedKey>();
  for (const { properties } of found)
    if (isSchema(properties))
      for (const [key, schema] of Object.entries(properties))
        if (isSchema(schema) && !keys.has(key))
          keys.set(key, {
            key,
            means: describe(schema),
            isMap: forms(schema, root).every(
              ({ type }) => type === "object" || (Array.isArray(type) && type.includes("object")),
            ),
          });
  const values = found.flatMap((schema) => {
    if (Array.isArray(schema.enum)) return schema.enum.filter((one) => typeof one === "string");
    return schema.type === "boolean" ? ["true", "false"] : [];
  });
  const last = path.findLast((step) => step !== "-") ?? "";
  const parent = aboveOf(root, path);
  const ids = [
    ...found.flatMap((schema) => idsIn(describe(schema))),
    ...parent.flatMap(idsIn),
    ...(IN_NEEDS[last] ?? []),
  ];
  return { keys: [...keys.values()], values: [...new Set(values)], ids: [...new Set(ids)] };
};

/** The descriptions of the key itself, which a reference or a list hides. */
const aboveOf = (root: JsonSchema, path: readonly string[]): readonly string[] => {
  const depth = path.findLastIndex((step) => step !== "-");
  const key = path[depth];
  if (key === undefined) return [];
  return atPath(root, path.slice(0, depth)).flatMap(({ properties }) => {
    const schema = isSchema(properties) ? properties[key] : undefined;
    return isSchema(schema) && describe(schema) !== "" ? [describe(schema)] : [];
  });
};

export interface Meaning {
  readonly means: string;
  /** What holds where it is left out. */
  readonly usually?: string;
}

/** What the key at the end of a path means. */
export const meaningOf = (root: JsonSchema, path: readonly string[]): Meaning | undefined => {
  const key = path.at(-1);
  if (key === undefined || key === "-") return undefined;
  for (const { properties } of atPath(root, path.slice(0, -1))) {
    const schema = isSchema(properties) ? properties[key] : undefined;
    if (!isSchema(schema) || describe(schema) === "") continue;
    const { default: usual } = schema;
    return { means: describe(schema), ...(usual === undefined ? {} : { usually: String(usual) }) };
  }
  return undefined;
};

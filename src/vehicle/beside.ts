// Owns the reading of the files that stand beside a vehicle file and are written as it is: one file, one shape, every fault at its place.

import { Desk } from "./desk.ts";
import type { Fault } from "./fault.ts";
import { resolveMentions } from "./resolve.ts";
import type { Definitions, JsonSchema, Shape } from "./shape.ts";
import { parseSource } from "./source.ts";

/** What a file of this shape says, absent when there is a fault; nothing is thrown for whatever it may hold. */
export function readBeside<T>(
  file: string,
  text: string,
  shape: Shape<T>,
): { readonly value?: T; readonly faults: readonly Fault[] } {
  const parsed = parseSource({ file, text });
  if ("faults" in parsed) return parsed;
  const desk = new Desk();
  const value = shape.read(parsed.root, desk, "the file");
  resolveMentions(desk);
  desk.sort(file);
  return { ...(value === undefined || desk.faults.length > 0 ? {} : { value }), faults: desk.faults };
}

/** The JSON Schema (2020-12) of such a file. */
export function besideSchema(title: string, description: string, shape: Shape<unknown>): JsonSchema {
  const definitions: Definitions = new Map();
  const file = shape.schema(definitions);
  return {
    $schema: "https://json-schema.org/draft/2020-12/schema",
    title,
    description,
    ...file,
    ...(definitions.size === 0 ? {} : { $defs: Object.fromEntries(definitions) }),
  };
}

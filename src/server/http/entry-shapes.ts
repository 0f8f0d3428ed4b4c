// Owns the description of what an entry may say, made from the ledger's table of kinds.

import { z } from "@hono/zod-openapi";
import { KINDS } from "../../ledger/index.ts";

type Described = Readonly<Record<string, unknown>>;

const SORTS: Readonly<Record<string, Described>> = {
  id: { type: "string", maxLength: 200, description: "An id of the vehicle file." },
  person: { type: "string", maxLength: 200, description: "A person, by id." },
  people: { type: "array", items: { type: "string" }, maxItems: 100 },
  numbers: { type: "array", items: { type: "integer", minimum: 1, maximum: 1_000_000 }, maxItems: 5000 },
  word: { type: "string", minLength: 1, maxLength: 200 },
  text: { type: "string", minLength: 1, maxLength: 4000 },
  count: { type: "integer", minimum: 1, maximum: 1_000_000 },
  amounts: { type: "object", additionalProperties: { type: "string" }, description: "A volume of each fluid." },
  photos: { type: "array", items: { type: "string", pattern: "^[0-9a-f]{64}$" }, maxItems: 100 },
  voices: { type: "array", items: { type: "string", pattern: "^[0-9a-f]{64}$" }, maxItems: 100 },
  entry: { type: "string", description: "The id of another entry." },
  flag: { const: true },
};

const describeSort = (sort: string): Described => {
  if (sort.includes("|")) return { type: "string", enum: sort.split("|") };
  // What is left are quantities, as they were read.
  return SORTS[sort] ?? { type: "string", description: `A ${sort} with its unit.` };
};

const describeKind = ([kind, { says, fields }]: [
  string,
  { readonly says: string; readonly fields: Readonly<Record<string, string>> },
]): Described => ({
  type: "object",
  description: says,
  properties: {
    kind: { const: kind },
    ...Object.fromEntries(Object.entries(fields).map(([name, sort]) => [name, describeSort(sort.replace("?", ""))])),
  },
  required: ["kind", ...Object.entries(fields).flatMap(([name, sort]) => (sort.endsWith("?") ? [] : [name]))],
  additionalProperties: false,
});

/** What an entry says. Whether it fits its kind is the ledger's to judge, in its own words; here it is only described. */
export const sayShape = z
  .looseObject({ kind: z.string() })
  .openapi("Say", { type: "object", oneOf: Object.entries(KINDS).map(describeKind) as never });

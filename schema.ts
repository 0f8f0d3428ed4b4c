// Owns the making of schema/: the JSON Schema of the vehicle file and of each command's --json, from their shapes. `npm run schema` writes them; a test holds them to it.
import { writeFileSync } from "node:fs";
import { z } from "zod";
import * as documents from "./src/cli/documents.ts";
import { vehicleSchema } from "./src/vehicle/index.ts";

/** The JSON Schema of each file and document, by the name of its file in schema/. */
export function makeSchemas(): ReadonlyMap<string, string> {
  const schemas = Object.entries({
    check: documents.checkDocument,
    free: documents.freeDocument,
    release: documents.releaseDocument,
    plan: documents.planDocument,
  });
  const write = (schema: unknown) => `${JSON.stringify(schema, undefined, 2)}\n`;
  return new Map([
    ["vehicle.schema.json", write(vehicleSchema())],
    ...schemas.map(([name, shape]) => [`${name}.schema.json`, write(z.toJSONSchema(shape))] as const),
  ]);
}

if (process.argv[1] === new URL(import.meta.url).pathname) {
  for (const [name, text] of makeSchemas()) writeFileSync(new URL(`schema/${name}`, import.meta.url), text);
}

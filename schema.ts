// Owns the making of schema/: the JSON Schema of each command's --json from its shape. `npm run schema` writes them; a test holds them to it.
import { writeFileSync } from "node:fs";
import { z } from "zod";
import * as documents from "./src/cli/documents.ts";

/** The JSON Schema of each document, by the name of its file in schema/. */
export function makeSchemas(): ReadonlyMap<string, string> {
  const schemas = Object.entries({
    check: documents.checkDocument,
    free: documents.freeDocument,
    release: documents.releaseDocument,
  });
  return new Map(
    schemas.map(([name, shape]) => [`${name}.schema.json`, `${JSON.stringify(z.toJSONSchema(shape), undefined, 2)}\n`]),
  );
}

if (process.argv[1] === new URL(import.meta.url).pathname) {
  for (const [name, text] of makeSchemas()) writeFileSync(new URL(`schema/${name}`, import.meta.url), text);
}

// Owns the published JSON Schema of the vehicle file, made from the same shapes that read it.

import { vehicleFile } from "./file.ts";
import type { Definitions, JsonSchema } from "./shape.ts";

/**
 * The JSON Schema (2020-12) of a vehicle file. It says what an editor needs for completion and what can be seen in one
 * value; what takes two of them (ids that are not there, a need that cannot hold) only the reader says. It asks for no
 * key at the top, because a file that is included need not have them.
 */
export function vehicleSchema(): JsonSchema {
  const definitions: Definitions = new Map();
  const { required: _, ...file } = vehicleFile.schema(definitions);
  return {
    $schema: "https://json-schema.org/draft/2020-12/schema",
    title: "Vehicle file",
    description:
      "A vehicle, what ties its parts together, and the jobs for which an assembly comes out: *.vehicle.yaml.",
    ...file,
    $defs: Object.fromEntries([...definitions].sort(([a], [b]) => (a < b ? -1 : 1))),
  };
}

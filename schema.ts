// Owns the making of schema/: the JSON Schema of the vehicle file and of each command's --json, from their shapes. `npm run schema` writes them; a test holds them to it.
import { writeFileSync } from "node:fs";
import { z } from "zod";
import * as documents from "./src/cli/documents.ts";
import { askDocument, draftDocument, tableDocument } from "./src/cli/draft-documents.ts";
import * as fastening from "./src/cli/fastening-documents.ts";
import * as print from "./src/cli/print-documents.ts";
import * as rigging from "./src/cli/rigging-documents.ts";
import * as times from "./src/cli/times-documents.ts";
import { changesSchema, crewSchema, storeSchema } from "./src/plan/index.ts";
import * as runs from "./src/server/run-documents.ts";
import { vehicleSchema } from "./src/vehicle/index.ts";

/** The JSON Schema of each file and document, by the name of its file in schema/. */
export function makeSchemas(): ReadonlyMap<string, string> {
  const schemas = {
    vehicle: vehicleSchema(),
    "crew-file": crewSchema(),
    "store-file": storeSchema(),
    check: z.toJSONSchema(documents.checkDocument),
    draft: z.toJSONSchema(draftDocument),
    ask: z.toJSONSchema(askDocument),
    table: z.toJSONSchema(tableDocument),
    release: z.toJSONSchema(documents.releaseDocument),
    why: z.toJSONSchema(documents.whyDocument),
    free: z.toJSONSchema(documents.freeDocument),
    plan: z.toJSONSchema(documents.planDocument),
    schedule: z.toJSONSchema(documents.scheduleDocument),
    crew: z.toJSONSchema(documents.crewCurveDocument),
    rig: z.toJSONSchema(rigging.rigFileDocument),
    lift: z.toJSONSchema(rigging.liftDocument),
    trial: z.toJSONSchema(rigging.trialDocument),
    torque: z.toJSONSchema(fastening.torqueDocument),
    pattern: z.toJSONSchema(fastening.patternDocument),
    kit: z.toJSONSchema(fastening.kitDocument),
    print: z.toJSONSchema(print.printDocument),
    leftover: z.toJSONSchema(fastening.leftoverDocument),
    times: z.toJSONSchema(times.timesDocument),
    finish: z.toJSONSchema(times.finishDocument),
    learn: z.toJSONSchema(times.learnDocument),
    improve: z.toJSONSchema(times.improveDocument),
    ways: z.toJSONSchema(times.waysDocument),
    figures: z.toJSONSchema(times.figuresDocument),
    demonstrate: z.toJSONSchema(times.demonstrateDocument),
    "changes-file": changesSchema(),
    order: z.toJSONSchema(runs.orderDocument),
    runs: z.toJSONSchema(runs.runListDocument),
    run: z.toJSONSchema(runs.runDocument),
    "taken-in": z.toJSONSchema(runs.takenInDocument),
    entry: z.toJSONSchema(runs.entryDocument),
    gate: z.toJSONSchema(runs.gateDocument),
    shift: z.toJSONSchema(runs.shiftDocument),
    verify: z.toJSONSchema(runs.verifyDocument),
    backup: z.toJSONSchema(runs.backupDocument),
  };
  return new Map(
    Object.entries(schemas).map(([name, schema]) => [
      `${name}.schema.json`,
      `${JSON.stringify(schema, undefined, 2)}\n`,
    ]),
  );
}

if (process.argv[1] === new URL(import.meta.url).pathname) {
  for (const [name, text] of makeSchemas()) writeFileSync(new URL(`schema/${name}`, import.meta.url), text);
}

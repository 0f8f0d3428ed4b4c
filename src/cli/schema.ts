// Owns the command `schema`: the published JSON Schemas, as they are in schema/.

import ask from "../../schema/ask.schema.json" with { type: "json" };
import backup from "../../schema/backup.schema.json" with { type: "json" };
import changesFile from "../../schema/changes-file.schema.json" with { type: "json" };
import check from "../../schema/check.schema.json" with { type: "json" };
import crew from "../../schema/crew.schema.json" with { type: "json" };
import crewFile from "../../schema/crew-file.schema.json" with { type: "json" };
import demonstrate from "../../schema/demonstrate.schema.json" with { type: "json" };
import draft from "../../schema/draft.schema.json" with { type: "json" };
import entry from "../../schema/entry.schema.json" with { type: "json" };
import figures from "../../schema/figures.schema.json" with { type: "json" };
import finish from "../../schema/finish.schema.json" with { type: "json" };
import free from "../../schema/free.schema.json" with { type: "json" };
import gate from "../../schema/gate.schema.json" with { type: "json" };
import improve from "../../schema/improve.schema.json" with { type: "json" };
import kit from "../../schema/kit.schema.json" with { type: "json" };
import learn from "../../schema/learn.schema.json" with { type: "json" };
import leftover from "../../schema/leftover.schema.json" with { type: "json" };
import lift from "../../schema/lift.schema.json" with { type: "json" };
import order from "../../schema/order.schema.json" with { type: "json" };
import pattern from "../../schema/pattern.schema.json" with { type: "json" };
import plan from "../../schema/plan.schema.json" with { type: "json" };
import print from "../../schema/print.schema.json" with { type: "json" };
import release from "../../schema/release.schema.json" with { type: "json" };
import rig from "../../schema/rig.schema.json" with { type: "json" };
import run from "../../schema/run.schema.json" with { type: "json" };
import runs from "../../schema/runs.schema.json" with { type: "json" };
import schedule from "../../schema/schedule.schema.json" with { type: "json" };
import shift from "../../schema/shift.schema.json" with { type: "json" };
import storeFile from "../../schema/store-file.schema.json" with { type: "json" };
import table from "../../schema/table.schema.json" with { type: "json" };
import takenIn from "../../schema/taken-in.schema.json" with { type: "json" };
import times from "../../schema/times.schema.json" with { type: "json" };
import torque from "../../schema/torque.schema.json" with { type: "json" };
import trial from "../../schema/trial.schema.json" with { type: "json" };
import vehicle from "../../schema/vehicle.schema.json" with { type: "json" };
import verify from "../../schema/verify.schema.json" with { type: "json" };
import ways from "../../schema/ways.schema.json" with { type: "json" };
import why from "../../schema/why.schema.json" with { type: "json" };
import type { Call } from "./call.ts";
import { EXIT, type Exit } from "./exit.ts";
import type { Terminal } from "./terminal.ts";
import { mendWord } from "./words.ts";

const SCHEMAS: Readonly<Record<string, object>> = {
  vehicle,
  "crew-file": crewFile,
  "changes-file": changesFile,
  "store-file": storeFile,
  check,
  draft,
  ask,
  table,
  release,
  free,
  why,
  plan,
  schedule,
  crew,
  rig,
  lift,
  trial,
  torque,
  pattern,
  kit,
  leftover,
  print,
  times,
  finish,
  learn,
  improve,
  ways,
  figures,
  demonstrate,
  order,
  runs,
  run,
  "taken-in": takenIn,
  entry,
  gate,
  shift,
  verify,
  backup,
};

export function runSchema({ operands, flags }: Call, terminal: Terminal): Exit {
  const [name] = operands;
  const names = Object.keys(SCHEMAS);
  if (name === undefined) {
    terminal.say(flags.has("json") ? JSON.stringify(names) : `${names.join("\n")}`);
    return EXIT.found;
  }
  const schema = SCHEMAS[name];
  if (schema === undefined) {
    terminal.warn(`unmoor: there is no schema ${name}. ${mendWord(name, names)}`);
    return EXIT.call;
  }
  terminal.say(JSON.stringify(schema, undefined, 2));
  return EXIT.found;
}

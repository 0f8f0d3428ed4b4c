// Owns the command `learn`: what runs taught, told and written to a side file.

import { lessonLines } from "../ledger/index.ts";
import { learnRuns, strangersIn, writeLearnt } from "../plan/index.ts";
import { nodesOwn } from "../server/index.ts";
import { type Runs, readRuns } from "../times/index.ts";
import type { Call, CallFault } from "./call.ts";
import { readText } from "./crew-order.ts";
import { EXIT, type Exit } from "./exit.ts";
import { takeVehicle } from "./files.ts";
import { refuse } from "./release.ts";
import { writeDrawing } from "./schedule.ts";
import type { Terminal } from "./terminal.ts";
import type { LearnDocument } from "./times-documents.ts";

/** Fills in a fault that is not there yet; no runs come of it. */
const wrongOnce = (wrong: CallFault[], fault: CallFault): readonly Runs[] => {
  if (!wrong.some(({ what }) => what === fault.what)) wrong.push(fault);
  return [];
};

export async function runLearn(call: Call, terminal: Terminal): Promise<Exit> {
  const [path = "", ...files] = call.operands;
  const json = call.flags.has("json");
  const taken = await takeVehicle(path, terminal, json);
  if (typeof taken === "number") return taken;
  const { vehicle } = taken;
  const wrong: CallFault[] = [];
  const runs = files.flatMap((file): readonly Runs[] => {
    if (files.indexOf(file) !== files.lastIndexOf(file))
      return wrongOnce(wrong, { what: `${file} is given twice`, mend: "Its runs would count twice: give it once." });
    const text = readText(file);
    if (typeof text !== "string") return wrongOnce(wrong, text);
    const taught = lessonLines(text, nodesOwn());
    if ("faults" in taught)
      return wrongOnce(wrong, { what: `${file} is not the run as it was written`, mend: `See unmoor verify ${file}.` });
    const read = readRuns(file, taught.lines, vehicle.name);
    const faults = [...read.faults, ...strangersIn(vehicle, read)];
    wrong.push(...faults.map((one) => ({ what: `${one.file}:${one.line}  ${one.what}`, mend: one.mend })));
    return [read];
  });
  if (wrong.length > 0) return refuse(wrong, terminal);
  const observations = runs.flatMap((one) => one.observations);
  const looks = runs.flatMap((one) => one.looks);
  if (observations.length === 0)
    return refuse(
      [
        {
          what: `${files.join(", ")} ${files.length === 1 ? "has" : "have"} no times`,
          mend: "Write one line a piece of work; docs/times.md has an example.",
        },
      ],
      terminal,
    );
  const learnt: LearnDocument = learnRuns(vehicle, observations, looks);
  const written = JSON.stringify(learnt, undefined, 2);
  terminal.say(json ? written : writeLearnt(learnt));
  const [side] = call.flags.get("write") ?? [];
  return side === undefined || writeDrawing(side, `${written}\n`, terminal) ? EXIT.found : EXIT.call;
}

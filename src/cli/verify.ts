// Owns the command `verify`: whether a run's file is as it was written, every hash and every signature.

import { Ledger, readRun } from "../ledger/index.ts";
import { nodesOwn, type VerifyDocument } from "../server/index.ts";
import type { Call } from "./call.ts";
import { readText } from "./crew-order.ts";
import { EXIT, type Exit } from "./exit.ts";
import { refuse } from "./release.ts";
import type { Terminal } from "./terminal.ts";

export function runVerify(call: Call, terminal: Terminal): Exit {
  const path = call.operands[0] ?? "";
  const text = readText(path);
  if (typeof text !== "string") return refuse([text], terminal);
  const { head, told, faults } = readRun(text, nodesOwn());
  const devices = new Set(told.map(({ entry }) => entry.device)).size;
  const document: VerifyDocument = {
    format: "unmoor/verify/1",
    file: path,
    whole: faults.length === 0,
    ...(head === undefined ? {} : { run: head.brief.run }),
    entries: told.length,
    devices,
    faults,
  };
  if (call.flags.has("json")) terminal.say(JSON.stringify(document, undefined, 2));
  else if (head !== undefined && faults.length === 0) {
    const ledger = new Ledger(
      head.brief,
      told.map(({ entry }) => entry),
    );
    const open = ledger.contradictions().length;
    terminal.say(
      `${path}: the run ${head.brief.run} as it was written: ${told.length} entries of ${devices} ${devices === 1 ? "device" : "devices"}, every hash and signature agrees.${open === 0 ? "" : ` ${open} contradictions are not settled.`}\nThe keys are those of the file itself: whether they are your devices' own, compare with the store.`,
    );
  } else {
    for (const { line, rule, entry, what } of faults)
      terminal.warn(
        `${terminal.ink.strong(`${path}:${line}`)}  ${rule}  ${what}.${entry === undefined ? "" : `  Entry ${entry}.`}`,
      );
    terminal.warn(
      `\n${faults.length} ${faults.length === 1 ? "fault" : "faults"}: this is not the run as it was written. Take it from the store again: unmoor run SHOP RUN --export FILE.`,
    );
  }
  return faults.length === 0 ? EXIT.found : EXIT.not;
}

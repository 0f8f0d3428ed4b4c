// Owns the command `table`: the connections of a vehicle file as a spreadsheet, and what was filled in there put back into the file.

import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { sheetOf, takeInSheet } from "../draft/index.ts";
import { readVehicle } from "../vehicle/index.ts";
import type { Call, CallFault } from "./call.ts";
import { EXIT, type Exit } from "./exit.ts";
import { takeVehicle } from "./files.ts";
import { refuse } from "./release.ts";
import type { Terminal } from "./terminal.ts";
import { openTold, sayLetters } from "./told.ts";
import { sayUnsaid } from "./unsaid.ts";

export async function runTable({ operands, flags }: Call, terminal: Terminal): Promise<Exit> {
  const path = operands[0] ?? "";
  const isJson = flags.has("json");
  const back = flags.get("take-in")?.[0];
  const out = flags.get("out")?.[0];
  const faults: CallFault[] = [];
  if (out !== undefined && existsSync(out))
    faults.push({ what: `${out} is there already`, mend: "Name another file, or take that one away." });
  if (faults.length > 0) return refuse(faults, terminal);
  const taken = await takeVehicle(path, terminal, isJson);
  if (typeof taken === "number") return taken;
  const text = readFileSync(path, "utf8");
  if (back === undefined) {
    const table = sheetOf(text);
    if (isJson) terminal.say(JSON.stringify({ format: "unmoor/table/1", file: path, table }, undefined, 2));
    else if (out === undefined) terminal.say(table.trimEnd());
    if (out === undefined) return EXIT.found;
    // The mark by which spreadsheets know that "N·m" is no garble.
    writeFileSync(out, `\uFEFF${table}`);
    if (!isJson) terminal.say(`Written: ${out}. Fill it in, then: unmoor table ${path} --take-in ${out}.`);
    return EXIT.found;
  }
  const filled = openTold(back);
  if (!("text" in filled)) return refuse([filled], terminal);
  if (filled.odd !== undefined) terminal.warn(sayLetters(back, filled.odd));
  const into = takeInSheet(text, filled.text);
  if (!("text" in into)) {
    if (isJson) terminal.say(JSON.stringify({ format: "unmoor/table/1", file: path, faults: into }, undefined, 2));
    for (const { what, mend } of into) terminal.warn(`${back}, ${what}. ${mend}`);
    terminal.warn(`Nothing was taken in: ${path} is as it was.`);
    return EXIT.not;
  }
  const { changed, added, missing } = into;
  if (into.text !== text) writeFileSync(out ?? path, into.text);
  if (isJson)
    terminal.say(
      JSON.stringify({ format: "unmoor/table/1", file: out ?? path, changed, added, missing }, undefined, 2),
    );
  else {
    const list = (ids: readonly string[]) => (ids.length === 0 ? "none" : ids.join(", "));
    terminal.say(`Changed: ${list(changed)}.\nNew: ${list(added)}.`);
    if (missing.length > 0) terminal.say(`Not in the spreadsheet, and left as they are: ${missing.join(", ")}.`);
    terminal.say(into.text === text ? `${path} is as it was.` : `Written: ${out ?? path}.`);
    const read = (changed: string) =>
      readVehicle(path, (asked) => (asked === path ? changed : readFileSync(asked, "utf8")));
    if (into.text !== text) sayUnsaid(text, into.text, read, terminal);
  }
  return EXIT.found;
}

// Owns the command `print`: the job pack of an order on a vehicle file, made ready in a thread and set here.

import { computeAside } from "./background.ts";
import type { Call } from "./call.ts";
import type { Exit } from "./exit.ts";
import type { PackMade, PackWanted } from "./pack-making.ts";
import { press } from "./pressing.ts";
import { PLAIN, type Terminal } from "./terminal.ts";

/**
 * The thread that makes the pack ready. What reading, planning and drawing took goes with it: of a vehicle with 400 connections a third of all the memory, which the
 * press would otherwise need beside it.
 */
const THREAD = new URL("./pack-thread.js", import.meta.url);

export async function runPrint(call: Call, terminal: Terminal): Promise<Exit> {
  if (call.operands[1] !== undefined) return (await import("./print-run.ts")).printRun(call, terminal);
  const { pack, exit, written } = await computeAside<PackWanted, PackMade>(
    { call, coloured: terminal.ink !== PLAIN, width: terminal.width },
    terminal,
    THREAD,
  );
  for (const { to, text } of written) terminal[to](text);
  return pack === undefined ? exit : press(pack, terminal);
}

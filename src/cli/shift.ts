// Owns the command `shift`: the page for whoever takes over.

import { describeShift } from "../server/index.ts";
import type { Call } from "./call.ts";
import { EXIT, type Exit } from "./exit.ts";
import { sayShift } from "./run-text.ts";
import { atShop, warnOfDamage } from "./shop.ts";
import type { Terminal } from "./terminal.ts";

export function runShift(call: Call, terminal: Terminal): Promise<Exit> | Exit {
  const [, id = ""] = call.operands;
  return atShop(call, terminal, async (shop) => {
    const desk = await shop.desk(id);
    warnOfDamage(desk, terminal);
    const document = describeShift(desk);
    terminal.say(call.flags.has("json") ? JSON.stringify(document, undefined, 2) : sayShift(document, desk, terminal));
    return EXIT.found;
  });
}

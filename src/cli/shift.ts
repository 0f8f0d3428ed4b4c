// Owns the command `shift`: the page for whoever takes over.

import { describeShift, RunDesk } from "../server/index.ts";
import type { Call } from "./call.ts";
import { EXIT, type Exit } from "./exit.ts";
import { sayShift } from "./run-text.ts";
import { asDevice, atShop, warnOfDamage } from "./shop.ts";
import type { Terminal } from "./terminal.ts";

export function runShift(call: Call, terminal: Terminal): Promise<Exit> | Exit {
  const [address = "", id = ""] = call.operands;
  return atShop(address, terminal, (store) =>
    asDevice(address, call, async (world) => {
      const desk = await RunDesk.open(store, id, world);
      warnOfDamage(desk, terminal);
      const document = describeShift(desk);
      terminal.say(
        call.flags.has("json") ? JSON.stringify(document, undefined, 2) : sayShift(document, desk, terminal),
      );
      return EXIT.found;
    }),
  );
}

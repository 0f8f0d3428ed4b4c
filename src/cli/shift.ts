// Owns the command `shift`: the page for whoever takes over.

import { shiftPage } from "../ledger/index.ts";
import { RunDesk } from "../server/index.ts";
import type { Call } from "./call.ts";
import { EXIT, type Exit } from "./exit.ts";
import type { ShiftDocument } from "./run-documents.ts";
import { sayShift } from "./run-text.ts";
import { asDevice, atShop, warnOfDamage } from "./shop.ts";
import type { Terminal } from "./terminal.ts";

export function runShift(call: Call, terminal: Terminal): Promise<Exit> | Exit {
  const [address = "", id = ""] = call.operands;
  return atShop(address, terminal, (store) =>
    asDevice(address, call, async (world) => {
      const desk = await RunDesk.open(store, id, world);
      warnOfDamage(desk, terminal);
      const page = shiftPage(desk.ledger);
      const document: ShiftDocument = { format: "unmoor/shift/1", run: id, vehicle: desk.brief.vehicle, ...page };
      terminal.say(
        call.flags.has("json") ? JSON.stringify(document, undefined, 2) : sayShift(document, desk, terminal),
      );
      return EXIT.found;
    }),
  );
}

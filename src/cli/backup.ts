// Owns the commands `backup` and `restore`: a whole store into a file, and a file into a new store.

import type { BackupDocument } from "../server/index.ts";
import { restoreInto, writeBackup } from "../store/index.ts";
import type { Call } from "./call.ts";
import { EXIT, type Exit } from "./exit.ts";
import { atStore } from "./shop.ts";
import type { Terminal } from "./terminal.ts";

const tell = (
  call: Call,
  terminal: Terminal,
  what: string,
  { rows, digest }: { readonly rows: Readonly<Record<string, number>>; readonly digest: string },
): Exit => {
  const document: BackupDocument = { format: "unmoor/backup-told/1", rows, digest };
  const list = Object.entries(rows).map(([table, count]) => `${count} ${table}`);
  terminal.say(
    call.flags.has("json")
      ? JSON.stringify(document, undefined, 2)
      : `${what}: ${list.join(", ")}.\nSHA-256 of its lines: ${digest}`,
  );
  return EXIT.found;
};

export function runBackup(call: Call, terminal: Terminal): Promise<Exit> | Exit {
  const [address = "", path = ""] = call.operands;
  return atStore(address, terminal, async (store) =>
    tell(call, terminal, `${path} holds, read back and compared`, await writeBackup(store, path)),
  );
}

export function runRestore(call: Call, terminal: Terminal): Promise<Exit> | Exit {
  const [path = "", address = ""] = call.operands;
  return atStore(
    address,
    terminal,
    async (store) =>
      tell(call, terminal, `${store.place} holds, read back and compared`, await restoreInto(store, path)),
    true,
  );
}

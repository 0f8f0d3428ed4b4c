// Owns a process that writes to a store until it is killed, and says of each entry that it was acknowledged.
import { randomUUID } from "node:crypto";
import { writeSync } from "node:fs";
import { openStore } from "../src/store/index.ts";

const [address = "", run = "", writers = "1"] = process.argv.slice(2);
const store = await openStore(address);

async function writeOn(device: string): Promise<void> {
  for (;;) {
    const id = randomUUID();
    await store.append(run, [{ id, device, text: JSON.stringify({ id, note: "x".repeat(100) }) }]);
    // Straight to the pipe: what is said must be out before the next entry, however this process ends.
    writeSync(1, `${id}\n`);
  }
}

try {
  await Promise.all(Array.from({ length: Number(writers) }, (_, i) => writeOn(`device-${i}`)));
} catch (fault) {
  writeSync(2, `${fault}\n`);
  process.exitCode = 1;
}

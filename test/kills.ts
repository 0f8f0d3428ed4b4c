// Owns the killing of what writes to a store: a process in the middle of its work, or the database's server under writers who go on.
import { spawn } from "node:child_process";
import { once } from "node:events";
import { fileURLToPath } from "node:url";
import type { Store } from "../src/store/index.ts";
import type { Server } from "./postgres.ts";

export const WRITER = fileURLToPath(new URL("store-writer.ts", import.meta.url));

/** A line of the writer: an id and its end. */
const LINE = 37;

/** Lets a process of eight writers work until so many entries were acknowledged, kills it, and gives the ids of all that were. */
export async function killWriter(address: string, run: string, acknowledged: number): Promise<readonly string[]> {
  const writer = spawn(process.execPath, ["--import", "tsx", WRITER, address, run, "8"]);
  let out = "";
  writer.stdout.on("data", (chunk: Buffer) => {
    out += chunk.toString("utf8");
    if (out.length > LINE * acknowledged) writer.kill("SIGKILL");
  });
  await once(writer, "close");
  return out.split("\n").slice(0, -1);
}

/**
 * Twenty writers in this process; the server is killed and started again after each of so many further acknowledgements. Gives the ids of all that was
 * acknowledged when everybody has written once more.
 */
export async function crashUnderWriters(
  server: Server,
  store: Store,
  run: string,
  between: readonly number[],
): Promise<readonly string[]> {
  const said: string[] = [];
  let stop = false;
  const write = async (device: string) => {
    for (let i = 0; !stop; i++) {
      const id = `${device}-${i}`;
      await store.append(run, [{ id, device, text: "{}" }]);
      said.push(id);
    }
  };
  const more = async (count: number) => {
    const end = said.length + count;
    while (said.length < end) await new Promise((resolve) => setTimeout(resolve, 1));
  };
  const writers = Array.from({ length: 20 }, (_, i) => write(`device-${i}`));
  const writing = Promise.all(writers);
  for (const count of between) {
    await more(count);
    await server.crash();
  }
  await more(writers.length);
  stop = true;
  await writing;
  return said;
}

// Owns the measure of the server: start and idle memory, load on both kinds of store, and requests that are not as described.
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { startPostgres } from "../../test/postgres.ts";
import { beginRun, type Client, PUMP_FILE, setUp } from "../../test/serving.ts";
import { Fuzzer, type FuzzRow } from "./fuzz.ts";
import { compareStates, type LoadRow, measureEntries, measureLive, measureReturn, several } from "./load.ts";
import { bundleTool, type ServerProcess, startServer } from "./process.ts";

const RUN = "pump-1";
const PORT = 18_420;

export interface ServerBench {
  readonly rows: readonly LoadRow[];
  readonly fuzzed: FuzzRow | undefined;
}

/** @param requests made from the description; none where it is 0 */
export async function measureServer(requests: number, say: (row: LoadRow) => void): Promise<ServerBench> {
  const folder = await mkdtemp(join(tmpdir(), "unmoor-server-"));
  const tool = await bundleTool();
  const postgres = await startPostgres();
  const rows: LoadRow[] = [];
  const note = (row: LoadRow) => {
    rows.push(row);
    say(row);
  };
  try {
    const stores = [
      { store: "SQLite", words: [join(folder, "shop.db")], bar: 800 },
      { store: "PostgreSQL", words: ["--database", await postgres.makeDatabase()], bar: 1500 },
    ];
    for (const { store, words, bar } of stores) {
      const server = await startServer(tool.entry, PORT, words);
      await measureStart(store, server, note);
      const people = await setUp(server.origin, server.code);
      const [frida, emil] = [people.frida as Client, people.emil as Client];
      await beginRun(frida, RUN);
      const fifty = several(emil, 50);
      note(await measureEntries(store, fifty, RUN, 100, bar));
      await beginRun(frida, "pump-2");
      note(await measureLive(store, fifty, several(emil, 2), "pump-2", 200));
      await beginRun(frida, "pump-3");
      note(await measureReturn(store, several(frida, 20), several(emil, 20), "pump-3", 300));
      if (!(await compareStates(several(frida, 20), "pump-3"))) throw new Error("not all see one run");
      for (const client of fifty) client.close();
      await server.kill("SIGTERM");
    }
    const fuzzed = requests > 0 ? await fuzz(tool.entry, join(folder, "fuzz.db"), requests, 20_261_126) : undefined;
    return { rows, fuzzed };
  } finally {
    await postgres.stop();
    await tool.remove();
    await rm(folder, { recursive: true, force: true });
  }
}

async function measureStart(store: string, server: ServerProcess, note: (row: LoadRow) => void): Promise<void> {
  note({ store, what: "start to ready", figure: Math.round(server.ready), unit: "ms", bar: 1000, more: "a new shop" });
  await new Promise((resolve) => setTimeout(resolve, 3000));
  note({
    store,
    what: "idle memory",
    figure: Math.round(server.memory()),
    unit: "MB",
    bar: 150,
    more: "resident, after 3 s",
  });
}

async function fuzz(entry: string, shop: string, requests: number, seed: number): Promise<FuzzRow> {
  const server = await startServer(entry, PORT, [shop, "--threads", "1"]);
  try {
    const people = await setUp(server.origin, server.code);
    await beginRun(people.frida as Client, RUN);
    const gwen = people.gwen as Client;
    const description = await gwen.get("/openapi.json");
    return await new Fuzzer(description, await readFile(PUMP_FILE, "utf8"), seed).run(
      requests,
      () => server.memory(),
      gwen,
      people.dora as Client,
    );
  } finally {
    await server.kill("SIGKILL");
  }
}

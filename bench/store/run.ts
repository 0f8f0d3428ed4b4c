// Owns the measure of the stores: durable entries a second from fifty writers, and what is lost over many kills.
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openStore, type Store } from "../../src/store/index.ts";
import { crashUnderWriters, killWriter } from "../../test/kills.ts";
import { type Server, startPostgres } from "../../test/postgres.ts";
import { openShopRun } from "../../test/shop.ts";

interface SpeedRow {
  readonly store: string;
  readonly writers: number;
  readonly entries: number;
  readonly perSecond: number;
  readonly bar: number;
}

interface KillRow {
  readonly store: string;
  readonly killed: string;
  readonly kills: number;
  readonly acknowledged: number;
  readonly lost: number;
  /** Entries kept whose answer never arrived: no fault, they are whole. */
  readonly unanswered: number;
}

/** Measures both stores; `kills` of writers on SQLite, a fifth of that of PostgreSQL's server and of writers to it. */
export async function measureStores(kills: number): Promise<{ speed: SpeedRow[]; killed: KillRow[] }> {
  const folder = await mkdtemp(join(tmpdir(), "unmoor-bench-"));
  const server = await startPostgres();
  try {
    const file = join(folder, "shop.db");
    const base = await server.makeDatabase();
    const speed = [await measureSpeed("SQLite", file, 1_000), await measureSpeed("PostgreSQL", base, 2_000)];
    const killed: KillRow[] = [];
    if (kills > 0) {
      killed.push(await killWriters("SQLite", join(folder, "killed.db"), kills));
      const fifth = Math.ceil(kills / 5);
      killed.push(await killWriters("PostgreSQL", await server.makeDatabase(), fifth));
      killed.push(await killServer(server, fifth));
    }
    return { speed, killed };
  } finally {
    await server.stop();
    await rm(folder, { recursive: true, force: true });
  }
}

async function measureSpeed(name: string, address: string, bar: number): Promise<SpeedRow> {
  const store = await openStore(address);
  const { id: run } = await openShopRun(store, "speed");
  const [writers, each] = [50, 200];
  const text = JSON.stringify({ note: "x".repeat(500) });
  const write = async (device: string, count: number) => {
    for (let i = 0; i < count; i++) await store.append(run, [{ id: `${device}-${i}`, device, text }]);
  };
  await Promise.all(Array.from({ length: writers }, (_, i) => write(`warm-${i}`, 20)));
  const start = performance.now();
  await Promise.all(Array.from({ length: writers }, (_, i) => write(`device-${i}`, each)));
  const seconds = (performance.now() - start) / 1_000;
  await store.close();
  return { store: name, writers, entries: writers * each, perSecond: Math.round((writers * each) / seconds), bar };
}

/** Kills a writing process again and again, each time after another number of acknowledgements. */
async function killWriters(name: string, address: string, kills: number): Promise<KillRow> {
  const store = await openStore(address);
  const { id: run } = await openShopRun(store, "killed");
  const said: string[] = [];
  for (let i = 0; i < kills; i++) said.push(...(await killWriter(address, run, 1 + (i % 97))));
  const row = await compare(store, run, said);
  await store.close();
  return { store: name, killed: "writer", kills, ...row };
}

/** Kills the database's server under twenty writers, who go on by themselves. */
async function killServer(server: Server, kills: number): Promise<KillRow> {
  const store = await openStore(await server.makeDatabase());
  const { id: run } = await openShopRun(store, "server");
  const between = Array.from({ length: kills }, (_, i) => 1 + ((i * 37) % 101));
  const said = await crashUnderWriters(server, store, run, between);
  const row = await compare(store, run, said);
  await store.close();
  return { store: "PostgreSQL", killed: "server", kills, ...row };
}

async function compare(store: Store, run: string, said: readonly string[]) {
  const kept = new Set<string>();
  let last = 0;
  for (;;) {
    const page = await store.entries(run, last, 10_000);
    for (const { id, position } of page) {
      if (position !== last + 1) throw new Error(`position ${position} follows ${last}`);
      last = position;
      kept.add(id);
    }
    if (page.length === 0) break;
  }
  const lost = said.filter((id) => !kept.has(id)).length;
  return { acknowledged: said.length, lost, unanswered: kept.size - (said.length - lost) };
}

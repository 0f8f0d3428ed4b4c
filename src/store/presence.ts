// Owns who of the processes that share a PostgreSQL database is there: each holds a lock under its name, and the database lets go of it when the process is gone.
import { createHash } from "node:crypto";
import pg from "pg";

export interface Presence {
  /** Those of these names that are there now. */
  areThere(names: readonly string[]): Promise<ReadonlySet<string>>;
  close(): Promise<void>;
}

/** Milliseconds between two tries to be there again. */
const PAUSE = 500;
/** The first half of every key, so that nobody else's locks are taken for ours. */
const CLASS = 0x756e6d72;

/** Two names with one key would take each other's place: once in four thousand million. */
const keyOf = (name: string): number => createHash("sha256").update(name).digest().readInt32BE(0);

/** Is there as `name` until it is closed. */
export async function openPresence(database: string, name: string): Promise<Presence> {
  let closed = false;
  let client: pg.Client | undefined;
  const hold = async (): Promise<void> => {
    const fresh = new pg.Client({ connectionString: database, keepAlive: true, connectionTimeoutMillis: 10_000 });
    let lost = false;
    const lose = () => {
      if (lost) return;
      lost = true;
      fresh.end().catch(() => undefined);
      if (client === fresh) client = undefined;
      if (!closed) void again();
    };
    // Set before it connects: what goes wrong in between must not end the process.
    fresh.on("error", () => undefined);
    await fresh.connect();
    if (closed) return fresh.end();
    fresh.on("error", lose);
    fresh.on("end", lose);
    await fresh.query("select pg_advisory_lock($1, $2)", [CLASS, keyOf(name)]);
    client = fresh;
  };
  const again = async (): Promise<void> => {
    while (!closed) {
      await new Promise((resolve) => setTimeout(resolve, PAUSE).unref());
      try {
        return await hold();
      } catch {
        // Not yet back.
      }
    }
  };
  await hold();
  return {
    async areThere(names) {
      if (names.length === 0) return new Set();
      if (client === undefined) throw new Error("the database cannot be reached");
      const { rows } = await client.query<{ objid: string }>(
        `select objid from pg_locks
         where locktype = 'advisory' and granted and classid = $1 and objsubid = 2
           and database = (select oid from pg_database where datname = current_database())`,
        [CLASS],
      );
      const held = new Set(rows.map(({ objid }) => Number(objid) | 0));
      return new Set(names.filter((one) => held.has(keyOf(one))));
    },
    async close() {
      closed = true;
      await client?.end().catch(() => undefined);
    },
  };
}

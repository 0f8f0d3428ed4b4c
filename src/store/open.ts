// Owns which of the two a store's address means; neither driver is loaded before one is asked for.
import type { Presence } from "./presence.ts";
import type { Store } from "./store.ts";

/**
 * Opens a store by its address: `postgres://…` is a database, all else a file.
 * @param patience milliseconds for which work waits for a database that is away, or for another process that writes the file; each kind's own where it is left out
 * @throws StoreFault
 */
export async function openStore(address: string, patience?: number): Promise<Store> {
  if (isDatabase(address)) {
    const { openPostgres } = await import("./postgres.ts");
    return openPostgres(address, patience === undefined ? {} : { patience });
  }
  const { openSqlite } = await import("./sqlite.ts");
  return openSqlite(address, patience);
}

export const isDatabase = (address: string): boolean => /^postgres(ql)?:\/\//.test(address);

/** Is there under a name, for the other processes that share a database, until it is closed. */
export const openPresence = async (database: string, name: string): Promise<Presence> =>
  (await import("./presence.ts")).openPresence(database, name);

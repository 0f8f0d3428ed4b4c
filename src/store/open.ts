// Owns which of the two a store's address means.
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

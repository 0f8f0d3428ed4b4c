// Owns which of the two a store's address means.
import type { Store } from "./store.ts";

/** Opens a store by its address: `postgres://…` is a database, all else a file. @throws StoreFault */
export async function openStore(address: string): Promise<Store> {
  if (/^postgres(ql)?:\/\//.test(address)) {
    const { openPostgres } = await import("./postgres.ts");
    return openPostgres(address);
  }
  const { openSqlite } = await import("./sqlite.ts");
  return openSqlite(address);
}

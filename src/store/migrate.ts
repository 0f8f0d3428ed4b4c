// Owns bringing the tables of a store up to this version, and the refusal of a store that is ahead of it.
import type { Migrator } from "kysely";
import { StoreFault } from "./store.ts";

/** @param read turns a driver's error into a fault. @throws StoreFault "newer" when a later version of the program has been here. */
export async function migrate(migrator: Migrator, place: string, read: (error: unknown) => unknown): Promise<void> {
  const { error, results } = await migrator.migrateToLatest();
  if (error === undefined) return;
  if (error instanceof Error && /previously executed migration .* is missing/.test(error.message)) {
    const what = "a newer version of this program has changed its tables";
    throw new StoreFault("newer", place, what, "Install that version; this one would not know what it reads.", error);
  }
  const fault = read(error);
  if (fault instanceof StoreFault) throw fault;
  const step = results?.find(({ status }) => status === "Error")?.migrationName ?? "the first";
  throw new StoreFault("damaged", place, `its tables could not be changed by step ${step}`, "Restore a backup.", error);
}

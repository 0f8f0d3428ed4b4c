// Owns the store in one SQLite file: write-ahead log, full synchronous, one writer at a time.
import { DatabaseSync, type DatabaseSyncInstance, type StatementSyncInstance } from "@photostructure/sqlite";
import { Kysely, Migrator, SqliteDialect } from "kysely";
import { keepIn } from "./keep.ts";
import { migrate } from "./migrate.ts";
import { migrations } from "./migrations.ts";
import { type FaultCode, type Store, StoreFault } from "./store.ts";
import type { Database, Tables } from "./tables.ts";

/** Milliseconds to wait for another process that writes. */
const PATIENCE = 5_000;

/**
 * Opens the file, made when there is none, and brings its tables up to this version.
 * @param patience milliseconds to wait for another process that writes
 * @throws StoreFault
 */
export async function openSqlite(path: string, patience = PATIENCE): Promise<Store> {
  const place = path;
  const raw = guardSync(place, () => connect(path, patience));
  const db = wrap(raw);
  try {
    await migrate(makeMigrator(db), place, (error) => faultOf(error, place));
  } catch (fault) {
    await db.destroy();
    throw fault;
  }
  const version = () => (raw.prepare("pragma data_version").get() as { data_version: number }).data_version;
  const [ear, questions] = [new Ear(version), new Ear(version)];
  return keepIn(db, {
    place,
    hold: false,
    announce: async (_, runs) => ear.announce(runs),
    watch: async (listener) => ear.watch(listener),
    questions: {
      // The table is the queue.
      enqueue: () => Promise.resolve(),
      dequeue: () => Promise.resolve(),
      announce: async (_, digests) => questions.announce(digests),
      watch: async (listener) => questions.watch(listener),
    },
    async *snapshot(use) {
      // A second connection: under the write-ahead log it reads one moment, and the first goes on writing.
      const other = guardSync(place, () => connect(path, patience));
      const reader = wrap(other);
      try {
        other.exec("begin");
        yield* use(reader);
      } catch (error) {
        throw faultOf(error, place);
      } finally {
        if (other.isTransaction) other.exec("commit");
        await reader.destroy();
      }
    },
    examine() {
      const rows = raw.prepare("pragma integrity_check").all() as { integrity_check: string }[];
      const broken = raw.prepare("pragma foreign_key_check").all() as { table: string; rowid: number }[];
      return Promise.resolve([
        ...rows.map((row) => row.integrity_check).filter((what) => what !== "ok"),
        ...broken.map(({ table, rowid }) => `row ${rowid} of ${table} refers to what is not there`),
      ]);
    },
    read: (error) => faultOf(error, place),
    // What SQLite refuses for a moment it has waited for already.
    again: () => false,
    async close() {
      ear.close();
      questions.close();
      await db.destroy();
    },
  });
}

/** Milliseconds between two looks at whether another process has written to the file. */
const LOOK = 200;

/** Who watches the file: told of this process's own entries and questions as they are committed, of others' by the number of the file's change. */
class Ear {
  private readonly listeners = new Set<(name: string | undefined) => void>();
  private readonly version: () => number;
  private looking: NodeJS.Timeout | undefined;

  constructor(version: () => number) {
    this.version = version;
  }

  /** Said within the transaction, heard after it: its commit comes in the same turn of the event loop, listeners in a later one. */
  announce(names: readonly string[]): void {
    setImmediate(() => {
      for (const name of names) this.tell(name);
    });
  }

  watch(listener: (name: string | undefined) => void): () => void {
    this.listeners.add(listener);
    let last = this.version();
    this.looking ??= setInterval(() => {
      const version = this.version();
      if (version !== last) this.tell(undefined);
      last = version;
    }, LOOK).unref();
    return () => {
      this.listeners.delete(listener);
      if (this.listeners.size === 0) this.close();
    };
  }

  close(): void {
    clearInterval(this.looking);
    this.looking = undefined;
  }

  private tell(name: string | undefined): void {
    for (const listener of this.listeners) listener(name);
  }
}

export function makeMigrator(db: Database): Migrator {
  return new Migrator({ db, provider: { getMigrations: async () => migrations({ bytes: "blob" }) } });
}

function connect(path: string, patience: number): DatabaseSyncInstance {
  const raw = new DatabaseSync(path, { timeout: patience });
  try {
    raw.exec("pragma journal_mode = wal");
    raw.exec("pragma synchronous = full");
    raw.exec("pragma foreign_keys = on");
    return raw;
  } catch (error) {
    raw.close();
    throw error;
  }
}

/** Statements kept prepared: all that a shop's day uses, few enough to hold. */
const PREPARED = 100;

/** The driver as kysely wants it. A transaction takes the right to write as it begins: taken later, it could be refused half way. */
export function wrap(raw: DatabaseSyncInstance): Kysely<Tables> {
  const prepared = new Map<string, StatementSyncInstance>();
  const prepare = (sql: string): StatementSyncInstance => {
    const statement = prepared.get(sql) ?? raw.prepare(sql);
    // The one used last stands last, so that the first is the one to let go.
    prepared.delete(sql);
    prepared.set(sql, statement);
    const [oldest] = prepared.keys();
    if (prepared.size > PREPARED && oldest !== undefined) prepared.delete(oldest);
    return statement;
  };
  const driver = {
    close() {
      // The driver lets a file go only when its statements are swept up: the log is merged here, so that the file alone is the store.
      try {
        raw.exec("pragma wal_checkpoint(truncate)");
      } catch {
        // What cannot be merged stays in the log, durable as before.
      }
      raw.close();
    },
    prepare(sql: string) {
      const statement = prepare(said(sql));
      return {
        reader: statement.columns().length > 0,
        // The driver's rows have no prototype, and equal no literal.
        all: (given: readonly unknown[]) =>
          statement.all(...(given as never[])).map((row: unknown) => ({ ...(row as object) })),
        run: (given: readonly unknown[]) => statement.run(...(given as never[])),
        iterate: (given: readonly unknown[]) => statement.iterate(...(given as never[])),
      };
    },
  };
  const said = (sql: string) => {
    if (sql === "begin") return "begin immediate";
    // A commit that failed for want of room has rolled back by itself; to ask again would hide why.
    return sql === "rollback" && !raw.isTransaction ? "select 1" : sql;
  };
  return new Kysely<Tables>({ dialect: new SqliteDialect({ database: driver }) });
}

function guardSync<T>(place: string, work: () => T): T {
  try {
    return work();
  } catch (error) {
    throw faultOf(error, place);
  }
}

/** SQLite's result codes by their standard words (sqlite.org/rescode.html; the driver does not always give the number), as what a user can do. */
const FAULTS: readonly (readonly [RegExp, FaultCode, string, string])[] = [
  [/database (table )?is locked/, "busy", "another process is writing to it", "Try again when that is done."],
  [
    /readonly database/,
    "read-only",
    "the file cannot be written",
    "Give this user the right to write file and folder.",
  ],
  [/disk I\/O error/, "gone", "the disk gave an error", "See whether the disk is full, failing or taken away."],
  [
    /disk image is malformed/,
    "damaged",
    "the file is damaged",
    "Put it aside, untouched, and restore the last backup.",
  ],
  [/database or disk is full/, "full", "the disk is full", "Make room; what was acknowledged is kept."],
  [
    /file is not a database/,
    "damaged",
    "this is no store",
    "Name the file of a store, or one that does not exist yet.",
  ],
  [
    /unable to open database file/,
    "gone",
    "the file cannot be opened",
    "See that the folder exists and that this user may write there.",
  ],
];

function faultOf(error: unknown, place: string): unknown {
  if (error instanceof StoreFault || !(error instanceof Error)) return error;
  const found = FAULTS.find(([words]) => words.test(error.message));
  if (found === undefined) return error;
  const [, code, what, mend] = found;
  return new StoreFault(code, place, what, mend, error);
}

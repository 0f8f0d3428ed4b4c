// Owns the rows of a whole store as lines, out at one moment and into an empty store.
import { sql } from "kysely";
import { type BackupLine, StoreFault } from "./store.ts";
import { type Database, ORDER, type Tables } from "./tables.ts";

/** Rows read at a time: a page of photos is the largest, a few at a time. */
const PAGE = 500;
const PHOTOS = 4;

/** Every row of every table, tables in the order in which they refer to one another, rows in the order of their keys. */
export async function* readRows(db: Database): AsyncGenerator<BackupLine> {
  for (const { table, key } of ORDER) {
    const columns = sql.join(key.map((column) => sql.ref(column)));
    const page = table === "photo" ? PHOTOS : PAGE;
    let last: readonly unknown[] | undefined;
    for (;;) {
      const behind = last === undefined ? sql`` : sql`where (${columns}) > (${sql.join(last)})`;
      const { rows } = await sql<Record<string, unknown>>`
        select * from ${sql.table(table)} ${behind} order by ${columns} limit ${page}`.execute(db);
      for (const row of rows) yield { table, row: packed(row) };
      const end = rows.at(-1);
      if (end === undefined || rows.length < page) break;
      last = key.map((column) => end[column]);
    }
  }
}

/** Takes lines into a store that holds nothing, all or none. @throws StoreFault "not-empty", "damaged" */
export async function takeRows(db: Database, place: string, lines: AsyncIterable<BackupLine>): Promise<void> {
  await db.transaction().execute(async (tx) => {
    for (const { table } of ORDER) {
      const { rows } = await sql`select 1 from ${sql.table(table)} limit 1`.execute(tx);
      if (rows.length > 0)
        throw new StoreFault("not-empty", place, "it holds records already", "Restore into a new, empty store.");
    }
    let waiting: Record<string, unknown>[] = [];
    let at: keyof Tables | undefined;
    const write = async () => {
      if (at !== undefined && waiting.length > 0) await insertRows(tx, at, waiting);
      waiting = [];
    };
    for await (const { table, row } of lines) {
      const known = ORDER.find((one) => one.table === table);
      if (known === undefined)
        throw new StoreFault("newer", "backup", `it has a table "${table}"`, "Restore with the version that made it.");
      if (known.table !== at || waiting.length >= (at === "photo" ? PHOTOS : PAGE)) await write();
      at = known.table;
      waiting.push(unpacked(row));
    }
    await write();
  });
}

async function insertRows(tx: Database, table: keyof Tables, rows: readonly Record<string, unknown>[]): Promise<void> {
  const columns = Object.keys(rows[0] ?? {});
  const values = rows.map((row) => sql`(${sql.join(columns.map((column) => row[column]))})`);
  await sql`
    insert into ${sql.table(table)} (${sql.join(columns.map((column) => sql.ref(column)))})
    values ${sql.join(values)}`.execute(tx);
}

/** Bytes go as base64 under a name that says so; columns by name, so that two databases give the same line. */
function packed(row: Readonly<Record<string, unknown>>): BackupLine["row"] {
  const sorted = Object.entries(row).sort(([a], [b]) => (a < b ? -1 : 1));
  return Object.fromEntries(
    sorted.map(([column, value]) =>
      value instanceof Uint8Array
        ? [`${column}:base64`, Buffer.from(value).toString("base64")]
        : [column, value as string | number | null],
    ),
  );
}

function unpacked(row: BackupLine["row"]): Record<string, unknown> {
  return Object.fromEntries(
    Object.entries(row).map(([column, value]) =>
      column.endsWith(":base64")
        ? [column.slice(0, -":base64".length), Buffer.from(String(value), "base64")]
        : [column, value],
    ),
  );
}

// Owns how one row is written when others may write it too: made once, or changed only by who read it as it is.
import { sql } from "kysely";
import { StoreFault } from "./store.ts";
import type { Database, Tables } from "./tables.ts";

/** The tables' names as people say them. */
const NAMES: Partial<Record<keyof Tables, string>> = { job_order: "order" };

type Values = Readonly<Record<string, string | number | null>>;

const nameOf = (table: keyof Tables) => NAMES[table] ?? table;

/** Changes a row that is as it was read, or makes it when the revision read is 0. @throws StoreFault "stale" */
export async function revise(
  db: Database,
  table: keyof Tables,
  id: string,
  values: Values,
  revision: number,
): Promise<void> {
  if (revision === 0) {
    if ((await insert(db, table, { id, ...values, revision: 1 })) === 1n) return;
  } else {
    const changes = Object.entries(values).map(([column, value]) => sql`${sql.ref(column)} = ${value}`);
    const { numAffectedRows } = await sql`
      update ${sql.table(table)} set ${sql.join(changes)}, revision = ${revision + 1}
      where id = ${id} and revision = ${revision}`.execute(db);
    if (numAffectedRows === 1n) return;
  }
  // Who got no answer asks again: what he wanted may be there.
  const { rows } = await sql<Values>`select * from ${sql.table(table)} where id = ${id}`.execute(db);
  const there = rows[0];
  const done = there !== undefined && agrees(there, { ...values, revision: revision + 1 });
  if (!done) throw stale(`${nameOf(table)} "${id}"`);
}

/** Makes a row that never changes; the same row again is no matter. @throws StoreFault "clash" */
export async function once(db: Database, table: keyof Tables, row: Values & { readonly id: string }): Promise<void> {
  if ((await insert(db, table, row)) === 1n) return;
  const { rows } = await sql<Values>`select * from ${sql.table(table)} where id = ${row.id}`.execute(db);
  const there = rows[0];
  // What was kept at another moment is the same record: who got no answer sends again, and his clock has gone on.
  const { at: _, ...content } = row;
  if (!(there !== undefined && agrees(there, content))) throw clash(`${nameOf(table)} "${row.id}"`);
}

/** @throws StoreFault "unknown" when no such row is kept */
export async function expectRow(db: Database, table: keyof Tables, id: string, at: string): Promise<void> {
  const { rows } = await sql`select 1 from ${sql.table(table)} where id = ${id}`.execute(db);
  if (rows.length === 0) throw unknown(at, `${nameOf(table)} "${id}"`);
}

export function unknown(at: string, what: string): StoreFault {
  return new StoreFault("unknown", at, `${what} is not kept here`, "Save that first.");
}

export function clash(at: string): StoreFault {
  return new StoreFault("clash", at, "the same id is kept already with another content", "Give it an id of its own.");
}

export function stale(at: string): StoreFault {
  return new StoreFault("stale", at, "somebody else changed it since it was read", "Read it again, then change that.");
}

function agrees(there: Values, wanted: Values): boolean {
  return Object.entries(wanted).every(([column, value]) => there[column] === value);
}

async function insert(db: Database, table: keyof Tables, row: Values): Promise<bigint> {
  const columns = sql.join(Object.keys(row).map((column) => sql.ref(column)));
  const { numAffectedRows } = await sql`
    insert into ${sql.table(table)} (${columns}) values (${sql.join(Object.values(row))})
    on conflict do nothing`.execute(db);
  return numAffectedRows ?? 0n;
}

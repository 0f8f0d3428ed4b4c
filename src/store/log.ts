// Owns how entries get into a run and out of it: positions without gap in the order of commit, the same entry once.
import type { Ways } from "./guard.ts";
import type { Append, Settled } from "./queue.ts";
import { stale } from "./row.ts";
import { type KeptEntry, type NewEntry, StoreFault } from "./store.ts";
import type { Database } from "./tables.ts";

/** Rows of one statement: below the fewest parameters a database allows (SQLite 32,766), at five a row. */
const ROWS = 1_000;

/**
 * Writes a group of appends in one transaction. The row of each run is held first, so that positions follow the order of commit and no reader
 * ever sees a later one before an earlier; runs are taken in the order of their ids, so that two groups cannot wait for each other.
 */
export function writeGroup(
  db: Database,
  group: readonly Append[],
  { hold, announce }: Pick<Ways, "hold" | "announce">,
): Promise<readonly Settled[]> {
  return db.transaction().execute(async (tx) => {
    const ids = [...new Set(group.map(({ run }) => run))].sort();
    const lengths = new Map<string, number>();
    for (const part of parts(ids)) {
      let query = tx.selectFrom("run").select(["id", "length"]).where("id", "in", part).orderBy("id");
      if (hold) query = query.forUpdate();
      for (const { id, length } of await query.execute()) lengths.set(id, length);
    }
    const kept = await readKept(tx, group);
    const rows: (KeptEntry & { readonly run: string })[] = [];
    const before = new Map(lengths);
    const settled = group.map(({ run, entries, behind }): Settled => {
      const length = lengths.get(run);
      if (length === undefined) return { fault: unknownRun(run) };
      const clash = findClash(kept, run, entries);
      if (clash !== undefined) return { fault: clashOf(run, clash, kept.get(clash.id)) };
      if (behind !== undefined && length > behind && !entries.every(({ id }) => kept.has(id)))
        return { fault: stale(`run "${run}"`) };
      let last = length;
      const positions = entries.map((entry) => {
        const there = kept.get(entry.id);
        if (there !== undefined) return there.position;
        last++;
        const row = { run, position: last, id: entry.id, device: entry.device, text: entry.text };
        kept.set(entry.id, row);
        rows.push(row);
        return last;
      });
      lengths.set(run, last);
      return { positions };
    });
    for (const part of parts(rows)) await tx.insertInto("entry").values(part).execute();
    const grown = [...lengths].filter(([id, length]) => length !== before.get(id));
    for (const [id, length] of grown) await tx.updateTable("run").set({ length }).where("id", "=", id).execute();
    if (grown.length > 0)
      await announce(
        tx,
        grown.map(([id]) => id),
      );
    return settled;
  });
}

/** What the group's entries are as kept already, by id. */
async function readKept(db: Database, group: readonly Append[]) {
  const kept = new Map<string, KeptEntry & { readonly run: string }>();
  const ids = group.flatMap(({ entries }) => entries.map(({ id }) => id));
  for (const part of parts(ids)) {
    const rows = await db.selectFrom("entry").selectAll().where("id", "in", part).execute();
    for (const row of rows) kept.set(row.id, row);
  }
  return kept;
}

/** The first entry whose id is taken, in the store or by one before it, for something else. */
function findClash(
  kept: ReadonlyMap<string, NewEntry & { readonly run: string }>,
  run: string,
  entries: readonly NewEntry[],
): NewEntry | undefined {
  const own = new Map<string, NewEntry & { readonly run: string }>();
  return entries.find((entry) => {
    const there = kept.get(entry.id) ?? own.get(entry.id);
    own.set(entry.id, { ...entry, run });
    return there !== undefined && !(there.run === run && there.device === entry.device && there.text === entry.text);
  });
}

/** Entries of a run behind a position, in their order. */
export function readEntries(db: Database, run: string, behind: number, limit: number): Promise<readonly KeptEntry[]> {
  return db
    .selectFrom("entry")
    .select(["position", "id", "device", "text"])
    .where("run", "=", run)
    .where("position", ">", behind)
    .orderBy("position")
    .limit(limit)
    .execute();
}

/**
 * Refuses a text that no database gives back letter for letter: half a surrogate pair has no UTF-8, and PostgreSQL keeps no U+0000.
 * @throws StoreFault "clash"
 */
export function checkText(run: string, { id, text }: NewEntry): void {
  if (!UNKEEPABLE.test(text)) return;
  const what = "its text holds U+0000 or half a surrogate pair, which cannot be kept letter for letter";
  throw new StoreFault("clash", `run "${run}", entry "${id}"`, what, "Write it as canonical JSON does, escaped.");
}

/** With the flag u a surrogate matches only where its other half is missing. */
const UNKEEPABLE = /\p{Surrogate}|\0/u;

function unknownRun(run: string): StoreFault {
  return new StoreFault("unknown", `run "${run}"`, "no such run is kept", "Open the run first.");
}

function clashOf(run: string, entry: NewEntry, there: { readonly run: string } | undefined): StoreFault {
  const where = there?.run === run ? "with another content" : `in run "${there?.run}"`;
  const what = `the same id is kept already ${where}`;
  return new StoreFault("clash", `run "${run}", entry "${entry.id}"`, what, "Give a new entry an id of its own.");
}

function* parts<T>(list: readonly T[]): Generator<T[]> {
  for (let i = 0; i < list.length; i += ROWS) yield list.slice(i, i + ROWS);
}

// Owns the backup file: every row of a store as JSON Lines, compressed, closed by its count and digest, the same for both kinds of store.
import { createHash, randomUUID } from "node:crypto";
import { createReadStream, createWriteStream } from "node:fs";
import { open, rename, rm } from "node:fs/promises";
import { dirname } from "node:path";
import { Readable } from "node:stream";
import { pipeline } from "node:stream/promises";
import { createGunzip, createGzip } from "node:zlib";
import { type BackupLine, type Store, StoreFault } from "./store.ts";

const FORMAT = "unmoor-backup/1";

/** What a backup holds: its rows by table, and the SHA-256 of its lines, hexadecimal. */
export interface Told {
  readonly rows: Readonly<Record<string, number>>;
  readonly digest: string;
}

/** Writes a backup while others go on writing to the store, reads it back, and only then gives it its name. */
export async function writeBackup(store: Store, path: string): Promise<Told> {
  const part = `${path}.${randomUUID()}.part`;
  try {
    const count = counter();
    const lines = async function* () {
      yield `${JSON.stringify({ format: FORMAT })}\n`;
      for await (const line of store.lines()) yield `${count.take(JSON.stringify(line), line)}\n`;
      yield `${JSON.stringify({ end: count.told() })}\n`;
    };
    await pipeline(Readable.from(lines()), createGzip(), createWriteStream(part, { flags: "wx" }));
    await settle(part);
    for await (const _ of readBackup(part));
    await rename(part, path);
    await settle(dirname(path));
    return count.told();
  } catch (error) {
    await rm(part, { force: true });
    throw error instanceof StoreFault ? error : faultOfFile(error, path);
  }
}

/** Reads a backup to its end before it is taken in, then takes it in and compares what the store holds with what was read. */
export async function restoreInto(store: Store, path: string): Promise<Told> {
  for await (const _ of readBackup(path));
  await store.takeIn(readBackup(path));
  const read = counter();
  for await (const line of store.lines()) read.take(JSON.stringify(line), line);
  const kept = read.told();
  const written = counter();
  for await (const line of readBackup(path)) written.take(JSON.stringify(line), line);
  if (kept.digest === written.told().digest) return kept;
  throw new StoreFault("damaged", store.place, "it does not hold what the backup held", "Restore into a new store.");
}

/** The lines of a backup. @throws StoreFault "damaged" at the first that is not as it was written, "newer" for an unknown format */
async function* readBackup(path: string): AsyncGenerator<BackupLine> {
  const count = counter();
  let number = 0;
  let ended = false;
  const damaged = (what: string) =>
    new StoreFault("damaged", `${path}, line ${number}`, what, "Take an earlier backup, or copy this one again.");
  try {
    for await (const text of readLines(path)) {
      number++;
      if (ended) throw damaged("there is more after its end");
      const line = parse(text);
      if (line === undefined) throw damaged("it is no JSON");
      if (number === 1) {
        if (line.format === FORMAT) continue;
        const what = `its format is ${JSON.stringify(line.format ?? null)}, not "${FORMAT}"`;
        throw new StoreFault("newer", path, what, "Restore with the version that made it.");
      }
      if ("end" in line) {
        if (JSON.stringify(line.end) !== JSON.stringify(count.told())) throw damaged("count or digest do not agree");
        ended = true;
      } else {
        const row = line as unknown as BackupLine;
        count.take(text, row);
        yield row;
      }
    }
  } catch (error) {
    if (error instanceof StoreFault) throw error;
    throw faultOfFile(error, path, number);
  }
  if (!ended) throw damaged("it ends too soon");
}

/** The lines of a compressed file; a last one without its end is a line too. */
async function* readLines(path: string): AsyncGenerator<string> {
  const source = createReadStream(path);
  const unzipped = createGunzip();
  source.on("error", (error) => unzipped.destroy(error));
  source.pipe(unzipped).setEncoding("utf8");
  let rest: string[] = [];
  for await (const chunk of unzipped as AsyncIterable<string>) {
    const [first = "", ...others] = chunk.split("\n");
    rest.push(first);
    for (const next of others) {
      yield rest.join("");
      rest = [next];
    }
  }
  const last = rest.join("");
  if (last !== "") yield last;
}

function counter() {
  const hash = createHash("sha256");
  const rows: Record<string, number> = {};
  return {
    take(text: string, { table }: BackupLine): string {
      hash.update(text).update("\n");
      rows[table] = (rows[table] ?? 0) + 1;
      return text;
    },
    told: (): Told => ({ rows: { ...rows }, digest: hash.copy().digest("hex") }),
  };
}

function parse(text: string): Record<string, unknown> | undefined {
  try {
    const value: unknown = JSON.parse(text);
    return typeof value === "object" && value !== null ? (value as Record<string, unknown>) : undefined;
  } catch {
    return undefined;
  }
}

/** Brings a file, or the names in a folder, to the disk. */
async function settle(path: string): Promise<void> {
  const handle = await open(path, "r");
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}

function faultOfFile(error: unknown, path: string, line?: number): unknown {
  const code = String((error as { code?: unknown } | null)?.code ?? "");
  const at = line === undefined ? path : `${path}, after line ${line}`;
  if (code === "ENOENT") return new StoreFault("unknown", path, "no such file or folder", "See its name.", error);
  if (code === "ENOSPC") return new StoreFault("full", path, "the disk is full", "Make room, then try again.", error);
  if (code === "EACCES" || code === "EROFS" || code === "EPERM")
    return new StoreFault(
      "read-only",
      path,
      "it may not be written or read",
      "See the rights of file and folder.",
      error,
    );
  if (code.startsWith("Z_"))
    return new StoreFault("damaged", at, "it is no whole backup", "Take an earlier one.", error);
  return error;
}

import { spawn } from "node:child_process";
import { once } from "node:events";
import { chmod, mkdtemp, readFile, rm, truncate, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync } from "@photostructure/sqlite";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { killWriter, WRITER } from "../../test/kills.ts";
import { openShopRun } from "../../test/shop.ts";
import { acceptStore } from "../../test/store.ts";
import { migrations } from "./migrations.ts";
import { openStore } from "./open.ts";
import { makeMigrator, openSqlite, wrap } from "./sqlite.ts";
import type { FaultCode } from "./store.ts";

let folder: string;
let made = 0;
const freshPath = () => join(folder, `shop-${++made}.db`);
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "unmoor-sqlite-"));
  await chmod(folder, 0o755);
});
afterAll(() => rm(folder, { recursive: true, force: true }));

acceptStore("SQLite", () => openStore(freshPath()));

describe("SQLite, when things go wrong", () => {
  const refused = (work: Promise<unknown>, code: FaultCode, at?: string) =>
    expect(work).rejects.toMatchObject({ name: "StoreFault", code, ...(at === undefined ? {} : { at }) });

  /** A store of some size, closed. */
  const makeShop = async () => {
    const path = freshPath();
    const store = await openStore(path);
    const { id: run } = await openShopRun(store, "a");
    const text = "x".repeat(400);
    await store.append(
      run,
      Array.from({ length: 500 }, (_, i) => ({ id: `e${i}`, device: "d", text })),
    );
    await store.close();
    return { path, run };
  };

  test("a writer that is killed loses nothing that it said was acknowledged, and leaves a whole store", async () => {
    const path = freshPath();
    const store = await openStore(path);
    const { id: run } = await openShopRun(store, "killed");
    const said: string[] = [];
    // At another point of its work each time, well inside a transaction or between two.
    for (const after of [1, 40, 81]) said.push(...(await killWriter(path, run, after)));
    const kept = await store.entries(run, 0, 1_000_000);
    expect(kept.map(({ position }) => position)).toEqual(kept.map((_, i) => i + 1));
    const ids = new Set(kept.map(({ id }) => id));
    expect(said.length).toBeGreaterThan(100);
    expect(said.filter((id) => !ids.has(id))).toEqual([]);
    expect(await store.examine()).toEqual([]);
    await store.close();
  });

  test("a disk that takes no more: the error says so, what was acknowledged is kept, and the store opens again", async () => {
    const { path, run } = await makeShop();
    // The system's own limit on the size of a file stands for the full disk; the log beside the store meets it as well.
    const shell = `trap '' XFSZ; ulimit -f 800; exec "$0" "$@"`;
    const writer = spawn("bash", ["-c", shell, process.execPath, "--import", "tsx", WRITER, path, run, "8"]);
    const [out, err] = [writer.stdout, writer.stderr].map((stream) => {
      const chunks: Buffer[] = [];
      stream.on("data", (chunk: Buffer) => chunks.push(chunk));
      return chunks;
    }) as [Buffer[], Buffer[]];
    await once(writer, "close");
    expect(Buffer.concat(err).toString("utf8")).toMatch(/the disk (gave an error|is full)/);
    const said = Buffer.concat(out).toString("utf8").split("\n").slice(0, -1);
    const store = await openStore(path);
    const ids = new Set((await store.entries(run, 0, 1_000_000)).map(({ id }) => id));
    expect(said.length).toBeGreaterThan(0);
    expect(said.filter((id) => !ids.has(id))).toEqual([]);
    await store.append(run, [{ id: "after", device: "d", text: "{}" }]);
    await store.close();
  });

  test("a file that may not be written is named as such", async () => {
    const { path, run } = await makeShop();
    await chmod(path, 0o444);
    const root = process.geteuid?.() === 0;
    // For root nothing is read-only: be somebody else for a moment.
    if (root) process.seteuid?.(65_534);
    try {
      const append = async () => (await openStore(path)).append(run, [{ id: "late", device: "d", text: "{}" }]);
      await refused(append(), "read-only", path);
    } finally {
      if (root) process.seteuid?.(0);
    }
  });

  test("a folder that is not there is named as such", () => refused(openStore(join(folder, "none", "a.db")), "gone"));

  test("a file that is no store is not touched", async () => {
    const path = freshPath();
    await writeFile(path, "vehicle: plover\n".repeat(100));
    await refused(openStore(path), "damaged", path);
    expect(await readFile(path, "utf8")).toBe("vehicle: plover\n".repeat(100));
  });

  test("a store that was cut short or changed on the disk is found damaged", async () => {
    const cut = await makeShop();
    await truncate(cut.path, 40_000);
    const look = async (path: string, run: string) => {
      const store = await openStore(path);
      try {
        const found = await store.examine();
        if (found.length > 0) return found;
        return (await store.entries(run, 0, 1_000)).map(({ text }) => text);
      } finally {
        await store.close();
      }
    };
    await expect(look(cut.path, cut.run)).rejects.toMatchObject({ code: "damaged" });

    const changed = await makeShop();
    const bytes = await readFile(changed.path);
    // The head of a page in the middle: what kind of page it is.
    bytes[4096 * 20] = 0x77;
    await writeFile(changed.path, bytes);
    const found = await look(changed.path, changed.run).catch((fault: unknown) => fault);
    expect(JSON.stringify(found)).toMatch(/damaged|btree|page/i);
  });

  test("while another process writes, one waits, then says so; afterwards it goes on", async () => {
    const { path, run } = await makeShop();
    const store = await openSqlite(path, 50);
    const other = new DatabaseSync(path);
    other.exec("begin immediate");
    await refused(store.append(run, [{ id: "held", device: "d", text: "{}" }]), "busy");
    other.exec("commit");
    other.close();
    expect(await store.append(run, [{ id: "held", device: "d", text: "{}" }])).toEqual([501]);
    await store.close();
  });

  test("a store that a newer version has changed is left alone", async () => {
    const { path } = await makeShop();
    const raw = new DatabaseSync(path);
    raw.exec("insert into kysely_migration values ('999-to-come', '2099-01-01')");
    raw.close();
    await refused(openStore(path), "newer", path);
  });

  test("a store of every earlier version is brought up to this one and keeps what it held", async () => {
    for (const version of Object.keys(migrations({ bytes: "blob" }))) {
      const path = freshPath();
      const raw = new DatabaseSync(path);
      const { error } = await makeMigrator(wrap(raw)).migrateTo(version);
      expect(error).toBeUndefined();
      raw.exec("insert into vehicle_version values ('v', 1, 'aa', '[]', 5, 'ada')");
      raw.close();
      const store = await openStore(path);
      expect(await store.vehicle("v")).toMatchObject({ version: 1, at: 5, by: "ada" });
      expect((await openShopRun(store, version)).length).toBe(0);
      await store.close();
    }
  });
});

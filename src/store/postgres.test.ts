import pg from "pg";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { crashUnderWriters } from "../../test/kills.ts";
import { type Server, startPostgres } from "../../test/postgres.ts";
import { openShopRun } from "../../test/shop.ts";
import { acceptStore } from "../../test/store.ts";
import { openStore } from "./open.ts";
import { openPostgres } from "./postgres.ts";

let server: Server;
beforeAll(async () => {
  server = await startPostgres();
});
afterAll(() => server.stop());

acceptStore("PostgreSQL", async () => openStore(await server.makeDatabase()));

describe("PostgreSQL, when things go wrong", () => {
  test("the server is killed under twenty writers: nothing acknowledged is lost, and they go on by themselves", async () => {
    const store = await openStore(await server.makeDatabase());
    const { id: run } = await openShopRun(store, "killed");
    const said = await crashUnderWriters(server, store, run, [100, 100, 100]);
    const kept = await store.entries(run, 0, 1_000_000);
    expect(kept.map(({ position }) => position)).toEqual(kept.map((_, i) => i + 1));
    expect(new Set(kept.map(({ id }) => id))).toEqual(new Set(said));
    expect(kept).toHaveLength(said.length);
    await store.close();
  });

  test("two processes write to one run: positions have no gap, and no reader sees a later one before an earlier", async () => {
    const address = await server.makeDatabase();
    const [one, two, reader] = await Promise.all([openStore(address), openStore(address), openStore(address)]);
    const { id: run } = await openShopRun(one, "shared");
    let stop = false;
    const write = async (store: typeof one, device: string) => {
      for (let i = 0; i < 100; i++) await store.append(run, [{ id: `${device}-${i}`, device, text: "{}" }]);
    };
    const reading = (async () => {
      let last = 0;
      while (!stop || last < 400) {
        for (const { position } of await reader.entries(run, last, 1_000)) expect(position).toBe(++last);
      }
      return last;
    })();
    await Promise.all([write(one, "a"), write(one, "b"), write(two, "c"), write(two, "d")]);
    stop = true;
    expect(await reading).toBe(400);
    await Promise.all([one.close(), two.close(), reader.close()]);
  });

  test("a database of a version that is too old: told, and nothing is made in it", async () => {
    const address = await server.makeDatabase();
    await expect(openPostgres(address, { oldest: 99 })).rejects.toMatchObject({
      code: "older",
      mend: "Take version 99 or a newer one.",
    });
    const client = new pg.Client({ connectionString: address });
    await client.connect();
    const { rows } = await client.query("select tablename from pg_tables where schemaname = 'public'");
    await client.end();
    expect(rows).toEqual([]);
  });

  test("an address that leads nowhere, a wrong password, an unknown database: told without the password", async () => {
    const address = new URL(await server.makeDatabase());
    const attempt = (change: (url: URL) => void, patience = 0) => {
      const url = new URL(address);
      change(url);
      return openPostgres(url.href, { patience }).catch((fault: unknown) => fault);
    };
    const wrong = [
      await attempt((url) => Object.assign(url, { port: "1" })),
      await attempt((url) => Object.assign(url, { password: "secret" })),
      await attempt((url) => Object.assign(url, { pathname: "/none" })),
      await openPostgres("postgres://a b").catch((fault: unknown) => fault),
    ];
    expect(wrong.map((fault) => (fault as { code?: string }).code)).toEqual(["gone", "unknown", "unknown", "unknown"]);
    for (const fault of wrong) expect(String(fault)).not.toContain("secret");
  });

  test("a store that a newer version has changed is left alone", async () => {
    const address = await server.makeDatabase();
    await (await openStore(address)).close();
    const client = new pg.Client(address);
    await client.connect();
    await client.query("insert into kysely_migration values ('999-to-come', '2099-01-01')");
    await client.end();
    await expect(openStore(address)).rejects.toMatchObject({ code: "newer" });
  });
});

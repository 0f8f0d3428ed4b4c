// The server when things go wrong around it: database gone, disk full, clients that are slow, cut off or lie about what they send, a clock set back.
import { spawn } from "node:child_process";
import { createHash } from "node:crypto";
import { once } from "node:events";
import { connect, type Socket } from "node:net";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, inject, test, vi } from "vitest";
import { freePort, startPostgres } from "../../test/postgres.ts";
import { beginRun, Client, type Event, serveShop, setUp, temporaryFolder } from "../../test/serving.ts";
import type { Serving } from "./index.ts";

const bundle = inject("bundle");
const thread = pathToFileURL(join(dirname(bundle), "question-thread.js"));
const note = (text: string) => ({ kind: "note", text });
const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

const folder = await temporaryFolder("faults");
afterAll(() => folder.remove());

describe("clients", () => {
  let serving: Serving;
  let people: Readonly<Record<string, Client>>;
  const as = (person: string): Client => people[person] as Client;
  beforeAll(async () => {
    const limits = { headersTimeout: 300, requestTimeout: 3_000, connectionsCheckingInterval: 50 };
    serving = await serveShop(thread, { shop: join(folder.path, "clients.db"), limits });
    people = await setUp(`http://127.0.0.1:${serving.port}`, serving.setupCode ?? "");
    await beginRun(as("frida"), "pump-1");
  });
  afterAll(() => serving.stop());

  /** A connection on which what was written so far is all that comes. */
  const write = async (text: string | Uint8Array): Promise<Socket> => {
    const socket = connect(serving.port, "127.0.0.1").on("error", () => undefined);
    await once(socket, "connect");
    socket.write(text);
    return socket;
  };
  const head = (path: string, length: number, type = "application/json") =>
    `POST /api${path} HTTP/1.1\r\nhost: 127.0.0.1\r\nauthorization: Bearer ${as("emil").token}\r\ncontent-type: ${type}\r\ncontent-length: ${length}\r\n\r\n`;
  const ended = async (socket: Socket): Promise<string> => {
    let said = "";
    socket.on("data", (part: Buffer) => {
      said += part.toString("utf8");
    });
    await once(socket, "close");
    return said;
  };

  test("a head that never ends and a body that never comes are let go; others are answered meanwhile", async () => {
    const [half, bodyless] = await Promise.all([
      write("GET /api/runs HTTP/1.1\r\nhost: 127."),
      write(head("/runs/pump-1/entries", 200)),
    ]);
    expect((await as("emil").ask("GET", "/runs")).status).toBe(200);
    const [one, other] = await Promise.all([ended(half), ended(bodyless)]);
    expect(one).toMatch(/^HTTP\/1.1 408/);
    expect(other).toMatch(/^HTTP\/1.1 408|^$/);
    expect((await as("emil").ask("GET", "/runs")).status).toBe(200);
  });

  test("cut in the middle of an entry nothing of it is kept, and sent again it is taken", async () => {
    const before = (await as("emil").get("/runs/pump-1")).entries;
    const id = v7();
    const body = JSON.stringify({ entries: [{ id, say: note("cut in the middle") }] });
    const socket = await write(head("/runs/pump-1/entries", body.length) + body.slice(0, 60));
    await pause(50);
    socket.destroy();
    await pause(100);
    expect((await as("emil").get("/runs/pump-1")).entries).toBe(before);
    expect((await as("emil").enter("pump-1", id, note("cut in the middle"))).status).toBe(200);
  });

  test("cut in the middle of a photo nothing of it is kept, and sent again it is whole", async () => {
    // The least that is a PNG: signature, header chunk, and bytes behind them.
    const start = Buffer.from("89504e470d0a1a0a0000000d49484452000000010000000108060000001f15c489", "hex");
    const photo = Buffer.concat([start, Buffer.alloc(200_000, 7)]);
    const digest = createHash("sha256").update(photo).digest("hex");
    const socket = await write(head("/photos", photo.length, "image/png"));
    socket.write(photo.subarray(0, 100_000));
    await pause(50);
    socket.destroy();
    await pause(100);
    const named = { kind: "note", text: "with a photo", photos: [digest] };
    expect((await as("emil").enter("pump-1", v7(), named)).status).toBe(200);
    expect((await as("emil").ask("GET", `/runs/pump-1/photos/${digest}`)).status).toBe(404);
    const again = await as("emil").ask("POST", "/photos", photo, { "content-type": "image/png" });
    expect(again).toMatchObject({ status: 200, body: { digest } });
    expect((await as("emil").ask("GET", `/runs/pump-1/photos/${digest}`)).headers["content-length"]).toBe(
      String(photo.length),
    );
  });

  test("a body longer than it may be is refused, whether it names its length or not", async () => {
    const named = await as("emil").ask("POST", "/runs/pump-1/entries", "x".repeat(3_000_000));
    expect(named).toMatchObject({ status: 413, body: { type: "/problems/too-large" } });
    const socket = await write(
      `POST /api/runs/pump-1/entries HTTP/1.1\r\nhost: 127.0.0.1\r\nauthorization: Bearer ${as("emil").token}\r\n` +
        "content-type: application/json\r\ntransfer-encoding: chunked\r\n\r\n",
    );
    const answer = ended(socket);
    for (let i = 0; i < 40 && socket.writable; i++) socket.write(`10000\r\n${"x".repeat(65_536)}\r\n`);
    expect(await answer).toMatch(/^HTTP\/1.1 413/);
  });

  test("one who follows and never reads holds nobody up", async () => {
    const deaf = await write(
      `GET /api/runs/pump-1/live HTTP/1.1\r\nhost: 127.0.0.1\r\nauthorization: Bearer ${as("dora").token}\r\n\r\n`,
    );
    deaf.pause();
    const seen: Event[] = [];
    const { position } = await as("frida").get("/runs/pump-1/record");
    const stream = await as("frida").follow("/runs/pump-1/live", (event) => seen.push(event), String(position));
    const said = Array.from({ length: 300 }, () => v7());
    for (const id of said) expect((await as("emil").enter("pump-1", id, note("x".repeat(3900)))).status).toBe(200);
    while (seen.length < said.length) await pause(5);
    expect(seen.map(({ data }) => JSON.parse(data).id)).toEqual(said);
    stream.close();
    deaf.destroy();
  });

  test("a clock set back by a day: entries go on in their order, and nobody is signed out or in for longer", async () => {
    const now = Date.now();
    vi.useFakeTimers({ toFake: ["Date"], now: now - 86_400_000 });
    try {
      expect((await as("emil").enter("pump-1", v7({ msecs: now }), note("after it was set back"))).status).toBe(200);
      const { entries } = await as("emil").get("/runs/pump-1/entries?limit=5000");
      const clocks = entries.map(({ text }: { text: string }) => JSON.parse(text).clock);
      const order = (a: readonly number[], b: readonly number[]) =>
        (a[0] ?? 0) - (b[0] ?? 0) || (a[1] ?? 0) - (b[1] ?? 0);
      expect(clocks).toEqual(clocks.toSorted(order));
    } finally {
      vi.useRealTimers();
    }
  });
});

test("the database is gone: told so in time, alive but not ready, and it goes on by itself with nothing lost", async () => {
  const postgres = await startPostgres();
  try {
    const serving = await serveShop(thread, { shop: await postgres.makeDatabase() });
    const origin = `http://127.0.0.1:${serving.port}`;
    const { frida, emil } = (await setUp(origin, serving.setupCode ?? "")) as { frida: Client; emil: Client };
    await beginRun(frida, "pump-1");
    const seen: string[] = [];
    const stream = await frida.follow("/runs/pump-1/live", ({ data }) => seen.push(JSON.parse(data).id));
    const [before, during] = [v7(), v7()];
    expect((await emil.enter("pump-1", before, note("before"))).status).toBe(200);
    await postgres.crash(async () => {
      expect((await emil.ask("GET", "//health")).status).toBe(200);
      // What serves a connection notices only after a moment that its parent was killed.
      while ((await emil.ask("GET", "//ready")).status !== 503) await pause(20);
      const told = await emil.enter("pump-1", during, note("while it was gone"));
      expect(told).toMatchObject({ status: 503, body: { mend: expect.stringMatching(/./) } });
      expect(Number(told.headers["retry-after"])).toBeGreaterThan(0);
    });
    const again = async (): Promise<void> => {
      const { status } = await emil.enter("pump-1", during, note("while it was gone"));
      if (status === 503) return again();
      expect(status).toBe(200);
    };
    await again();
    while (seen.length < 2) await pause(10);
    expect(seen).toEqual([before, during]);
    stream.close();
    await serving.stop();
  } finally {
    await postgres.stop();
  }
});

test("the disk is full: told so with what mends it, reading goes on, and every entry that was acknowledged is there", async () => {
  const shop = join(folder.path, "full.db");
  // The system's own limit on the size of a file stands for the full disk.
  const start = (limit: string) =>
    startServer(shop, ["bash", "-c", `trap '' XFSZ; ulimit -f ${limit}; exec "$0" "$@"`]);
  const full = await start("2000");
  const kept: string[] = [];
  let token: string | undefined;
  try {
    const { frida, emil } = (await setUp(full.origin, full.code)) as { frida: Client; emil: Client };
    token = emil.token;
    await beginRun(frida, "pump-1");
    let refused: Awaited<ReturnType<Client["enter"]>> | undefined;
    while (refused === undefined) {
      const id = v7();
      const reply = await emil.enter("pump-1", id, note("x".repeat(3900)));
      if (reply.status === 200) kept.push(id);
      else refused = reply;
    }
    expect([503, 507]).toContain(refused.status);
    expect(refused.body.mend).toMatch(/room|disk/);
    expect((await emil.ask("GET", "/runs/pump-1")).status).toBe(200);
  } finally {
    await full.kill("SIGKILL");
  }
  const roomy = await start("unlimited");
  try {
    const again = new Client(roomy.origin, token);
    const { entries } = await again.get("/runs/pump-1/entries?limit=5000");
    expect(entries.map(({ text }: { text: string }) => JSON.parse(text).id)).toEqual(expect.arrayContaining(kept));
    expect((await again.enter("pump-1", v7(), note("there is room again"))).status).toBe(200);
  } finally {
    await roomy.kill("SIGTERM");
  }
});

/** The server as a process of its own. @param under what starts it */
async function startServer(shop: string, under: readonly string[]) {
  const [command = "", ...words] = under;
  const port = await freePort();
  const child = spawn(command, [...words, process.execPath, bundle, "serve", shop, "--port", String(port)]);
  child.stderr.resume();
  const gone = once(child, "exit");
  let said = "";
  await new Promise<void>((resolve, reject) => {
    child.stdout.on("data", (part: Buffer) => {
      said += part.toString("utf8");
      if (said.includes("Ctrl-C")) resolve();
    });
    gone.then(() => reject(new Error(`it ended: ${said}`)), reject);
  });
  return {
    origin: `http://127.0.0.1:${port}`,
    code: /set-up: (\S+)/.exec(said)?.[1] ?? "",
    async kill(signal: NodeJS.Signals) {
      child.kill(signal);
      await gone;
    },
  };
}

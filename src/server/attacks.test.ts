// Attacks on the whole server over real HTTP, each as whoever could try it would; docs/security.md lists them by the ids in the tests' names.
import { readFile } from "node:fs/promises";
import { connect } from "node:net";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import { v7 } from "uuid";
import { afterAll, beforeAll, expect, inject, test } from "vitest";
import { Browser } from "../../test/door.ts";
import { MORNING, TestDevice } from "../../test/run.ts";
import {
  beginRun,
  Client,
  PASSWORD,
  PUMP_FILE,
  type Reply,
  serveShop,
  setUp,
  temporaryFolder,
} from "../../test/serving.ts";
import { signPairing, type Told } from "../ledger/index.ts";
import type { Serving } from "./index.ts";

const thread = pathToFileURL(join(dirname(inject("bundle")), "question-thread.js"));
const folder = await temporaryFolder("attacks");
const logged: string[] = [];
let serving: Serving;
let origin: string;
let people: Record<string, Client>;
const as = (person: string): Client => people[person] as Client;
const nobody = (): Client => new Client(origin);
const note = (text: string) => ({ kind: "note", text }) as const;
const entriesOf = async (run = "pump-1"): Promise<number> => (await as("emil").get(`/runs/${run}`)).entries;

/** Somebody more, with roles at sites. */
const add = async (person: string, sites: Readonly<Record<string, readonly string[]>>): Promise<void> => {
  const start = "a start for the herons";
  await as("gwen").send("PUT", `/people/${person}`, { name: person, skills: [], sites }, { "if-none-match": "*" });
  await as("gwen").send("PUT", `/people/${person}/password`, { new: start });
  const given = { person, password: start, next: PASSWORD, token: true };
  people[person] = new Client(origin, (await nobody().send("POST", "/sign-in", given)).token);
};

beforeAll(async () => {
  const log = (line: Readonly<Record<string, unknown>>) => logged.push(JSON.stringify(line));
  serving = await serveShop(thread, { shop: join(folder.path, "shop.db"), log });
  origin = `http://127.0.0.1:${serving.port}`;
  people = { ...(await setUp(origin, serving.setupCode ?? "")) };
  await beginRun(as("frida"), "pump-1");
  await beginRun(as("frida"), "pump-2");
  await as("gwen").send("PUT", "/sites/north", { label: "The north yard" }, { "if-none-match": "*" });
  await add("rita", { main: ["reader"] });
  await add("nils", { north: ["mechanic", "verifier", "foreman", "lift approver"] });
});
afterAll(async () => {
  await serving.stop();
  await folder.remove();
});

/** A path of the description with something in its places. */
const fill = (path: string): string =>
  path
    .replace("{run}", "pump-1")
    .replace("{order}", "pump-1")
    .replace("{vehicle}", "bench-pump")
    .replace("{digest}", "0".repeat(64))
    .replace(/\{\w+\}/g, "emil");

test("[S1] without signing in nothing opens but the door itself", async () => {
  const { paths } = await as("gwen").get("/openapi.json");
  const open = ["/door", "/setup", "/sign-in", "/sign-in/passkey", "/sign-in/passkey/options", "/sign-out"];
  const answered: Record<string, number> = {};
  for (const [path, methods] of Object.entries<Record<string, unknown>>(paths))
    for (const method of Object.keys(methods))
      if (!open.includes(path)) {
        const { status } = await nobody().ask(method.toUpperCase(), fill(path), method === "get" ? undefined : {});
        // What is not as described may be refused before it is looked at who asks.
        answered[`${method} ${path}`] = status;
      }
  expect(Object.keys(answered).length).toBeGreaterThan(40);
  expect(Object.entries(answered).filter(([, status]) => ![400, 401, 415].includes(status))).toEqual([]);
  for (const path of [
    "/runs",
    "/orders",
    "/vehicles",
    "/people",
    "/runs/pump-1",
    "/runs/pump-1/entries",
    "/runs/pump-1/live",
    "/live",
    "/sign-ins",
  ])
    expect([path, (await nobody().ask("GET", path)).status]).toEqual([path, 401]);
});

test("[S2] who may only read changes nothing, by any route", async () => {
  const before = await entriesOf();
  const text = await readFile(PUMP_FILE, "utf8");
  const order = { site: "main", vehicle: "bench-pump", jobs: ["shaft-seal"], people: ["dora", "emil"] };
  const tries: Record<string, Reply> = {
    entry: await as("rita").enter("pump-1", v7(), note("not mine to say")),
    told: await as("rita").ask("POST", "/runs/pump-1/told", { key: "0".repeat(64), told: ["{}"] }),
    vehicle: await as("rita").ask("PUT", "/vehicles/mine", { files: [{ path: "a.yaml", text }] }),
    order: await as("rita").ask("PUT", "/orders/mine", order),
    run: await as("rita").ask("PUT", "/runs/pump-2"),
    photo: await as("rita").ask("POST", "/photos", Buffer.from("ffd8ff", "hex"), { "content-type": "image/jpeg" }),
    voice: await as("rita").ask("POST", "/voices", Buffer.from("1a45dfa3", "hex"), { "content-type": "audio/webm" }),
    person: await as("rita").ask(
      "PUT",
      "/people/new",
      { name: "New", skills: [], sites: { main: ["foreman"] } },
      { "if-none-match": "*" },
    ),
    site: await as("rita").ask("PUT", "/sites/south", { label: "South" }, { "if-none-match": "*" }),
    unlock: await as("rita").ask("POST", "/people/emil/unlock"),
    tablet: await as("rita").ask("POST", "/devices", { name: "mine", site: "main" }),
  };
  for (const [what, { status }] of Object.entries(tries)) expect([what, status]).toEqual([what, 403]);
  expect(await entriesOf()).toBe(before);
  expect((await as("rita").get("/runs/pump-1")).entries).toBe(before);
});

test("[S3] of another site nothing is seen and nothing written; it is as if it were not there", async () => {
  const nils = as("nils");
  const [hers, his]: [string[], string[]] = [[], []];
  const following = await Promise.all([
    as("dora").follow("/live", ({ data }) => hers.push(data)),
    nils.follow("/live", ({ data }) => his.push(data)),
  ]);
  await as("emil").enter("pump-1", v7(), note("news of the first site"));
  await expect.poll(() => hers.length, { timeout: 10_000 }).toBeGreaterThan(0);
  for (const one of following) one.close();
  expect(his).toEqual([]);
  for (const path of [
    "/runs/pump-1",
    "/runs/pump-1/entries",
    "/runs/pump-1/record",
    "/runs/pump-1/gates",
    "/runs/pump-1/live",
    "/orders/pump-1",
    "/orders/pump-1/plan",
    "/people/emil",
  ]) {
    const [there, not] = [
      await nils.ask("GET", path),
      await nils.ask("GET", path.replace("pump-1", "pump-9").replace("emil", "erna")),
    ];
    expect([path, there.status]).toEqual([path, 404]);
    expect(JSON.stringify(there.body).replaceAll("pump-1", "pump-9").replaceAll("emil", "erna")).toBe(
      JSON.stringify(not.body),
    );
  }
  expect((await nils.enter("pump-1", v7(), note("from afar"))).status).toBe(404);
  expect((await nils.get("/runs")).runs).toEqual([]);
  expect((await nils.get("/orders")).orders).toEqual([]);
  const order = { site: "main", vehicle: "bench-pump", jobs: ["shaft-seal"], people: ["dora", "emil"] };
  expect((await nils.ask("PUT", "/orders/theirs", order)).status).toBe(403);
  // His roles are his at his own site alone: he is no person of a main's order.
  expect((await as("frida").ask("PUT", "/orders/ours", { ...order, people: ["dora", "nils"] })).status).toBe(400);
});

test("[S4] nobody approves a lift, passes a gate or settles what is not his to", async () => {
  const tries = [
    ["emil", { kind: "approval", gate: "lift", lift: "lift-off", plan: "pump-1.p1" }],
    ["emil", { kind: "override", gate: "lift", lift: "lift-off", text: "it will do" }],
    ["emil", { kind: "passed", gate: "lift", lift: "lift-off" }],
    ["emil", { kind: "confirmed", approval: v7() }],
    ["emil", { kind: "plan replaced", plan: "pump-1.p9", finding: v7() }],
  ] as const;
  for (const [person, say] of tries) {
    const { status } = await as(person).enter("pump-1", v7(), say);
    expect([say.kind, status >= 400 && status < 500]).toEqual([say.kind, true]);
  }
});

test("[S5] nobody enters anything in another's name: not by the body, not as a second person without his PIN on a tablet", async () => {
  const before = await entriesOf();
  const send = (entry: Readonly<Record<string, unknown>>) =>
    as("emil").ask("POST", "/runs/pump-1/entries", { entries: [{ id: v7(), ...entry }] });
  expect((await send({ say: note("x"), author: "dora" })).status).toBe(400);
  expect((await send({ say: { ...note("x"), author: "dora" } })).status).toBe(409);
  for (const pin of ["", "0000", "7391"])
    expect((await send({ say: note("x"), second: { person: "dora", pin } })).status).toBe(403);
  expect(await entriesOf()).toBe(before);
});

/** A device of somebody's own, paired under its key. */
async function ownDevice(seed: number, person: string, run: string) {
  const device = new TestDevice(seed, run);
  const { identity } = device.pens.pen;
  const browser = new Browser(origin);
  await browser.post("/sign-in", { person, password: PASSWORD });
  const proof = signPairing(identity, (await browser.get("/me")).body.session);
  expect((await browser.post("/devices", { name: "my own", own: true, key: identity.key, proof })).status).toBe(200);
  const bring = (told: readonly Told[], key = identity.key) =>
    browser.post(`/runs/${run}/told`, { key, told: told.map(({ text }) => text) });
  return { device, identity, bring };
}

test("[S6] what a device brings is taken as it signed it, once, or not at all", async () => {
  const { device, identity, bring } = await ownDevice(31, "emil", "pump-2");
  const told = [0, 1, 2].map((i) => device.write("emil", note(`alone ${i}`), Date.now() + i));
  const before = await entriesOf("pump-2");
  const refused = async (list: readonly Told[], key?: string) => {
    const { status } = await bring(list, key);
    expect([400, 403, 409]).toContain(status);
    expect(await entriesOf("pump-2")).toBe(before);
  };
  const changed = (index: number, from: string, to: string) =>
    told.map((one, i) => (i === index ? { ...one, text: one.text.replace(from, to) } : one));
  await refused(changed(1, "alone 1", "alone 9"));
  await refused(changed(2, '"author":"emil"', '"author":"dora"'));
  await refused(told.slice(1));
  await refused([told[0] as Told, told[2] as Told]);
  const stranger = new TestDevice(32, "pump-2");
  await refused([stranger.write("emil", note("from elsewhere"), Date.now())]);
  await refused([stranger.write("emil", note("under another key"), Date.now())], identity.key);
  await refused(told, stranger.pens.pen.identity.key);
  const elsewhere = new TestDevice(31, "pump-1");
  await refused([elsewhere.write("emil", note("of another run"), Date.now())]);
  expect((await bring(told)).status).toBe(200);
  expect(await entriesOf("pump-2")).toBe(before + 3);
  expect((await bring(told)).status).toBe(200);
  expect(await entriesOf("pump-2")).toBe(before + 3);
});

test("[S7] a device brings nothing in the name of somebody who was not at it, even signed as it should be", async () => {
  const { device, bring } = await ownDevice(41, "dora", "pump-2");
  const before = await entriesOf("pump-2");
  const forged = device.write("frida", note("the foreman says so"), Date.now());
  const { status, body } = await bring([forged]);
  expect(status).toBe(409);
  expect(JSON.stringify(body)).toContain("frida was not signed in on this device then");
  // Her own as well, from before she was at it: whoever has the device writes no past.
  const other = await ownDevice(42, "dora", "pump-2");
  const early = await other.bring([other.device.write("dora", note("before the shop was"), MORNING)]);
  expect(early).toMatchObject({
    status: 409,
    body: { title: expect.stringContaining("was not signed in on this device then") },
  });
  expect(await entriesOf("pump-2")).toBe(before);
});

test("[S17] a role that was taken is gone for what a device brings as for what is entered, whatever the order says", async () => {
  const { device, bring } = await ownDevice(43, "dora", "pump-2");
  const change = async (roles: readonly string[]) => {
    const { headers, body } = await as("gwen").ask("GET", "/people/dora");
    const kept = { name: body.name, skills: body.skills, sites: { main: roles } };
    await as("gwen").send("PUT", "/people/dora", kept, { "if-match": String(headers.etag) });
    // Known for a second without asking.
    await new Promise((resolve) => setTimeout(resolve, 1100));
  };
  const approval = { kind: "approval", gate: "lift", lift: "lift-off", plan: "pump-2.p1" } as const;
  await change(["mechanic"]);
  const before = await entriesOf("pump-2");
  expect(await as("dora").enter("pump-2", v7(), approval)).toMatchObject({
    status: 403,
    body: { title: "dora is no lift approver here" },
  });
  const told = await bring([device.write("dora", approval, Date.now())]);
  expect(told).toMatchObject({
    status: 409,
    body: { title: expect.stringContaining("dora is no lift approver here") },
  });
  await change(["reader"]);
  const again = await ownDevice(44, "dora", "pump-2");
  expect((await again.bring([again.device.write("dora", note("still here"), Date.now())])).status).toBe(403);
  expect(await entriesOf("pump-2")).toBe(before);
  await change(["mechanic", "verifier", "lift approver"]);
});

test("[S8] what is uploaded as a photo or a spoken note is one, by its bytes, and no browser runs anything in it", async () => {
  const post = (bytes: Uint8Array, type: string, path = "/photos") =>
    as("emil").ask("POST", path, bytes, { "content-type": type });
  for (const [text, type] of [
    ["<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>", "image/png"],
    ["<!doctype html><script>alert(1)</script>", "image/jpeg"],
    ["GIF89a/*<script>*/", "image/webp"],
    ["", "image/png"],
  ] as const)
    expect([text, (await post(Buffer.from(text), type)).status]).toEqual([text, 415]);
  // Right at the beginning and a page behind it: kept as the picture that it begins as, and given as nothing else.
  const both = Buffer.concat([Buffer.from("ffd8ffe000104a46494600", "hex"), Buffer.from("<script>alert(1)</script>")]);
  const { digest } = (await post(both, "image/jpeg")).body;
  await as("emil").enter("pump-1", v7(), { ...note("a photo"), photos: [digest] });
  const { headers } = await as("emil").ask("GET", `/runs/pump-1/photos/${digest}`);
  expect(headers["content-type"]).toBe("image/jpeg");
  expect(headers["x-content-type-options"]).toBe("nosniff");
  expect(headers["content-security-policy"]).toBe("default-src 'none'; sandbox");
  expect((await post(Buffer.alloc(14_000_000, 1), "image/jpeg")).status).toBe(413);
  for (const bytes of [both, Buffer.from("<!doctype html><script>alert(1)</script>"), Buffer.from("")])
    expect((await post(bytes, "audio/webm", "/voices")).status).toBe(415);
  const sound = Buffer.concat([
    Buffer.from("1a45dfa39f4282847765626d", "hex"),
    Buffer.from("<script>alert(1)</script>"),
  ]);
  expect((await post(sound, "audio/webm")).status).toBe(415);
  const spoken = (await post(sound, "audio/webm", "/voices")).body;
  await as("emil").enter("pump-1", v7(), { ...note("spoken"), voices: [spoken.digest] });
  const heard = await as("emil").ask("GET", `/runs/pump-1/voices/${spoken.digest}`);
  expect(heard.headers["content-type"]).toBe("audio/webm");
  expect(heard.headers["x-content-type-options"]).toBe("nosniff");
  expect(heard.headers["content-security-policy"]).toBe("default-src 'none'; sandbox");
  expect((await as("emil").ask("GET", `/runs/pump-1/photos/${spoken.digest}`)).status).toBe(404);
  expect((await post(Buffer.concat([sound, Buffer.alloc(1_100_000)]), "audio/webm", "/voices")).status).toBe(415);
});

test("[S19] a photo or a spoken note is given to people of the site of a run that names it, by that run alone", async () => {
  const photo = Buffer.from("ffd8ffe000104a46494600cafe", "hex");
  const sound = Buffer.from("1a45dfa39f4282847765626d99", "hex");
  const kept = async (path: string, bytes: Uint8Array, type: string) =>
    (await as("emil").ask("POST", path, bytes, { "content-type": type })).body.digest;
  const [picture, voice] = [await kept("/photos", photo, "image/jpeg"), await kept("/voices", sound, "audio/webm")];
  const ask = (person: string, run: string) =>
    Promise.all(
      [`photos/${picture}`, `voices/${voice}`].map((path) =>
        as(person)
          .ask("GET", `/runs/${run}/${path}`, undefined, { "if-none-match": `"${path.slice(7)}"` })
          .then(({ status }) => status),
      ),
    );
  // Brought, and named by nobody yet.
  expect(await ask("emil", "pump-1")).toEqual([404, 404]);
  await as("emil").enter("pump-1", v7(), { ...note("as it was"), photos: [picture], voices: [voice] });
  expect([await ask("emil", "pump-1"), await ask("rita", "pump-1")]).toEqual([
    [304, 304],
    [304, 304],
  ]);
  // By a run that does not name it; by somebody of another site, and his answer is that of a run that is not there.
  expect([await ask("emil", "pump-2"), await ask("nils", "pump-1"), await ask("nils", "pump-9")]).toEqual([
    [404, 404],
    [404, 404],
    [404, 404],
  ]);
  const { body } = await as("nils").ask("GET", `/runs/pump-1/photos/${picture}`);
  expect(body.phrases).toEqual([["noRun", "pump-1"], ["seeRuns"]]);
  for (const path of [`/photos/${picture}`, `/voices/${voice}`])
    expect((await as("emil").ask("GET", path)).status).toBe(404);
});

test("[S10] the files of a vehicle reach no other file of the machine", async () => {
  const text = await readFile(PUMP_FILE, "utf8");
  const put = (path: string, yaml: string) =>
    as("frida").ask("PUT", "/vehicles/reaching", { files: [{ path, text: yaml }] });
  for (const path of ["/etc/passwd", "../shop.db", "a/../../b.yaml", "a\\b.yaml", "a\u0000.yaml", "./a.yaml"])
    expect([path, (await put(path, text)).status]).toEqual([path, 400]);
  for (const include of ["/etc/passwd", "../../../../etc/passwd", "file:///etc/passwd", "http://127.0.0.1/x"]) {
    const { status, body } = await put("a.vehicle.yaml", `${text}\ninclude: ["${include}"]\n`);
    expect([include, status]).toEqual([include, 400]);
    expect(JSON.stringify(body)).not.toContain("root:");
  }
});

test("[S11] a file made to be read for ever, or to fill the memory, is refused, and others are answered meanwhile", async () => {
  const laughs = [
    "a0: &a0 [x,x,x,x,x,x,x,x,x,x]",
    ...Array.from({ length: 20 }, (_, i) => `a${i + 1}: &a${i + 1} [${`*a${i},`.repeat(10)}]`),
  ].join("\n");
  const deep = `a: ${"[".repeat(50_000)}${"]".repeat(50_000)}`;
  const wide = Array.from({ length: 200_000 }, (_, i) => `k${i}: {a: ${i}}`).join("\n");
  for (const text of [laughs, deep, wide, `&a [*a]`, "? ".repeat(20_000)]) {
    const putting = as("frida").ask("PUT", "/vehicles/bomb", { files: [{ path: "a.vehicle.yaml", text }] });
    expect((await as("emil").ask("GET", "/runs")).status).toBe(200);
    const { status } = await putting;
    expect([400, 503]).toContain(status);
  }
});

test("[S12] names and texts with script in them come back as they are, in JSON that no browser takes for a page", async () => {
  const script = `"><script>alert(1)</script><img src=x onerror=alert(1)>`;
  expect((await as("emil").enter("pump-1", v7(), note(script))).status).toBe(200);
  for (const path of [
    "/runs/pump-1/entries?limit=5000",
    "/runs/pump-1",
    `/runs/${encodeURIComponent(script)}`,
    `/${encodeURIComponent(script)}`,
  ]) {
    const { headers } = await as("emil").ask("GET", path);
    expect(headers["content-type"]).toMatch(/^application\/(problem\+)?json/);
    expect(headers["x-content-type-options"]).toBe("nosniff");
    expect(headers["content-security-policy"]).toContain("default-src 'self'");
  }
  const { entries } = await as("emil").get("/runs/pump-1/entries?limit=5000");
  expect(entries.some((one: { readonly text: string }) => JSON.parse(one.text).body.text === script)).toBe(true);
});

test("[S13] keys that mean something to the language, and text that means something to a database, mean nothing here", async () => {
  for (const body of [
    '{"__proto__":{"steward":true},"entries":[]}',
    '{"entries":[],"constructor":{"prototype":{"steward":true}}}',
  ])
    expect((await as("emil").ask("POST", "/runs/pump-1/entries", body)).status).toBe(400);
  const proto = `{"name":"Emil","skills":[],"sites":{"main":["mechanic"],"__proto__":["foreman"]}}`;
  const newcomer = await as("gwen").ask("PUT", "/people/newcomer", proto, { "if-none-match": "*" });
  expect([200, 400]).toContain(newcomer.status);
  expect(JSON.stringify(newcomer.body)).not.toContain("foreman");
  expect(({} as { steward?: boolean }).steward).toBeUndefined();
  const before = (await as("gwen").get("/people?limit=200")).people.length;
  for (const id of ["x'; drop table entry; --", "pump-1' or '1'='1", "%27%20or%201=1"])
    expect((await as("emil").ask("GET", `/runs/${encodeURIComponent(id)}`)).status).toBe(400);
  expect((await as("emil").ask("GET", `/runs?after=${encodeURIComponent("' or 1=1; --")}`)).status).toBe(200);
  await as("emil").enter("pump-1", v7(), note("'); delete from entry; --"));
  expect((await as("gwen").get("/people?limit=200")).people.length).toBe(before);
});

test("[S14] more than anybody needs is refused: heads, bodies, entries, questions", async () => {
  // Node answers a head that is too large by itself (RFC 6585, section 5).
  expect((await as("emil").ask("GET", "/runs", undefined, { "x-large": "x".repeat(20_000) })).status).toBe(431);
  const many = Array.from({ length: 1001 }, () => ({ id: v7(), say: note("x") }));
  expect((await as("emil").ask("POST", "/runs/pump-1/entries", { entries: many })).status).toBe(400);
  expect((await as("emil").ask("GET", "/runs?limit=100000")).status).toBe(400);
  const ask = (seed: number) =>
    as("emil").ask("POST", "/questions", {
      kind: "schedule",
      model: { vehicle: "bench-pump" },
      body: { order: { jobs: ["shaft-seal"] }, crew: 2, seconds: 3600, seed },
    });
  const asked = await Promise.all(Array.from({ length: 30 }, (_, seed) => ask(seed)));
  expect(asked.filter(({ status }) => status === 429).length).toBeGreaterThanOrEqual(9);
  for (const { status, body } of asked) if (status === 202) await as("emil").ask("DELETE", `/questions/${body.digest}`);
});

test("[S15] another host's name, another method in a header, and odd methods change nothing", async () => {
  const before = await entriesOf();
  const odd = { "x-http-method-override": "DELETE", "x-forwarded-for": "127.0.0.1", "x-original-url": "/metrics" };
  expect((await as("emil").ask("GET", "/runs/pump-1", undefined, odd)).status).toBe(200);
  const raw = (head: string) =>
    new Promise<string>((resolve) => {
      let said = "";
      const socket = connect(serving.port, "127.0.0.1", () => socket.end(head));
      socket.on("data", (part: Buffer) => {
        said += part.toString("utf8");
      });
      socket.on("close", () => resolve(said));
      socket.on("error", () => resolve(said));
    });
  const signed = `authorization: Bearer ${as("emil").token}\r\n`;
  expect(await raw(`TRACE /api/runs HTTP/1.1\r\nhost: a\r\n${signed}connection: close\r\n\r\n`)).toMatch(
    /^HTTP\/1.1 (404|405|501)/,
  );
  // A name that leads here from elsewhere brings no cookie of this one with it.
  expect(
    await raw("GET http://elsewhere.example/api/runs HTTP/1.1\r\nhost: elsewhere.example\r\nconnection: close\r\n\r\n"),
  ).toMatch(/^HTTP\/1.1 4/);
  // Two lengths are how one request is hidden in another (RFC 9112, section 11.2).
  expect(
    await raw(
      "POST /api/sign-in HTTP/1.1\r\nhost: a\r\ncontent-length: 5\r\ntransfer-encoding: chunked\r\n\r\n0\r\n\r\n",
    ),
  ).toMatch(/^HTTP\/1.1 400/);
  expect(await entriesOf()).toBe(before);
});

test("[S16] nothing that is sent makes a line of its own in the log, and no secret is in it", async () => {
  await nobody().ask("GET", `/runs/${encodeURIComponent('x\n{"at":"forged"}')}`);
  await nobody().ask("POST", "/sign-in", { person: "emil", password: "a wrong one of mine" });
  for (const line of logged) expect(line).not.toMatch(/\n/);
  const all = logged.join("\n");
  for (const secret of [PASSWORD, "a wrong one of mine", as("emil").token ?? "none"]) expect(all).not.toContain(secret);
});

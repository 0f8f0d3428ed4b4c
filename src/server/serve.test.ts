// The whole server as its users meet it: over its machine's own address, by HTTPS, with clients of several people.
import { once } from "node:events";
import { connect } from "node:net";
import { networkInterfaces } from "node:os";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, inject, test } from "vitest";
import { beginRun, Client, type Event, serveShop, setUp, temporaryFolder } from "../../test/serving.ts";
import { loadAuthority, type Serving } from "./index.ts";

const thread = pathToFileURL(join(dirname(inject("bundle")), "question-thread.js"));
/** The machine's own address: localhost hides what another machine would lack. */
const own =
  Object.values(networkInterfaces())
    .flatMap((list) => list ?? [])
    .find(({ internal, family }) => !internal && family === "IPv4")?.address ?? "127.0.0.1";
const note = (text: string) => ({ kind: "note", text });
const until = async (isSo: () => boolean): Promise<void> => {
  while (!isSo()) await new Promise((resolve) => setTimeout(resolve, 5));
};

const folder = await temporaryFolder("serve");
afterAll(() => folder.remove());
const shop = join(folder.path, "shop.db");
const logged: Readonly<Record<string, unknown>>[] = [];
let serving: Serving;
let authority = "";
let origin = "";
let people: Readonly<Record<string, Client>>;
const as = (person: string): Client => people[person] as Client;

beforeAll(async () => {
  const { localAuthority, namesOfMachine } = await loadAuthority();
  const certificate = await localAuthority(join(folder.path, "tls"), namesOfMachine(), Date.now());
  authority = certificate.authority;
  serving = await serveShop(thread, { shop, host: "0.0.0.0", certificate, log: (line) => logged.push(line) });
  origin = `https://${own}:${serving.port}`;
  people = await setUp(origin, serving.setupCode ?? "", authority);
  await beginRun(as("frida"), "pump-1");
});
afterAll(() => serving.stop());

describe("a run over the wire", () => {
  test("what one enters the others see, each entry once and in order, also after the connection broke", async () => {
    const seen: Event[] = [];
    const first = await as("dora").follow("/runs/pump-1/live", (event) => seen.push(event));
    for (let i = 0; i < 5; i++) expect((await as("emil").enter("pump-1", v7(), note(`one ${i}`))).status).toBe(200);
    await until(() => seen.length === 5);
    first.close();
    for (let i = 0; i < 5; i++) await as("emil").enter("pump-1", v7(), note(`two ${i}`));
    const second = await as("dora").follow("/runs/pump-1/live", (event) => seen.push(event), seen.at(-1)?.id);
    await until(() => seen.length === 10);
    second.close();
    expect(seen.map(({ id }) => Number(id))).toEqual(seen.map((_, i) => Number(seen[0]?.id) + i));
    const texts = seen.map(({ data }) => JSON.parse(data).body.text);
    expect(texts).toEqual([0, 1, 2, 3, 4].map((i) => `one ${i}`).concat([0, 1, 2, 3, 4].map((i) => `two ${i}`)));
    const { entries } = await as("dora").get(`/runs/pump-1/entries?behind=${Number(seen[0]?.id) - 1}`);
    expect(entries.map(({ text }: { text: string }) => text)).toEqual(seen.map(({ data }) => data));
  });

  test("who looks at all runs hears which one has news; who has none of them hears nothing", async () => {
    const heard: Event[] = [];
    const all = await as("dora").follow("/live", (event) => heard.push(event));
    for (let i = 0; i < 3; i++) await as("emil").enter("pump-1", v7(), note(`news ${i}`));
    await until(() => heard.length > 0);
    expect(heard.map(({ event, data }) => [event, JSON.parse(data)])[0]).toEqual(["run", "pump-1"]);
    all.close();
    await expect(new Client(origin, undefined, authority).follow("/live", () => undefined)).rejects.toThrow("401");
  });

  test("sent again it is the same entry; another under its name is refused", async () => {
    const id = v7();
    const once = await as("emil").enter("pump-1", id, note("said once"));
    const again = await as("emil").enter("pump-1", id, note("said once"));
    expect(again.body.entries[0].told).toEqual(once.body.entries[0].told);
    expect(again.body.position).toBe(once.body.position);
    const other = await as("emil").enter("pump-1", id, note("said otherwise"));
    expect(other.status).toBe(409);
    const others = await as("dora").enter("pump-1", id, note("said once"));
    expect(others.status).toBe(409);
  });

  test("what a rule refuses is answered as a problem with its mend, and nothing of it is kept", async () => {
    const before = (await as("emil").get("/runs/pump-1")).entries;
    const { status, headers, body } = await as("emil").enter("pump-1", v7(), {
      kind: "passed",
      gate: "lift",
      lift: "lift-off",
    });
    expect(status).toBe(409);
    expect(headers["content-type"]).toBe("application/problem+json");
    expect(body).toMatchObject({ type: "/problems/refused", status: 409, mend: expect.stringMatching(/./) });
    expect((await as("emil").get("/runs/pump-1")).entries).toBe(before);
  });

  test("a run unchanged is not sent again", async () => {
    const { headers } = await as("emil").ask("GET", "/runs/pump-1");
    const again = await as("emil").ask("GET", "/runs/pump-1", undefined, { "if-none-match": String(headers.etag) });
    expect(again).toMatchObject({ status: 304, body: "" });
  });

  test("two who change the same person: the second is told so, and nothing is lost", async () => {
    const { headers, body } = await as("gwen").ask("GET", "/people/emil");
    const change = { name: "Emil", skills: ["fitter"], sites: body.sites };
    const put = () => as("gwen").ask("PUT", "/people/emil", change, { "if-match": String(headers.etag) });
    expect((await put()).status).toBe(200);
    const other = { ...change, skills: ["rigger"] };
    const late = await as("gwen").ask("PUT", "/people/emil", other, { "if-match": String(headers.etag) });
    expect(late).toMatchObject({ status: 412, body: { type: "/problems/stale" } });
  });

  test("a list longer than a page goes on where the page ended", async () => {
    for (const run of ["pump-2", "pump-3"]) await beginRun(as("frida"), run);
    const one = await as("dora").get("/runs?limit=2");
    const two = await as("dora").get(`/runs?limit=2&after=${one.next}`);
    const runs = [...one.runs, ...two.runs].map(({ run }: { run: string }) => run);
    expect(runs).toEqual(["pump-1", "pump-2", "pump-3"]);
    expect(two.next).toBeUndefined();
  });
});

describe("whoever keeps it", () => {
  test("sees that it is alive and ready, its figures, and a line of log for each request", async () => {
    const nobody = new Client(origin, undefined, authority);
    expect((await nobody.ask("GET", "//health")).body).toEqual({ alive: true });
    expect((await nobody.ask("GET", "//ready")).body).toEqual({ ready: true });
    expect((await nobody.ask("GET", "//metrics")).status).toBe(own === "127.0.0.1" ? 200 : 403);
    const { body } = await as("gwen").ask("GET", "//metrics");
    expect(body).toMatch(/unmoor_request_seconds_count\{.*route="\/api\/runs\/:run\/entries".*\} \d+/);
    const { headers } = await nobody.ask("GET", "/nowhere");
    expect(logged).toContainEqual(
      expect.objectContaining({ request: headers["x-request-id"], status: 404, path: "/api/nowhere" }),
    );
    expect(JSON.stringify(logged)).not.toContain("herons");
    nobody.close();
  });

  test("finds every route described, and each answer of a refusal", async () => {
    const description = await as("emil").get("/openapi.json");
    expect(description.openapi).toBe("3.1.0");
    const paths = Object.keys(description.paths);
    expect(paths).toEqual(expect.arrayContaining(["/runs/{run}/entries", "/orders/{order}", "/questions", "/sign-in"]));
    for (const [path, methods] of Object.entries<Record<string, Record<string, unknown>>>(description.paths))
      for (const [method, { summary, responses }] of Object.entries(methods)) {
        expect(summary, `${method} ${path}`).toMatch(/./);
        expect(Object.keys(responses as object), `${method} ${path}`).toContain("401");
      }
  });
});

test("told to stop it answers what is under way, ends the streams and keeps every entry; started again it is as it was", async () => {
  const path = join(folder.path, "stopped.db");
  const one = await serveShop(thread, { shop: path });
  const at = `http://127.0.0.1:${one.port}`;
  const { frida, emil } = (await setUp(at, one.setupCode ?? "")) as { frida: Client; emil: Client };
  await beginRun(frida, "pump-1");
  const stream = await frida.follow("/runs/pump-1/live", () => undefined);
  const said = Array.from({ length: 20 }, () => v7());
  const answers = Promise.all(said.map((id) => emil.enter("pump-1", id, note("under way")).catch(() => undefined)));
  await emil.enter("pump-1", v7(), note("before it stops"));
  // As a browser has it: a connection opened ahead, and a stream on one that stays open.
  const ahead = connect(one.port, "127.0.0.1");
  const streaming = connect(one.port, "127.0.0.1");
  await Promise.all([once(ahead, "connect"), once(streaming, "connect")]);
  streaming.write(
    `GET /api/runs/pump-1/live HTTP/1.1\r\nhost: 127.0.0.1\r\nauthorization: Bearer ${emil.token}\r\n\r\n`,
  );
  await once(streaming, "data");
  const begun = Date.now();
  const stopped = one.stop();
  const kept = (await answers).flatMap((reply, i) => (reply?.status === 200 ? [said[i]] : []));
  await Promise.all([stopped, stream.ended]);
  expect(Date.now() - begun).toBeLessThan(5_000);
  expect(kept.length).toBeGreaterThan(0);
  await expect(emil.enter("pump-1", v7(), note("too late"))).rejects.toThrow();
  const two = await serveShop(thread, { shop: path });
  expect(two.setupCode).toBeUndefined();
  const again = new Client(`http://127.0.0.1:${two.port}`, emil.token);
  const { entries } = await again.get("/runs/pump-1/entries");
  const ids = entries.map(({ text }: { text: string }) => JSON.parse(text).id);
  expect(ids).toEqual(expect.arrayContaining(kept));
  again.close();
  await two.stop();
});

// The job pack of an order from a server: who may have it, what it is of, and that requests are answered while it is made.
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, beforeAll, expect, inject, test } from "vitest";
import { beginRun, type Client, serveShop, setUp, temporaryFolder } from "../../test/serving.ts";
import type { Serving } from "./index.ts";

const thread = pathToFileURL(join(dirname(inject("bundle")), "question-thread.js"));
const folder = await temporaryFolder("pack");
let serving: Serving;
let origin: string;
let people: Readonly<Record<string, Client>>;

beforeAll(async () => {
  serving = await serveShop(thread, { shop: join(folder.path, "shop.db") });
  origin = `http://127.0.0.1:${serving.port}`;
  people = await setUp(origin, serving.setupCode ?? "");
  const { frida } = people;
  if (frida === undefined) throw new Error("nobody is set up");
  await beginRun(frida, "pump-1");
});
afterAll(async () => {
  await serving.stop();
  await folder.remove();
});

const pack = (order: string, token?: string, more = "") =>
  fetch(`${origin}/api/orders/${order}/pack.pdf${more}`, {
    headers: token === undefined ? {} : { authorization: `Bearer ${token}` },
  });

test("whoever sees the order gets its pack, in his language; the server answers others meanwhile", async () => {
  const token = people.emil?.token;
  const [printed, health] = await Promise.all([
    pack("pump-1", token, "?lang=de&paper=letter"),
    fetch(`${origin}/health`),
  ]);
  expect(health.status).toBe(200);
  expect(printed.status).toBe(200);
  expect(printed.headers.get("content-type")).toBe("application/pdf");
  expect(printed.headers.get("content-disposition")).toBe('inline; filename="pump-1.pdf"');
  const pdf = Buffer.from(await printed.arrayBuffer()).toString("latin1");
  expect(pdf.startsWith("%PDF-1.7")).toBe(true);
  expect(pdf).toContain("/MediaBox [0 0 612 792]");
});

test("one sheet of it, a person's own card, and the same as a web page that loads nothing", async () => {
  const token = people.emil?.token;
  const page = (more: string) =>
    fetch(`${origin}/api/orders/pump-1/pack.html${more}`, { headers: { authorization: `Bearer ${token}` } });
  const torque = await page("?only=torque");
  expect(torque.headers.get("content-type")).toMatch(/^text\/html/);
  expect(torque.headers.get("content-security-policy")).toContain("style-src 'unsafe-inline'");
  const text = await torque.text();
  expect(text.match(/<h2/g)?.length).toBe(1);
  expect(text).toContain("Torque sheet");
  const own = await (await page("?person=emil&lang=de")).text();
  expect(own.match(/<h2[^>]*>[^<]*/g)).toEqual([expect.stringContaining("Emil")]);
  expect(own).toMatch(/<html lang="de">/);
  const nobody = await page("?person=nobody");
  expect(nobody.status).toBe(409);
  expect(await nobody.text()).toContain("Print the cards by position");
  expect((await page("?only=shift")).status).toBe(400);
}, 30_000);

test("nobody else does, and an order that there is not has none", async () => {
  expect((await pack("pump-1")).status).toBe(401);
  expect((await pack("pump-9", people.emil?.token)).status).toBe(404);
  expect((await pack("pump-1", people.emil?.token, "?paper=a5")).status).toBe(400);
});

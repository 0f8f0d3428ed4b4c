// The giving out of the screens: the page at any address that is nobody else's, files under lasting names, and nothing from outside the folder.
import { mkdir, mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { gunzipSync } from "node:zlib";
import { afterAll, beforeAll, expect, test } from "vitest";
import { notFound, problemOf } from "./problem.ts";
import { newRoutes } from "./routes.ts";
import { screens } from "./screens.ts";

let folder: string;
let refuse: ReturnType<typeof screens>;
const app = newRoutes();
const bare = newRoutes();

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "unmoor-screens-"));
  await mkdir(join(folder, "web", "app", "demo"), { recursive: true });
  await writeFile(join(folder, "secret.txt"), "not to be had");
  await writeFile(join(folder, "web", "page.html"), "<!doctype html><title>Unmoor</title><body></body>");
  await writeFile(join(folder, "web", "app", "unmoor-ABCD2345.js"), "export const one = 1;");
  await writeFile(join(folder, "web", "app", "demo", "one.vehicle.yaml"), "format: unmoor/1");
  refuse = screens(app, pathToFileURL(`${join(folder, "web")}/`));
  screens(bare, undefined);
});
afterAll(() => rm(folder, { recursive: true, force: true }));

test.each(["/", "/demo/plover-28/ties", "/runs/pump-1/ties?step=3"])(
  "%s is the page, asked for anew each time",
  async (path) => {
    const answer = await app.request(path);
    expect(answer.status).toBe(200);
    expect(answer.headers.get("content-type")).toBe("text/html; charset=utf-8");
    expect(answer.headers.get("cache-control")).toBe("no-cache");
    expect(await answer.text()).toContain("<title>Unmoor</title>");
  },
);

test("a script is sent compressed to who takes it so, and may be kept for ever under its name", async () => {
  const answer = await app.request("/app/unmoor-ABCD2345.js", { headers: { "accept-encoding": "br, gzip" } });
  expect(answer.headers.get("content-encoding")).toBe("gzip");
  expect(answer.headers.get("cache-control")).toMatch(/immutable/);
  expect(answer.headers.get("vary")).toBe("accept-encoding");
  expect(gunzipSync(Buffer.from(await answer.arrayBuffer())).toString("utf8")).toBe("export const one = 1;");
  const plain = await app.request("/app/unmoor-ABCD2345.js");
  expect(plain.headers.get("content-encoding")).toBeNull();
  expect(await plain.text()).toBe("export const one = 1;");
  expect((await app.request("/app/demo/one.vehicle.yaml")).headers.get("cache-control")).toBe("no-cache");
});

test.each([
  "/app/../secret.txt",
  "/app/..%2f..%2fsecret.txt",
  "/app/%2e%2e/%2e%2e/secret.txt",
  "/app//etc/passwd",
  "/app/page.html",
  "/app/no-such.js",
  "/api/no-such",
  "/metrics/no-such",
])("[S18] %s is nothing, and never a file of the disk", async (path) => {
  const answer = await app.request(path);
  const text = await answer.text();
  expect(text).not.toMatch(/not to be had|root:/);
  if (answer.status === 200) expect(text).toContain("<title>Unmoor</title>");
  else expect(answer.headers.get("content-type")).toBe("application/problem+json");
});

test("what is written to an address of a page is refused; without screens every address says where to ask", async () => {
  expect((await app.request("/demo/x", { method: "POST" })).status).toBe(404);
  const answer = await bare.request("/");
  expect(answer.status).toBe(404);
  expect(await answer.json()).toMatchObject({ mend: "See /api/openapi.json." });
});

test("what is refused to who opened it in a tab is the page, with why and the mend in it; to a program it is told as ever; nothing that is named ends the data", async () => {
  const named = newRoutes();
  named.get("/api/orders/x/pack.pdf", () => {
    throw notFound(["noOrder", "</script><script>alert(1)</script>$&"], ["seeList"]);
  });
  named.onError((error, c) => refuse(c, problemOf(error)));
  const opened = await named.request("/api/orders/x/pack.pdf", { headers: { accept: "text/html,*/*;q=0.8" } });
  expect(opened.status).toBe(404);
  expect(opened.headers.get("content-type")).toMatch(/^text\/html/);
  const [, data] =
    /<script type="application\/json" id="refused">(.*?)<\/script><\/body>/.exec(await opened.text()) ?? [];
  expect(JSON.parse(data ?? "")).toMatchObject({
    status: 404,
    phrases: [["noOrder", "</script><script>alert(1)</script>$&"], ["seeList"]],
  });
  const told = await named.request("/api/orders/x/pack.pdf", { headers: { accept: "*/*" } });
  expect([told.status, told.headers.get("content-type")]).toEqual([404, "application/problem+json"]);
});

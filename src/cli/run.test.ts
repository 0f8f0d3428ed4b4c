// The commands of a run as their user meets them: each document by its schema, and each wrong call with its mend.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, inject, test } from "vitest";
import { called } from "../../test/command.ts";
import { loadDocuments } from "../server/index.ts";
import { scheduleDocument } from "./documents.ts";

const documents = await loadDocuments();
const root = new URL("../..", import.meta.url).pathname;
const folder = mkdtempSync(join(tmpdir(), "unmoor-run-"));
const shop = join(folder, "shop.db");
const PUMP = "demo/bench-pump.vehicle.yaml";
const entry = inject("bundle");

beforeAll(async () => {
  const taken = await called(
    "order",
    shop,
    PUMP,
    "--job",
    "shaft-seal",
    "--crew",
    "demo/shop.crew.yaml",
    "--approver",
    "dora",
    "--foreman",
    "frida",
    "--by",
    "frida",
    "--json",
  );
  documents.orderDocument.parse(JSON.parse(taken.stdout));
  expect((await called("run", shop, "bench-pump-1", "--by", "frida")).status).toBe(0);
}, 60_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const json = async (...words: string[]): Promise<unknown> => JSON.parse((await called(...words, "--json")).stdout);

test("each --json is as its schema says", async () => {
  const said = async (...words: string[]) =>
    documents.entryDocument.parse(await json("entry", shop, "bench-pump-1", ...words));
  expect((await said("released", "coupling", "--by", "emil")).entries).toHaveLength(1);
  expect((await said("finding", "out-of-reach", "--by", "emil")).refused).toHaveLength(1);
  const replan = (await said("finding", "out of reach", "--about", "suction-hose", "--text", "no room", "--by", "emil"))
    .replans;
  expect(replan).toMatchObject([{ status: "optimal" }]);
  expect((await said("passed", "lift", "--lift", "lift-off", "--by", "dora")).refused[0]?.gates.length).toBe(1);
  expect((await said("released", "coupling", "--by", "dora")).warnings[0]).toMatch(/^J3 /);
  await said("drained", "drain-oil", "--amounts", "hydraulic oil 11.6 L", "--by", "emil");
  await said("handing-over", "dora", "--by", "emil");
  documents.runListDocument.parse(await json("run", shop));
  documents.runDocument.parse(await json("run", shop, "bench-pump-1"));
  documents.runDocument.parse(await json("run", shop, "bench-pump-1", "--at", "2020-01-01T00:00"));
  scheduleDocument.parse(await json("run", shop, "bench-pump-1", "--who", "--seconds", "0.3"));
  expect(documents.gateDocument.parse(await json("gate", shop, "bench-pump-1")).gates).toHaveLength(4);
  documents.shiftDocument.parse(await json("shift", shop, "bench-pump-1"));
  const lines = join(folder, "run.jsonl");
  expect((await called("run", shop, "bench-pump-1", "--export", lines)).status).toBe(0);
  expect(documents.verifyDocument.parse(await json("verify", lines)).whole).toBe(true);
  const copy = join(folder, "shop.backup");
  const held = documents.backupDocument.parse(await json("backup", shop, copy));
  expect(documents.backupDocument.parse(await json("restore", copy, join(folder, "copy.db")))).toEqual(held);
  // A copy that goes to the shed, written to there, and brought back.
  const shed = join(folder, "copy.db");
  const device = join(folder, "tablet.device");
  expect(
    (await called("entry", shed, "bench-pump-1", "released", "case-drain", "--by", "emil", "--device", device)).status,
  ).toBe(0);
  const brought = join(folder, "brought.jsonl");
  expect((await called("run", shed, "bench-pump-1", "--export", brought, "--device", device)).status).toBe(0);
  const takenIn = async () =>
    documents.takenInDocument.parse(await json("run", shop, "bench-pump-1", "--take-in", brought));
  expect([(await takenIn()).taken, (await takenIn()).taken]).toEqual([1, 0]);
}, 180_000);

test.each([
  ["no such store", ["run", "nowhere.db", "x"], 2, /there is no such store\. The first order makes it/],
  ["no such run", ["gate", "SHOP", "bench-pump-7"], 1, /there is no run of this name\. There are: bench-pump-1\./],
  ["no such order", ["run", "SHOP", "bench-pump-7", "--by", "frida"], 1, /there is no order of this name/],
  ["nobody says so", ["entry", "SHOP", "bench-pump-1", "released", "coupling"], 2, /entry needs --by/],
  [
    "a misspelt kind",
    ["entry", "SHOP", "bench-pump-1", "relesed", "coupling", "--by", "emil"],
    2,
    /no kind of entry relesed\. Nearest: released/,
  ],
  [
    "a misspelt connection",
    ["entry", "SHOP", "bench-pump-1", "released", "couplin", "--by", "emil"],
    1,
    /no joint called couplin\. Nearest: coupling/,
  ],
  ["a misspelt gate", ["gate", "SHOP", "bench-pump-1", "lfit"], 2, /there is no gate lfit\. Nearest: lift/],
  [
    "a lift that is none",
    ["gate", "SHOP", "bench-pump-1", "lift", "--lift", "lift-of"],
    2,
    /no lift lift-of\. Nearest: lift-off/,
  ],
  ["a moment that is none", ["run", "SHOP", "bench-pump-1", "--at", "noon"], 2, /--at noon is no moment/],
  ["a device that is none", ["run", "SHOP", "bench-pump-1", "--known-to", "ffff"], 2, /no such device has written/],
  ["an order by nobody", ["order", "SHOP", PUMP, "--job", "shaft-seal"], 2, /order needs --by/],
  [
    "a crew of numbers",
    ["order", "SHOP", PUMP, "--job", "shaft-seal", "--crew", "2", "--by", "x"],
    2,
    /signed by name/,
  ],
  ["an order of one", ["order", "SHOP", PUMP, "--job", "shaft-seal", "--by", "x"], 2, /nobody is there to verify/],
  [
    "an order twice",
    [
      "order",
      "SHOP",
      PUMP,
      "--job",
      "shaft-seal",
      "--crew",
      "demo/shop.crew.yaml",
      "--by",
      "x",
      "--id",
      "bench-pump-1",
    ],
    1,
    /an order of this name already/,
  ],
  ["no run at all", ["verify", PUMP], 1, /this is no run/],
  ["no backup at all", ["restore", PUMP, "OTHER"], 1, /it is no whole backup/],
  ["a backup into a full store", ["restore", "BACKUP", "SHOP"], 1, /holds|empty/],
])("%s", async (_, words, status, says) => {
  const named = words.map((word) =>
    word === "SHOP"
      ? shop
      : word === "OTHER"
        ? join(folder, "other.db")
        : word === "BACKUP"
          ? join(folder, "shop.backup")
          : word,
  );
  const ran = await called(...named);
  expect(ran.stderr).toMatch(says);
  expect(ran.status).toBe(status);
});

test("entries one a line: those before the first that is refused are in, and the line is named", async () => {
  const path = join(folder, "entries.jsonl");
  const line = (by: string, at: string) => JSON.stringify({ by, kind: "note", text: "so", about: at });
  writeFileSync(path, [line("emil", "coupling"), line("emil", "couplin"), line("emil", "coupling")].join("\n"));
  const ran = await called("entry", shop, "bench-pump-1", "--from-file", path);
  expect(ran.status).toBe(1);
  expect(ran.stderr).toContain("line 2: not entered: the vehicle file has no thing called couplin. Nearest: coupling");
  expect(ran.stdout).toContain("1 of 3 entered.");
  writeFileSync(path, "{\n");
  expect((await called("entry", shop, "bench-pump-1", "--from-file", path)).stderr).toContain("line 1: it is no JSON");
});

test("the device's secret is for its owner alone, and a second call at the same moment waits for the first", async () => {
  const { statSync } = await import("node:fs");
  expect(statSync(`${shop}.device`).mode & 0o077).toBe(0);
  const { execFile } = await import("node:child_process");
  const { promisify } = await import("node:util");
  const both = await Promise.all(
    ["a", "b", "c"].map((text) =>
      promisify(execFile)("node", [entry, "entry", shop, "bench-pump-1", "note", text, "--by", "emil"], { cwd: root }),
    ),
  );
  expect(both.map(({ stderr }) => stderr)).toEqual(["", "", ""]);
  const lines = join(folder, "again.jsonl");
  await called("run", shop, "bench-pump-1", "--export", lines);
  expect((await called("verify", lines)).status).toBe(0);
  expect(readFileSync(lines, "utf8")).toContain('"text":"c"');
});

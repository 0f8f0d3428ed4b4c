import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { bundle } from "../../../build.ts";
import { openStore, type Store } from "../../store/index.ts";
import { BODIES, type Kind, type Wanted } from "./body.ts";
import { LocalQuestions } from "./local.ts";

let folder: string;
let thread: URL;
let files: readonly { readonly path: string; readonly text: string }[];
const demo = async (name: string) => ({
  path: name,
  text: await readFile(new URL(`../../../demo/${name}`, import.meta.url), "utf8"),
});

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "unmoor-questions-"));
  await bundle(folder);
  thread = pathToFileURL(join(folder, "question-thread.js"));
  files = [await demo("bench-pump.vehicle.yaml")];
});
afterAll(() => rm(folder, { recursive: true, force: true }));

let names = 0;
const openShop = async (path = join(folder, `shop-${++names}.db`)) => {
  const store = await openStore(path);
  const open = (more = {}) =>
    LocalQuestions.open({
      store,
      thread,
      now: () => Date.now(),
      name: `worker-${++names}`,
      log: () => undefined,
      threads: 1,
      ...more,
    });
  return { store, open };
};
const wanted = <K extends Kind>(kind: K, body: unknown = {}): Wanted =>
  ({ kind, body: BODIES[kind].parse(body) }) as Wanted;
const SEAL = { jobs: ["shaft-seal"] };

describe("questions of one process", () => {
  let store: Store;
  let questions: LocalQuestions;
  beforeAll(async () => {
    const shop = await openShop();
    store = shop.store;
    questions = await shop.open();
  });
  afterAll(async () => {
    await questions.stop();
    await store.close();
  });
  const answer = async (asked: Wanted) => {
    const { digest } = await questions.ask(asked, { files }, "ada");
    const told = await questions.wait(digest, 60_000);
    expect(told).toMatchObject({ state: "answered", digest });
    return JSON.parse(told?.answer ?? "") as { kind: string; document: Record<string, unknown> };
  };

  test.each([
    ["check", {}, { sound: true }],
    ["model", {}, { name: "Bench pump" }],
    ["release", { order: SEAL }, { format: "unmoor/release/1", status: "optimal" }],
    ["plan", { order: SEAL }, { format: "unmoor/plan/1" }],
    ["schedule", { order: SEAL, crew: 2 }, { format: "unmoor/crew-plan/1" }],
    ["curve", { order: SEAL, upTo: 2, seconds: 1 }, { format: "unmoor/crew-curve/1" }],
    ["finish", { order: SEAL, runs: 200, seconds: 1 }, { format: "unmoor/finish/1", runs: 200 }],
    ["improve", { most: 2, runs: 100, seconds: 20 }, { format: "unmoor/improve/1" }],
  ] as const)("%s is answered with the document of its kind", async (kind, body, document) => {
    expect(await answer(wanted(kind, body))).toMatchObject({ kind, document });
  });
});

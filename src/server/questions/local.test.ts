import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { benchPump, openWorks, plover, SEAL, type Works } from "../../../test/questions.ts";
import { type ModelFile, openStore, type Store } from "../../store/index.ts";
import { type Wanted, wantedOf } from "./body.ts";
import { LocalQuestions } from "./local.ts";

let works: Works;
let files: readonly ModelFile[];
let carrier: readonly ModelFile[];
beforeAll(async () => {
  works = await openWorks();
  files = await benchPump();
  carrier = await plover();
});
afterAll(() => works.close());

let shops = 0;
const newShop = () => openStore(join(works.folder, `shop-${++shops}.db`));
const open = (store: Store, more = {}) => LocalQuestions.open({ store, ...works.outfit("local"), ...more });
/** Searches until it is told to end. */
const long = (seed: number): Wanted =>
  wantedOf("schedule", { order: { jobs: ["clutch-plate"] }, crew: 3, seconds: 600, seed });

describe("questions of one process", () => {
  let store: Store;
  let questions: LocalQuestions;
  beforeAll(async () => {
    store = await newShop();
    questions = await open(store);
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
    ["schedule", { order: SEAL, crew: 2, seconds: 0.2 }, { format: "unmoor/crew-plan/1" }],
    ["curve", { order: SEAL, upTo: 2, seconds: 0.1 }, { format: "unmoor/crew-curve/1" }],
    ["finish", { order: SEAL, runs: 200, seconds: 0.1 }, { format: "unmoor/finish/1", runs: 200 }],
    ["improve", { most: 1, runs: 100, seconds: 20 }, { format: "unmoor/improve/1" }],
  ] as const)("%s is answered with the document of its kind", async (kind, body, document) => {
    expect(await answer(wantedOf(kind, body))).toMatchObject({ kind, document });
  });
});

describe("questions that wait, run and end", () => {
  test("the same question is one, whoever asks it; its answer is the first that was kept", async () => {
    const store = await newShop();
    const questions = await open(store);
    const asked = await Promise.all(
      ["ada", "ben", "cy"].map((person) => questions.ask(wantedOf("plan", { order: SEAL }), { files }, person)),
    );
    expect(new Set(asked.map(({ digest }) => digest)).size).toBe(1);
    const [{ digest } = { digest: "" }] = asked;
    const first = await questions.wait(digest, 60_000);
    expect(first).toMatchObject({ state: "answered", by: "ada", attempts: 1 });
    expect(await store.questions.answer(digest, "{}", 1)).toBe(false);
    const again = await questions.ask(wantedOf("plan", { order: SEAL }), { files }, "cy");
    expect(again).toEqual({ digest, state: "answered" });
    expect(await questions.get(digest)).toEqual(first);
    await questions.stop();
    await store.close();
  });

  test("progress is told while it runs; cancelled, its thread takes the next; asked again, it waits anew", async () => {
    const store = await newShop();
    const questions = await open(store);
    const { digest } = await questions.ask(long(1), { files: carrier }, "ada");
    await questions.wait(digest, 60_000, undefined, ({ state }) => state === "running");
    const quick = await questions.ask(wantedOf("check", {}), { files }, "ada");
    const running = await questions.wait(digest, 60_000, undefined, ({ progress }) =>
      JSON.stringify(progress ?? {}).includes("best"),
    );
    expect(running).toMatchObject({ state: "running", progress: { best: { of: "elapsed" } } });
    expect(await questions.get(quick.digest)).toMatchObject({ state: "waiting" });
    expect(await questions.cancel(digest)).toBe(true);
    expect(await questions.cancel(digest)).toBe(false);
    expect(await questions.wait(digest, 0)).toMatchObject({ state: "cancelled", answer: undefined });
    expect(await questions.wait(quick.digest, 60_000)).toMatchObject({ state: "answered" });
    expect(await questions.ask(long(1), { files: carrier }, "ben")).toMatchObject({ digest, state: "waiting" });
    await questions.stop();
    await store.close();
  });

  test("a process that ends gives back what it had; the next answers it, and no attempt is counted", async () => {
    const store = await newShop();
    const first = await open(store);
    const { digest } = await first.ask(long(1), { files: carrier }, "ada");
    await first.wait(digest, 60_000, undefined, ({ state }) => state === "running");
    await first.stop();
    expect(await store.questions.question(digest)).toMatchObject({ state: "waiting", attempts: 0, worker: undefined });
    const second = await open(store);
    expect(await second.wait(digest, 60_000, undefined, ({ state }) => state === "running")).toMatchObject({
      state: "running",
      attempts: 1,
    });
    await second.stop();
    await store.close();
  });

  test("what a killed process had is taken up again, ten times and no more", async () => {
    const store = await newShop();
    const asking = await open(store, { threads: 0 });
    const { digest } = await asking.ask(wantedOf("check", {}), { files }, "ada");
    await asking.stop();
    for (let killed = 1; killed <= 10; killed++) {
      // As a process leaves it that was killed.
      expect(await store.questions.take("killed", 0)).toMatchObject({ digest, attempts: killed });
      expect(await store.questions.recover()).toBe(1);
    }
    const questions = await open(store);
    expect(await questions.wait(digest, 60_000)).toMatchObject({
      state: "failed",
      fault: { what: "whatever computed it ended without a word, 10 times" },
    });
    await questions.stop();
    await store.close();
  });

  test("more than a person may have that wait is refused; another's is not, and neither is one that is there", async () => {
    const store = await newShop();
    const questions = await open(store, { threads: 0 });
    const ask = (seed: number, person: string) => questions.ask(long(seed), { files }, person);
    for (let seed = 1; seed <= 20; seed++) await ask(seed, "ada");
    await expect(ask(21, "ada")).rejects.toMatchObject({ status: 429 });
    expect(await ask(20, "ada")).toMatchObject({ state: "waiting" });
    expect(await ask(21, "ben")).toMatchObject({ state: "waiting" });
    await questions.stop();
    await store.close();
  });

  test("too much memory ends that question alone, and says so", async () => {
    const store = await newShop();
    const questions = await open(store, { limits: { memory: 12 } });
    const { digest } = await questions.ask(long(1), { files: carrier }, "ada");
    const told = await questions.wait(digest, 60_000);
    expect(told).toMatchObject({ state: "failed" });
    expect(told?.fault?.what).toBe("it needs more than 12 MB of memory");
    await questions.stop();
    await store.close();
  });
});

// Questions of processes that share a PostgreSQL database: asked in one, computed in another, whoever is killed meanwhile.
import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, beforeAll, expect, inject, test } from "vitest";
import { type Server, startPostgres } from "../../../test/postgres.ts";
import { benchPump } from "../../../test/questions.ts";
import { type ModelFile, openStore, type Store } from "../../store/index.ts";
import { wantedOf } from "./body.ts";
import { openQuestions } from "./open.ts";
import type { Questions } from "./questions.ts";

const bundle = inject("bundle");
const thread = pathToFileURL(join(dirname(bundle), "question-thread.js"));
const pause = (ms: number) => new Promise<void>((resolve) => setTimeout(resolve, ms));

let postgres: Server;
let database: string;
let stores: readonly Store[];
let desks: readonly [Questions, Questions];
const workers = new Set<ChildProcess>();
let files: readonly ModelFile[];

beforeAll(async () => {
  files = await benchPump();
  postgres = await startPostgres();
  database = await postgres.makeDatabase();
  stores = [await openStore(database), await openStore(database)];
  const open = (store: Store, name: string) =>
    openQuestions({ store, database, thread, threads: 0, now: () => Date.now(), name, log: () => undefined });
  desks = [await open(stores[0] as Store, "one"), await open(stores[1] as Store, "two")];
});
afterAll(async () => {
  for (const worker of workers) worker.kill("SIGKILL");
  for (const desk of desks) await desk.stop();
  for (const store of stores) await store.close();
  await postgres.stop();
});

const startWorker = async (): Promise<ChildProcess> => {
  const worker = spawn(process.execPath, [bundle, "work", "--database", database, "--threads", "1"]);
  workers.add(worker);
  worker.stderr.resume();
  await once(worker.stdout, "data");
  return worker;
};
const end = async (worker: ChildProcess, signal: NodeJS.Signals) => {
  worker.kill(signal);
  await once(worker, "exit");
  workers.delete(worker);
};
/** Takes about as many seconds as are given. */
const long = (seconds: number, seed: number) =>
  wantedOf("schedule", { order: { jobs: ["shaft-seal"] }, crew: 2, seconds, seed });
/** @param not whom it may not be with: one that is killed is missed after a while only */
const until = async (desk: Questions, digest: string, state: string, not?: string) => {
  for (;;) {
    const question = await desk.get(digest);
    if (question?.state === state && (not === undefined || question.worker !== not)) return question;
    if (question === undefined || question.state === "failed") throw new Error(JSON.stringify(question?.fault));
    await pause(20);
  }
};

test("asked twice it is one question, told of in both processes, computed by a third, and answered for good", async () => {
  const worker = await startWorker();
  const [one, two] = await Promise.all(desks.map((desk, i) => desk.ask(long(1, 1), { files }, `person ${i}`)));
  expect(one?.digest).toBe(two?.digest);
  const [first, second] = await Promise.all(desks.map((desk) => desk.wait(one?.digest ?? "", 60_000)));
  expect(first).toMatchObject({ state: "answered", attempts: 1 });
  expect(second?.answer).toBe(first?.answer);
  expect((await desks[1].ask(long(1, 1), { files }, "somebody else")).state).toBe("answered");
  await end(worker, "SIGTERM");
});

test("cancelled in one process it stops in the other, and asked again it is computed", async () => {
  const worker = await startWorker();
  const { digest } = await desks[0].ask(long(30, 2), { files }, "ada");
  await until(desks[0], digest, "running");
  expect(await desks[1].cancel(digest)).toBe(true);
  // The worker is free for another at once, not after thirty seconds.
  const next = await desks[0].ask(wantedOf("check", {}), { files }, "ada");
  expect((await desks[0].wait(next.digest, 20_000))?.state).toBe("answered");
  expect((await desks[0].get(digest))?.state).toBe("cancelled");
  await end(worker, "SIGTERM");
});

test("its worker is killed in the middle, twice, and told to stop once: another takes it up, and it is answered once", async () => {
  const { digest } = await desks[0].ask(long(2, 3), { files }, "ada");
  // By the revision at which it was seen answered its answer: two would be two answers.
  const answers = new Map<number, string | undefined>();
  desks[1].watch(
    digest,
    () =>
      void desks[1].get(digest).then((question) => {
        if (question?.state === "answered") answers.set(question.revision, question.answer);
      }),
  );
  let dead: string | undefined;
  for (const signal of ["SIGKILL", "SIGTERM", "SIGKILL"] as const) {
    const worker = await startWorker();
    dead = (await until(desks[1], digest, "running", dead)).worker;
    await end(worker, signal);
    if (signal === "SIGTERM") expect((await desks[1].get(digest))?.state).toBe("waiting");
  }
  const last = await startWorker();
  const answered = await until(desks[1], digest, "answered");
  // The one that was told to stop had never had it.
  expect(answered.attempts).toBe(3);
  await end(last, "SIGTERM");
  // Whoever follows hears of it by himself, somewhat later than who asks again and again.
  while (answers.size === 0) await pause(10);
  expect([...answers]).toEqual([[answered.revision, answered.answer]]);
  expect(await desks[0].get(digest)).toMatchObject({ revision: answered.revision, answer: answered.answer });
});

test("the database is killed in the middle: the worker goes on by itself, and so does who waits", async () => {
  const worker = await startWorker();
  const { digest } = await desks[0].ask(long(2, 4), { files }, "ada");
  await until(desks[0], digest, "running");
  await postgres.crash(() => pause(1_000));
  expect((await until(desks[1], digest, "answered")).answer).toContain("schedule");
  const { digest: next } = await desks[1].ask(long(0.5, 5), { files }, "ada");
  await until(desks[0], next, "answered");
  await end(worker, "SIGTERM");
});

import { join } from "node:path";
import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { type Browser, type Door, makeShop, openDoor, signedIn } from "../../../test/door.ts";
import { benchPump, openWorks, plover, SEAL, type Works } from "../../../test/questions.ts";
import { type ModelFile, openStore, type Store } from "../../store/index.ts";
import { openQuestions, type Questions, questionRoutes } from "./index.ts";

let works: Works;
let store: Store;
let questions: Questions;
let at: Door;
let ben: Browser;
let files: readonly ModelFile[];
const stopping = new AbortController();

beforeAll(async () => {
  works = await openWorks();
  files = await benchPump();
  store = await openStore(join(works.folder, "shop.db"));
  questions = await openQuestions({ store, ...works.outfit("routes") });
  at = await openDoor(store, false, undefined, [questionRoutes(questions, stopping.signal)]);
  await makeShop(store, at.door);
  await store.saveVehicle("bench-pump", files, 1, "ada");
  await store.saveVehicle("plover-28", await plover(), 1, "ada");
});
afterAll(async () => {
  stopping.abort();
  await at.close();
  await questions.stop();
  await store.close();
  await works.close();
});
beforeEach(async () => {
  ben = await signedIn(at, "ben");
});

const plan = { kind: "plan", model: { vehicle: "bench-pump" }, body: { order: SEAL } };
/** Searches until it is told to end. */
const long = (seed: number) => ({
  kind: "schedule",
  model: { vehicle: "plover-28" },
  body: { order: { jobs: ["clutch-plate"] }, crew: 3, seconds: 600, seed },
});

describe("questions over HTTP", () => {
  test("asked, waited for, and answered; asked again by another it is there, with the same answer", async () => {
    const asked = await ben.post("/questions", plan);
    expect(asked).toMatchObject({
      status: 202,
      body: { kind: "plan", state: expect.stringMatching(/^(waiting|running)$/) },
    });
    const place = `/questions/${asked.body.digest}`;
    expect(asked.headers.get("location")).toBe(`/api${place}`);
    const answered = await ben.get(`${place}?wait=25`);
    expect(answered).toMatchObject({
      status: 200,
      body: { state: "answered", answer: { kind: "plan", document: { format: "unmoor/plan/1" } } },
    });
    const tag = answered.headers.get("etag") ?? "";
    expect(tag).toBe(`"r${answered.body.revision}"`);
    expect(await ben.get(`${place}?wait=25`, { "if-none-match": tag })).toMatchObject({ status: 304, body: undefined });
    const cy = await signedIn(at, "cy");
    const again = await cy.post("/questions", plan);
    expect(again).toMatchObject({ status: 200, body: { digest: asked.body.digest, state: "answered" } });
    // The answer itself is at its place alone.
    expect(again.body.answer).toBeUndefined();
    expect((await cy.get(place)).body).toEqual(answered.body);
  });

  test("by files that came with it, the faults of a file are its answer", async () => {
    const [main] = files;
    const text = (main?.text ?? "").replace(/^parts:/m, "parst:");
    const asked = await ben.post("/questions", { kind: "check", model: { files: [{ ...main, text }] }, body: {} });
    const { body } = await ben.get(`/questions/${asked.body.digest}?wait=25`);
    expect(body).toMatchObject({ state: "answered", answer: { kind: "faults" } });
    expect(body.answer.document.faults[0]).toMatchObject({
      mend: expect.any(String),
      sentence: expect.stringContaining("parst"),
    });
  });

  test("with If-None-Match it waits for the next change: progress is seen as it comes", async () => {
    const { body: asked } = await ben.post("/questions", long(1));
    const place = `/questions/${asked.digest}`;
    let seen = await ben.get(place);
    const revisions = [seen.body.revision];
    while (seen.body.progress?.best === undefined) {
      seen = await ben.get(`${place}?wait=25`, { "if-none-match": seen.headers.get("etag") ?? "" });
      expect(seen.status).toBe(200);
      revisions.push(seen.body.revision);
    }
    expect(seen.body).toMatchObject({ state: "running", progress: { best: { of: "elapsed" } } });
    expect(revisions).toEqual([...new Set(revisions)].sort((a, b) => a - b));
    expect(await ben.delete(place)).toMatchObject({ status: 200, body: { state: "cancelled" } });
    expect(await ben.delete(place)).toMatchObject({ status: 200, body: { state: "cancelled" } });
  });

  test("events tell every standing to the end, and a browser that comes again is told to stay away", async () => {
    const { body: asked } = await ben.post("/questions", long(2));
    const place = `${at.origin}/api/questions/${asked.digest}/live`;
    const cookie = [...ben.jar].map(([name, value]) => `${name}=${value}`).join("; ");
    const stream = await fetch(place, { headers: { cookie } });
    expect(stream.headers.get("content-type")).toBe("text/event-stream; charset=utf-8");
    const told: { id: string; state: string; progress?: { best?: unknown } }[] = [];
    let text = "";
    for await (const bytes of stream.body ?? []) {
      text += new TextDecoder().decode(bytes);
      const events = text.split("\n\n");
      text = events.pop() ?? "";
      for (const event of events) {
        const [, id = "", data = "{}"] = /^id: (\d+)\nevent: standing\ndata: (.*)$/.exec(event) ?? [];
        if (id !== "") told.push({ id, ...JSON.parse(data) });
      }
      if (told.at(-1)?.progress?.best !== undefined && told.at(-1)?.state === "running")
        await ben.delete(`/questions/${asked.digest}`);
    }
    expect(told.map(({ state }) => state)).toContain("running");
    expect(told.at(-1)?.state).toBe("cancelled");
    expect(told.filter(({ state }) => state === "cancelled")).toHaveLength(1);
    const again = await fetch(place, { headers: { cookie, "last-event-id": told.at(-1)?.id ?? "" } });
    expect(again.status).toBe(204);
  });

  test("nobody asks, reads, follows or cancels unless he is signed in", async () => {
    const nobody = at.browser();
    const place = `/questions/${"0".repeat(64)}`;
    for (const answer of [
      await nobody.post("/questions", plan),
      await nobody.get(place),
      await nobody.get(`${place}/live`),
      await nobody.delete(place),
    ])
      expect(answer.status).toBe(401);
  });

  test("another's question is cancelled by a foreman, and by nobody else", async () => {
    const { body: asked } = await ben.post("/questions", long(3));
    const place = `/questions/${asked.digest}`;
    expect(await (await signedIn(at, "cy")).delete(place)).toMatchObject({ status: 403 });
    expect(await (await signedIn(at, "ada")).delete(place)).toMatchObject({
      status: 200,
      body: { state: "cancelled" },
    });
  });

  test("what is not as described, not kept, or too much is refused with its place and mend", async () => {
    const wrong = await ben.post("/questions", { ...plan, body: { order: { jobs: "all" } } });
    expect(wrong).toMatchObject({ status: 400, body: { faults: [{ at: "body.order.jobs" }] } });
    const strange = await ben.post("/questions", { ...plan, model: { vehicle: "none" } });
    expect(strange).toMatchObject({ status: 404, body: { mend: expect.any(String) } });
    expect(await ben.get(`/questions/${"0".repeat(64)}?wait=25`)).toMatchObject({ status: 404 });
    expect(await ben.get(`/questions/${"0".repeat(64)}/live`)).toMatchObject({ status: 404 });
    expect(await ben.get(`/questions/${"0".repeat(64)}?wait=26`)).toMatchObject({ status: 400 });
    expect(await ben.get("/questions/none")).toMatchObject({ status: 400 });
    const cy = await signedIn(at, "cy");
    const asked: string[] = [];
    for (let seed = 100; seed < 120; seed++) asked.push((await cy.post("/questions", long(seed))).body.digest);
    const more = await cy.post("/questions", long(120));
    expect(more).toMatchObject({ status: 429, body: { mend: "Wait for one, or cancel one." } });
    expect(more.headers.get("retry-after")).toBe("10");
    for (const digest of asked) await cy.delete(`/questions/${digest}`);
    expect(works.logged).toEqual([]);
  });
});

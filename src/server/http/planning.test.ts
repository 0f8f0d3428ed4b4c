import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { benchPump, openWorks, SEAL, type Works } from "../../../test/questions.ts";
import type { Order } from "../../plan/index.ts";
import { type ModelFile, openStore, type Store } from "../../store/index.ts";
import { readVehicle } from "../../vehicle/index.ts";
import { openQuestions, type Questions } from "../questions/index.ts";
import { faultOf } from "../refusals.ts";
import type { Planning } from "./office.ts";
import { planningOf } from "./planning.ts";

let works: Works;
let store: Store;
let questions: Questions;
let planning: Planning;
let files: readonly ModelFile[];
beforeAll(async () => {
  works = await openWorks();
  files = await benchPump();
  store = await openStore(join(works.folder, "shop.db"));
  questions = await openQuestions({ store, ...works.outfit("planning") });
  planning = planningOf(questions);
  await store.saveVehicle("bench-pump", files, 1, "ada");
});
afterAll(async () => {
  await questions.stop();
  await store.close();
  await works.close();
});

const model = { vehicle: "bench-pump", version: 1 };
const order = (more: Partial<Order> = {}): Order => ({ ...SEAL, keep: [], take: [], released: [], ...more });

describe("planning for the routes", () => {
  test("a sound vehicle file has no faults, a broken one all of them with their places", async () => {
    expect(await planning.check(files, "ada")).toEqual({ faults: [], warnings: expect.any(Array) });
    const [main] = files;
    const text = (main?.text ?? "").replace(/^parts:/m, "parst:");
    const { faults } = await planning.check([{ path: "pump.vehicle.yaml", text }], "ada");
    expect(faults[0]).toMatchObject({ what: expect.stringContaining("parst"), mend: expect.any(String) });
  });

  test("an order gets its plan, and the very vehicle that the file describes", async () => {
    const people = [
      { id: "ben", label: "Ben", skills: ["rigger"] },
      { id: "cy", skills: [] },
    ];
    const planned = await planning.plan(model, order({ people }), "ada");
    expect(planned).toMatchObject({ plan: { format: "unmoor/plan/1" } });
    const [main] = files;
    const { vehicle } = readVehicle(main?.path ?? "", () => main?.text ?? "");
    expect(vehicle?.name).toBe("Bench pump");
    expect("vehicle" in planned && planned.vehicle).toEqual(vehicle);
  });

  test("an order that cannot be done says which rules cannot all hold", async () => {
    const refused = await planning.plan(model, order({ keep: ["pump"] }), "ada");
    expect(refused).toMatchObject({
      refused: {
        what: ["noLegalPlan"],
        mend: ["cannotAllHold", expect.stringMatching(/./)],
        more: { release: { status: "infeasible" } },
      },
    });
  });

  test("an order of what the vehicle does not have names it and the nearest", async () => {
    expect(await planning.plan(model, order({ jobs: ["shaft-seat"] }), "ada")).toMatchObject({
      refused: {
        what: ["orderFaults", expect.stringContaining("shaft-seat")],
        mend: ["asItSays", expect.stringContaining("shaft-seal")],
      },
    });
  });

  test("a plan that was not found in the time is no answer that is kept: it is told as a fault, and searched for again when it is asked again", async () => {
    const shop = await openStore(join(works.folder, "hurried.db"));
    await shop.saveVehicle("bench-pump", files, 1, "ada");
    const idle = await openQuestions({ store: shop, ...works.outfit("hurried"), threads: 0 });
    // Whoever computes finds none while the request waits.
    const wait: Questions["wait"] = async (digest, ...more) => {
      await shop.questions.take("slow", 0, digest);
      await shop.questions.fail(digest, "slow", faultOf(["noPlanInTime", 60], ["askOrAgain"]), 1);
      return idle.wait(digest, ...more);
    };
    const slow: Questions = Object.assign(Object.create(idle), { wait });
    const refused = { what: ["noPlanInTime", 60], mend: ["askOrAgain"] };
    expect(await planningOf(slow).plan(model, order(), "ada")).toEqual({ refused });
    expect(await planningOf(idle, AbortSignal.abort()).plan(model, order(), "ada")).toMatchObject({ state: "waiting" });
    await idle.stop();
    await shop.close();
  });

  test("where nobody computes it waits, and says which question to follow; cancelled, it says so", async () => {
    const shop = await openStore(join(works.folder, "idle.db"));
    await shop.saveVehicle("bench-pump", files, 1, "ada");
    const idle = await openQuestions({ store: shop, ...works.outfit("idle"), threads: 0 });
    // A server that is to stop keeps nobody waiting.
    const hurried = planningOf(idle, AbortSignal.abort());
    const waits = await hurried.plan(model, order(), "ada");
    expect(waits).toMatchObject({ state: "waiting", waiting: expect.stringMatching(/^[0-9a-f]{64}$/) });
    await expect(hurried.check(files, "ada")).rejects.toMatchObject({ status: 503 });
    // Cancelled behind the asking: before it, the asking would have it wait anew.
    const wait: Questions["wait"] = async (digest, ...more) => {
      await idle.cancel(digest);
      return idle.wait(digest, ...more);
    };
    const cancelled: Questions = Object.assign(Object.create(idle), { wait });
    const slow = planningOf(cancelled).plan(model, order(), "ada");
    expect(await slow).toMatchObject({ refused: { what: ["planningCancelled"] } });
    await idle.stop();
    await shop.close();
  });
});

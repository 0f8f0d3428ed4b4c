// What a step asks to be entered: whoever enters what is asked, act by act, has done the whole job.
import { describe, expect, test } from "vitest";
import { jobOf, MORNING, TestDevice } from "../../test/run.ts";
import { actsOf } from "./acts.ts";
import { readBody } from "./body.ts";
import { askGate } from "./gates.ts";
import type { Body } from "./kinds.ts";
import { Ledger } from "./ledger.ts";
import { refusalOf } from "./refusal.ts";

const filled = (body: Body): Body => {
  switch (body.kind) {
    case "drained":
    case "filled":
      return { ...body, amounts: Object.fromEntries(Object.keys(body.amounts).map((fluid) => [fluid, "5 L"])) };
    case "set aside":
      return { ...body, place: "bench 2" };
    case "isolated":
      return { ...body, key: "emil" };
    default:
      return body;
  }
};

/** Enters what is asked until nothing is, and says how often each act had to be entered. */
const play = (name: string, job: string) => {
  const { brief } = jobOf(name, job);
  const ledger = new Ledger(brief);
  const device = new TestDevice(7, brief.run);
  const said: Body[] = [];
  const say = (author: string, body: Body) => {
    const reading = readBody(body);
    expect("faults" in reading ? reading.faults : [], JSON.stringify(body)).toEqual([]);
    expect(
      author === "store" ? undefined : refusalOf(ledger, author, body, false),
      JSON.stringify(body),
    ).toBeUndefined();
    const { entry } = device.write(author, body, MORNING + said.length * 60_000);
    ledger.add(entry);
    said.push(body);
    return entry;
  };
  const aims = new Map(brief.joints.map(({ id, torque }) => [id, torque?.written ?? ""]));
  let asked = actsOf(ledger);
  for (let round = 0; round < 2000; round++) {
    const next = asked.find(({ over, gate }) => !over || gate?.done === false);
    if (next === undefined) return { brief, ledger, said };
    if (next.gate?.done === false) {
      const { gate, lift } = next.gate;
      const planned = brief.lifts.find(({ task }) => task === lift);
      if (planned !== undefined) {
        for (const one of planned.cut) say("frida", { kind: "verified", at: one, found: "loose" });
        const { entry, load } = {
          entry: say("dora", { kind: "approval", gate: "lift", lift: planned.task, plan: brief.plan }),
          load: planned.band,
        };
        say("store", { kind: "confirmed", approval: entry.id });
        say("dora", {
          kind: "trial",
          lift: planned.task,
          load: load === undefined ? "1 kN" : `${Math.round((load.low + load.high) / 2)} N`,
        });
      }
      say("dora", { kind: "passed", gate, ...(lift === undefined ? {} : { lift }) });
      asked = actsOf(ledger);
      continue;
    }
    const act = next.acts.find(({ done }) => !done);
    if (act === undefined) throw new Error("nothing to do and not over");
    const { body } = act;
    say(
      act.second === true ? "frida" : "emil",
      body.kind === "torque value" ? { ...body, torque: aims.get(body.at) ?? "" } : filled(body),
    );
    asked = actsOf(ledger);
    const after = asked.find(({ step }) => step.number === next.step.number);
    expect(after?.acts[next.acts.indexOf(act)]?.done, `${JSON.stringify(body)} leaves its act undone`).toBe(true);
  }
  throw new Error(`it never ends: ${JSON.stringify(said.slice(-4))}`);
};

describe("entering what is asked, act by act", () => {
  test.each([
    ["bench-pump", "shaft-seal"],
    ["plover-28", "clutch-plate"],
    ["marten-t1", "swap-module"],
  ])("does the whole job of %s, %s, and no gate has more to ask than a maker's torque", (name, job) => {
    const { brief, ledger, said } = play(name, job);
    expect(ledger.contradictions()).toEqual([]);
    const missing = askGate(ledger, "start-up", { decides: true }).flatMap((one) => one.missing);
    expect(missing.filter(({ rule }) => rule !== "S5")).toEqual([]);
    expect(said.length).toBeGreaterThan(brief.steps.length);
  });
});

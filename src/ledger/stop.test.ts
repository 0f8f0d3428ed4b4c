// The stop of a load: anybody stops it; who waited and goes on does not end it, nor does anybody but those who may.
import { expect, test } from "vitest";
import { jobOf, MORNING, TestDevice } from "../../test/run.ts";
import type { Body } from "./kinds.ts";
import { Ledger } from "./ledger.ts";
import { refusalOf } from "./refusal.ts";
import { mayEnd, stopIn, stopOf } from "./stop.ts";

const { brief } = jobOf("bench-pump", "shaft-seal");
const lift = brief.lifts[0]?.task ?? "";

const begun = () => {
  const ledger = new Ledger(brief);
  const device = new TestDevice(11, brief.run);
  const say = (author: string, body: Body) =>
    ledger.add(device.write(author, body, MORNING + ledger.size * 1000).entry);
  return { ledger, say };
};

test("it stands until it is ended by one of those who may", () => {
  const { ledger, say } = begun();
  expect(stopIn(ledger, lift)).toBeUndefined();
  say("emil", stopOf(lift, "stop"));
  expect(stopIn(ledger, lift)?.author).toBe("emil");
  say("frida", { kind: "paused", cause: "waiting" });
  say("frida", { kind: "resumed" });
  expect(stopIn(ledger, lift)?.author).toBe("emil");
  const may = (person: string) => {
    const stop = stopIn(ledger, lift);
    return stop !== undefined && mayEnd(ledger, lift, stop, person);
  };
  expect(["dora", "emil", "frida"].map(may)).toEqual([true, true, false]);
  // Entered where nobody could refuse it, it ends nothing either.
  say("frida", { kind: "resumed", about: lift });
  expect(stopIn(ledger, lift)?.author).toBe("emil");
  expect(refusalOf(ledger, "frida", { kind: "resumed", about: lift }, false)?.what).toContain("may not");
  expect(refusalOf(ledger, "dora", { kind: "resumed", about: lift }, false)).toBeUndefined();
  say("emil", stopOf(lift, "again"));
  say("dora", { kind: "approval", gate: "lift", lift, plan: brief.plan, signaller: "frida" });
  expect(may("frida")).toBe(true);
  say("frida", { kind: "resumed", about: lift });
  expect(stopIn(ledger, lift)).toBeUndefined();
});

test("while it is stopped nothing is lifted, and the gate is not passed", () => {
  const { ledger, say } = begun();
  say("emil", stopOf(lift, "stop"));
  expect(refusalOf(ledger, "dora", { kind: "passed", gate: "lift", lift }, false)?.what).toContain("stopped");
  expect(refusalOf(ledger, "dora", { kind: "done", task: lift }, false)?.what).toContain("stopped");
});

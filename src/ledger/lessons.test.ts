import { expect, test } from "vitest";
import { jobOf, MORNING, TestDevice } from "../../test/run.ts";
import { readRuns } from "../times/index.ts";
import type { Body } from "./kinds.ts";
import { Ledger } from "./ledger.ts";
import { lessonsOf } from "./lessons.ts";

const { brief } = jobOf("bench-pump", "shaft-seal");
const device = new TestDevice(4, "run-1");
const at = (minute: number, author: string, body: Body) => device.write(author, body, MORNING + minute * 60_000).entry;

// Released in 9 min of which 3 were fetching; handed on half-way by Emil, ended by Dora; a look that found one still made.
const entries = [
  at(0, "emil", { kind: "begun", at: "coupling" }),
  at(2, "emil", { kind: "paused", cause: "fetching", about: "coupling" }),
  at(5, "emil", { kind: "resumed", about: "coupling" }),
  at(9, "emil", { kind: "released", at: "coupling", way: "coupling/2" }),
  at(10, "emil", { kind: "begun", at: "case-drain" }),
  at(14, "dora", { kind: "begun", at: "case-drain", people: ["dora", "frida"] }),
  at(16, "dora", { kind: "released", at: "case-drain" }),
  at(17, "frida", { kind: "released", at: "flange-bolts" }),
  at(18, "emil", { kind: "verified", at: "case-drain", found: "made" }),
  at(19, "dora", { kind: "released", at: "case-drain" }),
  at(20, "emil", { kind: "verified", at: "case-drain", found: "loose" }),
];
const lessons = lessonsOf(new Ledger(brief, entries));

test("work that was begun and ended, without what stood still; broken off where another goes on; looks", () => {
  expect(lessons).toMatchObject([
    { connection: "coupling", way: "coupling/2", people: ["emil"], causes: [{ cause: "fetching", minutes: 3 }] },
    { connection: "case-drain", people: ["emil"], broken: true },
    { connection: "case-drain", people: ["dora", "frida"] },
    { connection: "case-drain", stillMade: true },
    { connection: "case-drain", stillMade: false },
  ]);
  // Nobody booked the flange as begun.
  expect(lessons.some(({ connection }) => connection === "flange-bolts")).toBe(false);
});

test("the room of times reads them", () => {
  const runs = readRuns("run", lessons.map((one) => JSON.stringify(one)).join("\n"), brief.vehicle);
  expect(runs.faults).toEqual([]);
  expect(runs.observations.map(({ connection, minutes, broken }) => [connection, minutes, broken])).toEqual([
    ["coupling", 6, false],
    ["case-drain", 4, true],
    ["case-drain", 2, false],
  ]);
  expect(runs.looks.map(({ stillMade }) => stillMade)).toEqual([true, false]);
});

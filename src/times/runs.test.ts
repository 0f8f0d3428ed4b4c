// Runs as JSON Lines: what is read, and every fault with its line and its mend.
import { expect, test } from "vitest";
import { readRuns } from "./runs.ts";

const lines = (...list: readonly object[]) => list.map((one) => JSON.stringify(one)).join("\n");
const good = { connection: "hose", person: "ann", start: "2026-03-01T08:00", end: "2026-03-01T08:20" };

test("waiting and fetching are taken off the work's own time", () => {
  const { observations, faults } = readRuns(
    "a.jsonl",
    `\n${lines({ ...good, causes: [{ cause: "waiting", minutes: 6 }] }, { ...good, back: true, broken: true })}\n`,
    "Pump",
  );
  expect(faults).toEqual([]);
  expect(observations).toMatchObject([
    { line: 2, minutes: 14, back: false, people: ["ann"], broken: false },
    { line: 3, minutes: 20, back: true, broken: true },
  ]);
});

test("a look at a tie is no work", () => {
  expect(readRuns("a", lines({ connection: "hose", stillMade: true, due: "late" }), "Pump")).toMatchObject({
    observations: [],
    looks: [{ connection: "hose", stillMade: true, due: "late" }],
  });
});

test("every fault at once: no JSON, another vehicle, a time of zero, no moment, a strange word", () => {
  const { faults, observations } = readRuns(
    "a.jsonl",
    [
      "{",
      lines(
        { ...good, vehicle: "Other" },
        { ...good, end: good.start },
        { ...good, end: "late" },
        { ...good, x: 1 },
        {},
        [],
      ),
    ].join("\n"),
    "Pump",
  );
  expect(observations).toEqual([]);
  expect(faults.map(({ line, what }) => [line, what])).toEqual([
    [1, "it is no JSON"],
    [2, 'it is a run of "Other", not of "Pump"'],
    [3, "0 min are left for the work"],
    [4, "start or end is no moment"],
    [5, "nothing is called x"],
    [6, "it names no connection"],
    [7, "it is no JSON object"],
  ]);
  expect(faults.every(({ mend }) => mend.endsWith("."))).toBe(true);
});

// The ways to mend side by side: parts waited for where they are wanted, the same luck for all, the chance that each is first.
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { readVehicle } from "../vehicle/index.ts";
import { crewOf } from "./crew.ts";
import { compareWays, type WayAsked } from "./ways.ts";
import { drawWays, writeWays } from "./ways-text.ts";

const root = new URL("../../", import.meta.url).pathname;
const { vehicle } = readVehicle(`${root}demo/bench-pump.vehicle.yaml`, (path) => readFileSync(path, "utf8"));
if (vehicle === undefined) throw new Error("the demo has faults");
const pump = vehicle;

const compare = (...ways: readonly WayAsked[]) =>
  compareWays(pump, { runs: 1000, seed: 1, common: 0.1, learnt: new Map(), crew: crewOf(2), ways });
const certain = (minutes: number) => ({ centre: Math.log(minutes), spread: 0 });
const JOB = "shaft-seal";

test("the same work twice is first half of the time each, and never behind: the luck is the same", () => {
  const { ways } = compare({ way: "in place", job: JOB }, { way: "out", job: JOB });
  expect(ways.map(({ first }) => first?.value)).toEqual([0.5, 0.5]);
  expect(ways.map(({ behind }) => behind)).toEqual([0, 0]);
});

test("parts that take a week hold up what mends, and nothing else: a week and what comes after", () => {
  const week = 7 * 24 * 60;
  const { ways } = compare({ way: "out", job: JOB }, { way: "swap", job: JOB, lead: certain(week) });
  const [shelf, waited] = ways;
  expect(shelf?.first?.value).toBe(1);
  expect(waited?.planned).toBeGreaterThan(week);
  expect(waited?.planned).toBeLessThan(week + (shelf?.planned ?? 0));
  expect(waited?.behind).toBeGreaterThan(week - (shelf?.planned ?? 0));
});

test("parts that are there before they are wanted cost nothing", () => {
  const { ways } = compare({ way: "in place", job: JOB }, { way: "out", job: JOB, lead: certain(0.5) });
  expect(ways[1]?.planned).toBe(ways[0]?.planned);
  expect(ways[1]?.mean).toBeCloseTo(ways[0]?.mean ?? Number.NaN, 9);
});

test("a repair as given stands for the work that the file has: ten minutes more are ten minutes and as much labour", () => {
  const [work] = pump.jobs.find(({ id }) => id === JOB)?.work.toSorted((a, b) => b.time - a.time) ?? [];
  if (work === undefined) throw new Error("the job has no work");
  const { ways } = compare({ way: "in place", job: JOB }, { way: "out", job: JOB, mend: certain(work.time + 10) });
  expect((ways[1]?.planned ?? 0) - (ways[0]?.planned ?? 0)).toBeCloseTo(10, 9);
  expect((ways[1]?.labour ?? 0) - (ways[0]?.labour ?? 0)).toBeCloseTo(10 * work.people, 9);
});

test("chances to be first add up to one, and words and drawing name each way", () => {
  const compared = compareWays(pump, {
    runs: 1000,
    seed: 1,
    common: 0.1,
    learnt: new Map(),
    crew: crewOf(2),
    by: 120,
    ways: [
      { way: "in place", job: JOB, mend: { centre: Math.log(40), spread: 0.5 } },
      { way: "out", job: JOB, lead: { centre: Math.log(30), spread: 0.9 } },
      { way: "swap", job: JOB, lead: { centre: Math.log(60), spread: 0.4 } },
    ],
  });
  expect(compared.ways.reduce((sum, { first }) => sum + (first?.value ?? 0), 0)).toBeCloseTo(1, 9);
  for (const said of ["in place", "taken out", "swapped", "first of all", "done within 2 h"])
    expect(writeWays(compared)).toContain(said);
  expect(drawWays(compared).match(/stroke-width="2"/g)).toHaveLength(6);
});

test("a way that the crew cannot do is said to have no plan; stopped, what there is", () => {
  const none = compareWays(pump, {
    runs: 200,
    seed: 1,
    common: 0,
    learnt: new Map(),
    crew: crewOf(2),
    ways: [{ way: "out", job: JOB }],
    stop: () => true,
  });
  expect(none.ways[0]?.status).toBe("not reckoned");
  expect(none.stopped).toBe(true);
});

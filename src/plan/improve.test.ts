// What to change first: every saving is that of the whole question solved again, whichever proof spared the solving.
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { readVehicle } from "../vehicle/index.ts";
import { crewOf } from "./crew.ts";
import { type ImproveAsked, improve } from "./improve.ts";
import { carryOut, release } from "./improve-base.ts";
import { candidates } from "./improve-candidates.ts";
import { type Change, changeOf, changeVehicle } from "./improve-change.ts";
import { readChanges } from "./improve-file.ts";
import { sparedOf } from "./improve-spare.ts";
import { ranked, writeImproved } from "./improve-text.ts";

const root = new URL("../../", import.meta.url).pathname;
const load = (path: string) => readFileSync(path, "utf8");
const read = (name: string) => {
  const { vehicle } = readVehicle(`${root}demo/${name}.vehicle.yaml`, load);
  if (vehicle === undefined) throw new Error("the demo has faults");
  return vehicle;
};
const pump = read("bench-pump");
const plover = read("plover-28");

const RECKONING = { runs: 200, seed: 1, common: 0.1, learnt: new Map() };
const asked = (people: number, most: number, ...jobs: readonly string[]): ImproveAsked => ({
  ...RECKONING,
  jobs: jobs.map((id) => ({ id, weight: 1 })),
  weighed: false,
  crew: crewOf(people),
  changes: [],
  most,
});

const leastLabour = (vehicle: typeof pump, job: string, people: number, ...changes: readonly Change[]): number =>
  release(changeVehicle(vehicle, changes), job, people, RECKONING).result.plan?.labour ?? Number.POSITIVE_INFINITY;

const proposed = (vehicle: typeof pump, people: number, ...jobs: readonly string[]) =>
  candidates(
    vehicle,
    jobs.map((job) => {
      const { question, result } = release(vehicle, job, people, RECKONING);
      const base = result.plan && carryOut(question, result.plan, crewOf(people), RECKONING);
      if (base === undefined) throw new Error(`${job} has no plan`);
      return { weight: 1, base };
    }),
    40,
  );

test.each([
  [pump, 2, "shaft-seal"],
  [plover, 2, "renew-radiator"],
  [plover, 2, "renew-generator"],
] as const)("labour spared is that of the question solved again, for every change: %#, $2", (vehicle, people, job) => {
  const before = leastLabour(vehicle, job, people);
  const changes = proposed(vehicle, people, job).filter((one) => one.people === 0 && one.tools.length === 0);
  const answer = improve(vehicle, asked(people, 40, job));
  expect(changes.length).toBeGreaterThan(3);
  for (const change of changes) {
    const found = answer.changes.find(({ id }) => id === change.id);
    expect([change.id, found?.labour]).toEqual([
      change.id,
      expect.closeTo(before - leastLabour(vehicle, job, people, change), 6),
    ]);
  }
});

test("a spared task: the plan without it is legal and as much cheaper as solving again says; a state or a lift is asked alone", () => {
  const { question, result } = release(plover, "reseal-pump", 2, RECKONING);
  const base = result.plan && carryOut(question, result.plan, crewOf(2), RECKONING);
  if (base === undefined) throw new Error("the job has no plan");
  const spare = (id: string) => ({ ...changeOf("none", "Needless", "yours", "by hand"), spare: [id] });
  const spared = sparedOf(plover, "reseal-pump", 2, base, spare("close-hydraulics"));
  expect(spared?.freed).toEqual(["close-hydraulics"]);
  expect(spared?.factors.get("close-hydraulics")).toBe(0);
  expect(base.labour - (spared?.here ?? 0)).toBe(leastLabour(plover, "reseal-pump", 2, spare("close-hydraulics")));
  for (const { id } of plover.tasks.filter((task) => task.undo !== undefined && base.plan.tasks.includes(task.id)))
    expect(sparedOf(plover, "reseal-pump", 2, base, spare(id))).toBeUndefined();
});

test("pairs: labour beyond each alone is that of both solved at once", () => {
  const changes = proposed(pump, 2, "shaft-seal");
  const { pairs } = improve(pump, asked(2, 40, "shaft-seal"));
  const byId = (id: string) => changes.find((one) => one.id === id) as Change;
  const before = leastLabour(pump, "shaft-seal", 2);
  const spared = (...list: readonly Change[]) => before - leastLabour(pump, "shaft-seal", 2, ...list);
  expect(pairs.length).toBeGreaterThan(0);
  for (const { both, labour } of pairs) {
    const [a, b] = [byId(both[0]), byId(both[1])];
    expect(labour).toBeCloseTo(spared(a, b) - spared(a) - spared(b), 6);
  }
});

test("by hand: a hose quicker by 3 off and 2 on spares 5 minutes each time; weights and the rate make money and years of it", () => {
  const hose = pump.connections.find(({ id }) => id === "pressure-hose");
  const [way] = hose?.ways ?? [];
  if (hose === undefined || way === undefined) throw new Error("the demo has no pressure hose");
  const on = hose.refit.time ?? way.time;
  const change: Change = {
    ...changeOf("mine", "Quicker", "yours", "by hand"),
    steps: [{ of: "pressure-hose", off: way.time - 3, on: on - 2 }],
    cost: 120,
  };
  const answer = improve(pump, {
    ...asked(2, 0, "shaft-seal"),
    jobs: [{ id: "shaft-seal", weight: 12 }],
    weighed: true,
    changes: [change],
    rate: 60,
  });
  const [mine] = answer.changes;
  expect(mine?.labour).toBe(5);
  // 12 times a year, 5 min of 60 an hour: 60 a year, so two years.
  expect(mine?.years).toBeCloseTo(2, 9);
  expect(answer.cost.money).toBeCloseTo(answer.cost.labour, 9);
  expect(writeImproved(answer, "labour")).toContain("earns its cost in 2.0 years");
});

test("one person more spares no labour and never makes it later", () => {
  const { changes } = improve(pump, asked(2, 40, "shaft-seal"));
  const more = changes.find(({ id }) => id === "one-more");
  expect(more?.labour).toBe(0);
  expect(more?.elapsed).toBeGreaterThanOrEqual(0);
});

test("ranked by what is asked for, and the sum over jobs by their weights", () => {
  const one = improve(pump, asked(2, 40, "shaft-seal"));
  for (const by of ["labour", "elapsed"] as const) {
    const worths = ranked(one.changes, by).map((change) => change[by]);
    expect(worths).toEqual(worths.toSorted((a, b) => b - a));
  }
  const heavy = improve(pump, { ...asked(2, 40, "shaft-seal"), jobs: [{ id: "shaft-seal", weight: 7 }] });
  expect(heavy.cost.labour).toBeCloseTo(7 * one.cost.labour, 6);
  expect(heavy.changes[0]?.labour).toBeCloseTo(one.changes[0]?.labour ?? Number.NaN, 9);
});

test("stopped it gives what there is and says what it did not try", () => {
  let left = 3;
  const answer = improve(plover, {
    ...asked(2, 10, "renew-starter", "renew-belt"),
    stop: () => {
      left -= 1;
      return left < 0;
    },
  });
  expect(answer.stopped).toBe(true);
  expect(answer.jobs.some(({ status }) => status === "not reckoned")).toBe(true);
});

test("a job that the crew cannot do is said to have no plan", () => {
  const { jobs } = improve(plover, asked(2, 0, "clutch-plate", "renew-belt"));
  expect(jobs.map(({ status }) => status)).toEqual(["no plan", "reckoned"]);
});

test("a file of changes is read, every fault at its place", () => {
  const good = readChanges(
    "a.changes.yaml",
    `format: unmoor-changes/1
rate: 70
jobs: [{ job: shaft-seal, times: 12 }]
changes:
  quick: { label: Quick coupling, steps: [{ of: suction-hose, off: 0.5 min, on: 30 s }], cost: 140 }
  way: { label: Port in the guard, ways: [{ of: coupling, off: 2 min, on: 3 min }] }
`,
    pump,
  );
  expect(good.faults).toEqual([]);
  expect(good.changes?.changes[0]?.steps[0]).toMatchObject({ of: "suction-hose", off: 0.5, on: 0.5 });
  expect(good.changes?.changes.map(({ id }) => id)).toEqual(["quick", "way"]);
  const bad = readChanges(
    "b.changes.yaml",
    `format: unmoor-changes/1
rate: -3
jobs: [{ job: shaft-sael, times: 0 }]
changes:
  quick: { label: Quick coupling, steps: [{ of: suction-hoze, off: 5 }], spare: [drain-tnak], people: 0 }
`,
    pump,
  );
  expect(bad.changes).toBeUndefined();
  const said = bad.faults.map(({ at, what }) => `${at.line} ${what}`);
  expect(said.join("\n")).toMatch(/2 .*rate is "-3"/);
  expect(said.join("\n")).toMatch(/3 .*job is "shaft-sael"/);
  expect(said.join("\n")).toMatch(/3 .*times is "0"/);
  expect(said.join("\n")).toMatch(/5 .*suction-hoze/);
  expect(said.length).toBeGreaterThanOrEqual(6);
});

// Owns the measure of times: how long a simulation and the search for what to change first take, and whether each saving is that of the question solved again.

import { readFileSync } from "node:fs";
import { crewOf, type Improved, improve, orderFor, translate } from "../../src/plan/index.ts";
import { solve } from "../../src/release/index.ts";
import { type Activity, type Network, percentile, Replay, simulate } from "../../src/times/index.ts";
import { readVehicle, type Vehicle } from "../../src/vehicle/index.ts";
import { type Again, solveAgain } from "./again.ts";
import { normalsOf } from "./normals.ts";

export interface TimesRow {
  readonly what: string;
  /** Milliseconds by the clock given: the least and the middle of some, and the limit that is set for it. */
  readonly least: number;
  readonly middle: number;
  readonly limit?: number;
  /** A figure of the answer, so that a quicker wrong one shows. */
  readonly sum: number;
}

const PEOPLE = 3;

/** A plan of so many tasks: five chains side by side that wait for one another now and then, each task for its people's last and one before. */
function planOf(tasks: number): Network {
  const draw = normalsOf(1);
  const pick = (below: number): number => Math.floor(Math.abs(draw()) * 1e6) % below;
  const activities = Array.from({ length: tasks }, (_, index): Activity => {
    const before = [index - 5, index - 1 - pick(20)].filter((one) => one >= 0);
    return {
      id: `task ${index}`,
      time: { centre: Math.log(4 + 3 * Math.abs(draw())), spread: 0.3 },
      after: [...new Set(before)].map((one) => ({ id: `task ${one}`, lag: 0.5 })),
    };
  });
  return { activities };
}

function demo(): Vehicle {
  const { vehicle } = readVehicle("demo/plover-28.vehicle.yaml", (path) => readFileSync(path, "utf8"));
  if (vehicle === undefined) throw new Error("the demo has faults");
  return vehicle;
}

const LUCK = { runs: 10_000, seed: 1, common: 0.1 };

/** Every job of the demo and sixty changes. */
const improveDemo = (vehicle: Vehicle): Improved =>
  improve(vehicle, {
    ...LUCK,
    runs: 2000,
    learnt: new Map(),
    jobs: vehicle.jobs.map(({ id }) => ({ id, weight: 1 })),
    weighed: false,
    crew: crewOf(PEOPLE),
    changes: [],
    most: 60,
  });

export function measureTimes(now: () => number, repeats: number): TimesRow[] {
  const vehicle = demo();
  const plan = planOf(300);
  const p95 = (finishes: Float64Array): number => percentile(finishes.slice().sort(), 0.95).value;
  const replay = new Replay(plan, LUCK);
  return [
    row("10,000 runs of 300 tasks", now, repeats, () => p95(simulate(plan, LUCK).finishes), 2000),
    row("the same luck again, one task changed", now, repeats, () =>
      p95(replay.finishes(new Map([["task 150", 0.5]]))),
    ),
    row("60 changes on 12 jobs", now, Math.min(repeats, 3), () => spared(improveDemo(vehicle)), 20_000),
  ];
}

const spared = ({ changes }: Improved): number => changes.reduce((sum, one) => sum + one.labour, 0);

/** Every change and job of the demo solved again, without any of the proofs that spare it. */
export function agreeAgain(say: (line: string) => void): Again {
  const vehicle = demo();
  return solveAgain(
    improveDemo(vehicle),
    vehicle,
    (changed, job) => solve(translate(changed, { ...orderFor(job), people: PEOPLE }).problem).plan?.labour,
    say,
  );
}

function row(what: string, now: () => number, repeats: number, run: () => number, limit?: number): TimesRow {
  let sum = 0;
  const times: number[] = [];
  for (let i = 0; i < repeats; i++) {
    const start = now();
    sum = run();
    times.push(now() - start);
  }
  times.sort((a, b) => a - b);
  const figure = (ms: number): number => Number(ms.toFixed(1));
  return {
    what,
    least: figure(times[0] ?? 0),
    middle: figure(times[Math.floor(times.length / 2)] ?? 0),
    ...(limit === undefined ? {} : { limit }),
    sum: Number(sum.toFixed(4)),
  };
}

// Owns the measure of fastening: how long one answer of each kind takes, and how well the left-over ranking finds what is short.

import { readFileSync } from "node:fs";
import {
  exactly,
  layPattern,
  PLAIN,
  rankLeftover,
  readStrength,
  readThread,
  tighten,
} from "../../src/fastening/index.ts";
import { kitOf, makePlan, orderFor, translate } from "../../src/plan/index.ts";
import { newtonMetres, newtons } from "../../src/quantity/index.ts";
import { solve } from "../../src/release/index.ts";
import { readVehicle } from "../../src/vehicle/index.ts";
import { CARELESS, forget, HURRIED, TIDY } from "./forgotten.ts";
import { measureRanking, type RankRow } from "./rank.ts";

export interface SpeedRow {
  readonly what: string;
  /** Milliseconds of one answer by the clock given: the least and the middle of many, and the limit that is set for it. */
  readonly least: number;
  readonly middle: number;
  readonly limit?: number;
  /** A figure of the answer, so that a quicker wrong one shows. */
  readonly sum: number;
}

/** Times each kind of answer `repeats` times after as many to warm up. */
export function measureSpeed(now: () => number, repeats: number): SpeedRow[] {
  const vehicle = readVehicle("demo/plover-28.vehicle.yaml", (path) => readFileSync(path, "utf8")).vehicle;
  if (vehicle === undefined) throw new Error("the demo has faults");
  const question = translate(vehicle, orderFor(vehicle.jobs[0]?.id ?? ""));
  const plan = makePlan(question, solve(question.problem));
  if (plan === undefined) throw new Error("the demo's job has no plan");
  const job = forget(3, 100, HURRIED);

  const torque = (): number => {
    const reading = readThread("M10x1.5");
    if ("fault" in reading) throw new Error(reading.fault.what);
    const class88 = readStrength("8.8", reading.thread);
    if ("fault" in class88) throw new Error(class88.fault.what);
    const friction = { thread: exactly(0.12), head: exactly(0.12) };
    const joint = { thread: reading.thread, strength: class88.strength };
    const one = tighten({ ...joint, friction, aim: { preload: newtons(25300) } });
    const back = tighten({ ...joint, friction: PLAIN, aim: { torque: newtonMetres(48) } });
    return ("answer" in one ? one.answer.torque : 0) + ("answer" in back ? back.answer.preload.nominal : 0);
  };
  return [
    // Two answers, there and back, with the reading of thread and class.
    row("torque, there and back", now, repeats, torque, 1),
    row("pattern of 24 on a circle", now, repeats, () => order({ circle: 24 })),
    row("pattern of 9 by balance", now, repeats, () => order({ circle: 9 })),
    row("left-over of 100 connections", now, Math.ceil(repeats / 4), () => {
      const answer = rankLeftover(job.question);
      return "answer" in answer ? (answer.answer.suspects[0]?.chance ?? 0) : 0;
    }),
    row("kit of the demo", now, Math.ceil(repeats / 4), () => kitOf(plan, vehicle).picking.length, 20),
  ];
}

/** Ranks `jobs` simulated jobs in each shop. */
export const measureShops = (jobs: number): RankRow[] => [
  measureRanking("tidy", TIDY, jobs),
  measureRanking("hurried", HURRIED, jobs),
  measureRanking("careless", CARELESS, jobs),
];

function order(layout: { readonly circle: number }): number {
  const answer = layPattern({ layout });
  return "answer" in answer ? answer.answer.order.reduce((sum, id, i) => sum + Number(id) * i, 0) : 0;
}

function row(what: string, now: () => number, repeats: number, run: () => number, limit?: number): SpeedRow {
  let sum = 0;
  for (let i = 0; i < repeats; i++) sum = run();
  const times: number[] = [];
  for (let i = 0; i < repeats; i++) {
    const start = now();
    sum = run();
    times.push(now() - start);
  }
  times.sort((a, b) => a - b);
  const figure = (ms: number): number => Number(ms.toFixed(4));
  return {
    what,
    least: figure(times[0] ?? 0),
    middle: figure(times[Math.floor(times.length / 2)] ?? 0),
    ...(limit === undefined ? {} : { limit }),
    sum: Number(sum.toFixed(4)),
  };
}

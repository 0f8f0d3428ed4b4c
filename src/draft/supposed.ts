// Owns what an answer may believably be: for each question the vehicle, or the minutes, at the ends of what is likely and with each alternative at hand.

import type { Answer, Doubt } from "../plan/index.ts";
import type { Metres } from "../quantity/index.ts";
import { CATALOGUE_SPREAD, fromMedian, percentileOf } from "../times/index.ts";
import type { Connection, Need, Point, Vehicle } from "../vehicle/index.ts";
import { minutesByKind } from "./by-kind.ts";
import { endsFor, type Question } from "./question.ts";

/** Of ten times one is below the first, and one above the second. */
const LIKELY = [0.1, 0.9] as const;

/** How many fasteners one connection of a kind has, from few to many; common practice, ours. */
const COUNTS: Readonly<Record<string, readonly [number, number]>> = {
  "bolted joint": [2, 10],
  "shaft joint": [4, 8],
  "cover fixing": [2, 12],
  flange: [2, 8],
  mount: [1, 4],
  bracket: [1, 4],
};
const FEW = [1, 2] as const;

/** @param isByKind whether the minutes of the connection are the catalogue's, so that they go with its count */
export function doubtOf(question: Question, vehicle: Vehicle, isByKind: boolean): Doubt {
  return { of: question.of, answers: answersTo(question, vehicle, isByKind) };
}

function answersTo({ asks, of, key, on }: Question, vehicle: Vehicle, isByKind: boolean): readonly Answer[] {
  const connection = vehicle.connections.find(({ id }) => id === of);
  const changed = (change: (one: Connection) => Connection): Answer => ({
    vehicle: { ...vehicle, connections: vehicle.connections.map((one) => (one.id === of ? change(one) : one)) },
  });
  switch (asks) {
    case "minutes":
      return timesOf(vehicle, of);
    case "position":
      return vehicle.positions.map(({ id }) =>
        changed((one) => ({ ...one, ways: one.ways.map((way) => ({ ...way, at: id })) })),
      );
    case "before": {
      const step = connection?.ways[0]?.id;
      return step === undefined || on === undefined ? [] : [{ step, without: on.id }];
    }
    case "there":
      return [{ vehicle: withoutConnection(vehicle, of) }];
    case "joins":
      return connection === undefined
        ? []
        : endsFor(vehicle, connection)
            .slice(1)
            .map((joins) => changed((one) => ({ ...one, joins })));
    case "figure":
      if (key === "mass") return massesOf(vehicle, of);
      if (key === "centre") return centresOf(vehicle, of);
      return key === "count" && connection !== undefined && isByKind ? countsOf(connection) : [];
  }
}

/** The catalogue's minutes as few and as many as they are likely to be. */
function timesOf(vehicle: Vehicle, of: string): readonly Answer[] {
  const way = vehicle.connections.find(({ id }) => id === of)?.ways[0];
  const step = way ?? vehicle.tasks.find(({ id }) => id === of);
  if (step === undefined) return [];
  return LIKELY.map((share) => ({
    step: step.id,
    minutes: percentileOf(fromMedian(step.time, CATALOGUE_SPREAD), share),
  }));
}

function countsOf({ kind, hardware, ways: [way] }: Connection): readonly Answer[] {
  if (way === undefined) return [];
  return (COUNTS[kind] ?? FEW).map((count) => ({
    step: way.id,
    minutes: minutesByKind(kind, hardware[0]?.item, count),
  }));
}

/** A mass changes a plan where it passes a limit: what two hands may take, and what may hang on a hoist. */
function massesOf(vehicle: Vehicle, of: string): readonly Answer[] {
  const hoisted = vehicle.tasks.some(({ lifts }) => lifts.includes(of));
  const limits = [
    vehicle.limits.hand,
    ...(hoisted ? vehicle.hoists.flatMap(({ reach }) => reach.map(([, limit]) => limit)) : []),
  ];
  return [...new Set([Math.min(...limits), Math.max(...limits)])].map((limit) => ({ part: of, mass: limit + 1 }));
}

/** A centre changes what comes off only where the part rests on something: then it may lie over the middle of that. */
function centresOf(vehicle: Vehicle, of: string): readonly Answer[] {
  const rests = vehicle.connections.flatMap(({ rests: bears, at, joins }) =>
    bears && at !== undefined && joins.includes(of) ? [at] : [],
  );
  if (rests.length === 0) return [];
  const mean = (axis: 0 | 1 | 2) => (rests.reduce((sum, at) => sum + at[axis], 0) / rests.length) as Metres;
  const centre: Point = [mean(0), mean(1), mean(2)];
  return [
    { vehicle: { ...vehicle, parts: vehicle.parts.map((part) => (part.id === of ? { ...part, centre } : part)) } },
  ];
}

/** The vehicle as if it were not there; what needs it needs it no more. */
function withoutConnection(vehicle: Vehicle, of: string): Vehicle {
  const free = (needs: readonly Need[]): readonly Need[] => needs.map((need) => withoutNeed(need, of));
  const work = <W extends { readonly needs: readonly Need[] }>(one: W): W => ({ ...one, needs: free(one.needs) });
  return {
    ...vehicle,
    first: vehicle.first.filter((id) => id !== of),
    connections: vehicle.connections.flatMap((one) => (one.id === of ? [] : [{ ...one, ways: one.ways.map(work) }])),
    positions: vehicle.positions.map(work),
    tasks: vehicle.tasks.map(work),
    parts: vehicle.parts.map((part) => ({ ...part, hang: part.hang.map(work) })),
    jobs: vehicle.jobs.map((job) => ({ ...work(job), work: job.work.map(work) })),
  };
}

function withoutNeed(need: Need, of: string): Need {
  if ("all" in need) return { all: need.all.map((one) => withoutNeed(one, of)) };
  if ("any" in need) return { any: need.any.map((one) => withoutNeed(one, of)) };
  return "id" in need && need.id === of ? { all: [] } : need;
}

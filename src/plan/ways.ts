// Owns the ways to mend something side by side: in place; taken out, mended and refitted; swapped for a ready one. Each is planned in full, its parts waited for, and all
// are run through with the same luck: when each is done, and how often it is the first.

import {
  type Activity,
  chanceOf,
  type Estimate,
  type Lognormal,
  meanOf,
  medianOf,
  percentile,
  percentileOf,
  Replay,
} from "../times/index.ts";
import type { Vehicle } from "../vehicle/index.ts";
import type { Crew } from "./crew.ts";
import { finishNetwork } from "./finish.ts";
import { carryOut, type Reckoned, type Reckoning, release, timeIn } from "./improve-base.ts";

export type WayToMend = "in place" | "out" | "swap";

export interface WayAsked {
  readonly way: WayToMend;
  readonly job: string;
  /** Minutes until its parts, or the ready assembly, are there; absent: on the shelf. */
  readonly lead?: Lognormal;
  /** Of the repair itself, in place of the longest work that the file has for the job. */
  readonly mend?: Lognormal;
}

export interface WaysAsked extends Reckoning {
  readonly crew: Crew;
  readonly ways: readonly WayAsked[];
  /** Minutes: the chance to be done by then. */
  readonly by?: number;
  /** Hears which way is planned, 1 for the first, of how many. */
  readonly onProgress?: (at: number, of: number) => void;
}

export interface WayCompared {
  readonly way: WayToMend;
  readonly job: string;
  readonly label: string;
  /** `no plan`: this crew cannot do it. `not reckoned`: stopped before. */
  readonly status: "reckoned" | "no plan" | "not reckoned";
  /** Minutes until the parts are there; absent: on the shelf. */
  readonly lead?: { readonly p50: number; readonly p95: number };
  readonly labour?: number;
  /** Minutes by the plan's own times, with the parts there in their median time. */
  readonly planned?: number;
  readonly mean?: number;
  readonly percentiles?: readonly ({ readonly share: number } & Estimate)[];
  /** Chance to be done by the time that was asked for. */
  readonly by?: Estimate;
  /** Chance that it is done before the others; ties shared. */
  readonly first?: Estimate;
  /** Minutes behind whichever is first, in the mean. */
  readonly behind?: number;
  /** Points of the curve of chances, minutes and share. */
  readonly curve?: readonly (readonly [number, number])[];
}

export interface Ways {
  readonly format: "unmoor/ways/1";
  readonly vehicle: string;
  readonly note?: string;
  readonly people: number;
  readonly runs: number;
  readonly by?: number;
  readonly ways: readonly WayCompared[];
  readonly stopped: boolean;
  readonly assumed: readonly string[];
}

const SHARES = [0.1, 0.5, 0.8, 0.9, 0.95];
const POINTS = 60;
/** Schedules bred for each way: few ways, so longer than for the many trials of what to change. */
const SCHEDULES = 1000;
const PARTS = "parts";
const MENDING = "mending";

/** The network of a way: what is done to mend waits for the parts, of a swap the whole way back. */
const replayOf = ({ crew, schedule }: Reckoned, asked: WayAsked, luck: Reckoning, isPlanned: boolean): Replay => {
  const { steps } = crew;
  const own = [...steps.values()].filter(({ phase }) => phase === "work");
  const longest = own.toSorted((a, b) => b.says.minutes - a.says.minutes)[0];
  const back = [...steps.values()].filter(({ phase }) => phase === "back");
  const out = [...steps.values()].filter(({ phase }) => phase === "out");
  const timed = (time: Lognormal): Activity["time"] => (isPlanned ? { minutes: medianOf(time) } : time);
  const network = finishNetwork(crew, schedule, (id, minutes) => {
    if (asked.mend !== undefined && id === longest?.id)
      return isPlanned ? { minutes: medianOf(asked.mend) } : asked.mend;
    return isPlanned ? { minutes } : timeIn(crew, luck, id, minutes);
  });
  const waiting = new Set((asked.way === "swap" || own.length === 0 ? [...own, ...back] : own).map(({ id }) => id));
  const mends = asked.mend !== undefined && longest === undefined;
  const parts: readonly Activity[] =
    asked.lead === undefined ? [] : [{ id: PARTS, time: timed(asked.lead), after: [], alone: true }];
  const mending: readonly Activity[] =
    asked.mend === undefined || !mends
      ? []
      : [
          {
            id: MENDING,
            time: timed(asked.mend),
            after: [...out.map(({ id }) => id), ...parts.map(({ id }) => id)].map((id) => ({ id, lag: 0 })),
          },
        ];
  const held = [...parts, ...mending].map(({ id }) => ({ id, lag: 0 }));
  const activities = network.activities.map((one) =>
    waiting.has(one.id) ? { ...one, after: [...one.after, ...held] } : one,
  );
  return new Replay({ activities: [...parts, ...mending, ...activities] }, isPlanned ? { ...luck, runs: 1 } : luck);
};

const curveOf = (sorted: Float64Array): readonly (readonly [number, number])[] => {
  const [from, to] = [percentile(sorted, 0.001).value, percentile(sorted, 0.999).value];
  return Array.from({ length: POINTS + 1 }, (_, index) => {
    const minutes = from + ((to - from) * index) / POINTS;
    return [minutes, chanceOf(sorted, minutes).value] as const;
  });
};

interface Run {
  readonly labour: number;
  readonly planned: number;
  readonly finishes: Float64Array;
}

/** The ways side by side; stopped, those that there are. */
export const compareWays = (vehicle: Vehicle, asked: WaysAsked): Ways => {
  const luck: Reckoning = { ...asked, schedules: SCHEDULES };
  const stopped = () => asked.stop?.() === true;
  const runs = new Map<WayAsked, Run>();
  const lacking = new Set<WayAsked>();
  asked.ways.forEach((way, index) => {
    if (stopped()) return;
    asked.onProgress?.(index + 1, asked.ways.length);
    const { question, result } = release(vehicle, way.job, asked.crew.people.length, luck);
    const done = result.plan === undefined ? undefined : carryOut(question, result.plan, asked.crew, luck);
    if (done === undefined) {
      if (!stopped()) lacking.add(way);
      return;
    }
    runs.set(way, {
      labour: done.labour,
      planned: replayOf(done, way, luck, true).finishes()[0] ?? 0,
      finishes: replayOf(done, way, luck, false).finishes(),
    });
  });
  const all = [...runs.values()];
  const best = Float64Array.from({ length: asked.runs }, (_, run) =>
    Math.min(...all.map(({ finishes }) => finishes[run] ?? Number.POSITIVE_INFINITY)),
  );
  const tied = best.map((first, run) => all.filter(({ finishes }) => finishes[run] === first).length);
  const compared = (way: WayAsked): WayCompared => {
    const label = vehicle.jobs.find(({ id }) => id === way.job)?.label ?? way.job;
    const { lead } = way;
    const head = {
      way: way.way,
      job: way.job,
      label,
      ...(lead === undefined ? {} : { lead: { p50: medianOf(lead), p95: percentileOf(lead, 0.95) } }),
    };
    const run = runs.get(way);
    if (run === undefined) return { ...head, status: lacking.has(way) ? "no plan" : "not reckoned" };
    const sorted = run.finishes.slice().sort();
    const first =
      run.finishes.reduce((sum, one, index) => sum + (one === best[index] ? 1 / (tied[index] ?? 1) : 0), 0) /
      asked.runs;
    return {
      ...head,
      status: "reckoned",
      labour: run.labour + ownLabour(vehicle, way),
      planned: run.planned,
      mean: run.finishes.reduce((sum, one) => sum + one, 0) / asked.runs,
      percentiles: SHARES.map((share) => ({ share, ...percentile(sorted, share) })),
      ...(asked.by === undefined ? {} : { by: chanceOf(sorted, asked.by) }),
      first: { value: first, error: Math.sqrt((first * (1 - first)) / asked.runs) },
      behind: run.finishes.reduce((sum, one, index) => sum + one - (best[index] ?? one), 0) / asked.runs,
      curve: curveOf(sorted),
    };
  };
  const dry = asked.ways.filter(({ lead }) => lead === undefined);
  return {
    format: "unmoor/ways/1",
    vehicle: vehicle.name,
    ...(vehicle.note === undefined ? {} : { note: vehicle.note }),
    people: asked.crew.people.length,
    runs: asked.runs,
    ...(asked.by === undefined ? {} : { by: asked.by }),
    ways: asked.ways.map(compared),
    stopped: stopped(),
    assumed: [
      "Work begins at once; what mends waits for its parts, a swap's whole way back for the ready assembly.",
      ...(dry.length === 0
        ? []
        : [`No lead time was given for ${dry.map(({ way }) => way).join(" and ")}: what is wanted lies on the shelf.`]),
      "The same luck for all ways: a step that two of them make takes as long in both. Steps keep the order of their plan; parts come when they come, whatever the shop's day is like.",
    ],
  };
};

/** Person-minutes of the job's own work, the repair as given in place of its longest; the labour of what must come off has none of it. */
const ownLabour = ({ jobs }: Vehicle, { job, mend }: WayAsked): number => {
  const work = jobs.find(({ id }) => id === job)?.work.toSorted((a, b) => b.time - a.time) ?? [];
  const [longest, ...others] = work;
  const given = mend === undefined ? undefined : meanOf(mend);
  return (
    (longest?.people ?? 1) * (given ?? longest?.time ?? 0) +
    others.reduce((sum, { people, time }) => sum + people * time, 0)
  );
};

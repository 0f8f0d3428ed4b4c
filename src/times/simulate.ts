// Owns the simulation of a finish: the plan run many times with chance's times, each activity beginning when all it waits for is over; what comes of it as plain figures.
//
// Runs go in blocks through the whole network, activity by activity, so that all is read in the order it lies in memory. Each activity has a stream of chance
// of its own by its id: a plan that differs elsewhere meets the same luck here (common random numbers; Law, Simulation Modeling and Analysis, ch. 11; from memory).

import { soonAfter, TIE } from "./again.ts";
import { meanOf } from "./lognormal.ts";
import { type Activity, type Network, onCalendar, order } from "./network.ts";
import { below } from "./normal.ts";
import { fillNormal, type Uniform, uniformOf } from "./random.ts";

export interface Luck {
  readonly runs: number;
  readonly seed: number;
  /** Spread of the logarithm of what all activities of a run have in common: a good day or a bad one. 0: they have nothing in common. */
  readonly common: number;
  /** These take their mean for certain. */
  readonly certain?: ReadonlySet<string>;
  /** Asked after each block; true ends it with the runs that there are. */
  readonly stop?: () => boolean;
}

export interface Simulated {
  readonly runs: number;
  /** Of each run, minutes, in the order of the runs: for differences between plans run by run. */
  readonly finishes: Float64Array;
  readonly activities: readonly {
    readonly id: string;
    /** Share of runs in which it lies on a longest path; ties count for every path. */
    readonly criticality: number;
    /** Of its time with the finish; 0 where either never differs. */
    readonly correlation: number;
    /** Mean of its time, minutes. */
    readonly minutes: number;
    /** Share of runs in which it would have followed something too late, and that was done again first. */
    readonly late: number;
  }[];
}

/** Runs that go through the network together. */
export const BLOCK = 1024;

/** Of the good or bad day that all activities of a run share. */
export const dayStreamOf = (seed: number): Uniform => uniformOf("the day", seed ^ 0x5bd1e995);

/** Fills `into` with the minutes of one activity. `days`: the factor of each run's day. */
export const fillTimes = (
  into: Float64Array,
  { time, alone = false }: Activity,
  normals: Float64Array,
  days: Float64Array,
  isCertain: boolean,
): void => {
  const touched = !alone && !("minutes" in time);
  if ("minutes" in time) into.fill(time.minutes);
  else if ("quantile" in time) for (let r = 0; r < into.length; r++) into[r] = time.quantile(below(normals[r] ?? 0));
  else if (isCertain) into.fill(meanOf(time));
  else {
    const { centre, spread } = time;
    for (let r = 0; r < into.length; r++) into[r] = Math.exp(centre + spread * (normals[r] ?? 0));
  }
  if (touched) for (let r = 0; r < into.length; r++) into[r] = (into[r] ?? 0) * (days[r] ?? 1);
};

/** Runs the plan. Criticality and correlation come with it. */
export const simulate = (network: Network, luck: Luck): Simulated => {
  const ordered = order(network);
  const { activities, waits, soon } = ordered;
  const count = activities.length;
  const streams = activities.map(({ id }) => uniformOf(id, luck.seed));
  const dayStream = dayStreamOf(luck.seed);
  const finishes = new Float64Array(luck.runs);
  const critical = new Float64Array(count);
  const late = new Float64Array(count);
  const sums = { time: new Float64Array(count), square: new Float64Array(count), cross: new Float64Array(count) };
  const readies = activities.map(() => new Float64Array(BLOCK));
  const ends = activities.map(() => new Float64Array(BLOCK));
  const onPath = activities.map(() => new Uint8Array(BLOCK));
  const [normals, times, days] = [new Float64Array(BLOCK), new Float64Array(BLOCK), new Float64Array(BLOCK)];
  let base = 0;
  let done = 0;
  while (done < luck.runs && !(done > 0 && luck.stop?.() === true)) {
    const size = Math.min(BLOCK, luck.runs - done);
    const last = finishes.subarray(done, done + size);
    fillNormal(days, dayStream);
    for (let r = 0; r < BLOCK; r++) days[r] = Math.exp(luck.common * (days[r] ?? 0));
    const drawn: Float64Array[] = [];
    for (let i = 0; i < count; i++) {
      const activity = activities[i] as Activity;
      const [ready, end] = [readies[i] as Float64Array, ends[i] as Float64Array];
      // A stream is drawn from whether its numbers are wanted or not: the luck of later blocks must not depend on it.
      if (!("minutes" in activity.time)) fillNormal(normals, streams[i] ?? dayStream);
      fillTimes(times, activity, normals, days, luck.certain?.has(activity.id) === true);
      ready.fill(activity.notBefore ?? 0);
      for (const [place, lag] of waits[i] ?? []) {
        const other = ends[place] as Float64Array;
        for (let r = 0; r < size; r++) {
          const reached = (other[r] ?? 0) + lag;
          if (reached > (ready[r] ?? 0)) ready[r] = reached;
        }
      }
      drawn.push(times.slice(0, size));
      if ((soon[i] ?? []).length > 0)
        for (let r = 0; r < size; r++) {
          const endOf = (place: number): number => ends[place]?.[r] ?? 0;
          const minutesOf = (place: number): number => drawn[place]?.[r] ?? 0;
          const { end: over, again } = soonAfter(ordered, i, ready[r] ?? 0, { endOf, minutesOf });
          if (again > 0) late[i] = (late[i] ?? 0) + 1;
          end[r] = over;
        }
      else if (activity.calendar === undefined)
        for (let r = 0; r < size; r++) end[r] = (ready[r] ?? 0) + (times[r] ?? 0);
      else for (let r = 0; r < size; r++) end[r] = onCalendar(activity.calendar, ready[r] ?? 0, times[r] ?? 0).end;
      for (let r = 0; r < size; r++) if ((end[r] ?? 0) > (last[r] ?? 0)) last[r] = end[r] ?? 0;
    }
    // Sums are taken about the first finish: far from 0 the squares would swallow the differences.
    if (done === 0) base = last[0] ?? 0;
    for (let i = count - 1; i >= 0; i--) {
      const [ready, end, path, minutes] = [readies[i], ends[i], onPath[i], drawn[i]];
      if (ready === undefined || end === undefined || path === undefined || minutes === undefined) continue;
      let [on, sum, square, cross] = [0, 0, 0, 0];
      for (let r = 0; r < size; r++) {
        const [time, finish] = [minutes[r] ?? 0, last[r] ?? 0];
        if (path[r] === 0 && finish - (end[r] ?? 0) <= TIE) path[r] = 1;
        on += path[r] ?? 0;
        sum += time;
        square += time * time;
        cross += time * (finish - base);
      }
      critical[i] = (critical[i] ?? 0) + on;
      sums.time[i] = (sums.time[i] ?? 0) + sum;
      sums.square[i] = (sums.square[i] ?? 0) + square;
      sums.cross[i] = (sums.cross[i] ?? 0) + cross;
      for (const [place, lag] of waits[i] ?? []) {
        const [other, otherPath] = [ends[place] as Float64Array, onPath[place] as Uint8Array];
        for (let r = 0; r < size; r++)
          if (path[r] === 1 && (ready[r] ?? 0) - (other[r] ?? 0) - lag <= TIE) otherPath[r] = 1;
      }
      path.fill(0);
    }
    done += size;
  }
  const counted = finishes.subarray(0, done);
  const mean = counted.reduce((sum, one) => sum + one - base, 0) / done;
  const variance = counted.reduce((sum, one) => sum + (one - base - mean) ** 2, 0) / done;
  return {
    runs: done,
    finishes: counted,
    activities: activities.map(({ id }, i) => {
      const own = (sums.time[i] ?? 0) / done;
      const spread = (sums.square[i] ?? 0) / done - own * own;
      const shared = (sums.cross[i] ?? 0) / done - own * mean;
      const scale = Math.sqrt(spread * variance);
      return {
        id,
        criticality: (critical[i] ?? 0) / done,
        correlation: spread > 1e-9 * own * own && scale > 0 ? shared / scale : 0,
        minutes: own,
        late: (late[i] ?? 0) / done,
      };
    }),
  };
};

// Owns the same luck for many variants of one network: times are drawn once, and each variant, some times shorter or longer by a factor, is run through with them.
//
// A lognormal with its median moved keeps its spread, so its times are those drawn times the factor, and differences between variants are free of the chance
// that two simulations would have (common random numbers).

import { type Activity, type Network, type Ordered, onCalendar, order } from "./network.ts";
import { fillNormal, uniformOf } from "./random.ts";
import { BLOCK, dayStreamOf, fillTimes, type Luck } from "./simulate.ts";

export class Replay {
  readonly runs: number;
  private readonly ordered: Ordered;
  private readonly times: readonly Float64Array[];
  private readonly ends: readonly Float64Array[];

  constructor(network: Network, { runs, seed, common }: Pick<Luck, "runs" | "seed" | "common">) {
    this.runs = runs;
    this.ordered = order(network);
    // Whole blocks, as `simulate` draws them: the same seed gives the same finishes.
    const whole = Math.ceil(runs / BLOCK) * BLOCK;
    const [days, normals] = [new Float64Array(whole), new Float64Array(whole)];
    fillNormal(days, dayStreamOf(seed));
    for (let r = 0; r < whole; r++) days[r] = Math.exp(common * (days[r] ?? 0));
    this.times = this.ordered.activities.map((activity) => {
      const times = new Float64Array(whole);
      if (!("minutes" in activity.time)) fillNormal(normals, uniformOf(activity.id, seed));
      fillTimes(times, activity, normals, days, false);
      return times.subarray(0, runs);
    });
    this.ends = this.ordered.activities.map(() => new Float64Array(runs));
  }

  /** Of each run its end, minutes; `factors` by id of the activity, 1 where it has none. */
  finishes(factors: ReadonlyMap<string, number> = new Map()): Float64Array {
    const { runs, ends } = this;
    const last = new Float64Array(runs);
    this.ordered.activities.forEach((activity, i) => {
      const [end, times] = [ends[i] as Float64Array, this.times[i] as Float64Array];
      const factor = factors.get(activity.id) ?? 1;
      end.fill(activity.notBefore ?? 0);
      for (const [place, lag] of this.ordered.waits[i] ?? []) {
        const other = ends[place] as Float64Array;
        for (let r = 0; r < runs; r++) {
          const reached = (other[r] ?? 0) + lag;
          if (reached > (end[r] ?? 0)) end[r] = reached;
        }
      }
      this.work(activity, end, times, factor);
      for (let r = 0; r < runs; r++) if ((end[r] ?? 0) > (last[r] ?? 0)) last[r] = end[r] ?? 0;
    });
    return last;
  }

  /** Makes of when it can begin when it ends. */
  private work({ calendar }: Activity, at: Float64Array, times: Float64Array, factor: number): void {
    if (calendar === undefined) for (let r = 0; r < at.length; r++) at[r] = (at[r] ?? 0) + factor * (times[r] ?? 0);
    else for (let r = 0; r < at.length; r++) at[r] = onCalendar(calendar, at[r] ?? 0, factor * (times[r] ?? 0)).end;
  }
}

// Owns the same luck for many variants of one network: times are drawn once, and each variant, some times shorter or longer by a factor, is run through with them.
//
// A lognormal with its median moved keeps its spread, so its times are those drawn times the factor, and differences between variants are free of the chance
// that two simulations would have (common random numbers).

import { soonAfter } from "./again.ts";
import { type Activity, type Network, type Ordered, onCalendar, order } from "./network.ts";
import { fillNormal, uniformOf } from "./random.ts";
import { BLOCK, dayStreamOf, fillTimes, type Luck } from "./simulate.ts";

export class Replay {
  readonly runs: number;
  private readonly ordered: Ordered;
  private readonly times: readonly Float64Array[];
  /** 1 for what may end last: whatever something waits for is over when that begins. */
  private readonly isLast: Uint8Array;
  /** Ends of the network as it is, and of a variant where they differ. */
  private readonly own: readonly Float64Array[];
  private readonly spare: readonly Float64Array[];

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
    this.isLast = new Uint8Array(this.ordered.activities.length).fill(1);
    for (const waits of this.ordered.waits) for (const [place, lag] of waits) if (lag >= 0) this.isLast[place] = 0;
    const ends: Float64Array[] = [];
    this.ordered.activities.forEach((activity, i) => {
      ends.push(this.end(activity, i, new Map(), ends, new Float64Array(runs)));
    });
    this.own = ends;
    this.spare = ends.map(() => new Float64Array(runs));
  }

  /** Of each run its end, minutes; `factors` by id of the activity, 1 where it has none. */
  finishes(factors: ReadonlyMap<string, number> = new Map()): Float64Array {
    const { runs, ordered, own, spare } = this;
    const last = new Float64Array(runs);
    const ends: Float64Array[] = [];
    ordered.activities.forEach((activity, i) => {
      const factor = factors.get(activity.id) ?? 1;
      const before = [...(ordered.waits[i] ?? []), ...(ordered.soon[i] ?? [])];
      // What neither changes nor waits for a change ends as it does in the network as it is.
      const known = factor === 1 && before.every(([place]) => ends[place] === own[place]) ? own[i] : undefined;
      const end = known ?? this.end(activity, i, factors, ends, spare[i] as Float64Array);
      ends.push(end);
      if (this.isLast[i] === 1)
        for (let r = 0; r < runs; r++) if ((end[r] as number) > (last[r] as number)) last[r] = end[r] as number;
    });
    return last;
  }

  private end(
    { id, calendar, notBefore = 0 }: Activity,
    i: number,
    factors: ReadonlyMap<string, number>,
    ends: readonly Float64Array[],
    into: Float64Array,
  ): Float64Array {
    const times = this.times[i] as Float64Array;
    const factor = factors.get(id) ?? 1;
    into.fill(notBefore);
    for (const [place, lag] of this.ordered.waits[i] ?? []) {
      const other = ends[place] as Float64Array;
      for (let r = 0; r < into.length; r++) {
        const reached = (other[r] as number) + lag;
        if (reached > (into[r] as number)) into[r] = reached;
      }
    }
    if ((this.ordered.soon[i] ?? []).length > 0)
      for (let r = 0; r < into.length; r++) {
        const endOf = (place: number): number => ends[place]?.[r] ?? 0;
        const minutesOf = (place: number): number =>
          (factors.get(this.ordered.activities[place]?.id ?? "") ?? 1) * (this.times[place]?.[r] ?? 0);
        into[r] = soonAfter(this.ordered, i, into[r] as number, { endOf, minutesOf }).end;
      }
    else if (calendar === undefined)
      for (let r = 0; r < into.length; r++) into[r] = (into[r] as number) + factor * (times[r] as number);
    else
      for (let r = 0; r < into.length; r++)
        into[r] = onCalendar(calendar, into[r] as number, factor * (times[r] as number)).end;
    return into;
  }
}

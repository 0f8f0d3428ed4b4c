// Owns the checking of a proof by clauses with means of its own: each learnt clause must follow from the project and the clauses before it, or the proof is none.
//
// Reverse propagation, as proofs of satisfiability solvers are checked (E. Goldberg, Y. Novikov, DATE 2003): the clause is denied, and plain propagation must come to a contradiction. Nothing is shared with what
// made the clause: arcs, compulsory parts tick by tick, work against room in every spell there is. Slow, and meant to be seen through.

/** An activity takes `ticks` and of each resource so many; the orders are pairs of which one comes before the other. */
export interface Project {
  readonly ticks: readonly number[];
  /** By activity: of each resource. */
  readonly needs: readonly (readonly number[])[];
  readonly capacity: readonly number[];
  /** [before, after]. */
  readonly arcs: readonly (readonly [number, number])[];
  /** [one, other]: the variable is 1 when the one ends before the other begins, and 0 the other way. */
  readonly orders: readonly (readonly [number, number])[];
}

/** Variables are the starts, then the makespan, then the orders. A literal [side, value] says: variable side / 2 is at least the value (even), or at most minus the value (odd). */
export class Replay {
  private readonly project: Project;
  private readonly end: number;
  private readonly rootLow: Int32Array;
  private readonly rootHigh: Int32Array;
  private readonly low: Int32Array;
  private readonly high: Int32Array;
  private readonly clauses: Int32Array[] = [];
  private readonly profile: Int32Array;
  private moved = false;

  /** Of schedules with a makespan of at most `horizon`. */
  constructor(project: Project, horizon: number) {
    this.project = project;
    this.end = project.ticks.length;
    for (const [one, other] of project.orders)
      if (
        !project.capacity.some(
          (room, lane) => (project.needs[one]?.[lane] ?? 0) + (project.needs[other]?.[lane] ?? 0) > room,
        )
      )
        throw new Error(`activities ${one} and ${other} have room together`);
    const variables = this.end + 1 + project.orders.length;
    this.low = new Int32Array(variables);
    this.high = new Int32Array(variables).fill(1);
    this.high.fill(horizon, 0, this.end + 1);
    this.profile = new Int32Array(horizon + 1);
    this.propagate();
    this.rootLow = this.low.slice();
    this.rootHigh = this.high.slice();
  }

  /** Whether the clause follows; then it counts for those after it. */
  learn(clause: Int32Array): boolean {
    if (!this.follows(clause)) return false;
    if (clause.length > 2) this.clauses.push(clause);
    else {
      this.begin();
      this.assume(clause[0]!, clause[1]!);
      this.propagate();
      this.rootLow.set(this.low);
      this.rootHigh.set(this.high);
    }
    return true;
  }

  /** Whether no schedule has a makespan below. */
  bounds(makespan: number): boolean {
    return this.follows(Int32Array.of(this.end * 2, makespan));
  }

  private follows(clause: Int32Array): boolean {
    this.begin();
    for (let at = 0; at < clause.length; at += 2) this.assume(clause[at]! ^ 1, 1 - clause[at + 1]!);
    return !this.propagate();
  }

  private begin(): void {
    this.low.set(this.rootLow);
    this.high.set(this.rootHigh);
  }

  private assume(side: number, value: number): void {
    const variable = side >> 1;
    if ((side & 1) === 0) this.atLeast(variable, value);
    else this.atMost(variable, -value);
  }

  private atLeast(variable: number, value: number): void {
    if (value <= this.low[variable]!) return;
    this.low[variable] = value;
    this.moved = true;
  }

  private atMost(variable: number, value: number): void {
    if (value >= this.high[variable]!) return;
    this.high[variable] = value;
    this.moved = true;
  }

  /** False: a contradiction. */
  private propagate(): boolean {
    for (this.moved = true; this.moved; ) {
      this.moved = false;
      this.alongArcs();
      if (this.empty()) return false;
      if (!this.moved && !this.compulsory()) return false;
      if (!this.moved) this.units();
      if (this.empty()) return false;
    }
    return this.project.capacity.every((_, lane) => this.enough(lane));
  }

  private empty(): boolean {
    return this.low.some((low, variable) => low > this.high[variable]!);
  }

  private after(one: number, other: number): void {
    const ticks = this.project.ticks[one]!;
    this.atLeast(other, this.low[one]! + ticks);
    this.atMost(one, this.high[other]! - ticks);
  }

  private alongArcs(): void {
    const { ticks, arcs, orders } = this.project;
    for (let item = 0; item < ticks.length; item += 1) this.after(item, this.end);
    for (const [one, other] of arcs) this.after(one, other);
    for (const [place, [one, other]] of orders.entries()) {
      const order = this.end + 1 + place;
      if (this.low[one]! + ticks[one]! > this.high[other]!) this.atMost(order, 0);
      if (this.low[other]! + ticks[other]! > this.high[one]!) this.atLeast(order, 1);
      if (this.low[order] === 1) this.after(one, other);
      if (this.high[order] === 0) this.after(other, one);
    }
  }

  /** What lies in a tick wherever it begins takes its share there; what then has no room must begin earlier or later. */
  private compulsory(): boolean {
    const { low, high, profile } = this;
    const { ticks, needs, capacity } = this.project;
    for (const [lane, room] of capacity.entries()) {
      profile.fill(0);
      for (let item = 0; item < ticks.length; item += 1)
        for (let tick = high[item]!; tick < low[item]! + ticks[item]!; tick += 1)
          profile[tick] = profile[tick]! + needs[item]![lane]!;
      if (profile.some((taken) => taken > room)) return false;
      for (let item = 0; item < ticks.length; item += 1) {
        const need = needs[item]![lane]!;
        const most = room - need;
        if (need === 0) continue;
        const own = (tick: number): number => (tick >= high[item]! && tick < low[item]! + ticks[item]! ? need : 0);
        const [from, until] = [low[item]!, high[item]!];
        let [early, late] = [from, until];
        for (let tick = from; tick < Math.min(early + ticks[item]!, profile.length); tick += 1)
          if (profile[tick]! - own(tick) > most) early = tick + 1;
        for (let tick = until + ticks[item]! - 1; tick >= Math.max(late, 0); tick -= 1)
          if (tick < profile.length && profile[tick]! - own(tick) > most) late = tick - ticks[item]!;
        this.atLeast(item, early);
        this.atMost(item, late);
        // Compulsory parts as they were are still right, only less than there are now.
        if (low[item]! > high[item]!) return false;
      }
    }
    return true;
  }

  /** Clauses of which all literals but one are false. */
  private units(): void {
    const { low, high } = this;
    for (const clause of this.clauses) {
      let open = -1;
      let many = false;
      for (let at = 0; at < clause.length; at += 2) {
        const [variable, odd, value] = [clause[at]! >> 1, clause[at]! & 1, clause[at + 1]!];
        if (odd === 0 ? high[variable]! < value : low[variable]! > -value) continue;
        many = open >= 0 || (odd === 0 ? low[variable]! >= value : high[variable]! <= -value);
        if (many) break;
        open = at;
      }
      if (many) continue;
      // With none left the first one does for the contradiction.
      const at = Math.max(0, open);
      this.assume(clause[at]!, clause[at + 1]!);
    }
  }

  /** In no spell may the activities have to do more than there is room for. */
  private enough(lane: number): boolean {
    const { low, high } = this;
    const { ticks, needs, capacity } = this.project;
    const items = [...ticks.keys()].filter((item) => needs[item]![lane]! > 0 && ticks[item]! > 0);
    const last = Math.max(0, ...items.map((item) => high[item]! + ticks[item]!));
    for (let from = 0; from < last; from += 1)
      for (let until = from + 1; until <= last; until += 1) {
        let work = 0;
        for (const item of items) {
          const length = ticks[item]!;
          const there = Math.min(length, until - from, low[item]! + length - from, until - high[item]!);
          if (there > 0) work += there * needs[item]![lane]!;
        }
        if (work > capacity[lane]! * (until - from)) return false;
      }
    return true;
  }
}

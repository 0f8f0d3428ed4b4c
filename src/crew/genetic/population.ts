// Owns the schedules that live: start vectors side by side, each with its makespan and its secondary figure, all different.

import type { Chance } from "./chance.ts";

export class Population {
  readonly size: number;
  count = 0;
  /** Individual × item, row by individual. */
  readonly starts: Int32Array;
  readonly makespans: Int32Array;
  readonly secondaries: Float64Array;

  constructor(size: number, most: number) {
    this.size = size;
    this.starts = new Int32Array(size * most);
    this.makespans = new Int32Array(most);
    this.secondaries = new Float64Array(most);
  }

  get most(): number {
    return this.makespans.length;
  }

  /** Whether an individual is worse than these figures. */
  isWorse(one: number, makespan: number, secondary: number): boolean {
    const own = this.makespans[one]!;
    return own > makespan || (own === makespan && this.secondaries[one]! > secondary);
  }

  /** The better of two. */
  better(one: number, two: number): number {
    return this.isWorse(one, this.makespans[two]!, this.secondaries[two]!) ? two : one;
  }

  /** The one that is not the better of two. */
  worse(one: number, two: number): number {
    return this.better(one, two) === one ? two : one;
  }

  /** The better of two drawn. */
  draw(chance: Chance): number {
    return this.better(chance.whole(this.count), chance.whole(this.count));
  }

  has(makespan: number, secondary: number): boolean {
    const { makespans, secondaries, count } = this;
    for (let one = 0; one < count; one += 1)
      if (makespans[one] === makespan && secondaries[one] === secondary) return true;
    return false;
  }

  /** Puts a schedule in the place of an individual, or in the first free one. */
  put(place: number, starts: Int32Array, makespan: number, secondary: number): void {
    if (place === this.count) this.count += 1;
    this.starts.set(starts, place * this.size);
    this.makespans[place] = makespan;
    this.secondaries[place] = secondary;
  }

  /** Lets the worst go until so many are left. */
  shrink(count: number): void {
    while (this.count > count) {
      let worst = 0;
      for (let one = 1; one < this.count; one += 1) worst = this.worse(worst, one);
      this.count -= 1;
      const last = this.count;
      if (worst === last) continue;
      this.starts.copyWithin(worst * this.size, last * this.size, (last + 1) * this.size);
      this.makespans[worst] = this.makespans[last]!;
      this.secondaries[worst] = this.secondaries[last]!;
    }
  }
}

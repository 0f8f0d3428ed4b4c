// Owns what each value of each variable costs at least, kept from one asking to the next: clauses that are added make nothing cheaper.

/** Variables with a given value. */
export type Fixed = readonly (readonly [variable: number, value: number])[];

/** Costs are whole numbers of a unit: less than this below a cost is no other cost. */
const GRAIN = 1e-3;

export class Floors {
  /** Variable → no assignment within the limits with it false (true) costs less. */
  private readonly low: number[] = [];
  private readonly high: number[] = [];

  get isKnown(): boolean {
    return this.low.length > 0;
  }

  raise(v: number, low: number, high: number): void {
    this.low[v] = Math.max(this.low[v] ?? 0, low);
    this.high[v] = Math.max(this.high[v] ?? 0, high);
  }

  /** The values whose opposites cost a ceiling or more. */
  fixed(variables: ArrayLike<number>, ceiling: number): Fixed {
    const fixed: [number, number][] = [];
    for (let i = 0; i < variables.length; i++) {
      const v = variables[i] as number;
      if ((this.low[v] ?? 0) >= ceiling - GRAIN) fixed.push([v, 1]);
      if ((this.high[v] ?? 0) >= ceiling - GRAIN) fixed.push([v, 0]);
    }
    return fixed;
  }

  /** The whole cost under which no more than a share of the variables stay open. */
  ceiling(variables: ArrayLike<number>, share: number): number {
    const floors = Float64Array.from(variables, (v) => Math.max(this.low[v] ?? 0, this.high[v] ?? 0)).sort();
    return Math.floor((floors[Math.floor(share * floors.length)] ?? 0) + GRAIN);
  }
}

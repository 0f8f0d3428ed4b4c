// Owns the weighted clauses: 0/1 variables that cost something when true, clauses over them, and masses under a limit.
// It knows nothing of vehicles. `minimise` (elimination.ts, search.ts) finds its cheapest assignment.

import { Floors } from "./floors.ts";

/** A literal: variable × 2 when it must be true, variable × 2 + 1 when it must be false. */
export type Literal = number;

export const yes = (variable: number): Literal => variable << 1;
const no = (variable: number): Literal => (variable << 1) | 1;

/** A sum of masses of true variables that may not exceed a limit. */
export interface Row {
  readonly limit: number;
  readonly variables: readonly number[];
  readonly masses: readonly number[];
  /** The price of a kilogram that the last search ended with: the next one looks there first. */
  price?: number;
}

/** The longest clause that is kept whole; longer ones are cut into a chain, so that a table over one stays small. */
const WIDEST = 4;

export class Network {
  readonly cost: number[] = [];
  /** All clauses end to end; clause i is literals[starts[i]] … literals[starts[i + 1] − 1]. */
  readonly literals: number[] = [];
  readonly starts: number[] = [0];
  readonly rows: Row[] = [];
  readonly floors = new Floors();

  variable(cost = 0): number {
    return this.cost.push(cost) - 1;
  }

  /** At least one of the literals holds. A clause longer than a table should be wide is chained through new variables. */
  clause(literals: readonly Literal[]): void {
    let rest = literals;
    while (rest.length > WIDEST) {
      const link = this.variable();
      for (let k = 0; k < WIDEST - 1; k++) this.literals.push(rest[k] as number);
      this.literals.push(yes(link));
      this.starts.push(this.literals.length);
      rest = [no(link), ...rest.slice(WIDEST - 1)];
    }
    for (const literal of rest) this.literals.push(literal);
    this.starts.push(this.literals.length);
  }
}

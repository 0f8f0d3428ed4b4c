// Owns clauses over what may be known beforehand: truths drop out, and a formula becomes a literal that implies it.

import type { Formula } from "./compile.ts";
import { type Literal, type Network, yes } from "./network.ts";

/** A literal, or a truth known beforehand. */
export type Known = Literal | boolean;

export const not = (literal: Known): Known => (typeof literal === "boolean" ? !literal : literal ^ 1);

/** What the atoms of a formula have become. */
export type Atoms = (atom: number) => Known;

export class Clauses {
  readonly network: Network;
  readonly atom: Atoms;

  constructor(network: Network, atom: Atoms) {
    this.network = network;
    this.atom = atom;
  }

  /** A new literal, free of cost. */
  literal(): Literal {
    return yes(this.network.variable());
  }

  /** At least one of them. */
  clause(literals: readonly Known[]): void {
    const open: Literal[] = [];
    for (const x of literals) {
      if (x === true) return;
      if (x !== false) open.push(x);
    }
    this.network.clause(open);
  }

  /** A literal that implies the formula. */
  literalOf(f: Formula, of: Atoms = this.atom): Known {
    if (typeof f === "number") return of(f);
    const parts = f.of.map((g) => this.literalOf(g, of));
    const open = parts.filter((x): x is number => typeof x === "number");
    if (parts.some((x) => x === f.any)) return f.any;
    if (open.length === 0) return !f.any;
    if (open.length === 1) return open[0] as number;
    const whole = this.literal();
    if (f.any) this.network.clause([whole ^ 1, ...open]);
    else for (const x of open) this.network.clause([whole ^ 1, x]);
    return whole;
  }

  /** One of `unless`, or the formula. */
  require(unless: readonly Known[], f: Formula, of: Atoms = this.atom): void {
    if (typeof f !== "number" && !f.any) {
      for (const g of f.of) this.require(unless, g, of);
      return;
    }
    this.clause([...unless, ...(typeof f === "number" ? [of(f)] : f.of.map((g) => this.literalOf(g, of)))]);
  }
}

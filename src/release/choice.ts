// Owns a choice of steps without their order, and how it is read from an assignment of the clauses.

import type { Known } from "./clauses.ts";
import { type Compiled, sideAtom } from "./compile.ts";

export interface Choice {
  /** Step → chosen. */
  readonly steps: Uint8Array;
  /** Context → in force (the lift is made, the separation is asked for). */
  readonly active: readonly boolean[];
  /** Context → part → on the rising side. */
  readonly side: readonly Uint8Array[];
  /** Context → connections across it that are to be released before it. */
  readonly cut: readonly (readonly number[])[];
}

/** What a choice is read by: the variable of each step, and what each atom has become. */
interface Readable {
  readonly stepVariable: Int32Array;
  readonly atom: (atom: number) => Known;
}

/** Reads a choice of steps from an assignment. */
export function decode(c: Compiled, e: Readable, values: Uint8Array): Choice {
  const truth = (k: Known): boolean => (typeof k === "boolean" ? k : values[k >> 1] !== (k & 1));
  const steps = new Uint8Array(c.steps.length);
  for (let s = 0; s < steps.length; s++) {
    const v = e.stepVariable[s] as number;
    if (v >= 0 && values[v] === 1) steps[s] = 1;
  }
  const active: boolean[] = [];
  const side: Uint8Array[] = [];
  const cut: number[][] = [];
  c.contexts.forEach((context, x) => {
    const on =
      "lift" in context
        ? steps[c.wayCount + context.lift] === 1
        : truth(e.atom(c.connectionCount + c.taskCount + context.separation));
    active.push(on);
    const rising = new Uint8Array(c.partCount);
    const across: number[] = [];
    if (on) {
      for (let p = 0; p < c.partCount; p++) if (truth(e.atom(sideAtom(c, x, p)))) rising[p] = 1;
      for (let i = 0; i < c.connectionCount; i++) {
        const parts = c.joins[i] as readonly number[];
        if (c.released[i] === 0 && parts.some((p) => rising[p] !== rising[parts[0] as number])) across.push(i);
      }
    }
    side.push(rising);
    cut.push(across);
  });
  return { steps, active, side, cut };
}

// Owns a choice of steps without their order, and how it is read from an assignment of the clauses.

import type { Known } from "./clauses.ts";
import type { Compiled } from "./compile.ts";

export interface Choice {
  /** Step → chosen. */
  readonly steps: Uint8Array;
  /** Context → in force (the lift is made, the separation is asked for). */
  readonly active: readonly boolean[];
  /** Context → part → on the rising side. */
  readonly side: readonly Uint8Array[];
  /** Context → connections across it that are to be released before it. */
  readonly cut: readonly (readonly number[])[];
  /** Parts without a label through which the two sides of a separation are still tied. */
  readonly tied: readonly { readonly context: number; readonly parts: readonly number[] }[];
}

/** What a choice is read by: the variable of each step, and what each atom has become. */
interface Readable {
  readonly stepVariable: Int32Array;
  readonly atom: (atom: number) => Known;
  readonly side: (context: number, part: number) => Known | undefined;
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
  const tied: { context: number; parts: readonly number[] }[] = [];
  const released = c.released.slice();
  for (let w = 0; w < c.wayCount; w++) if (steps[w] === 1) released[c.connectionOf[w] as number] = 1;
  c.contexts.forEach((context, x) => {
    const on =
      "lift" in context
        ? steps[c.wayCount + context.lift] === 1
        : truth(e.atom(c.connectionCount + c.taskCount + context.separation));
    active.push(on);
    const rising = new Uint8Array(c.partCount);
    const across: number[] = [];
    if (on) {
      const labelled = new Uint8Array(c.partCount);
      for (let p = 0; p < c.partCount; p++) {
        const label = e.side(x, p);
        if (label === undefined) continue;
        labelled[p] = 1;
        if (truth(label)) rising[p] = 1;
      }
      if ("separation" in context)
        for (const parts of spread(c, released, labelled, rising)) tied.push({ context: x, parts });
      for (let i = 0; i < c.connectionCount; i++) {
        const parts = c.joins[i] as readonly number[];
        if (c.released[i] === 0 && parts.some((p) => rising[p] !== rising[parts[0] as number])) across.push(i);
      }
    }
    side.push(rising);
    cut.push(across);
  });
  return { steps, active, side, cut, tied };
}

/**
 * Parts without a label that unreleased ties join to the rising side rise too. Gives the chains of them that lead to a part labelled otherwise, none of
 * which shares a part with another.
 */
function spread(c: Compiled, released: Uint8Array, labelled: Uint8Array, rising: Uint8Array): number[][] {
  const chains: number[][] = [];
  const used = new Uint8Array(c.partCount);
  const from = new Int32Array(c.partCount).fill(-1);
  const queue = [...rising.keys()].filter((p) => rising[p] === 1);
  const vehicle = [...c.fixed.keys()].filter((p) => c.fixed[p] === 1);
  const chainTo = (end: number): void => {
    const chain: number[] = [];
    for (let p = end; labelled[p] === 0; p = from[p] as number) {
      if (used[p] === 1) return;
      chain.push(p);
    }
    for (const p of chain) used[p] = 1;
    chains.push(chain);
  };
  // A list iterates over what is added on the way.
  for (const p of queue) {
    const near = (c.tiesOf[p] as readonly number[]).flatMap((t) => (released[t] === 1 ? [] : (c.joins[t] as number[])));
    for (const q of c.fixed[p] === 1 ? [...near, ...vehicle] : near) {
      if (rising[q] === 1) continue;
      if (labelled[q] === 1) chainTo(p);
      else {
        rising[q] = 1;
        from[q] = p;
        queue.push(q);
      }
    }
  }
  return chains;
}

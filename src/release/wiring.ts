// Owns the needs as a circuit: which steps become ready when an atom comes true, in time linear in what is written.

import { type Compiled, type Formula, separationAtom } from "./compile.ts";

/** The formulas of all steps as gates. Built once for a question; each run copies `missing`. */
export interface Wiring {
  /** Gate → inputs still wanted: all of them, or one for `any`. */
  readonly missing: Int32Array;
  /** Gate → the gate it feeds, or −1 − step. */
  readonly feeds: Int32Array;
  /** Atom → gates that wait for it, as ranges of `waiting`. */
  readonly from: Int32Array;
  readonly waiting: Int32Array;
  /** Steps that need nothing. */
  readonly ready: readonly number[];
  /** Gates that are open from the start without an atom (an `all` of nothing inside an `any`). */
  readonly open: readonly number[];
}

export function wire(c: Compiled, atomCount: number): Wiring {
  const missing: number[] = [];
  const feeds: number[] = [];
  const atoms: number[] = [];
  const gates: number[] = [];
  const ready: number[] = [];
  const open: number[] = [];
  const lay = (f: Formula, into: number): void => {
    if (typeof f === "number") {
      atoms.push(f);
      gates.push(into);
      return;
    }
    const gate = missing.push(f.any ? 1 : f.of.length) - 1;
    feeds.push(into);
    if (!f.any && f.of.length === 0) open.push(gate);
    for (const part of f.of) lay(part, gate);
  };
  c.steps.forEach((step, s) => {
    // A step is fed by one gate, so that an atom alone is wrapped.
    const f = typeof step.needs === "number" ? { any: false, of: [step.needs] } : step.needs;
    if (!f.any && f.of.length === 0) ready.push(s);
    else lay(f, -1 - s);
  });
  const from = new Int32Array(atomCount + 1);
  for (const a of atoms) from[a + 1] = (from[a + 1] as number) + 1;
  for (let a = 0; a < atomCount; a++) from[a + 1] = (from[a + 1] as number) + (from[a] as number);
  const next = from.slice();
  const waiting = new Int32Array(atoms.length);
  atoms.forEach((a, i) => {
    waiting[next[a] as number] = gates[i] as number;
    next[a] = (next[a] as number) + 1;
  });
  return { missing: Int32Array.from(missing), feeds: Int32Array.from(feeds), from, waiting, ready, open };
}

/** One input of a gate has come true: passes on what that opens; calls `step` for each step whose needs hold now. */
function feed(w: Wiring, missing: Int32Array, gate: number, step: (s: number) => void): void {
  let at = gate;
  for (;;) {
    const left = (missing[at] as number) - 1;
    missing[at] = left;
    if (left !== 0) return;
    at = w.feeds[at] as number;
    if (at < 0) {
      step(-1 - at);
      return;
    }
  }
}

/** Opens the gates that want no atom, then reports the steps that are ready at once. */
export function start(w: Wiring, missing: Int32Array, step: (s: number) => void): void {
  for (const s of w.ready) step(s);
  for (const gate of w.open) {
    const into = w.feeds[gate] as number;
    if (into < 0) step(-1 - into);
    else feed(w, missing, into, step);
  }
}

/** The atom has come true. */
export function raise(w: Wiring, missing: Int32Array, atom: number, step: (s: number) => void): void {
  for (let i = w.from[atom] as number; i < (w.from[atom + 1] as number); i++)
    feed(w, missing, w.waiting[i] as number, step);
}

export function holds(f: Formula, atom: (a: number) => boolean): boolean {
  if (typeof f === "number") return atom(f);
  return f.any ? f.of.some((g) => holds(g, atom)) : f.of.every((g) => holds(g, atom));
}

/** Whether the formula mentions an atom that `which` accepts. */
export function mentions(f: Formula, which: (a: number) => boolean): boolean {
  return typeof f === "number" ? which(f) : f.of.some((g) => mentions(g, which));
}

/** The formula with some atoms set: true, false, or what is left of it. */
export function given(f: Formula, atom: (a: number) => boolean | undefined): Formula | boolean {
  if (typeof f === "number") return atom(f) ?? f;
  const left: Formula[] = [];
  for (const g of f.of) {
    const x = given(g, atom);
    if (x === f.any) return f.any;
    if (x !== !f.any) left.push(x as Formula);
  }
  if (left.length === 0) return !f.any;
  const only = left[0];
  return left.length === 1 && only !== undefined ? only : { any: f.any, of: left };
}

/** The steps that cannot be made unless a context's two sides are apart. */
export function usersOf(c: Compiled, w: Wiring, context: Compiled["contexts"][number]): number[] {
  if ("lift" in context) return [c.wayCount + context.lift];
  const atom = separationAtom(c, context.separation);
  const without = (a: number): false | undefined => (a === atom ? false : undefined);
  return askersOf(w, atom).filter((s) => given((c.steps[s] as { needs: Formula }).needs, without) === false);
}

/** The steps whose needs name an atom, in the order of their numbers. */
export function askersOf(w: Wiring, atom: number): number[] {
  const steps = new Set<number>();
  for (let i = w.from[atom] as number; i < (w.from[atom + 1] as number); i++)
    steps.add(stepOf(w, w.waiting[i] as number));
  return [...steps].sort((a, b) => a - b);
}

/** The step that a gate is part of the needs of. */
function stepOf(w: Wiring, gate: number): number {
  let at = gate;
  while (at >= 0) at = w.feeds[at] as number;
  return -1 - at;
}

/** Steps one of whose needs leads to one of these atoms, by whatever way. */
export function waitingFor(c: Compiled, w: Wiring, atoms: readonly number[]): Uint8Array {
  const waits = new Uint8Array(c.steps.length);
  const seen = new Set(atoms);
  const queue = [...atoms];
  for (const a of queue) {
    for (let i = w.from[a] as number; i < (w.from[a + 1] as number); i++) {
      const s = stepOf(w, w.waiting[i] as number);
      if (waits[s] === 1) continue;
      waits[s] = 1;
      const made = s < c.wayCount ? (c.connectionOf[s] as number) : c.connectionCount + s - c.wayCount;
      if (seen.has(made)) continue;
      seen.add(made);
      queue.push(made);
    }
  }
  return waits;
}

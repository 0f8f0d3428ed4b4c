// Owns which steps can be made at all, everything else that can be being made.

import { type Compiled, doneAtom, type Formula } from "./compile.ts";
import { raise, start, type Wiring } from "./wiring.ts";

/** Steps that can be made at all (carrying and `without` left aside) when some step is barred. */
export function reachable(c: Compiled, w: Wiring, barred: (step: number) => boolean): Uint8Array {
  const made = new Uint8Array(c.steps.length);
  const missing = w.missing.slice();
  const released = c.released.slice();
  const pending: number[] = [];
  const step = (s: number): void => {
    if (made[s] === 1 || barred(s)) return;
    if (s >= c.wayCount && c.problem.tasks[s - c.wayCount]?.back === true) return;
    made[s] = 1;
    pending.push(s);
  };
  for (let a = c.connectionCount + c.taskCount; a + 1 < w.from.length; a++) raise(w, missing, a, step);
  for (let i = 0; i < c.connectionCount; i++) if (released[i] === 1) raise(w, missing, i, step);
  start(w, missing, step);
  for (let s = pending.pop(); s !== undefined; s = pending.pop()) {
    if (s >= c.wayCount) raise(w, missing, doneAtom(c, s - c.wayCount), step);
    else {
      const connection = c.connectionOf[s] as number;
      if (released[connection] === 1) continue;
      released[connection] = 1;
      raise(w, missing, connection, step);
    }
  }
  return made;
}

/** Atoms that the needs of a step name, and those of every step by which one of these comes true. */
export function atomsBehind(c: Compiled, step: number): ReadonlySet<number> {
  const atoms = new Set<number>();
  const name = (f: Formula): void => {
    if (typeof f === "number") atoms.add(f);
    else for (const g of f.of) name(g);
  };
  name((c.steps[step] as { needs: Formula }).needs);
  // A set iterates over what is added on the way.
  for (const a of atoms) {
    const task = a - c.connectionCount;
    const makers = task < 0 ? (c.waysOf[a] as readonly number[]) : task < c.taskCount ? [c.wayCount + task] : [];
    for (const s of makers) name((c.steps[s] as { needs: Formula }).needs);
  }
  return atoms;
}

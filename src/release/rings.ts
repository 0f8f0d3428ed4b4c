// Owns the short rings of steps that wait for one another whatever else is done: no order has them all.

import { type Compiled, doneAtom, type Formula } from "./compile.ts";

/** The longest ring looked for, and how many at most: longer ones are learnt where an answer has one. */
const LONGEST = 4;
const MOST = 4000;

/** Rings of up to four steps, each of which needs what the next one makes true, in every way that its needs can hold. */
export function ringsOf(c: Compiled, possible: (step: number) => boolean): number[][] {
  const count = c.connectionCount + c.taskCount;
  const makers: number[][] = Array.from({ length: count }, () => []);
  const wants: number[][] = [];
  c.steps.forEach((step, s) => {
    const isTask = s >= c.wayCount;
    const left = possible(s) && !(isTask && c.problem.tasks[s - c.wayCount]?.back === true);
    wants.push(left ? [...new Set(wantedBy(step.needs))].filter((a) => a < count && c.released[a] !== 1) : []);
    if (left) makers[isTask ? doneAtom(c, s - c.wayCount) : (c.connectionOf[s] as number)]?.push(s);
  });
  // What waits for nothing that is left is in no ring, and so on.
  const open = Int32Array.from(makers, (own) => own.reduce((sum, s) => sum + (wants[s] as number[]).length, 0));
  const waiting: number[][] = Array.from({ length: count }, () => []);
  makers.forEach((own, a) => {
    for (const s of own) for (const b of wants[s] as number[]) waiting[b]?.push(a);
  });
  const done: number[] = [];
  open.forEach((n, a) => {
    if (n === 0) done.push(a);
  });
  for (const b of done) {
    for (const a of waiting[b] as number[]) {
      open[a] = (open[a] as number) - 1;
      if (open[a] === 0) done.push(a);
    }
  }
  const rings: number[][] = [];
  const on = new Uint8Array(count);
  const walk = (first: number, at: number, path: readonly number[]): void => {
    on[at] = 1;
    for (const s of makers[at] as number[]) {
      for (const b of wants[s] as number[]) {
        // Each ring is met from its lowest atom only.
        if (rings.length >= MOST || b < first || open[b] === 0) continue;
        if (b === first) rings.push([...path, s]);
        else if (on[b] === 0 && path.length + 1 < LONGEST) walk(first, b, [...path, s]);
      }
    }
    on[at] = 0;
  };
  for (let a = 0; a < count; a++) if ((open[a] as number) > 0) walk(a, a, []);
  return rings;
}

/** Atoms without which a formula is false. */
function wantedBy(f: Formula): readonly number[] {
  if (typeof f === "number") return [f];
  const parts = f.of.map(wantedBy);
  const [first = [], ...others] = parts;
  if (!f.any) return others.length === 0 ? first : parts.flat();
  return first.filter((a) => others.every((p) => p.includes(a)));
}

// Owns the sides: of each lift which parts go up with it, of each separation which are on its first side.

import { type Clauses, type Known, not } from "./clauses.ts";
import { type Compiled, doneAtom, separationAtom } from "./compile.ts";
import { askersOf } from "./wiring.ts";

export interface Sides {
  /** Context → part → whether it is on the rising side; filled here. */
  readonly labels: Known[][];
  /** Steps that can be made at all, and by context those that can without its lift. */
  readonly made: Uint8Array;
  readonly unlifted: readonly Uint8Array[];
}

/** A lift's labels are true only when the lift is made, a separation's only when it is asked for. */
export function labelSides(c: Compiled, say: Clauses, at: Sides): void {
  c.contexts.forEach((context, x) => {
    const active =
      "lift" in context ? say.atom(doneAtom(c, context.lift)) : say.atom(separationAtom(c, context.separation));
    const side: Known[] = Array.from({ length: c.partCount }, () => false);
    at.labels.push(side);
    if (active === false) return;
    (c.mayRise[x] as Uint8Array).forEach((may, p) => {
      if (may === 1) side[p] = say.literal();
    });
    if ("lift" in context) {
      const lift = c.lifts.get(context.lift);
      if (lift === undefined) return;
      for (const p of c.keep) {
        say.clause([not(side[p] as Known)]);
        side[p] = false;
      }
      for (const p of lift.parts) say.clause([not(active), side[p] as Known]);
      const variables: number[] = [];
      const masses: number[] = [];
      side.forEach((s, p) => {
        if (typeof s !== "number") return;
        say.clause([not(s), active]);
        const mass = c.problem.parts[p]?.mass ?? 0;
        if (mass > 0) {
          variables.push(s >> 1);
          masses.push(mass);
        }
      });
      say.network.rows.push({ limit: lift.limit, variables, masses });
    } else {
      const vehicle = side.findIndex((x, p) => c.fixed[p] === 1 && x !== false);
      c.fixed.forEach((f, p) => {
        if (f === 1 && side[p] !== false) side[p] = side[vehicle] as Known;
      });
      const { from, to } = c.separations[context.separation] as { from: readonly number[]; to: readonly number[] };
      for (const p of from) say.clause([not(active), side[p] as Known]);
      for (const p of to) say.clause([not(active), not(side[p] as Known)]);
    }
    if ("separation" in context) followLifts(c, say, at, context.separation, side);
  });
}

/**
 * A separation that is only asked for after a lift: what is still tied to its first part then went up with it, or stayed with it, unless a strap put on
 * since crosses the two. It says nothing new, but spares the search the frame's side.
 */
function followLifts(c: Compiled, say: Clauses, at: Sides, separation: number, side: readonly Known[]): void {
  const asking = askersOf(c, separation).filter((s) => at.made[s] === 1);
  const first = c.separations[separation]?.from[0];
  if (first === undefined) return;
  c.contexts.forEach((context, x) => {
    if (!("lift" in context) || asking.some((s) => (at.unlifted[x] as Uint8Array)[s] === 1)) return;
    const up = at.labels[x] as Known[];
    const crossing: Known[] = [];
    for (const [t, hang] of c.hangs) {
      const cross = say.literal();
      const a = up[hang.part] as Known;
      const b = up[hang.to] as Known;
      say.clause([cross ^ 1, say.atom(doneAtom(c, t))]);
      say.clause([cross ^ 1, a, b]);
      say.clause([cross ^ 1, not(a), not(b)]);
      crossing.push(cross);
    }
    let some: Known = false;
    if (crossing.length > 0) {
      some = say.literal();
      say.clause([not(some), ...crossing]);
    }
    side.forEach((s, p) => {
      if (s === false) return;
      say.clause([not(s), not(up[first] as Known), up[p] as Known, some]);
      say.clause([not(s), up[first] as Known, not(up[p] as Known), some]);
    });
  });
}

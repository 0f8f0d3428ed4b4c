// Owns what is true before a lift: it alone may be what the lift needs, and what parts the load from the rest.

import { type Atoms, type Clauses, type Known, not } from "./clauses.ts";
import { type Compiled, doneAtom, type Formula } from "./compile.ts";
import type { Literal } from "./network.ts";
import { type Wiring, waitingFor } from "./wiring.ts";

/**
 * Atom → a literal for "true before this lift". Only what can come to wait for the lift by some way, or for a strap that the lift may have to wait for the
 * other way round, has a second variable; all else is true before it whenever it is true at all.
 */
export function beforeLift(
  c: Compiled,
  wiring: Wiring,
  say: Clauses,
  stepLiteral: (step: number) => Known,
  task: number,
  early: Uint8Array,
  side: readonly Known[],
): Atoms {
  // A strap in force at the lift takes both its ends up or neither: where it may join what goes up to what stays, it is put on before or after.
  const crossing = [...c.hangs].flatMap(([t, hang]) => (side[hang.part] === side[hang.to] ? [] : [t]));
  const waits = waitingFor(
    c,
    wiring,
    [task, ...crossing].map((t) => doneAtom(c, t)),
  );
  for (const t of crossing) waits[c.wayCount + t] = 1;
  const known = new Map<number, Known>();
  const stepBefore = (s: number): Known => {
    if (early[s] === 0) return false;
    const own = stepLiteral(s);
    if (waits[s] === 0 || own === false) return own;
    const literal = say.literal();
    say.network.clause([literal ^ 1, own as Literal]);
    const hang = c.hangs.get(s - c.wayCount);
    if (hang !== undefined) {
      const [a, b] = [side[hang.part] as Known, side[hang.to] as Known];
      say.clause([literal ^ 1, not(a), b]);
      say.clause([literal ^ 1, a, not(b)]);
    }
    pending.push({ literal, s });
    return literal;
  };
  const pending: { literal: Literal; s: number }[] = [];
  const before = (a: number): Known => {
    const t = a - c.connectionCount;
    if (t >= c.taskCount) return say.atom(a);
    const seen = known.get(a);
    if (seen !== undefined) return seen;
    let literal: Known;
    if (t >= 0) literal = stepBefore(c.wayCount + t);
    else if (c.released[a] === 1) literal = true;
    else {
      const ways = c.waysOf[a] as readonly number[];
      if (ways.every((w) => early[w] === 1 && waits[w] === 0)) literal = say.atom(a);
      else {
        const open = ways.map(stepBefore).filter((l): l is Literal => typeof l === "number");
        if (open.length < 2) literal = open[0] ?? false;
        else {
          literal = say.literal();
          say.network.clause([literal ^ 1, ...open]);
        }
      }
    }
    known.set(a, literal);
    // Needs are put down after the atom is known, so that a loop of them meets its own literal.
    for (let next = pending.pop(); next !== undefined; next = pending.pop()) {
      say.require([next.literal ^ 1], (c.steps[next.s] as { needs: Formula }).needs, before);
    }
    return literal;
  };
  return before;
}

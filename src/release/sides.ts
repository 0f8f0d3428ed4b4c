// Owns the sides: of each lift which parts go up with it, of each separation which are on its first side.

import { type Clauses, type Known, not } from "./clauses.ts";
import { type Compiled, doneAtom, separationAtom } from "./compile.ts";

/** The labels of a lift, one for each part that can go up: true only when the lift is made. */
export function liftSide(c: Compiled, say: Clauses, x: number, task: number): Known[] {
  const active = say.atom(doneAtom(c, task));
  const side: Known[] = Array.from({ length: c.partCount }, () => false);
  const lift = c.lifts.get(task);
  if (active === false || lift === undefined) return side;
  (c.mayRise[x] as Uint8Array).forEach((may, p) => {
    if (may === 1) side[p] = say.literal();
  });
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
  return side;
}

/**
 * The first side of a separation. At first only the parts that it is asked for have a label; another has one when it is asked for, because an answer leaves
 * the two sides tied through it. What has none binds nothing, so less is asked than there is; most parts of a machine never matter.
 */
export class Parting {
  private readonly c: Compiled;
  private readonly say: Clauses;
  private readonly may: Uint8Array;
  private readonly labels = new Map<number, Known>();

  constructor(c: Compiled, say: Clauses, x: number, separation: number) {
    this.c = c;
    this.say = say;
    this.may = c.mayRise[x] as Uint8Array;
    const active = say.atom(separationAtom(c, separation));
    const { from, to } = c.separations[separation] as Compiled["separations"][number];
    for (const p of from) say.clause([not(active), this.label(p)]);
    for (const p of to) say.clause([not(active), not(this.label(p))]);
  }

  /** Whether a part is on the first side; undefined: it has no label. */
  known(p: number): Known | undefined {
    return this.may[p] === 0 ? false : this.labels.get(p);
  }

  /** The same, with a label from now on: a connection to another part that has one is released, or both are on one side. */
  label(p: number): Known {
    const known = this.known(p);
    if (known !== undefined) return known;
    const { c, say, labels } = this;
    const own = say.literal();
    // The fixed parts hold together.
    const parts = c.fixed[p] === 1 ? [...c.fixed.keys()].filter((q) => c.fixed[q] === 1) : [p];
    for (const q of parts) labels.set(q, own);
    for (const q of parts) {
      for (const t of c.tiesOf[q] as readonly number[]) {
        if (c.released[t] === 1) continue;
        for (const r of c.joins[t] as readonly number[]) {
          const other = this.known(r);
          if (other === undefined || other === own) continue;
          say.clause([not(own), other, say.atom(t)]);
          say.clause([own, not(other), say.atom(t)]);
        }
      }
    }
    return own;
  }
}

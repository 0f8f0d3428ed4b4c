// Owns the clauses of carrying: what must hold a part once what carries it is released.

import { type Clauses, type Known, not } from "./clauses.ts";
import { type Compiled, carriersOf, doneAtom, holdOf, upBy } from "./compile.ts";
import type { Literal } from "./network.ts";
import { spineOf } from "./spine.ts";

/** Once every carrying tie of a part is released, something must hold it, or it is in two hands. */
export function holdClauses(c: Compiled, say: Clauses): void {
  for (let p = 0; p < c.partCount; p++) {
    if (c.fixed[p] === 1 || c.uncarried[p] === 1) continue;
    const carriers = carriersOf(c, p);
    if (carriers.length < 2) continue;
    const hold = holdOf(c, p);
    if (hold === undefined) continue;
    const unless = carriers.map((t) => not(say.atom(t)));
    if (unless.includes(true)) continue;
    const spared = say.literal();
    say.clause([not(spared), ...unless, ...hold.by.map((f) => say.literalOf(f))]);
    if (hold.inHand === undefined) say.clause([spared]);
    else for (const t of hold.inHand) say.clause([spared, say.atom(t)]);
  }
}

/**
 * Parts that hang from the rest by one carrying tie, with all that hangs from them in turn: what holds such a part is its tie and whatever holds the part above,
 * or something that holds it or a part below it by itself, or two hands. Bodies of any size follow from one variable a part.
 */
export function holdTrees(c: Compiled, say: Clauses): void {
  const carries = (t: number): boolean => c.released[t] === 0 && c.carries[t] === 1;
  const fixed = [...c.fixed.keys()].filter((p) => c.fixed[p] === 1);
  const spine = spineOf(c.partCount, fixed, (p) =>
    (c.tiesOf[p] as readonly number[])
      .filter(carries)
      .flatMap((t) => (c.joins[t] as readonly number[]).filter((q) => q !== p)),
  );
  const hooks = new Set([...c.lifts.values()].flatMap((lift) => lift.parts));
  const order = [...spine.entered.keys()].filter((p) => (spine.entered[p] as number) > 0);
  order.sort((p, q) => (spine.entered[q] as number) - (spine.entered[p] as number));
  // From the ends of the trees upwards: what lies below a part that can hold it without its tie.
  const below = new Map<number, { open: boolean; holders: readonly number[] }>();
  for (const p of order) {
    const own = below.get(p) ?? { open: false, holders: [] };
    const rests = (c.tiesOf[p] as readonly number[]).some((t) => c.problem.connections[t]?.rests === true);
    const straps = (c.strapsAt[p] as readonly number[]).filter((t) => c.hangs.get(t)?.part === p);
    const all = {
      open: own.open || rests || hooks.has(p) || c.uncarried[p] === 1,
      holders: [...own.holders, ...(c.supporters[p] as readonly number[]), ...straps],
    };
    below.set(p, all);
    const parent = spine.parent[p] as number;
    const above = below.get(parent) ?? { open: false, holders: [] };
    below.set(parent, { open: above.open || all.open, holders: [...above.holders, ...all.holders] });
  }
  const holds = new Map<number, { chain: Literal; itself: readonly Known[] }>();
  for (const p of order.reverse()) {
    const parent = spine.parent[p] as number;
    const shared = (c.tiesOf[p] as readonly number[]).filter(
      (t) => carries(t) && (c.joins[t] as readonly number[]).includes(parent),
    );
    const [tie] = shared;
    const { open, holders } = below.get(p) as { open: boolean; holders: readonly number[] };
    if (tie === undefined || shared.length > 1 || open || (spine.low[p] as number) < (spine.entered[p] as number))
      continue;
    const chain = say.literal();
    const itself = [...holders.map((t) => say.atom(doneAtom(c, t))), ...upBy(c, tie, [p]).map((f) => say.literalOf(f))];
    say.clause([not(chain), not(say.atom(tie))]);
    const above = holds.get(parent);
    if (above !== undefined) say.clause([not(chain), above.chain, ...above.itself]);
    holds.set(p, { chain, itself });
    const light = (c.problem.parts[p]?.mass ?? 0) <= c.problem.handLimit;
    if (!light) say.clause([chain, ...itself]);
    else for (const t of c.tiesOf[p] as readonly number[]) say.clause([chain, ...itself, say.atom(t)]);
  }
}

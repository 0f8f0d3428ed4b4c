// Owns the closing of the gap that the best price on mass leaves: what would cost too much is fixed, and what is left is swept for pairs of cost and mass.

import { type Calibrated, calibrate } from "./calibrate.ts";
import type { Fixed } from "./floors.ts";
import { sweep } from "./fronts.ts";
import { type Held, narrow, pricedCosts } from "./price.ts";
import type { Watch } from "./watch.ts";

/** Costs are whole numbers of a unit: less than this below a cost is no other cost. */
const GRAIN = 1e-3;

/** What is held with a price put on mass, and the tree of it. */
export interface Priced extends Held {
  readonly tree: Calibrated;
  /** Nothing within the limit costs less. */
  readonly bound: number;
}

/** Undefined: nothing satisfies the clauses. */
export function priceOut(held: Held | undefined, limit: number, price: number, watch: Watch): Priced | undefined {
  if (held === undefined) return undefined;
  const { folded, settled } = held;
  const tree = calibrate(folded.rest, pricedCosts(held, price), watch.tick);
  const bound = folded.base + tree.least + price * (settled - limit);
  return bound === Number.POSITIVE_INFINITY ? undefined : { ...held, tree, bound };
}

/**
 * Widens the slack until nothing better can be left out; the bound that this proves, undefined where it could not be told or was stopped. For each slack what would cost more
 * is fixed the other way, which leaves little.
 */
export function close(
  root: Priced,
  limit: number,
  price: number,
  known: number,
  take: (values: Uint8Array) => void,
  watch: Watch,
): number | undefined {
  const { bound } = root;
  let best = known;
  const most = known === Number.POSITIVE_INFINITY ? Math.abs(bound) : known - bound;
  for (let slack = Math.max(1, most / 16); ; slack *= 4) {
    const near = within(root, slack, (more) => priceOut(narrow(root, more, watch), limit, price, watch));
    if (near !== undefined) {
      if (!near.tree.whole) return undefined;
      const left = bound + slack - near.bound;
      const pass = sweep(near.folded.rest, near.tree, near.masses, limit - near.settled, price, left, watch.stop);
      if (!pass.complete) return undefined;
      if (pass.values !== undefined) {
        take(near.folded.restore(pass.values));
        best = Math.min(best, near.folded.base + pass.cost);
      }
    }
    if (best <= bound + slack) return best;
    if (slack > 64 * Math.max(1, most)) return undefined;
  }
}

/** The same with the values fixed whose opposites cost too much, again until that fixes no more; undefined: nothing costs so little. */
function within(root: Priced, slack: number, again: (more: Fixed) => Priced | undefined): Priced | undefined {
  const more = new Map<number, number>();
  let at = root;
  for (;;) {
    const left = root.bound + slack - at.bound + GRAIN;
    const had = more.size;
    at.folded.names.forEach((v, i) => {
      if ((at.tree.low[i] as number) > left) more.set(v, 1);
      if ((at.tree.high[i] as number) > left) more.set(v, 0);
    });
    if (more.size === had) return at;
    const next = again([...more]);
    if (next === undefined || next.bound > root.bound + slack + GRAIN) return undefined;
    at = next;
    if (at.tree.whole) return at;
  }
}

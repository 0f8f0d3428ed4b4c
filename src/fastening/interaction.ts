// Owns what one bolt's tightening does to the others: the preload that each has left after passes in an order.

/** Preload in each place after each pass. */
export type Remains = readonly (readonly number[])[];

/**
 * Tightens the places in `order`, `passes` times, each up to `target`; every rise of one takes `take(from, to)` of itself
 * from each other, which never falls below nothing. It shows why one pass is not enough, and what an order is worth; the
 * shares are the joint's own and are measured, not known beforehand (losses of 35 % are reported, more with gaskets).
 */
export function settle(
  order: readonly number[],
  target: number,
  take: (tightened: number, other: number) => number,
  passes: number,
): Remains {
  const load = order.map(() => 0);
  const after: number[][] = [];
  for (let pass = 0; pass < passes; pass++) {
    for (const place of order) {
      const rise = Math.max(0, target - (load[place] as number));
      for (const other of load.keys())
        load[other] = Math.max(0, (load[other] as number) + (other === place ? rise : -take(place, other) * rise));
    }
    after.push([...load]);
  }
  return after;
}

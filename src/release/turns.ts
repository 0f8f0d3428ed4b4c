// Owns the order in which variables are to be folded to the end: each time the one whose neighbours lack the fewest pairs among them, for these become neighbours.

export interface Turns {
  /** Those whose turn comes before all that are left have too many neighbours. */
  readonly order: readonly number[];
  /** Entries of all tables on the way. */
  readonly entries: number;
}

/** @param near variable → its neighbours; used up */
export function turnsOf(near: number[][], widest: number): Turns {
  const count = near.length;
  const marks = new Marks(count);
  const missing = near.map((own) => marks.missing(near, own));
  const open = Int32Array.from(near, (_, v) => v);
  const order: number[] = [];
  let entries = 0;
  let left = count;
  while (left > 0) {
    let at = -1;
    for (let i = 0; i < left; i++) {
      const v = open[i] as number;
      if ((near[v] as number[]).length > widest) continue;
      if (at < 0 || (missing[v] as number) < (missing[open[at] as number] as number)) at = i;
    }
    if (at < 0) break;
    const v = open[at] as number;
    open[at] = open[--left] as number;
    order.push(v);
    const own = near[v] as number[];
    entries += 2 ** (own.length + 1);
    for (const u of own) near[u] = marks.joined(near[u] as number[], own, u, v);
    for (const u of own) missing[u] = marks.missing(near, near[u] as number[]);
  }
  return { order, entries };
}

/** Which variables are in a set, by the number of the set. */
class Marks {
  private readonly mark: Int32Array;
  private now = 0;

  constructor(count: number) {
    this.mark = new Int32Array(count);
  }

  /** Pairs of a set that are not neighbours. */
  missing(near: readonly (readonly number[])[], own: readonly number[]): number {
    const { mark } = this;
    const now = ++this.now;
    for (const u of own) mark[u] = now;
    let had = 0;
    for (const u of own) for (const w of near[u] as readonly number[]) if (mark[w] === now) had++;
    return (own.length * (own.length - 1) - had) / 2;
  }

  /** The neighbours of u, v not among them any more, but all that v had. */
  joined(of: number[], own: readonly number[], u: number, v: number): number[] {
    const { mark } = this;
    const now = ++this.now;
    mark[u] = now;
    mark[v] = now;
    const all: number[] = [];
    for (const list of [of, own]) {
      for (const w of list) {
        if (mark[w] === now) continue;
        mark[w] = now;
        all.push(w);
      }
    }
    return all;
  }
}

// Owns the order in which variables are to be folded to the end: each time the one whose neighbours lack the fewest pairs among them, for these become neighbours.

export interface Turns {
  /** Those whose turn comes before all that are left have too many neighbours. */
  readonly order: readonly number[];
  /** Entries of all tables on the way, and the most neighbours that one of them has. */
  readonly entries: number;
  readonly width: number;
}

/** @param near variable → its neighbours; used up: of those in the order as they were when their turn came */
export function turnsOf(near: number[][], widest: number): Turns {
  const graph = new Filling(near);
  const open = Int32Array.from(near, (_, v) => v);
  const order: number[] = [];
  let entries = 0;
  let width = 0;
  let left = near.length;
  while (left > 0) {
    let at = -1;
    let least = Number.POSITIVE_INFINITY;
    for (let i = 0; i < left; i++) {
      const v = open[i] as number;
      const missing = graph.missing[v] as number;
      if (missing >= least || (near[v] as number[]).length > widest) continue;
      at = i;
      least = missing;
    }
    if (at < 0) break;
    const v = open[at] as number;
    open[at] = open[--left] as number;
    order.push(v);
    const degree = (near[v] as number[]).length;
    entries += 2 ** (degree + 1);
    width = Math.max(width, degree);
    graph.take(v);
  }
  return { order, entries, width };
}

/** A graph out of which variables are taken, and of each how many pairs of its neighbours are not neighbours. */
class Filling {
  readonly missing: Int32Array;
  private readonly near: number[][];
  private readonly mark: Int32Array;
  private now = 0;

  constructor(near: number[][]) {
    this.near = near;
    this.mark = new Int32Array(near.length);
    this.missing = Int32Array.from(near, (own) => {
      let had = 0;
      this.note(own);
      for (const u of own) had += this.noted(near[u] as number[]);
      return (own.length * (own.length - 1) - had) / 2;
    });
  }

  /** Takes a variable out; its neighbours are neighbours of one another from now on. */
  take(v: number): void {
    const { near, missing } = this;
    const own = near[v] as number[];
    this.note(own);
    for (const u of own) {
      const of = near[u] as number[];
      // The pairs of v and those that are not its neighbours.
      missing[u] = (missing[u] as number) - (of.length - 1 - this.noted(of));
      of[of.indexOf(v)] = of.at(-1) as number;
      of.pop();
    }
    for (let i = 0; i + 1 < own.length; i++) {
      const u = own[i] as number;
      this.note(near[u] as number[]);
      for (let j = i + 1; j < own.length; j++)
        if (this.mark[own[j] as number] !== this.now) this.join(u, own[j] as number);
    }
  }

  /** Makes two neighbours of each other; the neighbours of the first are noted. */
  private join(u: number, w: number): void {
    const { near, mark, missing, now } = this;
    const [ofU, ofW] = [near[u] as number[], near[w] as number[]];
    let both = 0;
    for (const x of ofW) {
      if (mark[x] !== now) continue;
      both++;
      missing[x] = (missing[x] as number) - 1;
    }
    missing[u] = (missing[u] as number) + ofU.length - both;
    missing[w] = (missing[w] as number) + ofW.length - both;
    ofU.push(w);
    ofW.push(u);
    mark[w] = now;
  }

  private note(set: readonly number[]): void {
    this.now++;
    for (const x of set) this.mark[x] = this.now;
  }

  /** How many of a set are noted. */
  private noted(set: readonly number[]): number {
    const { mark, now } = this;
    let count = 0;
    for (const x of set) if (mark[x] === now) count++;
    return count;
  }
}

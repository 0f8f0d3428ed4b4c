// Owns, for tables at one price on mass, what every entry of every table costs at least with all the rest: elimination once inwards and once
// back outwards over the same tree. Source: S. L. Lauritzen, D. J. Spiegelhalter, "Local computations with probabilities on graphical
// structures", Journal of the Royal Statistical Society B 50 (1988) 157–224, with least sums for sums of products.

import type { Tables } from "./tables.ts";

/** One variable and the neighbours that it had when its turn came. */
export interface Cluster {
  readonly variable: number;
  /** Rising; bit k of an entry is the value of the k-th. */
  readonly scope: readonly number[];
  /** Factors of the tables, and clusters before this one, that are added up in it. */
  readonly factors: readonly number[];
  readonly inner: readonly number[];
  /** Entry → least cost of what lies inwards, and of what lies outwards. */
  readonly up: Float64Array;
  readonly down: Float64Array;
}

export interface Calibrated {
  /** In the order of elimination. */
  readonly clusters: readonly Cluster[];
  /** The least cost of all. */
  readonly least: number;
}

/** The tree of tables with the variables' costs replaced by `unary`; undefined where a variable would have more than `widest` neighbours. */
export function calibrate(
  tables: Tables,
  unary: Float64Array,
  widest: number,
  tick?: () => void,
): Calibrated | undefined {
  const shapes = shapesOf(tables, widest);
  if (shapes === undefined) return undefined;
  const clusters: Cluster[] = [];
  let least = 0;
  for (const shape of shapes) {
    tick?.();
    const size = 1 << shape.scope.length;
    const both = bothOf(tables, unary, clusters, shape);
    const up = new Float64Array(size);
    for (let a = 0; a < size; a++) up[a] = Math.min(both[a] as number, both[a + size] as number);
    if (size === 1) least += up[0] as number;
    clusters.push({ ...shape, up, down: new Float64Array(size) });
  }
  for (const cluster of clusters.slice().reverse()) {
    tick?.();
    if (cluster.inner.length === 0) continue;
    const size = 1 << cluster.scope.length;
    const both = bothOf(tables, unary, clusters, cluster);
    for (let a = 0; a < 2 * size; a++) both[a] = (both[a] as number) + (cluster.down[a & (size - 1)] as number);
    for (const j of cluster.inner) {
      const { scope, up, down } = clusters[j] as Cluster;
      const at = placesIn(cluster, scope);
      down.fill(Number.POSITIVE_INFINITY);
      // Where the inner cluster cannot be at all, nothing need be known of what lies outwards.
      for (let a = 0; a < 2 * size; a++) {
        const b = at[a] as number;
        const x = (both[a] as number) - (up[b] as number);
        if (x < (down[b] as number)) down[b] = x;
      }
    }
  }
  return { clusters, least };
}

type Shape = Omit<Cluster, "up" | "down">;

/** Entry of a cluster, its own variable the highest bit → entry over some of its variables. */
export function placesIn({ variable, scope }: Shape, over: ArrayLike<number>): Int32Array {
  const width = scope.length + 1;
  const at = new Int32Array(1 << width);
  for (let j = 0; j < width; j++) {
    const u = j < scope.length ? scope[j] : variable;
    let gain = 0;
    for (let i = 0; i < over.length; i++) if (over[i] === u) gain = 1 << i;
    const half = 1 << j;
    for (let a = 0; a < half; a++) at[half + a] = (at[a] as number) + gain;
  }
  return at;
}

export const scopeIn = ({ starts, scopes }: Tables, f: number): Int32Array => scopes.subarray(starts[f], starts[f + 1]);

/** What a factor of tables costs at an entry of its scope. */
export function costIn({ offsets, negative, costs }: Tables, f: number, entry: number): number {
  const offset = offsets[f] as number;
  if (offset >= 0) return costs[offset + entry] as number;
  return entry === negative[f] ? Number.POSITIVE_INFINITY : 0;
}

/** All that is added up in a cluster: first the entries with its variable false, then those with it true. */
function bothOf(tables: Tables, unary: Float64Array, clusters: readonly Cluster[], shape: Shape): Float64Array {
  const size = 1 << shape.scope.length;
  const both = new Float64Array(2 * size).fill(unary[shape.variable] as number, size);
  for (const f of shape.factors) {
    const at = placesIn(shape, scopeIn(tables, f));
    for (let a = 0; a < 2 * size; a++) both[a] = (both[a] as number) + costIn(tables, f, at[a] as number);
  }
  for (const j of shape.inner) {
    const { scope, up } = clusters[j] as Cluster;
    const at = placesIn(shape, scope);
    for (let a = 0; a < 2 * size; a++) both[a] = (both[a] as number) + (up[at[a] as number] as number);
  }
  return both;
}

/** Pairs of neighbours of a variable that are not neighbours of each other, counted up to `most`. */
function strangers(near: readonly ReadonlySet<number>[], v: number, most: number): number {
  const own = [...(near[v] as ReadonlySet<number>)];
  let pairs = 0;
  for (let i = 1; i < own.length && pairs < most; i++) {
    const of = near[own[i] as number] as ReadonlySet<number>;
    for (let j = 0; j < i; j++) if (!of.has(own[j] as number)) pairs++;
  }
  return pairs;
}

/** Fewest neighbours first. */
function shapesOf(tables: Tables, widest: number): Shape[] | undefined {
  const { count, starts } = tables;
  const near: Set<number>[] = Array.from({ length: count }, () => new Set());
  const factors: number[][] = Array.from({ length: count }, () => []);
  for (let f = 0; f + 1 < starts.length; f++) {
    const scope = scopeIn(tables, f);
    for (const v of scope) {
      factors[v]?.push(f);
      for (const u of scope) if (u !== v) near[v]?.add(u);
    }
  }
  const used = new Uint8Array(starts.length);
  const gone = new Uint8Array(count);
  const shapes: (Shape & { readonly inner: number[] })[] = [];
  for (let i = 0; i < count; i++) {
    let fewest = count;
    for (let u = 0; u < count; u++) if (gone[u] === 0) fewest = Math.min(fewest, (near[u] as Set<number>).size);
    if (fewest > widest) return undefined;
    // Of those with about as few neighbours, the one that makes fewest pairs of them neighbours.
    let v = -1;
    let least = Number.POSITIVE_INFINITY;
    for (let u = 0; u < count && least > 0; u++) {
      if (gone[u] === 1 || (near[u] as Set<number>).size > fewest + 2) continue;
      const pairs = strangers(near, u, least);
      if (pairs < least) {
        least = pairs;
        v = u;
      }
    }
    const scope = [...(near[v] as Set<number>)].sort((a, b) => a - b);
    if (scope.length > widest) return undefined;
    gone[v] = 1;
    const own = (factors[v] as number[]).filter((f) => used[f] === 0);
    for (const f of own) used[f] = 1;
    shapes.push({ variable: v, scope, factors: own, inner: [] });
    for (const u of scope) {
      const around = near[u] as Set<number>;
      around.delete(v);
      for (const w of scope) if (w !== u) around.add(w);
    }
  }
  // A cluster is added up in that of its first neighbour to go.
  const turn = new Int32Array(count);
  shapes.forEach((shape, i) => {
    turn[shape.variable] = i;
  });
  shapes.forEach(({ scope }, i) => {
    if (scope.length === 0) return;
    const outer = Math.min(...scope.map((u) => turn[u] as number));
    shapes[outer]?.inner.push(i);
  });
  return shapes;
}

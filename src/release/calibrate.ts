// Owns, for tables at one price on mass, what every entry of every table costs at least with all the rest: elimination once inwards and once
// back outwards over the same tree. Source: S. L. Lauritzen, D. J. Spiegelhalter, "Local computations with probabilities on graphical
// structures", Journal of the Royal Statistical Society B 50 (1988) 157–224, with least sums for sums of products.

import { ascend } from "./ascent.ts";
import type { Tables } from "./tables.ts";
import { turnsOf } from "./turns.ts";

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
  /** No assignment costs less; one costs just that where `whole`. */
  readonly least: number;
  /** Whether every variable was folded: of a core that is too wide only a bound is known. */
  readonly whole: boolean;
  /** Variable → what false (true) costs more than `least`, at least. */
  readonly low: Float64Array;
  readonly high: Float64Array;
}

/** Neighbours of a variable in a tree of all variables; where that is not enough, beside a core. */
const WIDTHS = [20, 14] as const;
/** Entries in a tree of all variables. */
const MOST_ENTRIES = 1 << 23;

/** The tree of tables with the variables' costs replaced by `unary`. */
export function calibrate(
  tables: Tables,
  unary: Float64Array,
  tick?: () => void,
  widths: readonly [number, number] = WIDTHS,
): Calibrated {
  const { shapes, core } = shapesOf(tables, widths);
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
  const low = new Float64Array(tables.count);
  const high = new Float64Array(tables.count);
  // Cluster → the least cost of the tree or core that it is in.
  const own = new Float64Array(clusters.length);
  const bound = descend(tables, unary, clusters, core, { low, high, own }, tick);
  for (let i = clusters.length - 1; i >= 0; i--) {
    tick?.();
    const cluster = clusters[i] as Cluster;
    const size = 1 << cluster.scope.length;
    if (size === 1) own[i] = cluster.up[0] as number;
    const both = bothOf(tables, unary, clusters, cluster);
    let [without, having] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
    for (let a = 0; a < size; a++) {
      const down = cluster.down[a] as number;
      const x = (both[a] as number) + down;
      const y = (both[a + size] as number) + down;
      both[a] = x;
      both[a + size] = y;
      if (x < without) without = x;
      if (y < having) having = y;
    }
    low[cluster.variable] = without - (own[i] as number);
    high[cluster.variable] = having - (own[i] as number);
    for (const j of cluster.inner) {
      const { scope, up, down } = clusters[j] as Cluster;
      own[j] = own[i] as number;
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
  return { clusters, least: least + bound, whole: core.variables.length === 0, low, high };
}

/** What is left when every variable has too many neighbours: these variables, and the factors and clusters over them. */
interface Core {
  readonly variables: readonly number[];
  readonly factors: readonly number[];
  readonly inner: readonly number[];
}

interface Known {
  readonly low: Float64Array;
  readonly high: Float64Array;
  readonly own: Float64Array;
}

/** The bound of the core, what its variables cost more at least, and what lies outwards of the clusters at its edge. */
function descend(
  tables: Tables,
  unary: Float64Array,
  clusters: readonly Cluster[],
  core: Core,
  known: Known,
  tick?: () => void,
): number {
  if (core.variables.length === 0) return 0;
  const place = new Int32Array(tables.count);
  core.variables.forEach((v, i) => {
    place[v] = i;
  });
  const scopes: number[] = [];
  const starts: number[] = [0];
  const offsets: number[] = [];
  const costs: number[] = [];
  const add = (scope: ArrayLike<number>, costAt: (entry: number) => number): void => {
    for (let k = 0; k < scope.length; k++) scopes.push(place[scope[k] as number] as number);
    starts.push(scopes.length);
    offsets.push(costs.length);
    for (let a = 0; a < 1 << scope.length; a++) costs.push(costAt(a));
  };
  for (const f of core.factors) add(scopeIn(tables, f), (a) => costIn(tables, f, a));
  for (const j of core.inner) {
    const { scope, up } = clusters[j] as Cluster;
    add(scope, (a) => up[a] as number);
  }
  const ascended = ascend(
    {
      count: core.variables.length,
      unary: Float64Array.from(core.variables, (v) => unary[v] as number),
      heavy: new Uint8Array(core.variables.length),
      starts: Int32Array.from(starts),
      scopes: Int32Array.from(scopes),
      negative: new Int32Array(offsets.length),
      offsets: Int32Array.from(offsets),
      costs: Float64Array.from(costs),
    },
    Number.POSITIVE_INFINITY,
    tick,
  );
  const { bound, tables: moved } = ascended;
  core.variables.forEach((v, i) => {
    known.low[v] = (ascended.low[i] as number) - bound;
    known.high[v] = (ascended.high[i] as number) - bound;
  });
  core.inner.forEach((j, k) => {
    const { scope, up, down } = clusters[j] as Cluster;
    known.own[j] = bound;
    const from = moved.offsets[core.factors.length + k] as number;
    const rest = bound - moved.costs.subarray(from, from + up.length).reduce((x, y) => Math.min(x, y));
    for (let a = 0; a < up.length; a++) {
      let x = rest + (moved.costs[from + a] as number) - (up[a] as number);
      scope.forEach((v, i) => {
        const u = moved.unary[place[v] as number] as number;
        x += ((a >> i) & 1) * u - Math.min(0, u);
      });
      down[a] = Number.isNaN(x) ? Number.POSITIVE_INFINITY : x;
    }
  });
  return bound;
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

function shapesOf(tables: Tables, [widest, beside]: readonly [number, number]): { shapes: Shape[]; core: Core } {
  const { count, starts } = tables;
  let near = nearOf(tables);
  let turns = turnsOf(near, widest);
  if (turns.order.length < count || turns.entries > MOST_ENTRIES) {
    near = nearOf(tables);
    turns = turnsOf(near, beside);
  }
  const turn = new Int32Array(count).fill(count);
  // A variable's neighbours stand as they were when its turn came.
  const shapes = turns.order.map((variable, i): Shape & { factors: number[]; inner: number[] } => {
    turn[variable] = i;
    return { variable, scope: (near[variable] as number[]).sort((a, b) => a - b), factors: [], inner: [] };
  });
  const core = {
    variables: [...turn.keys()].filter((v) => turn[v] === count),
    factors: [] as number[],
    inner: [] as number[],
  };
  /** What is over some variables is added up in the cluster of the first of them to go. */
  const home = (scope: ArrayLike<number>): { factors: number[]; inner: number[] } => {
    let first = count;
    for (let k = 0; k < scope.length; k++) first = Math.min(first, turn[scope[k] as number] as number);
    return shapes[first] ?? core;
  };
  for (let f = 0; f + 1 < starts.length; f++) home(scopeIn(tables, f)).factors.push(f);
  shapes.forEach(({ scope }, i) => {
    if (scope.length > 0) home(scope).inner.push(i);
  });
  return { shapes, core };
}

/** Variable → those that a factor joins it to. */
function nearOf(tables: Tables): number[][] {
  const near: Set<number>[] = Array.from({ length: tables.count }, () => new Set());
  for (let f = 0; f + 1 < tables.starts.length; f++) {
    const scope = scopeIn(tables, f);
    for (const v of scope) for (const u of scope) if (u !== v) near[v]?.add(u);
  }
  return near.map((set) => [...set]);
}

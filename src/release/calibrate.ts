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
  const sums = new Sums(tables, clusters);
  // Cluster → what is added up in it: first the entries with its variable false, then those with it true.
  const boths: Float64Array[] = [];
  let least = 0;
  for (const shape of shapes) {
    tick?.();
    const size = 1 << shape.scope.length;
    const both = sums.of(shape, unary[shape.variable] as number);
    const up = new Float64Array(size);
    for (let a = 0; a < size; a++) {
      up[a] = Math.min(both[a] as number, both[a + size] as number);
    }
    if (size === 1) least += up[0] as number;
    boths.push(both);
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
    const both = boths.pop() as Float64Array;
    if (cluster.scope.length === 0) own[i] = cluster.up[0] as number;
    const [without, having] = outwards(cluster, both);
    low[cluster.variable] = without - (own[i] as number);
    high[cluster.variable] = having - (own[i] as number);
    for (const j of cluster.inner) {
      own[j] = own[i] as number;
      sums.hand(cluster, both, clusters[j] as Cluster);
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

/** Entry of a cluster, its own variable the highest bit → entry over some of its variables, which rise. */
export function placesIn(
  { variable, scope }: Shape,
  over: ArrayLike<number>,
  at = new Int32Array(2 << scope.length),
): Int32Array {
  let own = 0;
  for (let j = 0, i = 0; j <= scope.length; j++) {
    if (over[i] === variable) own = 1 << i++;
    let gain = own;
    if (j < scope.length) gain = over[i] === scope[j] ? 1 << i++ : 0;
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

/** Adds to each entry what it costs outwards; the least with the cluster's variable false, and true. */
function outwards({ scope, down }: Cluster, both: Float64Array): readonly [number, number] {
  const size = 1 << scope.length;
  let [without, having] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  for (let a = 0; a < size; a++) {
    const x = (both[a] as number) + (down[a] as number);
    const y = (both[a + size] as number) + (down[a] as number);
    both[a] = x;
    both[a + size] = y;
    if (x < without) without = x;
    if (y < having) having = y;
  }
  return [without, having];
}

/** What is added up in clusters and handed on from them. */
class Sums {
  private readonly tables: Tables;
  private readonly clusters: readonly Cluster[];
  private places = new Int32Array(64);

  constructor(tables: Tables, clusters: readonly Cluster[]) {
    this.tables = tables;
    this.clusters = clusters;
  }

  /** All that is added up in a cluster whose variable costs so much: first the entries with it false, then those with it true. */
  of(shape: Shape, cost: number): Float64Array {
    const { tables, clusters } = this;
    const size = 1 << shape.scope.length;
    const both = new Float64Array(2 * size).fill(cost, size);
    for (const f of shape.factors) {
      const scope = scopeIn(tables, f);
      const offset = tables.offsets[f] as number;
      if (offset >= 0) this.add(shape, scope, tables.costs, offset, both);
      else forbid(shape, scope, tables.negative[f] as number, both);
    }
    for (const j of shape.inner) {
      const { scope, up } = clusters[j] as Cluster;
      this.add(shape, scope, up, 0, both);
    }
    return both;
  }

  private add(shape: Shape, scope: ArrayLike<number>, from: Float64Array, offset: number, both: Float64Array): void {
    const at = this.placesIn(shape, scope);
    for (let a = 0; a < both.length; a++) both[a] = (both[a] as number) + (from[offset + (at[a] as number)] as number);
  }

  /** What an inner cluster's entries cost outwards of it, from what the entries of a cluster cost in all. */
  hand(cluster: Cluster, all: Float64Array, { scope, up, down }: Cluster): void {
    const at = this.placesIn(cluster, scope);
    down.fill(Number.POSITIVE_INFINITY);
    for (let a = 0; a < all.length; a++) {
      const b = at[a] as number;
      const x = all[a] as number;
      if (x < (down[b] as number)) down[b] = x;
    }
    // Where the inner cluster cannot be at all, nothing need be known of what lies outwards.
    for (let b = 0; b < down.length; b++) {
      const x = (down[b] as number) - (up[b] as number);
      down[b] = Number.isNaN(x) ? Number.POSITIVE_INFINITY : x;
    }
  }

  /** The same as of `placesIn`, until it is asked again. */
  private placesIn(shape: Shape, over: ArrayLike<number>): Int32Array {
    const size = 2 << shape.scope.length;
    if (this.places.length < size) this.places = new Int32Array(size);
    return placesIn(shape, over, this.places);
  }
}

/** Makes the entries impossible at which every literal of a clause fails. */
function forbid({ variable, scope }: Shape, over: ArrayLike<number>, negative: number, both: Float64Array): void {
  let mask = 0;
  let fails = 0;
  for (let i = 0, j = 0; i < over.length; i++) {
    const u = over[i] as number;
    if (u !== variable) while (scope[j] !== u) j++;
    const bit = 1 << (u === variable ? scope.length : j);
    mask |= bit;
    if (((negative >> i) & 1) === 1) fails |= bit;
  }
  const free = (both.length - 1) & ~mask;
  for (let a = free; ; a = (a - 1) & free) {
    both[a | fails] = Number.POSITIVE_INFINITY;
    if (a === 0) break;
  }
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

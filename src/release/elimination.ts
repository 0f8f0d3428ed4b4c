// Owns bucket elimination: it folds variables of few neighbours into small tables over these, exactly, until nothing is
// left or every variable left has too many. Source: R. Dechter, "Bucket elimination: a unifying framework for reasoning",
// Artificial Intelligence 113 (1999) 41–85.

import type { Network } from "./network.ts";

/** A cost over some variables: a clause, infinite where every literal fails, or a table. */
export interface Factor {
  /** Rising. */
  readonly scope: readonly number[];
  /** Cost by the values of the scope, its first variable the lowest bit; absent for a clause. */
  readonly table: Float64Array | undefined;
  /** Clause: bit i set when its literal on scope[i] is a negation. */
  readonly negative: number;
}

/** Variables with a cost when true (`unary`) and factors over them. A heavy variable has a price beyond its cost (its mass). */
export interface Tables {
  readonly count: number;
  readonly unary: Float64Array;
  readonly heavy: Uint8Array;
  readonly factors: readonly Factor[];
}

export interface Eliminated {
  /** False: no assignment satisfies the clauses. */
  readonly feasible: boolean;
  /** Paid in any case. */
  readonly base: number;
  /** What is left, renumbered; count 0 when all is decided. */
  readonly rest: Tables;
  /** Variable of the rest → variable here. */
  readonly names: Int32Array;
  /** Completes a cheapest assignment from one of the rest. */
  readonly restore: (rest: Uint8Array) => Uint8Array;
}

export function tablesOf(network: Network): Tables {
  const { literals, starts } = network;
  const factors: Factor[] = [];
  for (let i = 0; i + 1 < starts.length; i++) {
    const scope: number[] = [];
    let negative = 0;
    const clause = literals.slice(starts[i], starts[i + 1]).sort((a, b) => a - b);
    let tautology = false;
    clause.forEach((literal, at) => {
      if (at > 0 && clause[at - 1] === literal) return;
      if (at > 0 && clause[at - 1] === literal - 1 && (literal & 1) === 1) tautology = true;
      if ((literal & 1) === 1) negative |= 1 << scope.length;
      scope.push(literal >> 1);
    });
    if (!tautology) factors.push({ scope, table: undefined, negative });
  }
  const heavy = new Uint8Array(network.cost.length);
  for (const row of network.rows) for (const v of row.variables) heavy[v] = 1;
  return { count: network.cost.length, unary: Float64Array.from(network.cost), heavy, factors };
}

interface Live extends Factor {
  live: boolean;
  /** Bit i: the factor is never cheaper with scope[i] true (low), or false (high). */
  readonly low: number;
  readonly high: number;
}

interface Fold {
  readonly variable: number;
  readonly scope: readonly number[];
  readonly choice: Uint8Array;
}

const FREE = 2;
/** A variable in more factors than this is not looked at until some of them are gone: a hub is folded late or never. */
const HUB = 24;

/**
 * Eliminates every variable that has at most `cap` neighbours when its turn comes, the fewest first.
 * Variables with `frozen` set are kept for the rest (unless something fixes them).
 */
export function eliminate(tables: Tables, cap: number, frozen?: Uint8Array): Eliminated {
  return run(tables, cap, frozen, false);
}

/**
 * A cost that no assignment undercuts, Infinity where none satisfies the clauses: a variable with too many neighbours is folded in several small
 * tables that need not agree on it (mini-buckets; R. Dechter & I. Rish, Journal of the ACM 50, 2003).
 */
export function undercut(tables: Tables, cap: number): number {
  const { feasible, base } = run(tables, cap, undefined, true);
  return feasible ? base : Number.POSITIVE_INFINITY;
}

function run(tables: Tables, cap: number, frozen: Uint8Array | undefined, split: boolean): Eliminated {
  const { count, heavy } = tables;
  const unary = tables.unary.slice();
  const value = new Uint8Array(count).fill(FREE);
  const gone = new Uint8Array(count);
  const of: Live[][] = Array.from({ length: count }, () => []);
  const alive = new Int32Array(count);
  /** Factors of a variable that may prefer it true (notLow), or false (notHigh). */
  const notLow = new Int32Array(count);
  const notHigh = new Int32Array(count);
  const folds: Fold[] = [];
  const buckets: number[][] = Array.from({ length: cap + 1 }, () => []);
  const queued = new Int8Array(count).fill(-1);
  const stamp = new Int32Array(count);
  const place = new Int32Array(count);
  const decided: number[] = [];
  let stampNow = 0;
  let base = 0;
  let feasible = true;

  const attach = (
    scope: readonly number[],
    table: Float64Array | undefined,
    negative: number,
    low: number,
    high: number,
  ): void => {
    const factor: Live = { scope, table, negative, live: true, low, high };
    for (let i = 0; i < scope.length; i++) {
      const v = scope[i] as number;
      (of[v] as Live[]).push(factor);
      alive[v] = (alive[v] as number) + 1;
      if (((low >> i) & 1) === 0) notLow[v] = (notLow[v] as number) + 1;
      if (((high >> i) & 1) === 0) notHigh[v] = (notHigh[v] as number) + 1;
    }
  };
  const detach = (factor: Live): void => {
    factor.live = false;
    const { scope, low, high } = factor;
    for (let i = 0; i < scope.length; i++) {
      const v = scope[i] as number;
      alive[v] = (alive[v] as number) - 1;
      if (((low >> i) & 1) === 0) notLow[v] = (notLow[v] as number) - 1;
      if (((high >> i) & 1) === 0) notHigh[v] = (notHigh[v] as number) - 1;
    }
  };
  const decide = (v: number, to: number): void => {
    const now = value[v] as number;
    if (now === FREE) {
      if (gone[v] === 1) return;
      value[v] = to;
      decided.push(v);
    } else if (now !== to) feasible = false;
  };
  const addClause = (scope: readonly number[], negative: number): void => {
    if (scope.length === 0) feasible = false;
    else if (scope.length === 1) decide(scope[0] as number, negative === 1 ? 0 : 1);
    else attach(scope, undefined, negative, negative, ~negative);
  };

  /** Adds a table after taking out of it whatever does not need a table. */
  const addTable = (from: readonly number[], costs: Float64Array): void => {
    let scope = from;
    let table = costs;
    for (;;) {
      const size = table.length;
      let least = Number.POSITIVE_INFINITY;
      for (let a = 0; a < size; a++) if ((table[a] as number) < least) least = table[a] as number;
      if (least === Number.POSITIVE_INFINITY) {
        feasible = false;
        return;
      }
      if (least !== 0) {
        base += least;
        for (let a = 0; a < size; a++) table[a] = (table[a] as number) - least;
      }
      let low = 0;
      let high = 0;
      let drop = -1;
      for (let i = 0; i < scope.length; i++) {
        const bit = 1 << i;
        let some0 = false;
        let some1 = false;
        let rises = true;
        let falls = true;
        let even = true;
        let step = Number.NaN;
        for (let a = 0; a < size; a++) {
          if ((a & bit) !== 0) continue;
          const x0 = table[a] as number;
          const x1 = table[a | bit] as number;
          if (x0 !== Number.POSITIVE_INFINITY) some0 = true;
          else if (x1 === Number.POSITIVE_INFINITY) continue;
          if (x1 !== Number.POSITIVE_INFINITY) some1 = true;
          if (x1 < x0) rises = false;
          if (x0 < x1) falls = false;
          const d = x1 - x0;
          if (Number.isNaN(step)) step = d;
          else if (d !== step) even = false;
        }
        const v = scope[i] as number;
        if (!some0 || !some1) {
          // One value is impossible whatever the others are: fix it, and let the fixing slice this table.
          decide(v, some0 ? 0 : 1);
          drop = i;
          step = 0;
        } else if (even) {
          unary[v] = (unary[v] as number) + step;
          drop = i;
        }
        if (drop >= 0) {
          const to = some0 ? 0 : 1;
          table = slice(table, i, to);
          scope = scope.filter((_, j) => j !== i);
          touch(v);
          break;
        }
        if (rises) low |= bit;
        if (falls) high |= bit;
      }
      if (drop >= 0) {
        if (scope.length === 0) {
          // A single entry: the loop above has already taken it into the base, or it is the rest of a slice.
          const rest = table[0] as number;
          if (rest === Number.POSITIVE_INFINITY) feasible = false;
          else base += rest;
          return;
        }
        continue;
      }
      let flat = true;
      for (let a = 0; a < size; a++) if (table[a] !== 0) flat = false;
      if (flat) return;
      const twin = sameScope(scope);
      if (twin !== undefined) {
        detach(twin);
        const sum = twin.table as Float64Array;
        const both = new Float64Array(size);
        for (let a = 0; a < size; a++) both[a] = (table[a] as number) + (sum[a] as number);
        table = both;
        continue;
      }
      attach(scope, table, 0, low, high);
      return;
    }
  };
  const sameScope = (scope: readonly number[]): Live | undefined => {
    let rarest = scope[0] as number;
    for (const v of scope) if ((alive[v] as number) < (alive[rarest] as number)) rarest = v;
    for (const f of of[rarest] as Live[]) {
      if (!f.live || f.table === undefined || f.scope.length !== scope.length) continue;
      let same = true;
      for (let i = 0; same && i < scope.length; i++) same = f.scope[i] === scope[i];
      if (same) return f;
    }
    return undefined;
  };
  const factorsOf = (v: number): Live[] => {
    const list = of[v] as Live[];
    if (list.length > (alive[v] as number)) {
      let kept = 0;
      for (const f of list) if (f.live) list[kept++] = f;
      list.length = kept;
    }
    return list;
  };
  const touched: number[] = [];
  const inTouched = new Uint8Array(count);
  const touch = (v: number): void => {
    if (inTouched[v] === 1) return;
    inTouched[v] = 1;
    touched.push(v);
  };

  const neighbours = (v: number, list: readonly Live[], most: number): number[] | undefined => {
    stampNow++;
    stamp[v] = stampNow;
    const scope: number[] = [];
    for (const f of list) {
      for (const u of f.scope) {
        if (stamp[u] === stampNow) continue;
        stamp[u] = stampNow;
        scope.push(u);
        if (scope.length > most) return undefined;
      }
    }
    return scope;
  };

  /** Fixes what has been decided, and slices the factors of it. */
  const settle = (): void => {
    while (feasible && decided.length > 0) {
      const v = decided.pop() as number;
      if (gone[v] === 1) continue;
      gone[v] = 1;
      const to = value[v] as number;
      if (to === 1) base += unary[v] as number;
      const list = factorsOf(v).slice();
      for (const f of list) {
        if (!f.live) continue;
        detach(f);
        for (const u of f.scope) if (u !== v) touch(u);
        const i = f.scope.indexOf(v);
        const scope = f.scope.filter((_, j) => j !== i);
        if (f.table === undefined) {
          const negated = (f.negative >> i) & 1;
          if (to !== negated) continue;
          addClause(scope, (f.negative & ((1 << i) - 1)) | ((f.negative >> (i + 1)) << i));
        } else addTable(scope, slice(f.table, i, to));
      }
      of[v] = [];
    }
  };

  const enqueue = (v: number): void => {
    if (gone[v] === 1 || value[v] !== FREE) return;
    const cost = unary[v] as number;
    // A variable that no factor prefers true, and that does not pay for being true, is false; likewise the other way.
    if (notLow[v] === 0 && cost >= 0) {
      decide(v, 0);
      return;
    }
    if (notHigh[v] === 0 && cost <= 0 && heavy[v] === 0) {
      decide(v, 1);
      return;
    }
    if (frozen !== undefined && frozen[v] === 1) return;
    if ((alive[v] as number) > HUB) {
      queued[v] = -1;
      return;
    }
    const scope = neighbours(v, factorsOf(v), cap);
    if (scope === undefined) {
      queued[v] = -1;
      return;
    }
    if (queued[v] !== scope.length) {
      queued[v] = scope.length;
      (buckets[scope.length] as number[]).push(v);
    }
  };
  const settleAll = (): void => {
    while (feasible && (decided.length > 0 || touched.length > 0)) {
      settle();
      while (touched.length > 0 && decided.length === 0) {
        const v = touched.pop() as number;
        inTouched[v] = 0;
        enqueue(v);
      }
    }
  };

  const fold = (v: number): boolean => {
    const list = factorsOf(v).slice();
    const scope = neighbours(v, list, cap);
    if (scope === undefined) return false;
    gone[v] = 1;
    foldOver(v, list, scope, unary[v] as number);
    return true;
  };
  /** Folds a variable in groups of its factors, each as large as a table may be; its own cost is shared out. */
  const foldSplit = (v: number): void => {
    const groups: Live[][] = [];
    const scopes: Set<number>[] = [];
    for (const f of factorsOf(v)
      .slice()
      .sort((a, b) => b.scope.length - a.scope.length)) {
      let at = scopes.findIndex((s) => {
        let more = 0;
        for (const u of f.scope) if (u !== v && !s.has(u)) more++;
        return s.size + more <= cap;
      });
      if (at < 0) {
        at = groups.push([]) - 1;
        scopes.push(new Set());
      }
      (groups[at] as Live[]).push(f);
      for (const u of f.scope) if (u !== v) (scopes[at] as Set<number>).add(u);
    }
    gone[v] = 1;
    const share = (unary[v] as number) / Math.max(1, groups.length);
    groups.forEach((group, i) => {
      if (feasible) foldOver(v, group, [...(scopes[i] as Set<number>)], share);
    });
  };
  const foldOver = (v: number, list: readonly Live[], scope: number[], cost: number): void => {
    scope.sort((a, b) => a - b);
    const width = scope.length;
    for (let i = 0; i < width; i++) place[scope[i] as number] = i;
    const size = 1 << width;
    const lo = new Float64Array(size);
    const hi = new Float64Array(size).fill(cost);
    for (const f of list) {
      if (f.table === undefined) {
        let mask = 0;
        let want = 0;
        let own = 0;
        for (let i = 0; i < f.scope.length; i++) {
          const u = f.scope[i] as number;
          const negated = (f.negative >> i) & 1;
          if (u === v) own = negated;
          else {
            const bit = 1 << (place[u] as number);
            mask |= bit;
            if (negated === 1) want |= bit;
          }
        }
        const side = own === 1 ? hi : lo;
        // Every a with (a & mask) = want: the free bits run through all their values.
        const free = (size - 1) & ~mask;
        let a = free;
        for (;;) {
          side[a | want] = Number.POSITIVE_INFINITY;
          if (a === 0) break;
          a = (a - 1) & free;
        }
      } else {
        const { table } = f;
        const to = f.scope.map((u) => (u === v ? -1 : (place[u] as number)));
        const own = 1 << to.indexOf(-1);
        const at = new Int32Array(size);
        for (let i = 0; i < to.length; i++) {
          const bit = to[i] as number;
          if (bit < 0) continue;
          const step = 1 << bit;
          const gain = 1 << i;
          for (let a = 0; a < size; a++) if ((a & step) !== 0) at[a] = (at[a] as number) + gain;
        }
        for (let a = 0; a < size; a++) {
          const x = at[a] as number;
          lo[a] = (lo[a] as number) + (table[x] as number);
          hi[a] = (hi[a] as number) + (table[x | own] as number);
        }
      }
    }
    const choice = new Uint8Array(size);
    for (let a = 0; a < size; a++) {
      if ((hi[a] as number) < (lo[a] as number)) {
        choice[a] = 1;
        lo[a] = hi[a] as number;
      }
    }
    folds.push({ variable: v, scope, choice });
    for (const f of list) detach(f);
    for (const u of scope) touch(u);
    if (width === 0) {
      const paid = lo[0] as number;
      if (paid === Number.POSITIVE_INFINITY) feasible = false;
      else base += paid;
    } else addTable(scope, lo);
  };

  for (const f of tables.factors) {
    if (f.table === undefined) addClause(f.scope, f.negative);
    else addTable(f.scope, f.table.slice());
    if (!feasible) break;
  }
  for (let v = 0; v < count; v++) touch(v);
  settleAll();
  let width = 0;
  while (feasible) {
    if (width > cap) {
      if (!split) break;
      // The variable in the fewest factors loses least by being split.
      let next = -1;
      for (let v = 0; v < count; v++) {
        if (gone[v] === 0 && value[v] === FREE && (next < 0 || (alive[v] as number) < (alive[next] as number)))
          next = v;
      }
      if (next < 0) break;
      foldSplit(next);
      settleAll();
      width = 0;
      continue;
    }
    const v = (buckets[width] as number[]).pop();
    if (v === undefined) {
      width++;
      continue;
    }
    if (gone[v] === 1 || value[v] !== FREE || queued[v] !== width) continue;
    queued[v] = -1;
    if (fold(v)) {
      settleAll();
      width = 0;
    }
  }

  const names: number[] = [];
  const renamed = new Int32Array(count).fill(-1);
  const kept: Factor[] = [];
  if (feasible) {
    for (let v = 0; v < count; v++) {
      if (gone[v] === 1) continue;
      renamed[v] = names.push(v) - 1;
    }
    for (const v of names) {
      for (const f of of[v] as Live[]) {
        if (!f.live || f.scope[0] !== v) continue;
        kept.push({ scope: f.scope.map((u) => renamed[u] as number), table: f.table, negative: f.negative });
      }
    }
  }
  return {
    feasible,
    base,
    rest: {
      count: names.length,
      unary: Float64Array.from(names, (v) => unary[v] as number),
      heavy: Uint8Array.from(names, (v) => heavy[v] as number),
      factors: kept,
    },
    names: Int32Array.from(names),
    restore: (rest) => {
      const full = value.slice();
      names.forEach((v, i) => {
        full[v] = rest[i] as number;
      });
      for (let i = folds.length - 1; i >= 0; i--) {
        const { variable, scope, choice } = folds[i] as Fold;
        let a = 0;
        for (let j = 0; j < scope.length; j++) if (full[scope[j] as number] === 1) a |= 1 << j;
        full[variable] = choice[a] as number;
      }
      return full;
    },
  };
}

/** The half of a table in which variable i of its scope has the value `to`. */
function slice(table: Float64Array, i: number, to: number): Float64Array {
  const half = new Float64Array(table.length >> 1);
  const below = (1 << i) - 1;
  for (let a = 0; a < half.length; a++) half[a] = table[((a & ~below) << 1) | (to << i) | (a & below)] as number;
  return half;
}

// Owns how a model is put in variables: windows of the items, the makespan, the orders, and the arcs between them.

import type { Model } from "../model.ts";
import { EdgeDraft } from "./edges.ts";
import type { Layout } from "./lanes.ts";

/** Pairs of uses that get an order at most: they are quadratic. */
const MOST_PAIRS = 4000;
/** Items up to which the arcs are closed to see which pairs are in order anyhow. */
const CLOSED_ITEMS = 1000;

export interface Question {
  /** Windows of the items, of the makespan (variable `items`), of the orders; some low above high: nothing satisfies the model. */
  readonly low: Int32Array;
  readonly high: Int32Array;
  readonly items: number;
  readonly edges: EdgeDraft;
  /** By order: the arc that holds when it is 1. */
  readonly orders: {
    readonly from: readonly number[];
    readonly to: readonly number[];
    readonly lag: readonly number[];
  };
}

/** Items of a circle of arcs whose lags sum to more than 0, if there is one (R. Bellman, L. Ford; the circle is found on the parents). */
export const circleOf = ({ size, arcs: { from, to, lag } }: Model): readonly number[] | undefined => {
  const reach = new Float64Array(size);
  const parent = new Int32Array(size).fill(-1);
  let moved = -1;
  for (let round = 0; round <= size; round += 1) {
    moved = -1;
    for (let arc = 0; arc < lag.length; arc += 1) {
      if (reach[from[arc]!]! + lag[arc]! <= reach[to[arc]!]!) continue;
      reach[to[arc]!] = reach[from[arc]!]! + lag[arc]!;
      parent[to[arc]!] = from[arc]!;
      moved = to[arc]!;
    }
    if (moved < 0) return undefined;
  }
  for (let step = 0; step < size; step += 1) moved = parent[moved]!;
  const circle = [moved];
  for (let item = parent[moved]!; item !== moved; item = parent[item]!) circle.push(item);
  return circle.reverse();
};

/**
 * A tick by which everything can begin without a later makespan: wherever no item reaches (by lags, uses), what lies later can move earlier. `beyond`: a tick after which no item must wait for anything but others.
 */
const farthest = (model: Model, layout: Layout, beyond: number): number => {
  const reach = Int32Array.from(model.ticks, (ticks) => Math.max(1, ticks));
  const widen = (item: number, to: number): void => {
    if (to > reach[item]!) reach[item] = to;
  };
  for (const { from, lag } of [model.arcs, model.either, model.or])
    for (let arc = 0; arc < lag.length; arc += 1) widen(from[arc]!, lag[arc]!);
  let before = 0;
  for (let use = 0; use < layout.uses; use += 1) {
    widen(layout.last[use]!, layout.tail[use]!);
    before = Math.max(before, -layout.head[use]!);
  }
  let far = beyond;
  for (const own of reach) far += own + before;
  return Math.min(far, 2 ** 28);
};

class Putting {
  private readonly model: Model;
  private readonly layout: Layout;
  private readonly low: Int32Array;
  private readonly high: Int32Array;
  private readonly edges = new EdgeDraft();
  private readonly orders: { from: number[]; to: number[]; lag: number[] } = { from: [], to: [], lag: [] };

  constructor(model: Model, layout: Layout, below: number) {
    this.model = model;
    this.layout = layout;
    const { size, ticks, counted, earliest, latest, arcs } = model;
    let beyond = 0;
    for (const tick of [...earliest, ...model.barUntil]) beyond = Math.max(beyond, tick);
    const far = farthest(model, layout, Math.max(beyond, Number.isFinite(below) ? below : 0));
    const end = Math.min(below - 1, far + ticks.reduce((most, one) => Math.max(most, one), 0));
    this.low = new Int32Array(size + 1);
    this.high = new Int32Array(size + 1);
    for (let item = 0; item < size; item += 1) {
      this.low[item] = earliest[item]!;
      this.high[item] = Math.min(latest[item]!, far);
      if (counted[item] === 1) this.edges.add(item, size, ticks[item]!, -1);
    }
    this.high[size] = end;
    for (let arc = 0; arc < arcs.lag.length; arc += 1)
      this.edges.add(arcs.from[arc]!, arcs.to[arc]!, arcs.lag[arc]!, -1);
    this.narrow();
    this.choices();
    this.pairs();
  }

  question(): Question {
    const variables = this.model.size + 1 + this.orders.lag.length;
    const low = new Int32Array(variables);
    const high = new Int32Array(variables).fill(1);
    low.set(this.low);
    high.set(this.high);
    return { low, high, items: this.model.size, edges: this.edges, orders: this.orders };
  }

  /** Windows by the arcs that always hold. */
  private narrow(): void {
    const { low, high } = this;
    const { from, to, lag } = this.edges;
    for (let round = 0; round <= low.length; round += 1) {
      let moved = false;
      // Every other edge is the arc itself, the one after it its mirror.
      for (let edge = 0; edge < lag.length; edge += 2) {
        const [a, b] = [from[edge]! >> 1, to[edge]! >> 1];
        if (low[a]! + lag[edge]! > low[b]!) {
          low[b] = low[a]! + lag[edge]!;
          moved = true;
        }
        if (high[b]! - lag[edge]! < high[a]!) {
          high[a] = high[b]! - lag[edge]!;
          moved = true;
        }
      }
      if (!moved) return;
    }
  }

  private choices(): void {
    const { either, or } = this.model;
    for (let place = 0; place < either.lag.length; place += 1)
      this.choose(
        either.from[place]!,
        either.to[place]!,
        either.lag[place]!,
        or.from[place]!,
        or.to[place]!,
        or.lag[place]!,
      );
  }

  /** One arc or the other: an order, or less where the windows allow no choice. */
  private choose(from: number, to: number, lag: number, from2: number, to2: number, lag2: number): void {
    const { low, high, edges, orders } = this;
    if (high[from]! + lag <= low[to]! || high[from2]! + lag2 <= low[to2]!) return;
    const can = from !== to && low[from]! + lag <= high[to]!;
    const can2 = from2 !== to2 && low[from2]! + lag2 <= high[to2]!;
    if (!can2) edges.add(from, to, lag, -1);
    else if (!can) edges.add(from2, to2, lag2, -1);
    else {
      const order = this.model.size + 1 + orders.lag.length;
      orders.from.push(from);
      orders.to.push(to);
      orders.lag.push(lag);
      edges.add(from, to, lag, order * 2);
      edges.add(from2, to2, lag2, order * 2 + 1);
    }
  }

  /** Two uses that no lane has room for together come one after the other. */
  private pairs(): void {
    const { layout, model, low, high } = this;
    const { uses, first, last, head, tail, need, lanes, capacity } = layout;
    const apart = model.size <= CLOSED_ITEMS ? this.closure() : undefined;
    const gap = (a: number, b: number): number =>
      a === b ? 0 : Math.max(low[b]! - high[a]!, apart === undefined ? -(2 ** 29) : apart[a * model.size + b]!);
    const seen = new Set<string>();
    let pairs = 0;
    for (let one = 0; one < uses; one += 1) {
      // A use that may be empty meets nothing then.
      if (gap(first[one]!, last[one]!) + tail[one]! <= head[one]!) continue;
      for (let two = one + 1; two < uses && pairs < MOST_PAIRS; two += 1) {
        if (gap(first[two]!, last[two]!) + tail[two]! <= head[two]!) continue;
        let clash = false;
        for (let lane = 0; lane < lanes && !clash; lane += 1) {
          const [a, b] = [need[one * lanes + lane]!, need[two * lanes + lane]!];
          clash = a > 0 && b > 0 && a + b > capacity[lane]!;
        }
        if (!clash) continue;
        const lag = tail[one]! - head[two]!;
        const lag2 = tail[two]! - head[one]!;
        if (gap(last[one]!, first[two]!) >= lag || gap(last[two]!, first[one]!) >= lag2) continue;
        const key = [last[one], first[two], lag, last[two], first[one], lag2].join();
        if (seen.has(key)) continue;
        seen.add(key);
        pairs += 1;
        this.choose(last[one]!, first[two]!, lag, last[two]!, first[one]!, lag2);
      }
    }
  }

  /** Item × item: the longest chain of arcs from the one to the other; far below 0: none. */
  private closure(): Int32Array {
    const { size, arcs } = this.model;
    const apart = new Int32Array(size * size).fill(-(2 ** 29));
    const out: number[][] = Array.from({ length: size }, () => []);
    for (let arc = 0; arc < arcs.lag.length; arc += 1) out[arcs.from[arc]!]!.push(arc);
    const waiting: number[] = [];
    const isWaiting = new Uint8Array(size);
    for (let source = 0; source < size; source += 1) {
      const row = apart.subarray(source * size, (source + 1) * size);
      row[source] = 0;
      waiting.length = 0;
      waiting.push(source);
      for (let next = 0; next < waiting.length; next += 1) {
        const item = waiting[next]!;
        isWaiting[item] = 0;
        for (const arc of out[item]!) {
          const reach = row[item]! + arcs.lag[arc]!;
          const to = arcs.to[arc]!;
          if (reach <= row[to]!) continue;
          row[to] = reach;
          if (isWaiting[to] === 1) continue;
          isWaiting[to] = 1;
          waiting.push(to);
        }
      }
    }
    return apart;
  }
}

/** The question whether there are starts with a makespan below `below` (Infinity: any). The arcs must close no circle. */
export const putQuestion = (model: Model, layout: Layout, below: number): Question =>
  new Putting(model, layout, below).question();

// Owns a model while it is put together: items, arcs, choices, uses and bars in lists, packed at the end.

import type { Arcs, Model } from "./model.ts";

/** s[to] ≥ s[from] + lag. */
export type Arc = readonly [from: number, to: number, lag: number];

/** From, until: half-open. */
export type Span = readonly [from: number, until: number];

interface Item {
  readonly ticks: number;
  readonly counted: boolean;
  readonly earliest: number;
  readonly latest: number;
}

interface Use {
  readonly first: number;
  readonly last: number;
  readonly head: number;
  readonly tail: number;
  readonly need: readonly (readonly [lane: number, count: number])[];
}

const pack = (arcs: readonly Arc[]): Arcs => ({
  from: Int32Array.from(arcs, (arc) => arc[0]),
  to: Int32Array.from(arcs, (arc) => arc[1]),
  lag: Int32Array.from(arcs, (arc) => arc[2]),
});

/** Spans in order, those that touch made one. */
const joined = (spans: readonly Span[]): readonly Span[] => {
  const list: [number, number][] = [];
  for (const [from, until] of [...spans].sort((a, b) => a[0] - b[0])) {
    const last = list.at(-1);
    if (last !== undefined && from <= last[1]) last[1] = Math.max(last[1], until);
    else list.push([from, until]);
  }
  return list;
};

/** Of each item the starts that it may not have, as a model holds them. */
export const packBars = (bars: readonly (readonly Span[])[]): Pick<Model, "bar" | "barFrom" | "barUntil"> => {
  const lists = bars.map(joined);
  const bar = new Int32Array(lists.length + 1);
  for (const [item, list] of lists.entries()) bar[item + 1] = (bar[item] ?? 0) + list.length;
  return {
    bar,
    barFrom: Int32Array.from(lists.flat(), (one) => one[0]),
    barUntil: Int32Array.from(lists.flat(), (one) => one[1]),
  };
};

export class Draft {
  private readonly items: Item[] = [];
  private readonly arcs: Arc[] = [];
  private readonly either: Arc[] = [];
  private readonly or: Arc[] = [];
  private readonly uses: Use[] = [];
  private readonly capacity: number[] = [];
  private readonly bars: (readonly Span[])[] = [];

  get size(): number {
    return this.items.length;
  }

  ticks(item: number): number {
    return this.items[item]?.ticks ?? 0;
  }

  counted(item: number): boolean {
    return this.items[item]?.counted === true;
  }

  item(item: Item, bars: readonly Span[]): number {
    this.bars.push(bars);
    return this.items.push(item) - 1;
  }

  lane(capacity: number): number {
    return this.capacity.push(capacity) - 1;
  }

  arc(...arc: Arc): void {
    this.arcs.push(arc);
  }

  choice(either: Arc, or: Arc): void {
    this.either.push(either);
    this.or.push(or);
  }

  use(use: Use): void {
    if (use.need.length > 0) this.uses.push(use);
  }

  model(): Model {
    const { items, uses, bars } = this;
    const lanes = this.capacity.length;
    const need = new Int32Array(uses.length * lanes);
    for (const [use, one] of uses.entries())
      for (const [lane, count] of one.need) {
        // Who needs more than there is cannot be placed at all; a change like that is never made, and must not make the rest impossible.
        const all = (need[use * lanes + lane] ?? 0) + count;
        need[use * lanes + lane] = Math.min(all, this.capacity[lane] ?? 0);
      }
    return {
      size: items.length,
      ticks: Int32Array.from(items, (one) => one.ticks),
      counted: Uint8Array.from(items, (one) => (one.counted ? 1 : 0)),
      earliest: Int32Array.from(items, (one) => one.earliest),
      latest: Int32Array.from(items, (one) => one.latest),
      arcs: pack(this.arcs),
      either: pack(this.either),
      or: pack(this.or),
      lanes,
      capacity: Int32Array.from(this.capacity),
      uses: {
        first: Int32Array.from(uses, (one) => one.first),
        last: Int32Array.from(uses, (one) => one.last),
        head: Int32Array.from(uses, (one) => one.head),
        tail: Int32Array.from(uses, (one) => one.tail),
        need,
      },
      ...packBars(bars),
    };
  }
}

// Owns the carrying rule while steps are being ordered: which body a part is in, and whether something holds it (docs/release.md, R5).

import type { Compiled } from "./compile.ts";

/** What has happened so far, as far as weight is concerned. */
export class Load {
  readonly released: Uint8Array;
  /** Supports in force, by part. */
  readonly supported: Int32Array;
  readonly up: Uint8Array;
  /** Straps in force, by the part that hangs: what it hangs from. */
  private readonly straps: Map<number, number[]>;
  private readonly strapped: Int32Array;
  private readonly seen: Int32Array;
  private seenNow = 0;
  private readonly c: Compiled;

  constructor(c: Compiled, from?: Load) {
    this.c = c;
    this.released = from === undefined ? c.released.slice() : from.released.slice();
    this.supported = from === undefined ? new Int32Array(c.partCount) : from.supported.slice();
    this.up = from === undefined ? new Uint8Array(c.partCount) : from.up.slice();
    this.straps = new Map(from === undefined ? [] : [...from.straps].map(([p, q]) => [p, q.slice()]));
    this.strapped = from === undefined ? new Int32Array(c.partCount) : from.strapped.slice();
    this.seen = new Int32Array(c.partCount);
  }

  /** Straps a part to another. */
  strap(part: number, to: number): void {
    this.straps.set(part, [...(this.straps.get(part) ?? []), to]);
    for (const p of [part, to]) this.strapped[p] = (this.strapped[p] as number) + 1;
  }

  private source(p: number): boolean {
    return this.c.fixed[p] === 1 || (this.supported[p] as number) > 0 || this.up[p] === 1;
  }

  /** The parts that carrying ties join to `p`, or undefined as soon as one of them is fixed, supported or up. */
  loose(p: number): number[] | undefined {
    return this.source(p) ? undefined : this.spread([p], true);
  }

  /** The parts that carrying ties join to some. */
  bodyOf(parts: readonly number[]): number[] {
    return this.spread(parts, false) ?? [];
  }

  /** What carrying ties join to some; `untilFirm`: undefined as soon as one of it is a source. */
  private spread(from: readonly number[], untilFirm: boolean): number[] | undefined {
    const { released, seen } = this;
    const { tiesOf, joins, carries } = this.c;
    const now = ++this.seenNow;
    const body = [...from];
    for (const p of from) seen[p] = now;
    for (let i = 0; i < body.length; i++) {
      const ties = tiesOf[body[i] as number] as readonly number[];
      for (let k = 0; k < ties.length; k++) {
        const t = ties[k] as number;
        if (carries[t] === 0 || released[t] === 1) continue;
        const ends = joins[t] as readonly number[];
        for (let j = 0; j < ends.length; j++) {
          const q = ends[j] as number;
          if (seen[q] === now) continue;
          if (untilFirm && this.source(q)) return undefined;
          seen[q] = now;
          body.push(q);
        }
      }
    }
    return body;
  }

  /** Whether a body without a firm hold rests: its centre of mass lies inside the polygon of the released rests beneath it. */
  private rests(body: readonly number[]): boolean {
    const { problem, tiesOf, joins } = this.c;
    const inside = new Set(body);
    const points: [number, number][] = [];
    for (const p of body) {
      for (const t of tiesOf[p] as readonly number[]) {
        const tie = problem.connections[t];
        if (this.released[t] !== 1 || tie?.rests !== true || tie.at === undefined) continue;
        const others = (joins[t] as readonly number[]).filter((q) => !inside.has(q));
        if (others.some((q) => this.loose(q) === undefined)) points.push([tie.at[0], tie.at[1]]);
      }
    }
    return this.couldRest(body, points);
  }

  /** Whether a body would rest on these points. */
  couldRest(body: readonly number[], points: readonly (readonly [number, number])[]): boolean {
    const { problem } = this.c;
    let mass = 0;
    let x = 0;
    let y = 0;
    for (const p of body) {
      const part = problem.parts[p];
      if (part === undefined || part.mass === 0) continue;
      if (part.centre === undefined) return false;
      mass += part.mass;
      x += part.mass * part.centre[0];
      y += part.mass * part.centre[1];
    }
    return mass > 0 && insideBy(points, x / mass, y / mass) >= problem.margin;
  }

  /** Whether a strap holds the body: light enough for two hands, and what it hangs from is held firmly. */
  private hangs(body: readonly number[]): boolean {
    const mass = body.reduce((sum, p) => sum + (this.c.problem.parts[p]?.mass ?? 0), 0);
    if (mass > this.c.problem.handLimit) return false;
    const inside = new Set(body);
    return body.some((p) => (this.straps.get(p) ?? []).some((q) => !inside.has(q) && this.loose(q) === undefined));
  }

  held(p: number): boolean {
    const body = this.loose(p);
    return body === undefined || this.rests(body) || this.hangs(body);
  }

  /** Every connection of the part is released, no strap is on it, and two hands can put it aside. */
  private inHand(p: number): boolean {
    const part = this.c.problem.parts[p];
    if (part === undefined || part.mass > this.c.problem.handLimit || (this.strapped[p] as number) > 0) return false;
    return (this.c.tiesOf[p] as readonly number[]).every((t) => this.released[t] === 1);
  }

  /** The parts that the rule finds without a hold among those a change at `parts` can have touched; empty: none. */
  fallen(parts: readonly number[]): number[] {
    const { uncarried, problem, tiesOf, joins } = this.c;
    const bad: number[] = [];
    const looked = new Set<number>();
    const look = (p: number): void => {
      if (looked.has(p)) return;
      const body = this.loose(p);
      if (body === undefined) {
        looked.add(p);
        return;
      }
      for (const q of body) looked.add(q);
      if (!this.rests(body) && !this.hangs(body))
        for (const q of body) if (uncarried[q] === 0 && !this.inHand(q)) bad.push(q);
      // What rests on this body has lost its firm ground.
      for (const q of body) {
        for (const t of tiesOf[q] as readonly number[]) {
          if (this.released[t] === 1 && problem.connections[t]?.rests === true)
            for (const r of joins[t] as readonly number[]) look(r);
        }
      }
    };
    for (const p of parts) look(p);
    return bad;
  }
}

/**
 * Signed distance in metres by which a point lies inside the convex hull of others, seen from above (negative: outside); −Infinity for a hull without
 * area. Hull by Andrew's monotone chain (Information Processing Letters 9, 1979).
 */
function insideBy(points: readonly (readonly [number, number])[], x: number, y: number): number {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const turn = (o: readonly [number, number], a: readonly [number, number], b: readonly [number, number]): number =>
    (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0]);
  const half = (from: readonly (readonly [number, number])[]): (readonly [number, number])[] => {
    const chain: (readonly [number, number])[] = [];
    for (const p of from) {
      while (chain.length >= 2 && turn(chain.at(-2) as [number, number], chain.at(-1) as [number, number], p) <= 0)
        chain.pop();
      chain.push(p);
    }
    chain.pop();
    return chain;
  };
  const hull = [...half(sorted), ...half(sorted.reverse())];
  if (hull.length < 3) return Number.NEGATIVE_INFINITY;
  let least = Number.POSITIVE_INFINITY;
  hull.forEach((a, i) => {
    const b = hull[(i + 1) % hull.length] as readonly [number, number];
    least = Math.min(least, turn(a, b, [x, y]) / Math.hypot(b[0] - a[0], b[1] - a[1]));
  });
  return least;
}

// Owns rule R5 for the checker: which bodies are held firmly, which rest or hang by a strap, which parts are set aside, and which drop.
//
// After each step only the bodies that it touched, and those that rest on them or are strapped to them, are looked at again.

import { Bodies } from "./check-bodies.ts";
import { depthInHull } from "./check-hull.ts";
import type { Problem } from "./problem.ts";

/** Metres, kilograms: what rounding may take off the margin or add to a body's mass. */
const ROUNDING = 1e-9;

/** A body that sat on released `rests` connections for a while. */
export interface Rested {
  /** The steps after which it sat so, first and last. */
  readonly from: number;
  readonly until: number | "end";
  /** Its parts when it came to rest. */
  readonly parts: readonly string[];
  /** What it came to rest on. */
  readonly on: readonly string[];
  /** Metres from its centre of mass to the nearest edge of the polygon, the least of the while. */
  readonly inside: number;
}

/** A body that nothing holds from now on. */
export interface Dropped {
  /** Those of its parts that were held until now. */
  readonly parts: readonly string[];
  /** Kilograms, of the whole body. */
  readonly mass: number;
  /** What it stands on, if anything. */
  readonly on: readonly string[];
  /** Metres from its centre to the nearest edge of that polygon; absent where there is no polygon or no centre. */
  readonly inside?: number;
  /** A strap to something firm is on it; kilograms, the hand limit that it is too heavy for. */
  readonly strapHolds?: number;
}

interface Stance {
  readonly mass: number;
  readonly on: readonly number[];
  readonly inside: number | undefined;
  /** Whether a strap goes from it to another body that is firm. */
  readonly strapped: boolean;
}

/** Step number of what holds before the first step. */
const BEFORE = -1;

export class Carrying {
  /** Every rest that is over; `finish` adds those that last. */
  readonly rested: Rested[] = [];

  private readonly problem: Problem;
  private readonly bodies: Bodies;
  /** Of each connection: its parts, and its tie in `bodies` while it carries. */
  private readonly joins: readonly (readonly number[])[];
  private readonly tie: (number | undefined)[];
  /** Of each part: how many things hold it firmly by itself (fixed, supports, up), how many unreleased connections and hangs tie it. */
  private readonly anchors: number[];
  private readonly ties: number[];
  /** Of each part: the released `rests` connections it has, those with a position. */
  private readonly seats: Set<number>[];
  /** Of each part: what it is strapped to, and what is strapped to it. */
  private readonly straps: Set<number>[];
  private readonly strapped: Set<number>[];
  /** Parts that nothing held before the first step: outside the rule. */
  private readonly exempt: boolean[];
  private readonly dropped = new Set<number>();
  /** Of each body: the anchors of its parts, whether it was firm when last looked at, how it rests. */
  private readonly hold: number[];
  private readonly firm: boolean[] = [];
  private readonly resting = new Map<
    number,
    { from: number; parts: number[]; on: readonly number[]; inside: number }
  >();
  private readonly touched = new Set<number>();

  /** Starts in the state before the first step; `joins` are the connections' parts by number. */
  constructor(problem: Problem, joins: readonly (readonly number[])[]) {
    this.problem = problem;
    this.joins = joins;
    this.anchors = problem.parts.map((part) => (part.fixed ? 1 : 0));
    this.ties = problem.parts.map(() => 0);
    this.seats = problem.parts.map(() => new Set());
    this.straps = problem.parts.map(() => new Set());
    this.strapped = problem.parts.map(() => new Set());
    this.exempt = problem.parts.map(() => false);
    this.hold = [...this.anchors];
    this.bodies = new Bodies(problem.parts.length, (part, from, to) => this.moved(part, from, to));
    for (const part of joins.flat()) this.tieMore(part, 1);
    this.tie = problem.connections.map((connection, number) =>
      connection.carrying ? this.bodies.make(joins[number] ?? []) : undefined,
    );
    const released = new Set(problem.released);
    problem.connections.forEach((connection, number) => {
      if (released.has(connection.id)) this.release(number);
    });
    for (const body of this.bodies.of) this.touched.add(body);
    this.look(BEFORE);
    this.exempt = this.bodies.of.map((body) => !this.firm[body] && !this.resting.has(body));
    this.dropped.clear();
  }

  release(connection: number): void {
    const joins = this.joins[connection] ?? [];
    for (const part of joins) this.tieMore(part, -1);
    const tie = this.tie[connection];
    if (tie !== undefined) this.bodies.undo(tie);
    this.tie[connection] = undefined;
    const { rests, at } = this.problem.connections[connection] ?? {};
    if (!rests || !at) return;
    for (const part of joins) {
      this.seats[part]?.add(connection);
      this.touched.add(this.bodies.of[part] ?? part);
    }
  }

  /** A strap joins no bodies: it holds what is light, and nothing that it is tied to is on the bench. */
  hang(part: number, to: number): void {
    this.straps[part]?.add(to);
    this.strapped[to]?.add(part);
    for (const end of [part, to]) this.tieMore(end, 1);
    this.touched.add(this.bodies.of[part] ?? part);
  }

  /** Whether a part of a lifted group hangs by connections that carry from the parts taken hold of, or was outside the rule all along. */
  rises(part: number, hook: readonly number[]): boolean {
    return this.exempt[part] === true || hook.some((held) => this.bodies.of[held] === this.bodies.of[part]);
  }

  /** Something takes hold of a part from outside (1) or lets go of it (−1). */
  support(part: number, by: 1 | -1): void {
    const body = this.bodies.of[part] ?? part;
    this.anchors[part] = (this.anchors[part] ?? 0) + by;
    this.hold[body] = (this.hold[body] ?? 0) + by;
    this.touched.add(body);
  }

  /** Looks at what the step just made has touched; the bodies that nothing holds any more. */
  look(step: number): Dropped[] {
    // Firmness first: whether a body rests or a strap holds it depends on the firmness of others, never on their resting or their straps.
    for (const body of this.touched) {
      const firm = (this.hold[body] ?? 0) > 0;
      if (firm === (this.firm[body] ?? false)) continue;
      this.firm[body] = firm;
      for (const part of this.bodies.members[body] ?? []) this.touchNeighbours(part);
    }
    const dropped: Dropped[] = [];
    for (const body of this.touched) {
      const drop = this.lookAt(body, step);
      if (drop) dropped.push(drop);
    }
    this.touched.clear();
    return dropped;
  }

  /** Closes the book on what still rests. */
  finish(): void {
    for (const body of [...this.resting.keys()]) this.rise(body, "end");
  }

  private lookAt(body: number, step: number): Dropped | undefined {
    const members = this.bodies.members[body] ?? new Set();
    const stance = this.firm[body] || this.isAside(members) ? undefined : this.stanceOf(members);
    const rests = stance?.inside !== undefined && stance.inside >= this.problem.margin - ROUNDING;
    if (!rests) this.rise(body, step - 1);
    const strapHolds = stance?.strapped === true && stance.mass <= this.problem.handLimit + ROUNDING;
    if (!stance || rests || strapHolds) {
      for (const part of this.dropped) if (this.bodies.of[part] === body) this.dropped.delete(part);
      if (stance && rests) this.sit(body, members, stance, step);
      return undefined;
    }
    const parts = [...members].filter((part) => !this.exempt[part] && !this.dropped.has(part));
    if (parts.length === 0) return undefined;
    for (const part of parts) this.dropped.add(part);
    return {
      parts: this.partIds(parts),
      mass: stance.mass,
      on: this.connectionIds(stance.on),
      ...(stance.inside === undefined ? {} : { inside: stance.inside }),
      ...(stance.strapped ? { strapHolds: this.problem.handLimit } : {}),
    };
  }

  /** A light part by itself, untied and in no hang: on the bench. A body that has been merged away has nothing to drop either. */
  private isAside(members: ReadonlySet<number>): boolean {
    const [part] = members;
    if (part === undefined) return true;
    const mass = this.problem.parts[part]?.mass ?? 0;
    return members.size === 1 && this.ties[part] === 0 && mass <= this.problem.handLimit;
  }

  /** What bears this body, which is not firm itself, from below, how far inside that polygon its centre lies, and whether a strap has it. */
  private stanceOf(members: ReadonlySet<number>): Stance {
    const on = new Set<number>();
    let [mass, x, y] = [0, 0, 0];
    let strapped = false;
    // This body is not firm: what is firm lies outside it.
    const isFirm = (end: number) => this.firm[this.bodies.of[end] ?? end] === true;
    for (const part of members) {
      for (const seat of this.seats[part] ?? []) if (this.joins[seat]?.some(isFirm)) on.add(seat);
      for (const to of this.straps[part] ?? []) strapped ||= isFirm(to);
      const { mass: m = 0, centre } = this.problem.parts[part] ?? {};
      if (m === 0) continue;
      mass += m;
      // Without a centre the sums turn into NaN, and so does the body's.
      x += m * (centre?.[0] ?? Number.NaN);
      y += m * (centre?.[1] ?? Number.NaN);
    }
    const points = [...on].flatMap((seat) => {
      const at = this.problem.connections[seat]?.at;
      return at ? [[at[0], at[1]] as const] : [];
    });
    const depth = mass > 0 && !Number.isNaN(x) ? depthInHull(points, [x / mass, y / mass]) : undefined;
    return { mass, on: [...on], inside: depth, strapped };
  }

  private sit(body: number, members: ReadonlySet<number>, stance: Stance, step: number): void {
    const inside = stance.inside ?? 0;
    const before = this.resting.get(body);
    if (before) before.inside = Math.min(before.inside, inside);
    else this.resting.set(body, { from: step, parts: [...members], on: stance.on, inside });
  }

  private rise(body: number, until: number | "end"): void {
    const rest = this.resting.get(body);
    if (!rest) return;
    this.resting.delete(body);
    this.rested.push({
      from: rest.from,
      until,
      parts: this.partIds(rest.parts),
      on: this.connectionIds(rest.on),
      inside: rest.inside,
    });
  }

  private tieMore(part: number, by: 1 | -1): void {
    this.ties[part] = (this.ties[part] ?? 0) + by;
    // Only a part by itself can be set aside, so only there does the count matter.
    const body = this.bodies.of[part] ?? part;
    if (this.bodies.members[body]?.size === 1) this.touched.add(body);
  }

  private moved(part: number, from: number, to: number): void {
    const anchors = this.anchors[part] ?? 0;
    this.hold[from] = (this.hold[from] ?? 0) - anchors;
    this.hold[to] = (this.hold[to] ?? 0) + anchors;
    this.touched.add(from).add(to);
    this.touchNeighbours(part);
  }

  /** What may rest on this part or be strapped to it. */
  private touchNeighbours(part: number): void {
    for (const seat of this.seats[part] ?? [])
      for (const end of this.joins[seat] ?? []) this.touched.add(this.bodies.of[end] ?? end);
    for (const hung of this.strapped[part] ?? []) this.touched.add(this.bodies.of[hung] ?? hung);
  }

  private partIds(parts: readonly number[]): string[] {
    return parts.toSorted((a, b) => a - b).map((part) => this.problem.parts[part]?.id ?? "");
  }

  private connectionIds(connections: readonly number[]): string[] {
    return connections.toSorted((a, b) => a - b).map((connection) => this.problem.connections[connection]?.id ?? "");
  }
}

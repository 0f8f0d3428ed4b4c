// Owns a run through the needs of chosen steps: which become ready as others are made, with carrying and states left to the caller.

import type { Choice } from "./choice.ts";
import { type Compiled, doneAtom, separationAtom, sideAtom } from "./compile.ts";
import { raise, start, usersOf, type Wiring } from "./wiring.ts";

/** What one choice asks of an order beyond the needs: ties to cut before a lift or separation, straps to put on after it. */
export interface Demands {
  readonly contextsOf: ReadonlyMap<number, readonly number[]>;
  readonly cutCount: Int32Array;
  /** Hang task → steps that it must come after, because its strap would join what they want apart. */
  readonly after: ReadonlyMap<number, readonly number[]>;
  /** Step → hang tasks that wait for it by that. */
  readonly awaited: ReadonlyMap<number, readonly number[]>;
}

export function demandsOf(c: Compiled, w: Wiring, choice: Choice): Demands {
  const contextsOf = new Map<number, number[]>();
  const cutCount = new Int32Array(c.contexts.length);
  const after = new Map<number, number[]>();
  const awaited = new Map<number, number[]>();
  choice.cut.forEach((ties, x) => {
    cutCount[x] = ties.length;
    for (const t of ties) append(contextsOf, t, x);
  });
  for (const [t, hang] of c.hangs) {
    if (choice.steps[c.wayCount + t] === 0) continue;
    const users: number[] = [];
    c.contexts.forEach((context, x) => {
      const side = choice.side[x] as Uint8Array;
      if (choice.active[x] !== true || side[hang.part] === side[hang.to]) return;
      users.push(...usersOf(c, w, context).filter((s) => s !== c.wayCount + t && choice.steps[s] === 1));
    });
    if (users.length > 0) after.set(t, users);
    for (const s of users) append(awaited, s, t);
  }
  return { contextsOf, cutCount, after, awaited };
}

function append(lists: Map<number, number[]>, key: number, item: number): void {
  const list = lists.get(key);
  if (list === undefined) lists.set(key, [item]);
  else list.push(item);
}

/** A run through the needs alone; carrying and states are the caller's to add. Steps come to `ready` once each. */
export class Progress {
  private readonly missing: Int32Array;
  private readonly cut: Int32Array;
  private readonly opened: Uint8Array;
  readonly released: Uint8Array;
  readonly made: Uint8Array;
  readonly passed: Uint8Array;
  readonly ready: number[] = [];
  private readonly c: Compiled;
  private readonly w: Wiring;
  private readonly choice: Choice;
  private readonly demands: Demands;

  constructor(c: Compiled, w: Wiring, choice: Choice, demands: Demands, from?: Progress) {
    this.c = c;
    this.w = w;
    this.choice = choice;
    this.demands = demands;
    this.missing = (from?.missing ?? w.missing).slice();
    this.cut = (from?.cut ?? demands.cutCount).slice();
    this.opened = from === undefined ? new Uint8Array(c.steps.length) : from.opened.slice();
    this.released = from === undefined ? c.released.slice() : from.released.slice();
    this.made = from === undefined ? new Uint8Array(c.steps.length) : from.made.slice();
    this.passed = from === undefined ? new Uint8Array(c.contexts.length) : from.passed.slice();
    if (from !== undefined) {
      this.ready.push(...from.ready);
      return;
    }
    for (let t = 0; t < c.connectionCount; t++) if (c.released[t] === 1) this.raise(t);
    c.contexts.forEach((_, x) => {
      const side = choice.side[x] as Uint8Array;
      for (let p = 0; p < c.partCount; p++) if (side[p] === 1) this.raise(sideAtom(c, x, p));
    });
    start(w, this.missing, this.open);
    c.contexts.forEach((_, x) => {
      if (this.cut[x] === 0) this.cross(x);
    });
  }

  private readonly open = (s: number): void => {
    if (this.opened[s] === 1) return;
    this.opened[s] = 1;
    this.offer(s);
  };

  private raise(atom: number): void {
    raise(this.w, this.missing, atom, this.open);
  }

  /** Hands a step out once its needs hold, and its cut is made, and what it must come after has passed. */
  private offer(s: number): void {
    if (this.choice.steps[s] === 0 || this.opened[s] === 0 || this.made[s] === 1) return;
    const task = s - this.c.wayCount;
    if (task >= 0) {
      if (this.c.problem.tasks[task]?.back === true) return;
      const x = this.contextOfLift(task);
      if (x >= 0 && (this.cut[x] as number) > 0) return;
      if ((this.demands.after.get(task) ?? []).some((y) => this.made[y] === 0)) return;
    }
    this.ready.push(s);
  }

  private contextOfLift(task: number): number {
    return this.c.lifts.has(task) ? this.c.contexts.findIndex((x) => "lift" in x && x.lift === task) : -1;
  }

  /** Every tie across a context is released. */
  private cross(x: number): void {
    const context = this.c.contexts[x];
    if (context === undefined || this.choice.active[x] !== true) return;
    if ("lift" in context) this.offer(this.c.wayCount + context.lift);
    else {
      this.passed[x] = 1;
      this.raise(separationAtom(this.c, context.separation));
    }
  }

  /** The step is made. */
  make(s: number): void {
    if (this.made[s] === 1) return;
    this.made[s] = 1;
    for (const waiting of this.demands.awaited.get(s) ?? []) this.offer(this.c.wayCount + waiting);
    const task = s - this.c.wayCount;
    if (task >= 0) {
      this.raise(doneAtom(this.c, task));
      const x = this.contextOfLift(task);
      if (x >= 0) this.passed[x] = 1;
      return;
    }
    const tie = this.c.connectionOf[s] as number;
    if (this.released[tie] === 1) return;
    this.released[tie] = 1;
    this.raise(tie);
    for (const x of this.demands.contextsOf.get(tie) ?? []) {
      this.cut[x] = (this.cut[x] as number) - 1;
      if (this.cut[x] === 0) this.cross(x);
    }
  }
}

/** Whether a part lies on the rising side, by its atom. */
export function sideTrue(c: Compiled, choice: Choice, atom: number): boolean {
  const at = atom - sideAtom(c, 0, 0);
  return (choice.side[Math.floor(at / c.partCount)] as Uint8Array)[at % c.partCount] === 1;
}

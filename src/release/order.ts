// Owns the order: whether the chosen steps can be made one after another, and with how few changes of state. Where they
// cannot, it says what is stuck, for cuts.ts to put into clauses.

import { Load } from "./carrying.ts";
import { type Compiled, doneAtom, type Formula, separationAtom, sideAtom } from "./compile.ts";
import type { Choice } from "./encode.ts";
import { given, holds, mentions, raise, start, type Wiring } from "./wiring.ts";

/** A step by its number, or −1 − task where a toggle is undone. */
export type Event = number;

export type Sequenced =
  | { readonly kind: "order"; readonly events: readonly Event[]; readonly labourOfStates: number; readonly complete: boolean }
  /** Atoms of the plan that only justify one another. */
  | { readonly kind: "unfounded"; readonly atoms: readonly number[] }
  /** Bodies that nothing holds at the end. */
  | { readonly kind: "fallen"; readonly load: Load; readonly parts: readonly number[] }
  /** No order was found; `complete`: there is none. */
  | { readonly kind: "stuck"; readonly complete: boolean };

/** What one choice asks of an order beyond the needs: ties to cut before a lift or separation, straps to put on after it. */
export interface Demands {
  readonly contextsOf: ReadonlyMap<number, readonly number[]>;
  readonly cutCount: Int32Array;
  /** Hang task → steps that it must come after, because its strap would join what they want apart. */
  readonly after: ReadonlyMap<number, readonly number[]>;
}

/** Extra needs that an order is tried with: connection → what must hold before its release. */
export type Hints = ReadonlyMap<number, readonly Formula[]>;

/** The steps that want a context's two sides apart when they are made. */
export function usersOf(c: Compiled, context: Compiled["contexts"][number]): number[] {
  if ("lift" in context) return [c.wayCount + context.lift];
  const atom = separationAtom(c, context.separation);
  return c.steps.flatMap((s, i) => (mentions(s.needs, (a) => a === atom) ? [i] : []));
}

export function demandsOf(c: Compiled, choice: Choice): Demands {
  const contextsOf = new Map<number, number[]>();
  const cutCount = new Int32Array(c.contexts.length);
  const after = new Map<number, number[]>();
  choice.cut.forEach((ties, x) => {
    cutCount[x] = ties.length;
    for (const t of ties) contextsOf.set(t, [...(contextsOf.get(t) ?? []), x]);
  });
  for (const [t, hang] of c.hangs) {
    if (choice.steps[c.wayCount + t] === 0) continue;
    const users: number[] = [];
    c.contexts.forEach((context, x) => {
      const side = choice.side[x] as Uint8Array;
      if (choice.active[x] !== true || side[hang.part] === side[hang.to]) return;
      users.push(...usersOf(c, context).filter((s) => choice.steps[s] === 1));
    });
    if (users.length > 0) after.set(t, users);
  }
  return { contextsOf, cutCount, after };
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
    for (const [task, steps] of this.demands.after) if (steps.includes(s)) this.offer(this.c.wayCount + task);
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

const outSteps = (c: Compiled, choice: Choice): number[] => {
  const steps: number[] = [];
  choice.steps.forEach((chosen, s) => {
    if (chosen === 1 && (s < c.wayCount || c.problem.tasks[s - c.wayCount]?.back !== true)) steps.push(s);
  });
  return steps;
};

/** The atoms of a choice that cannot be founded by needs alone, carrying and states left aside. */
function unfoundedAtoms(c: Compiled, w: Wiring, choice: Choice, demands: Demands, steps: readonly number[]): number[] {
  const run = new Progress(c, w, choice, demands);
  for (let s = run.ready.pop(); s !== undefined; s = run.ready.pop()) run.make(s);
  const atoms = new Set<number>();
  for (const s of steps) {
    if (run.made[s] === 1) continue;
    if (s >= c.wayCount) atoms.add(doneAtom(c, s - c.wayCount));
    else if (run.released[c.connectionOf[s] as number] === 0) atoms.add(c.connectionOf[s] as number);
  }
  c.contexts.forEach((context, x) => {
    if ("separation" in context && choice.active[x] === true && run.passed[x] === 0) atoms.add(separationAtom(c, context.separation));
  });
  return [...atoms];
}

/** The weights at the end, with every support of the plan in force. */
function lastLoad(c: Compiled, choice: Choice, steps: readonly number[]): { load: Load; touched: number[] } {
  const load = new Load(c);
  const touched = new Set<number>();
  for (const s of steps) {
    if (s < c.wayCount) {
      const tie = c.connectionOf[s] as number;
      load.released[tie] = 1;
      for (const p of c.joins[tie] as readonly number[]) touched.add(p);
      continue;
    }
    const task = s - c.wayCount;
    for (const p of c.supports[task] as readonly number[]) load.supported[p] = (load.supported[p] as number) + 1;
    const hang = c.hangs.get(task);
    if (hang !== undefined) load.strap(hang.part, hang.to);
  }
  c.contexts.forEach((context, x) => {
    if ("lift" in context && choice.active[x] === true) (choice.side[x] as Uint8Array).forEach((up, p) => up === 1 && (load.up[p] = 1));
  });
  return { load, touched: [...touched] };
}

interface Node {
  readonly run: Progress;
  readonly load: Load;
  readonly on: Uint8Array;
  readonly events: Event[];
  /** Ready, but a state or the carrying rule stands against it. */
  parked: number[];
  cost: number;
}

const MOST_NODES = 400;

/** Orders the chosen steps. `shuffle` perturbs which of two carrying ties goes first. */
export function sequence(c: Compiled, w: Wiring, choice: Choice): Sequenced {
  const demands = demandsOf(c, choice);
  const steps = outSteps(c, choice);
  const atoms = unfoundedAtoms(c, w, choice, demands, steps);
  if (atoms.length > 0) return { kind: "unfounded", atoms };
  const last = lastLoad(c, choice, steps);
  const parts = last.load.fallen(last.touched);
  if (parts.length > 0) return { kind: "fallen", load: last.load, parts };
  return new Sequencer(c, w, choice, demands, steps).solve();
}

class Sequencer {
  private readonly c: Compiled;
  private readonly w: Wiring;
  private readonly choice: Choice;
  private readonly demands: Demands;
  private readonly steps: readonly number[];
  /** Toggles that some chosen step wants off: their order matters. */
  private readonly contested: readonly number[];
  private readonly isToggle: Uint8Array;
  /** Steps whose needs mention a contested toggle: looked at in full when they are tried. */
  private readonly looks: Uint8Array;
  /** Way → chosen releases that wait for its connection. */
  private readonly wanted: Int32Array;
  private labour = (t: number): number => (this.c.steps[this.c.wayCount + t] as { labour: number }).labour;

  constructor(c: Compiled, w: Wiring, choice: Choice, demands: Demands, steps: readonly number[]) {
    this.c = c;
    this.w = w;
    this.choice = choice;
    this.demands = demands;
    this.steps = steps;
    const off = new Set(steps.flatMap((s) => (c.steps[s] as { without: readonly number[] }).without));
    this.contested = c.problem.tasks.flatMap((t, i) => (t.toggle && choice.steps[c.wayCount + i] === 1 && off.has(i) ? [i] : []));
    this.isToggle = new Uint8Array(c.taskCount);
    for (const t of this.contested) this.isToggle[t] = 1;
    this.looks = new Uint8Array(c.steps.length);
    if (this.contested.length > 0) {
      for (const s of steps) {
        const { needs, without } = c.steps[s] as { needs: Formula; without: readonly number[] };
        const toggle = (a: number): boolean => {
          const t = a - c.connectionCount;
          return t >= 0 && t < c.taskCount && this.isToggle[t] === 1;
        };
        if (without.length > 0 || mentions(needs, toggle)) this.looks[s] = 1;
      }
    }
    this.wanted = new Int32Array(c.connectionCount);
    const count = (f: Formula): void => {
      if (typeof f !== "number") for (const g of f.of) count(g);
      else if (f < c.connectionCount) this.wanted[f] = (this.wanted[f] as number) + 1;
    };
    for (const s of steps) if (s < c.wayCount) count((c.steps[s] as { needs: Formula }).needs);
  }

  solve(): Sequenced {
    const { c } = this;
    const first: Node = {
      run: new Progress(c, this.w, this.choice, this.demands),
      load: new Load(c),
      on: new Uint8Array(c.taskCount),
      events: [],
      parked: [],
      cost: 0,
    };
    this.close(first);
    const open: Node[] = [first];
    const closed: Node[] = [];
    let nodes = 0;
    while (open.length > 0) {
      let at = 0;
      open.forEach((n, i) => {
        if (n.cost < (open[at] as Node).cost) at = i;
      });
      const node = open.splice(at, 1)[0] as Node;
      if (this.steps.every((s) => node.run.made[s] === 1)) {
        return { kind: "order", events: node.events, labourOfStates: node.cost, complete: true };
      }
      if (closed.some((k) => same(k.on, node.on) && covers(k.run.made, node.run.made))) continue;
      closed.push(node);
      if (++nodes > MOST_NODES) return { kind: "stuck", complete: false };
      for (const t of this.contested) {
        const child = this.copy(node);
        child.cost += this.labour(t);
        if (node.on[t] === 1) {
          child.on[t] = 0;
          child.events.push(-1 - t);
          for (const p of c.supports[t] as readonly number[]) child.load.supported[p] = (child.load.supported[p] as number) - 1;
          if (child.load.fallen(c.supports[t] as readonly number[]).length > 0) continue;
        } else {
          if (!this.may(child, c.wayCount + t)) continue;
          child.on[t] = 1;
          child.events.push(c.wayCount + t);
          for (const p of c.supports[t] as readonly number[]) child.load.supported[p] = (child.load.supported[p] as number) + 1;
          child.run.make(c.wayCount + t);
        }
        this.close(child);
        open.push(child);
      }
    }
    // Which of several carrying ties goes first was chosen by a rule of thumb: that none was found proves it only when it did not matter.
    return { kind: "stuck", complete: false };
  }

  private copy(n: Node): Node {
    return {
      run: new Progress(this.c, this.w, this.choice, this.demands, n.run),
      load: new Load(this.c, n.load),
      on: n.on.slice(),
      events: n.events.slice(),
      parked: n.parked.slice(),
      cost: n.cost,
    };
  }

  /** Whether states and needs allow the step now. */
  private may(n: Node, s: number): boolean {
    const { c } = this;
    const { needs, without } = c.steps[s] as { needs: Formula; without: readonly number[] };
    if (without.some((t) => n.on[t] === 1)) return false;
    return holds(needs, (a) => {
      if (a < c.connectionCount) return n.run.released[a] === 1;
      const t = a - c.connectionCount;
      if (t < c.taskCount) return this.isToggle[t] === 1 ? n.on[t] === 1 : n.run.made[c.wayCount + t] === 1;
      const k = t - c.taskCount;
      const lifts = c.contexts.length - c.separations.length;
      if (k < c.separations.length) return n.run.passed[lifts + k] === 1;
      const side = k - c.separations.length;
      return (this.choice.side[Math.floor(side / c.partCount)] as Uint8Array)[side % c.partCount] === 1;
    });
  }

  /** Makes every step that can be made in the present state. */
  private close(n: Node): void {
    const { c } = this;
    const { run, load } = n;
    let waiting = n.parked;
    const weighty: number[] = [];
    const blocked: { s: number; pulse: number; parts: readonly number[] }[] = [];
    const pulse = new Int32Array(c.partCount);
    let tide = 0;
    const make = (s: number): void => {
      n.events.push(s);
      run.make(s);
      if (s < c.wayCount) {
        for (const p of c.joins[c.connectionOf[s] as number] as readonly number[]) pulse[p] = (pulse[p] as number) + 1;
        return;
      }
      const task = s - c.wayCount;
      n.on[task] = 1;
      for (const p of c.supports[task] as readonly number[]) load.supported[p] = (load.supported[p] as number) + 1;
      const hang = c.hangs.get(task);
      if (hang !== undefined) load.strap(hang.part, hang.to);
      const lift = c.lifts.get(task);
      if (lift !== undefined) for (const p of groupOf(c, run.released, n.events, lift.parts)) load.up[p] = 1;
      tide++;
    };
    const tryCarrying = (s: number): readonly number[] => {
      const tie = c.connectionOf[s] as number;
      load.released[tie] = 1;
      const bad = load.fallen(c.joins[tie] as readonly number[]);
      if (bad.length > 0) load.released[tie] = 0;
      else make(s);
      return bad;
    };
    const pulseOf = (parts: readonly number[]): number => parts.reduce((sum, p) => sum + (pulse[p] as number), tide);
    for (;;) {
      let moved = false;
      for (let s = run.ready.pop(); s !== undefined; s = run.ready.pop()) {
        if (run.made[s] === 1) continue;
        const task = s - c.wayCount;
        if (task >= 0 && this.isToggle[task] === 1) continue;
        if (this.looks[s] === 1 && !this.may(n, s)) {
          waiting.push(s);
          continue;
        }
        if (task < 0) {
          const tie = c.connectionOf[s] as number;
          if (run.released[tie] === 1) {
            run.made[s] = 1;
            continue;
          }
          if (c.problem.connections[tie]?.carrying === true) {
            weighty.push(s);
            continue;
          }
          load.released[tie] = 1;
        }
        make(s);
        moved = true;
      }
      if (moved && waiting.length > 0) {
        run.ready.push(...waiting);
        waiting = [];
        continue;
      }
      // Ties that carry go last, those that other releases wait for before the rest: a part's last tie is then the one nobody waits for.
      weighty.sort((a, b) => (this.wanted[c.connectionOf[a] as number] as number) - (this.wanted[c.connectionOf[b] as number] as number) || b - a);
      const s = weighty.pop();
      if (s !== undefined) {
        if (run.made[s] === 1 || run.released[c.connectionOf[s] as number] === 1) continue;
        if (this.looks[s] === 1 && !this.may(n, s)) {
          waiting.push(s);
          continue;
        }
        const bad = tryCarrying(s);
        if (bad.length > 0) blocked.push({ s, parts: bad, pulse: pulseOf(bad) });
        continue;
      }
      const again = blocked.filter((b) => pulseOf(b.parts) !== b.pulse);
      if (again.length === 0) break;
      for (const b of again) {
        blocked.splice(blocked.indexOf(b), 1);
        weighty.push(b.s);
      }
    }
    n.parked = [...waiting, ...blocked.map((b) => b.s)];
    run.ready.push(...n.parked);
    n.parked = [];
  }
}

/** The parts that unreleased ties and straps put on so far join to some parts. */
function groupOf(c: Compiled, released: Uint8Array, events: readonly Event[], from: readonly number[]): number[] {
  const straps = new Map<number, number[]>();
  for (const e of events) {
    const hang = e >= c.wayCount ? c.hangs.get(e - c.wayCount) : undefined;
    if (hang === undefined) continue;
    straps.set(hang.part, [...(straps.get(hang.part) ?? []), hang.to]);
    straps.set(hang.to, [...(straps.get(hang.to) ?? []), hang.part]);
  }
  const seen = new Set(from);
  const group = [...from];
  for (let i = 0; i < group.length; i++) {
    const p = group[i] as number;
    const visit = (q: number): void => {
      if (seen.has(q)) return;
      seen.add(q);
      group.push(q);
    };
    for (const t of c.tiesOf[p] as readonly number[]) if (released[t] === 0) for (const q of c.joins[t] as readonly number[]) visit(q);
    for (const q of straps.get(p) ?? []) visit(q);
  }
  return group;
}

const same = (a: Uint8Array, b: Uint8Array): boolean => a.every((x, i) => x === b[i]);
const covers = (a: Uint8Array, b: Uint8Array): boolean => b.every((x, i) => x <= (a[i] as number));

/** Toggle → least number of changes that its own order forces, and the step that forces the last one; `level` by step. */
export function levelsOf(c: Compiled, w: Wiring, choice: Choice, task: number): { readonly level: Int32Array; readonly top: number } {
  const demands = demandsOf(c, choice);
  const level = new Int32Array(c.steps.length).fill(-1);
  const run = new Progress(c, w, choice, demands);
  let phase = 0;
  let still = 0;
  let top = -1;
  let waiting: number[] = [];
  const wantsOn = (s: number): boolean =>
    given((c.steps[s] as { needs: Formula }).needs, (a) => (a === doneAtom(c, task) ? false : undefined)) === false;
  const own = c.wayCount + task;
  for (;;) {
    let moved = false;
    for (let s = run.ready.pop(); s !== undefined; s = run.ready.pop()) {
      if (run.made[s] === 1) continue;
      if (s === own) {
        // The first change is made by the caller's phase, its atom stays raised: who wants the state is held by `wantsOn`.
        if (phase > 0) run.make(s);
        else waiting.push(s);
        continue;
      }
      const off = (c.steps[s] as { without: readonly number[] }).without.includes(task);
      if ((off && phase % 2 === 1) || (phase % 2 === 0 && wantsOn(s))) {
        waiting.push(s);
        continue;
      }
      level[s] = phase;
      run.make(s);
      top = s;
      moved = true;
    }
    still = moved ? 0 : still + 1;
    if (waiting.length === 0 || still > 2) break;
    phase++;
    run.ready.push(...waiting);
    waiting = [];
  }
  level[own] = 0;
  return { level, top };
}

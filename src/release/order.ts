// Owns the order: whether the chosen steps can be made one after another, and with how few changes of state. Where they
// cannot, it says what is stuck, for cuts.ts to put into clauses.

import { Load } from "./carrying.ts";
import { type Compiled, doneAtom, type Formula, holdersOf, separationAtom, sideAtom } from "./compile.ts";
import type { Choice } from "./encode.ts";
import { askersOf, given, holds, mentions, raise, start, usersOf, type Wiring } from "./wiring.ts";

/** A step by its number, or −1 − task where a toggle is undone. */
export type Event = number;

export type Sequenced =
  | { readonly kind: "order"; readonly events: readonly Event[] }
  /** Atoms of the plan that only justify one another. */
  | { readonly kind: "unfounded"; readonly atoms: readonly number[] }
  /** Bodies that nothing holds at the end. */
  | {
      readonly kind: "fallen";
      readonly load: Load;
      readonly parts: readonly number[];
      readonly rising: readonly Rising[];
    }
  /** Bodies that nothing can hold in time, whichever of their ties goes last. */
  | { readonly kind: "unheld"; readonly bodies: readonly Unheld[] }
  /** A part that was to go up is not tied to what goes up. */
  | { readonly kind: "left"; readonly context: number; readonly part: number; readonly group: readonly number[] }
  /** No order was found; `complete`: there is none. */
  | { readonly kind: "stuck"; readonly complete: boolean };

/** A body whose carrying ties are all to be released, and whose hold comes true, for each of them, only after it. */
export interface Unheld {
  /** Carrying ties that join it to the rest. */
  readonly boundary: readonly number[];
  readonly hold: Formula;
  /** Parts that would have to go up with a lift for it to carry the body up: each by context. */
  readonly around: readonly { readonly context: number; readonly part: number }[];
  /** Boundary tie → atoms that do not come true without it, as far as the hold asks for them. */
  readonly late: ReadonlyMap<number, readonly number[]>;
}

/** What a lift can carry up by what a choice leaves tied until then. */
export interface Rising {
  readonly context: number;
  readonly parts: ReadonlySet<number>;
}

/** Parts next to what a lift carries up that stay, and by which it could come to carry a body: one of them would have to go up. */
export function gatesTo(c: Compiled, choice: Choice, rise: Rising, body: readonly number[]): number[] {
  const may = c.mayRise[rise.context] as Uint8Array;
  const side = choice.side[rise.context] as Uint8Array;
  const seen = new Set(body);
  const gates: number[] = [];
  for (const p of seen) {
    for (const t of c.tiesOf[p] as readonly number[]) {
      if (c.released[t] === 1 || c.problem.connections[t]?.carrying !== true) continue;
      for (const q of c.joins[t] as readonly number[]) {
        if (rise.parts.has(q)) {
          if (side[p] === 0) gates.push(p);
        } else if (may[q] === 1) seen.add(q);
      }
    }
  }
  return gates;
}

function risingOf(c: Compiled, choice: Choice): Rising[] {
  return c.contexts.flatMap((context, x) => {
    if (!("lift" in context) || choice.active[x] !== true) return [];
    const side = choice.side[x] as Uint8Array;
    const hook = c.lifts.get(context.lift)?.parts ?? [];
    const parts = new Set(hook);
    // A set iterates over what is added on the way.
    for (const p of parts) {
      for (const t of c.tiesOf[p] as readonly number[]) {
        if (c.released[t] === 1 || c.problem.connections[t]?.carrying !== true) continue;
        for (const q of c.joins[t] as readonly number[]) if (side[q] === 1) parts.add(q);
      }
    }
    return [{ context: x, parts }];
  });
}

/** What one choice asks of an order beyond the needs: ties to cut before a lift or separation, straps to put on after it. */
export interface Demands {
  readonly contextsOf: ReadonlyMap<number, readonly number[]>;
  readonly cutCount: Int32Array;
  /** Hang task → steps that it must come after, because its strap would join what they want apart. */
  readonly after: ReadonlyMap<number, readonly number[]>;
}

/** Extra needs that an order is tried with: connection → what must hold before its release. */
export type Hints = ReadonlyMap<number, readonly Formula[]>;

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
      users.push(...usersOf(c, context).filter((s) => s !== c.wayCount + t && choice.steps[s] === 1));
    });
    if (users.length > 0) after.set(t, users);
  }
  return { contextsOf, cutCount, after };
}

/** A run through the needs alone; carrying and states are the caller's to add. Steps come to `ready` once each. */
class Progress {
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
    if ("separation" in context && choice.active[x] === true && run.passed[x] === 0)
      atoms.add(separationAtom(c, context.separation));
  });
  return [...atoms];
}

/** The weights at the end, with every support of the plan in force. */
function lastLoad(c: Compiled, steps: readonly number[], rising: readonly Rising[]): { load: Load; touched: number[] } {
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
  for (const { parts } of rising) for (const p of parts) load.up[p] = 1;
  for (let p = 0; p < c.partCount; p++) if (c.uncarried[p] === 1) load.up[p] = 1;
  return { load, touched: [...touched] };
}

interface Node {
  readonly run: Progress;
  readonly load: Load;
  readonly on: Uint8Array;
  readonly events: Event[];
  /** Lift context → what went up. */
  readonly groups: Map<number, readonly number[]>;
  /** Steps that the carrying rule stands against, with the parts that would fall. */
  blocked: readonly { readonly s: number; readonly parts: readonly number[] }[];
  /** Steps that could be made, left to the search. */
  choices: readonly number[];
  cost: number;
}

/** Changes of state looked at before giving up, and single steps in the careful search. */
const MOST_NODES = 400;
const MOST_CAREFUL = 4000;
/** Times an order is tried again with another tie put last. */
const MOST_TRIES = 12;

/** Orders the chosen steps. `tick` is called again and again, and may throw to end it. */
export function sequence(c: Compiled, w: Wiring, choice: Choice, tick?: () => void): Sequenced {
  const demands = demandsOf(c, choice);
  const steps = outSteps(c, choice);
  const atoms = unfoundedAtoms(c, w, choice, demands, steps);
  if (atoms.length > 0) return { kind: "unfounded", atoms };
  const rising = risingOf(c, choice);
  const last = lastLoad(c, steps, rising);
  const parts = last.load.fallen(last.touched);
  if (parts.length > 0) return { kind: "fallen", load: last.load, parts, rising };

  // A part that must go up tied is cut from its neighbours after the lift, where that can be.
  const kept = new Map<number, Formula[]>();
  if (c.take.length > 0) {
    c.contexts.forEach((context, x) => {
      if (!("lift" in context) || choice.active[x] !== true) return;
      const side = choice.side[x] as Uint8Array;
      for (const s of steps) {
        if (s >= c.wayCount) continue;
        const tie = c.connectionOf[s] as number;
        if ((c.joins[tie] as readonly number[]).every((p) => side[p] === 1)) kept.set(tie, [doneAtom(c, context.lift)]);
      }
    });
  }
  const hints = new Map(kept);
  for (let tries = 0; tries < MOST_TRIES; tries++) {
    const sequencer = new Sequencer(c, w, choice, demands, steps, hints, tick);
    const found = sequencer.solve(false);
    if ("events" in found) {
      const left = leftBehind(c, choice, found.groups);
      if (left === undefined) return { kind: "order", events: found.events };
      return kept.size === 0 || hints.size > 0 ? left : { kind: "stuck", complete: false };
    }
    if (kept.size > 0 && tries === 0) {
      hints.clear();
      continue;
    }
    const unheld: Unheld[] = [];
    let learnt = false;
    for (const { s, parts: falling } of found.blocked) {
      const body = bodyOf(c, w, choice, demands, rising, found.load, c.connectionOf[s] as number, falling);
      if (body === undefined) continue;
      const early = body.boundary.find((t) => !body.late.has(t));
      if (early === undefined) unheld.push(body);
      else {
        const open = body.boundary.find((t) => !body.late.has(t) && !hints.has(t));
        if (open !== undefined) {
          hints.set(open, [body.hold]);
          learnt = true;
        }
      }
    }
    if (unheld.length > 0) return { kind: "unheld", bodies: unheld };
    if (!learnt) break;
  }
  const careful = new Sequencer(c, w, choice, demands, steps, new Map(), tick).solve(true);
  if (!("events" in careful)) return { kind: "stuck", complete: careful.complete };
  const left = leftBehind(c, choice, careful.groups);
  if (left === undefined) return { kind: "order", events: careful.events };
  return { kind: "stuck", complete: false };
}

/** The order of a choice with the least labour of states; undefined: not known. */
export function bestOrder(c: Compiled, w: Wiring, choice: Choice, tick?: () => void): readonly Event[] | undefined {
  const found = new Sequencer(c, w, choice, demandsOf(c, choice), outSteps(c, choice), new Map(), tick).solve(true);
  return "events" in found && leftBehind(c, choice, found.groups) === undefined ? found.events : undefined;
}

/** A part of `take` that no lift took, as the lift whose sides promised it. */
function leftBehind(
  c: Compiled,
  choice: Choice,
  groups: ReadonlyMap<number, readonly number[]>,
): Sequenced | undefined {
  for (const part of c.take) {
    if ([...groups.values()].some((group) => group.includes(part))) continue;
    for (const [context, group] of groups) {
      if ((choice.side[context] as Uint8Array)[part] === 1) return { kind: "left", context, part, group };
    }
  }
  return undefined;
}

/** The body that falls when a tie goes, and which of its ties could go last; undefined where rests might bear it. */
function bodyOf(
  c: Compiled,
  w: Wiring,
  choice: Choice,
  demands: Demands,
  rising: readonly Rising[],
  load: Load,
  tie: number,
  falling: readonly number[],
): Unheld | undefined {
  load.released[tie] = 1;
  const body = load.loose(falling[0] as number);
  load.released[tie] = 0;
  if (body === undefined) return undefined;
  const inside = new Set(body);
  const boundary = new Set<number>();
  const inner = new Set<number>();
  const rests: [number, number][] = [];
  const by: Formula[] = holdersOf(c, body).map((t) => doneAtom(c, t));
  for (const p of body) {
    for (const t of c.tiesOf[p] as readonly number[]) {
      const connection = c.problem.connections[t];
      if (connection?.carrying !== true) continue;
      if (connection.rests && connection.at !== undefined) rests.push([connection.at[0], connection.at[1]]);
      if (c.released[t] === 1) continue;
      if (load.released[t] === 1 || t === tie) boundary.add(t);
      else inner.add(t);
    }
  }
  if (load.couldRest(body, rests)) return undefined;
  // A tie all of whose ends are in the body does not bind it to anything else.
  for (const t of boundary) {
    if ((c.joins[t] as readonly number[]).every((p) => inside.has(p))) {
      boundary.delete(t);
      inner.add(t);
    }
  }
  by.push(...inner);
  // Up with a lift by a tie of the boundary that is released only afterwards.
  const around: { context: number; part: number }[] = [];
  c.contexts.forEach((context, x) => {
    if (!("lift" in context)) return;
    const may = c.mayRise[x] as Uint8Array;
    const rise = rising.find((r) => r.context === x);
    if (rise !== undefined && !body.some((p) => rise.parts.has(p))) {
      around.push(...gatesTo(c, choice, rise, body).map((part) => ({ context: x, part })));
      return;
    }
    for (const t of boundary) {
      const ends = c.joins[t] as readonly number[];
      if (ends.every((p) => may[p] === 1)) {
        by.push({ any: false, of: [doneAtom(c, context.lift), ...ends.map((p) => sideAtom(c, x, p))] });
      }
    }
  });
  const only = body[0] as number;
  if (body.length === 1 && (c.problem.parts[only]?.mass ?? 0) <= c.problem.handLimit) {
    by.push({
      any: false,
      of: (c.tiesOf[only] as readonly number[]).filter((t) => c.released[t] === 0 && !boundary.has(t)),
    });
  }
  const hold: Formula = { any: true, of: by };
  const late = new Map<number, readonly number[]>();
  for (const t of boundary) {
    const missing = lateWithout(c, w, choice, demands, t, hold);
    if (missing !== undefined) late.set(t, missing);
  }
  return { boundary: [...boundary], hold, around, late };
}

/** Whether a formula comes true by needs alone when a tie is never released: undefined if so, else the atoms that fail and that it leads to. */
function lateWithout(
  c: Compiled,
  w: Wiring,
  choice: Choice,
  demands: Demands,
  tie: number,
  hold: Formula,
): readonly number[] | undefined {
  const run = new Progress(c, w, choice, demands);
  for (let s = run.ready.pop(); s !== undefined; s = run.ready.pop()) {
    if (s < c.wayCount && c.connectionOf[s] === tie) continue;
    run.make(s);
  }
  const truth = (a: number): boolean => {
    if (a < c.connectionCount) return run.released[a] === 1;
    const t = a - c.connectionCount;
    if (t < c.taskCount) return run.made[c.wayCount + t] === 1;
    const k = t - c.taskCount;
    if (k < c.separations.length) return run.passed[c.contexts.length - c.separations.length + k] === 1;
    return sideTrue(c, choice, a);
  };
  if (holds(hold, truth)) return undefined;
  const late = new Set<number>();
  const visit = (f: Formula): void => {
    if (typeof f !== "number") {
      for (const g of f.of) visit(g);
      return;
    }
    const task = f - c.connectionCount;
    if (late.has(f) || truth(f) || task >= c.taskCount + c.separations.length) return;
    // An atom that the choice does not bring about at all is a way out, not something late.
    const makers = task < 0 ? (c.waysOf[f] as readonly number[]) : task < c.taskCount ? [c.wayCount + task] : [];
    const x = c.contexts.findIndex((context) =>
      "lift" in context ? context.lift === task : c.taskCount + context.separation === task,
    );
    if (task < c.taskCount ? !makers.some((s) => choice.steps[s] === 1) : choice.active[x] !== true) return;
    late.add(f);
    if (f === tie) return;
    for (const s of makers) if (choice.steps[s] === 1) visit((c.steps[s] as { needs: Formula }).needs);
    if (x >= 0) for (const t of choice.cut[x] as readonly number[]) visit(t);
    for (const s of demands.after.get(task) ?? [])
      visit(s < c.wayCount ? (c.connectionOf[s] as number) : doneAtom(c, s - c.wayCount));
  };
  visit(hold);
  late.add(tie);
  return [...late];
}

/** Whether a part lies on the rising side, by its atom. */
export function sideTrue(c: Compiled, choice: Choice, atom: number): boolean {
  const at = atom - sideAtom(c, 0, 0);
  return (choice.side[Math.floor(at / c.partCount)] as Uint8Array)[at % c.partCount] === 1;
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
  private readonly hints: Hints;
  private readonly tick: (() => void) | undefined;

  constructor(
    c: Compiled,
    w: Wiring,
    choice: Choice,
    demands: Demands,
    steps: readonly number[],
    hints: Hints,
    tick?: () => void,
  ) {
    this.hints = hints;
    this.tick = tick;
    this.c = c;
    this.w = w;
    this.choice = choice;
    this.demands = demands;
    this.steps = steps;
    const off = new Set(steps.flatMap((s) => (c.steps[s] as { without: readonly number[] }).without));
    this.contested = c.problem.tasks.flatMap((t, i) =>
      t.toggle && choice.steps[c.wayCount + i] === 1 && off.has(i) ? [i] : [],
    );
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
    // A strap that may join two sides again: who asks for them apart is looked at when it is tried.
    for (const [t] of c.hangs) {
      if (choice.steps[c.wayCount + t] === 0) continue;
      c.separations.forEach((_, k) => {
        for (const s of askersOf(c, k)) this.looks[s] = 1;
      });
      break;
    }
    for (const tie of hints.keys()) for (const s of c.waysOf[tie] as readonly number[]) this.looks[s] = 1;
    this.wanted = new Int32Array(c.connectionCount);
    const count = (f: Formula): void => {
      if (typeof f !== "number") for (const g of f.of) count(g);
      else if (f < c.connectionCount) this.wanted[f] = (this.wanted[f] as number) + 1;
    };
    for (const s of steps) if (s < c.wayCount) count((c.steps[s] as { needs: Formula }).needs);
  }

  /** Cheapest changes of state first. Careful: the steps whose order can matter are tried one by one, and a failure is a proof. */
  solve(
    careful: boolean,
  ): Node | { readonly complete: boolean; readonly blocked: Node["blocked"]; readonly load: Load } {
    const { c } = this;
    const first: Node = {
      run: new Progress(c, this.w, this.choice, this.demands),
      load: new Load(c),
      on: new Uint8Array(c.taskCount),
      events: [],
      groups: new Map(),
      blocked: [],
      choices: [],
      cost: 0,
    };
    this.close(first, careful);
    const open: Node[] = [first];
    const closed: Node[] = [];
    const seen = new Set<string>();
    let furthest = first;
    let nodes = 0;
    while (open.length > 0) {
      let at = 0;
      // Depth first among equals.
      open.forEach((n, i) => {
        if (n.cost <= (open[at] as Node).cost) at = i;
      });
      const node = open.splice(at, 1)[0] as Node;
      if (node.events.length > furthest.events.length) furthest = node;
      if (this.steps.every((s) => node.run.made[s] === 1) && this.endsRight(node)) return node;
      if (careful) {
        const key = `${node.run.made.join("")}${node.on.join("")}`;
        if (seen.has(key)) continue;
        seen.add(key);
      } else {
        if (closed.some((k) => same(k.on, node.on) && covers(k.run.made, node.run.made))) continue;
        closed.push(node);
      }
      if (++nodes > (careful ? MOST_CAREFUL : MOST_NODES))
        return { complete: false, blocked: furthest.blocked, load: furthest.load };
      for (const s of node.choices) {
        const child = this.copy(node);
        child.run.ready.push(...node.choices.filter((other) => other !== s));
        if (this.attempt(child, s).length > 0) continue;
        this.close(child, careful);
        open.push(child);
      }
      for (const t of this.contested) {
        const child = this.copy(node);
        child.run.ready.push(...node.choices);
        const step = c.steps[c.wayCount + t] as { labour: number };
        child.cost += step.labour;
        if (node.on[t] === 1) {
          child.on[t] = 0;
          child.events.push(-1 - t);
          for (const p of c.supports[t] as readonly number[])
            child.load.supported[p] = (child.load.supported[p] as number) - 1;
          if (child.load.fallen(c.supports[t] as readonly number[]).length > 0) continue;
        } else {
          if (!this.may(child, c.wayCount + t)) continue;
          this.make(child, c.wayCount + t);
        }
        this.close(child, careful);
        open.push(child);
      }
    }
    return { complete: careful, blocked: furthest.blocked, load: furthest.load };
  }

  /** A toggle that a job asks for is on at the end. */
  private endsRight(n: Node): boolean {
    return this.contested.every((t) => this.c.problem.tasks[t]?.must !== true || n.on[t] === 1);
  }

  private copy(n: Node): Node {
    this.tick?.();
    return {
      run: new Progress(this.c, this.w, this.choice, this.demands, n.run),
      load: new Load(this.c, n.load),
      on: n.on.slice(),
      events: n.events.slice(),
      groups: new Map(n.groups),
      blocked: [],
      choices: [],
      cost: n.cost,
    };
  }

  /** Whether states and needs allow the step now. */
  private may(n: Node, s: number): boolean {
    const { c } = this;
    const { needs, without } = c.steps[s] as { needs: Formula; without: readonly number[] };
    if (without.some((t) => n.on[t] === 1)) return false;
    const truth = (a: number): boolean => {
      if (a < c.connectionCount) return n.run.released[a] === 1;
      const t = a - c.connectionCount;
      if (t < c.taskCount) return this.isToggle[t] === 1 ? n.on[t] === 1 : n.run.made[c.wayCount + t] === 1;
      const k = t - c.taskCount;
      const lifts = c.contexts.length - c.separations.length;
      if (k < c.separations.length) return n.run.passed[lifts + k] === 1 && !this.crossed(n, lifts + k);
      return sideTrue(c, this.choice, a);
    };
    const hint = s < c.wayCount ? this.hints.get(c.connectionOf[s] as number) : undefined;
    return holds(needs, truth) && (hint ?? []).every((f) => holds(f, truth));
  }

  /** Whether a strap put on by now joins the two sides of a context again. */
  private crossed(n: Node, x: number): boolean {
    const side = this.choice.side[x] as Uint8Array;
    for (const [t, hang] of this.c.hangs) {
      if (n.run.made[this.c.wayCount + t] === 1 && side[hang.part] !== side[hang.to]) return true;
    }
    return false;
  }

  private make(n: Node, s: number): void {
    const { c } = this;
    n.events.push(s);
    n.run.make(s);
    if (s < c.wayCount) return;
    const task = s - c.wayCount;
    n.on[task] = 1;
    for (const p of c.supports[task] as readonly number[]) n.load.supported[p] = (n.load.supported[p] as number) + 1;
    const hang = c.hangs.get(task);
    if (hang !== undefined) n.load.strap(hang.part, hang.to);
    const lift = c.lifts.get(task);
    if (lift === undefined) return;
    const up = n.load.bodyOf(lift.parts);
    const carried = new Set(up);
    for (const p of groupOf(c, n.run.released, n.events, lift.parts))
      if (c.uncarried[p] === 1 && !carried.has(p)) up.push(p);
    for (const p of up) n.load.up[p] = 1;
    n.groups.set(
      c.contexts.findIndex((x) => "lift" in x && x.lift === task),
      up,
    );
  }

  /** Makes the step unless something would fall; says what would. */
  private attempt(n: Node, s: number): readonly number[] {
    const { c } = this;
    if (s < c.wayCount) {
      const tie = c.connectionOf[s] as number;
      n.load.released[tie] = 1;
      if (c.problem.connections[tie]?.carrying === true) {
        const bad = n.load.fallen(c.joins[tie] as readonly number[]);
        if (bad.length > 0) {
          n.load.released[tie] = 0;
          return bad;
        }
      }
    }
    this.make(n, s);
    return [];
  }

  /** Makes every step that can be made in the present state; careful: leaves those whose order can matter to the search. */
  private close(n: Node, careful: boolean): void {
    const { c } = this;
    const { run } = n;
    let waiting: number[] = [];
    let sorted = true;
    const weighty: number[] = [];
    const choices: number[] = [];
    let blocked: { s: number; pulse: number; parts: readonly number[] }[] = [];
    // A blocked tie is tried again once something happened to the parts that would fall, or anything was held anew.
    const pulse = new Int32Array(c.partCount);
    let tide = 0;
    const beat = (s: number): void => {
      if (s >= c.wayCount) tide++;
      else
        for (const p of c.joins[c.connectionOf[s] as number] as readonly number[]) pulse[p] = (pulse[p] as number) + 1;
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
            (careful ? choices : weighty).push(s);
            sorted = false;
            continue;
          }
        } else if (careful && (c.hangs.has(task) || c.lifts.has(task))) {
          choices.push(s);
          continue;
        }
        this.attempt(n, s);
        beat(s);
        moved = true;
      }
      if (moved && waiting.length > 0) {
        run.ready.push(...waiting);
        waiting = [];
        continue;
      }
      // Ties that carry go last, those that other releases wait for before the rest: a part's last tie is then the one nobody waits for.
      if (!sorted) {
        const rank = (s: number): number => this.wanted[c.connectionOf[s] as number] as number;
        weighty.sort((a, b) => rank(a) - rank(b) || b - a);
        sorted = true;
      }
      const s = weighty.pop();
      if (s !== undefined) {
        if (run.made[s] === 1 || run.released[c.connectionOf[s] as number] === 1) {
          run.made[s] = 1;
          continue;
        }
        if (this.looks[s] === 1 && !this.may(n, s)) {
          waiting.push(s);
          continue;
        }
        const bad = this.attempt(n, s);
        if (bad.length > 0) blocked.push({ s, parts: bad, pulse: pulseOf(bad) });
        else {
          beat(s);
          run.ready.push(...waiting);
          waiting = [];
        }
        continue;
      }
      const again = blocked.filter((b) => pulseOf(b.parts) !== b.pulse);
      if (again.length === 0) break;
      this.tick?.();
      blocked = blocked.filter((b) => pulseOf(b.parts) === b.pulse);
      weighty.push(...again.map((b) => b.s));
      sorted = false;
    }
    n.blocked = blocked;
    n.choices = choices.filter((s) => run.made[s] === 0);
    run.ready.push(...waiting, ...blocked.map((b) => b.s));
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
    for (const t of c.tiesOf[p] as readonly number[])
      if (released[t] === 0) for (const q of c.joins[t] as readonly number[]) visit(q);
    for (const q of straps.get(p) ?? []) visit(q);
  }
  return group;
}

const same = (a: Uint8Array, b: Uint8Array): boolean => a.every((x, i) => x === b[i]);
const covers = (a: Uint8Array, b: Uint8Array): boolean => b.every((x, i) => x <= (a[i] as number));

/** Toggle → least number of changes that its own order forces, and the step that forces the last one; `level` by step. */
export function levelsOf(
  c: Compiled,
  w: Wiring,
  choice: Choice,
  task: number,
): { readonly level: Int32Array; readonly top: number } {
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

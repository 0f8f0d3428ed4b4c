// Owns the making of steps one by one: every step that can be made under the carrying rule and the states, and the search over
// changes of state, or over every order that can matter.

import { Load } from "./carrying.ts";
import type { Choice } from "./choice.ts";
import { type Compiled, doneAtom, type Formula, separationAtom } from "./compile.ts";
import { type Demands, Progress, sideTrue } from "./progress.ts";
import { askersOf, holds, mentions, type Wiring } from "./wiring.ts";

/** A step by its number, or −1 − task where a toggle is undone. */
export type Event = number;

/** Extra needs that an order is tried with: connection → what must hold before its release. */
export type Hints = ReadonlyMap<number, readonly Formula[]>;

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

/** A step of the carrying rule's that a search came to and could not make, with the parts that would fall from that load. */
export interface Blocked {
  readonly s: number;
  readonly parts: readonly number[];
  readonly load: Load;
}

export interface Failed {
  /** There is no order at all. */
  readonly complete: boolean;
  readonly blocked: readonly Blocked[];
}

/** What is to be tried next after a node: a step, or −1 − task for a change of state. */
interface Branch {
  readonly node: Node;
  readonly act: number;
}

/** Changes of state looked at before giving up, and single steps in the careful search; of a great machine fewer, by what is copied for each. */
const MOST_NODES = 400;
const MOST_CAREFUL = 4000;
const MOST_COPIED = 2e7;

export class Sequencer {
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
  /** Atoms by which a step may come to be made that its state or a hint stands against. */
  private readonly stirring = new Set<number>();
  /** Part → parts that ties never released join to it, itself included; made for the careful search. */
  private clusters: readonly (readonly number[])[] | undefined;
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
        if (without.length > 0) this.looks[s] = 1;
        if (!mentions(needs, toggle)) continue;
        this.looks[s] = 1;
        this.noteOthers(needs, toggle);
      }
    }
    // A strap that may join two sides again: who asks for them apart is looked at when it is tried.
    for (const [t] of c.hangs) {
      if (choice.steps[c.wayCount + t] === 0) continue;
      c.separations.forEach((_, k) => {
        for (const s of askersOf(w, separationAtom(c, k))) {
          this.looks[s] = 1;
          this.noteOthers((c.steps[s] as { needs: Formula }).needs, (a) => a === separationAtom(c, k));
        }
      });
      break;
    }
    for (const [tie, fs] of hints) {
      for (const s of c.waysOf[tie] as readonly number[]) this.looks[s] = 1;
      for (const f of fs) this.note(f);
    }
    this.wanted = new Int32Array(c.connectionCount);
    const count = (f: Formula): void => {
      if (typeof f !== "number") for (const g of f.of) count(g);
      else if (f < c.connectionCount) this.wanted[f] = (this.wanted[f] as number) + 1;
    };
    for (const s of steps) if (s < c.wayCount) count((c.steps[s] as { needs: Formula }).needs);
  }

  private note(f: Formula): void {
    if (typeof f === "number") this.stirring.add(f);
    else for (const g of f.of) this.note(g);
  }

  /** Notes what may stand in for an atom that comes and goes. */
  private noteOthers(f: Formula, fickle: (a: number) => boolean): void {
    if (typeof f === "number" || !mentions(f, fickle)) return;
    for (const g of f.of) {
      if (f.any) this.note(g);
      else this.noteOthers(g, fickle);
    }
  }

  /** Cheapest changes of state first. Careful: the steps whose order can matter are tried one by one, and a failure is a proof. */
  solve(careful: boolean): Node | Failed {
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
    // By cost; depth first among equals. A child is made of its parent only when its turn comes.
    const open = new Map<number, Branch[]>();
    const push = (cost: number, branch: Branch): void => {
      const list = open.get(cost);
      if (list === undefined) open.set(cost, [branch]);
      else list.push(branch);
    };
    const pop = (): Branch | undefined => {
      const cost = Math.min(...open.keys());
      const list = open.get(cost);
      const branch = list?.pop();
      if (list?.length === 0) open.delete(cost);
      return branch;
    };
    const closed: Node[] = [];
    const seen = new Set<string>();
    const most = careful ? Math.min(MOST_CAREFUL, MOST_COPIED / (c.steps.length + c.connectionCount)) : MOST_NODES;
    const blocked = new Map<number, Blocked & { readonly undone: number }>();
    let furthest = first;
    let fewest = Number.POSITIVE_INFINITY;
    const failed = (complete: boolean): Failed => ({
      complete,
      blocked: [...blocked.values()].filter(({ s }) => furthest.run.made[s] === 0),
    });
    let nodes = 0;
    for (let node: Node | undefined = first; ; ) {
      if (node !== undefined) {
        const undone = this.undone(node);
        if (undone === 0 && this.endsRight(node)) return node;
        if (undone < fewest) {
          fewest = undone;
          furthest = node;
        }
        for (const { s, parts } of node.blocked)
          if (undone <= (blocked.get(s)?.undone ?? undone)) blocked.set(s, { s, parts, load: node.load, undone });
        if (
          careful
            ? this.known(seen, node)
            : closed.some((k) => same(k.on, node?.on as Uint8Array) && covers(k.run.made, node?.run.made as Uint8Array))
        ) {
          node = undefined;
          continue;
        }
        if (!careful) closed.push(node);
        if (++nodes > most) return failed(false);
        for (const s of node.choices) push(node.cost, { node, act: s });
        for (const t of this.contested)
          push(node.cost + (c.steps[c.wayCount + t] as { labour: number }).labour, { node, act: -1 - t });
      }
      const branch = pop();
      if (branch === undefined) return failed(careful);
      node = this.follow(branch);
      if (node !== undefined) this.close(node, careful);
    }
  }

  private undone(n: Node): number {
    let count = 0;
    for (const s of this.steps) if (n.run.made[s] === 0) count++;
    return count;
  }

  /** Whether this very state was met before; it is noted. */
  private known(seen: Set<string>, n: Node): boolean {
    let key = "";
    let bits = 1;
    const add = (bit: number): void => {
      bits = (bits << 1) | bit;
      if (bits < 1 << 15) return;
      key += String.fromCharCode(bits ^ (1 << 15));
      bits = 1;
    };
    for (const s of this.steps) add(n.run.made[s] as number);
    for (const t of this.contested) add(n.on[t] as number);
    key += String.fromCharCode(bits);
    if (seen.has(key)) return true;
    seen.add(key);
    return false;
  }

  /** The state after one more step or change of state; undefined where something stands against it. */
  private follow({ node, act }: Branch): Node | undefined {
    const { c } = this;
    const child = this.copy(node);
    if (act >= 0) {
      child.run.ready.push(...node.choices.filter((other) => other !== act));
      return this.attempt(child, act).length > 0 ? undefined : child;
    }
    const t = -1 - act;
    child.run.ready.push(...node.choices);
    child.cost += (c.steps[c.wayCount + t] as { labour: number }).labour;
    if (node.on[t] === 0) {
      if (!this.may(child, c.wayCount + t)) return undefined;
      this.make(child, c.wayCount + t);
      return child;
    }
    child.on[t] = 0;
    child.events.push(act);
    for (const p of c.supports[t] as readonly number[])
      child.load.supported[p] = (child.load.supported[p] as number) - 1;
    return child.load.fallen(c.supports[t] as readonly number[]).length > 0 ? undefined : child;
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
      if (c.carries[tie] === 1) {
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

  /** Whether everything that a tie joins is held for good by what is never released: then it can go at once, and hinders nothing. */
  private settled(n: Node, tie: number): boolean {
    const { c } = this;
    this.clusters ??= this.clustersOf();
    const clusters = this.clusters;
    return (c.joins[tie] as readonly number[]).every((p) =>
      (clusters[p] as readonly number[]).some((q) => c.fixed[q] === 1 || n.load.up[q] === 1),
    );
  }

  private clustersOf(): (readonly number[])[] {
    const { c } = this;
    const goes = new Uint8Array(c.connectionCount);
    for (const s of this.steps) if (s < c.wayCount) goes[c.connectionOf[s] as number] = 1;
    const clusters: number[][] = [];
    for (let p = 0; p < c.partCount; p++) {
      if (clusters[p] !== undefined) continue;
      const cluster = [p];
      clusters[p] = cluster;
      // A list iterates over what is added on the way.
      for (const q of cluster) {
        for (const t of c.tiesOf[q] as readonly number[]) {
          if (goes[t] === 1 || c.released[t] === 1 || c.carries[t] === 0) continue;
          for (const r of c.joins[t] as readonly number[]) {
            if (clusters[r] !== undefined) continue;
            clusters[r] = cluster;
            cluster.push(r);
          }
        }
      }
    }
    // Of a cluster on something fixed that alone is told: it is all that is asked.
    return clusters.map((cluster) => {
      const firm = cluster.find((q) => c.fixed[q] === 1);
      return firm === undefined ? cluster : [firm];
    });
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
    // While no state changes only some atoms let a step be tried again that was found to wait; a separation comes true with any release.
    const apart = [...this.stirring].some((a) => a >= c.connectionCount + c.taskCount);
    let stirred = false;
    const beat = (s: number): void => {
      const atom = s < c.wayCount ? (c.connectionOf[s] as number) : doneAtom(c, s - c.wayCount);
      if (apart || this.stirring.has(atom)) stirred = true;
      if (s >= c.wayCount) tide++;
      else
        for (const p of c.joins[c.connectionOf[s] as number] as readonly number[]) pulse[p] = (pulse[p] as number) + 1;
    };
    const pulseOf = (parts: readonly number[]): number => parts.reduce((sum, p) => sum + (pulse[p] as number), tide);
    for (;;) {
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
          if (c.carries[tie] === 1 && !(careful && this.settled(n, tie))) {
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
      }
      if (stirred) {
        stirred = false;
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
        else beat(s);
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

// Owns the question of what must come off as a mixed-integer model: the peer that the solver is timed against, and the ground of the oracle.
//
// Both models are relaxations of docs/release.md: each legal plan is a point of theirs at its own labour, so their optimum is a bound.
// - "groups", the peer: order only inside rings of needs; what a lift cuts must be released by ways that do not wait for that lift
//   ("early" copies of ways and tasks); a toggle that a lift is without is undone once if an early way needs it on; every part is held at the
//   end. Left out: order of the rest, carrying before the end, toggles set more than once, hangs as ties of a lifted group.
// - "all", for the oracle (oracle.ts): in addition a time for every step, before and after of every lift, toggles as spells of time.

import type { Connection, Need, Problem, Task } from "../../src/release/problem.ts";
import { add, constant, Lp, not, type Sum, times } from "./lp.ts";
import { holdsAtFirst, isLight, restsUnder } from "./moment.ts";
import { findRings } from "./rings.ts";

export type Order = "groups" | "all";

/** Spells of a toggle that have times of their own; one more has none, so that a plan with more spells is still a point of the model. */
const SPELLS = 2;
const one = constant(1);
const none = constant(0);
const isZero = (sum: Sum): boolean => sum.terms.length === 0 && sum.constant === 0;

/** A toggle's spells: set, undone, and when. The last, if order is modelled, has no times. */
export interface Spell {
  readonly set: Sum;
  readonly undone: Sum;
  readonly from?: Sum;
  readonly to?: Sum;
}

/** Who asks for a need: the columns that choose it, its time and its place in the needs' graph. */
interface Asker {
  readonly chosen: Sum;
  readonly node: string;
  readonly time: Sum | undefined;
}

export class Milp {
  readonly lp = new Lp();
  readonly problem: Problem;
  readonly order: Order;
  /** Chosen ways and tasks (a toggle: done at all), by id. */
  readonly chosen = new Map<string, Sum>();
  readonly released = new Map<string, Sum>();
  readonly spells = new Map<string, readonly Spell[]>();
  /** Lift → part → goes up with it. */
  readonly up = new Map<string, ReadonlyMap<string, Sum>>();
  /** Lift → connection → released before it. */
  readonly before = new Map<string, ReadonlyMap<string, Sum>>();
  readonly timeOf = new Map<string, Sum>();
  readonly tasks: ReadonlyMap<string, Task>;
  /** Part → its connections. */
  readonly ties: ReadonlyMap<string, readonly Connection[]>;
  /** Parts that something holds before the first step. */
  readonly held: ReadonlySet<string>;
  private readonly horizon: number;
  private readonly rings: ReadonlyMap<string, number>;
  private readonly separations = new Map<string, Sum>();

  constructor(problem: Problem, order: Order) {
    this.problem = problem;
    this.order = order;
    this.tasks = new Map(problem.tasks.map((task) => [task.id, task]));
    const ties = new Map<string, Connection[]>(problem.parts.map((part) => [part.id, []]));
    for (const connection of problem.connections)
      for (const id of new Set(connection.joins)) ties.get(id)?.push(connection);
    this.ties = ties;
    this.held = holdsAtFirst(problem);
    this.horizon =
      4 + problem.connections.length + problem.tasks.reduce((sum, task) => sum + (task.toggle ? 2 * SPELLS : 1), 0) * 2;
    this.rings = findRings(problem);
    this.makeChoices();
    this.makeNeeds();
    for (const task of problem.tasks) if (task.lift && !task.back) this.makeLift(task, task.lift);
    this.makeTakes();
    this.makeHold();
  }

  /** Row: `first` is at least one earlier than `then` where `chosen` is 1. */
  precede(first: Sum, then: Sum, chosen: Sum): void {
    const most = this.horizon + 1;
    this.lp.atMost(add(first, constant(1 - most), times(most, chosen)), then);
  }

  private time(): Sum {
    return this.lp.continuous(this.horizon);
  }

  // Ways, tasks, back tasks and what they cost.

  private makeChoices(): void {
    const { lp, problem } = this;
    const already = new Set(problem.released);
    for (const { id, ways } of problem.connections) {
      if (already.has(id)) {
        this.released.set(id, one);
        continue;
      }
      for (const way of ways) this.chosen.set(way.id, lp.binary(way.labour));
      const sum = add(...ways.map((way) => this.choice(way.id)));
      if (ways.length < 2) this.released.set(id, ways.length === 0 ? none : sum);
      else {
        const released = lp.binary();
        lp.equal(released, sum);
        this.released.set(id, released);
      }
    }
    for (const task of problem.tasks) {
      const cost = task.toggle && !task.back ? 0 : task.labour;
      this.chosen.set(task.id, task.back ? lp.continuous(1, cost) : lp.binary(cost));
    }
    for (const task of problem.tasks) if (task.toggle && !task.back) this.makeSpells(task);
    const callers = new Map<string, Sum[]>();
    const call = (chosen: Sum, entails: readonly string[]): void => {
      for (const id of new Set(entails)) {
        if (!this.tasks.get(id)?.back) continue;
        lp.atMost(chosen, this.choice(id));
        callers.set(id, [...(callers.get(id) ?? []), chosen]);
      }
    };
    for (const c of problem.connections)
      if (!already.has(c.id)) for (const way of c.ways) call(this.choice(way.id), way.entails);
    for (const task of problem.tasks) call(this.choice(task.id), task.entails);
    for (const task of problem.tasks) {
      if (task.must) lp.atMost(one, this.choice(task.id));
      // Something real must call for it: by itself it would not count as done.
      if (task.must && task.back) lp.atMost(one, add(...(callers.get(task.id) ?? [none])));
      for (const taut of task.hang && !task.back ? task.hang.taut : [])
        lp.atMost(this.choice(task.id), this.isReleased(taut));
    }
    if (this.order !== "all" && this.rings.size === 0) return;
    for (const c of problem.connections) if (this.isTimed(c.id)) this.timeOf.set(c.id, this.time());
    for (const task of problem.tasks)
      if (!task.back && this.isTimed(task.id))
        this.timeOf.set(task.id, this.spells.get(task.id)?.[0]?.from ?? this.time());
  }

  private makeSpells(task: Task): void {
    const { lp } = this;
    const spells: Spell[] = [];
    const count = this.order === "all" ? SPELLS : 1;
    for (let n = 0; n < count; n += 1) {
      const set = n === 0 ? this.choice(task.id) : lp.binary();
      const undone = lp.binary(task.labour);
      lp.equal(lp.continuous(1, task.labour), set);
      lp.atMost(undone, set);
      const last = spells.at(-1);
      if (last) lp.atMost(set, last.undone);
      if (this.order !== "all") {
        spells.push({ set, undone });
        continue;
      }
      const [from, to] = [lp.continuous(this.horizon + 2), lp.continuous(this.horizon + 2)];
      this.precede(from, to, undone);
      if (last?.to) this.precede(last.to, from, set);
      spells.push({ set, undone, from, to });
    }
    if (this.order === "all") {
      const more = lp.binary(task.labour);
      lp.atMost(more, (spells.at(-1) as Spell).undone);
      spells.push({ set: more, undone: none });
    }
    this.spells.set(task.id, spells);
  }

  choice(id: string): Sum {
    return this.chosen.get(id) ?? none;
  }

  isReleased(id: string): Sum {
    return this.released.get(id) ?? none;
  }

  private isDone(id: string): Sum {
    return this.tasks.get(id)?.back ? none : this.choice(id);
  }

  private isTimed(id: string): boolean {
    return this.order === "all" || this.rings.has(id);
  }

  // Needs of ways and tasks, and their order.

  private makeNeeds(): void {
    for (const c of this.problem.connections) {
      if (this.problem.released.includes(c.id)) continue;
      // Ways of one connection that share a need ask for it together: one row instead of several, and a tighter one.
      const byNeed = new Map<string, { need: Need; ways: string[] }>();
      for (const way of c.ways) {
        for (const need of way.needs) {
          const key = JSON.stringify(need);
          const group = byNeed.get(key) ?? { need, ways: [] };
          if (!group.ways.includes(way.id)) group.ways.push(way.id);
          byNeed.set(key, group);
        }
        for (const id of new Set(way.without)) this.requireOff(this.choice(way.id), this.timeOf.get(c.id), id);
      }
      for (const { need, ways } of byNeed.values()) {
        const chosen = add(...ways.map((id) => this.choice(id)));
        this.require({ chosen, node: c.id, time: this.timeOf.get(c.id) }, need);
      }
    }
    for (const task of this.problem.tasks) {
      if (task.back) continue;
      const timed = this.spells.get(task.id)?.filter((spell) => spell.from) ?? [];
      const askers =
        timed.length > 0
          ? timed.map((s) => ({ chosen: s.set, time: s.from }))
          : [{ chosen: this.choice(task.id), time: this.timeOf.get(task.id) }];
      for (const asker of askers) {
        for (const need of task.needs) this.require({ ...asker, node: task.id }, need);
        for (const id of new Set(task.without)) this.requireOff(asker.chosen, asker.time, id);
      }
    }
  }

  private require(asker: Asker, need: Need): void {
    const { lp } = this;
    if ("all" in need) {
      for (const each of need.all) this.require(asker, each);
    } else if ("any" in need) {
      if (!this.isOrdered(asker.node, need)) {
        lp.atMost(asker.chosen, this.literal(need));
        return;
      }
      const choices = need.any.map((each) => ({ each, taken: lp.binary() }));
      lp.atMost(asker.chosen, add(...choices.map(({ taken }) => taken)));
      for (const { each, taken } of choices) this.require({ ...asker, chosen: taken }, each);
    } else if ("done" in need && this.spells.has(need.done)) {
      lp.atMost(asker.chosen, this.isDone(need.done));
      this.requireOn(asker, need.done);
    } else {
      lp.atMost(asker.chosen, this.literal(need));
      const id = "released" in need ? need.released : "done" in need ? need.done : JSON.stringify(need.apart);
      const time = this.timeOf.get(id);
      if (time && asker.time && !this.problem.released.includes(id) && this.isOrdered(asker.node, need))
        this.precede(time, asker.time, asker.chosen);
    }
  }

  private requireOn(asker: Asker, toggle: string): void {
    const spells = this.spells.get(toggle) as readonly Spell[];
    const [first] = spells;
    if (!asker.time || !first) return;
    if (this.order !== "all") {
      const time = this.timeOf.get(toggle);
      if (time && this.isOrdered(asker.node, { done: toggle })) this.precede(time, asker.time, asker.chosen);
      return;
    }
    const within = spells.map((spell) => {
      const taken = this.lp.binary();
      this.lp.atMost(taken, spell.set);
      if (spell.from && spell.to) {
        this.precede(spell.from, asker.time as Sum, taken);
        // A spell that is never undone has an end as late as it likes.
        this.precede(asker.time as Sum, spell.to, taken);
      }
      return taken;
    });
    this.lp.atMost(asker.chosen, add(...within));
  }

  private requireOff(chosen: Sum, time: Sum | undefined, toggle: string): void {
    const spells = this.spells.get(toggle);
    if (this.order !== "all" || !time || !spells) return;
    const gaps: Sum[] = [];
    const timed = spells.filter((spell) => spell.from);
    for (let gap = 0; gap <= timed.length; gap += 1) {
      const taken = this.lp.binary();
      const [before, after] = [timed[gap - 1], timed[gap]];
      if (before) this.lp.atMost(taken, before.undone);
      if (before?.to) this.precede(before.to, time, taken);
      if (after?.from) this.precede(time, after.from, taken);
      gaps.push(taken);
    }
    this.lp.atMost(chosen, add(...gaps, (spells.at(-1) as Spell).set));
  }

  /** Whether the need can lie in a ring with who asks for it. */
  private isOrdered(node: string, need: Need): boolean {
    if (this.order === "all") return true;
    const ring = this.rings.get(node);
    if (ring === undefined) return false;
    if ("all" in need) return need.all.some((each) => this.isOrdered(node, each));
    if ("any" in need) return need.any.some((each) => this.isOrdered(node, each));
    const id = "released" in need ? need.released : "done" in need ? need.done : JSON.stringify(need.apart);
    return this.rings.get(id) === ring;
  }

  /** A sum that is at least 1 only where the need is met at some time; `early` tells what is met before a given lift. */
  private literal(need: Need, early?: Early): Sum {
    if ("released" in need) return early ? early.released(need.released) : this.isReleased(need.released);
    if ("done" in need) return early ? early.done(need.done) : this.isDone(need.done);
    if ("any" in need) return add(...need.any.map((each) => this.literal(each, early)));
    if ("apart" in need) return this.separation(need.apart);
    const met = this.lp.continuous(1);
    for (const each of need.all) this.lp.atMost(met, this.literal(each, early));
    return met;
  }

  // Two groups of parts with nothing left between them.

  private separation(apart: readonly [readonly string[], readonly string[]]): Sum {
    const key = JSON.stringify(apart);
    const known = this.separations.get(key);
    if (known) return known;
    const { lp, problem } = this;
    const parted = lp.binary();
    this.separations.set(key, parted);
    if (this.order === "all") this.timeOf.set(key, this.time());
    const time = this.timeOf.get(key);
    const sides = new Map(problem.parts.map((part) => [part.id, lp.binary()]));
    // The fixed parts are the vehicle itself: nothing parts them.
    this.spread(
      problem.parts.filter((part) => part.fixed).map((part) => part.id),
      sides,
      none,
    );
    for (const id of apart[0]) lp.atMost(parted, sides.get(id) ?? none);
    for (const id of apart[1]) lp.atMost(parted, not(sides.get(id) ?? none));
    for (const c of problem.connections) {
      const cut = this.isReleased(c.id);
      this.spread(c.joins, sides, time && !problem.released.includes(c.id) ? this.soonerThan(c.id, cut, time) : cut);
    }
    for (const task of problem.tasks) {
      if (!task.hang || task.back || !time) continue;
      const sooner = this.soonerOrLater(task.id, this.choice(task.id), time, parted);
      this.spread([task.hang.part, task.hang.to], sides, not(sooner));
    }
    return parted;
  }

  /** A column that is 1 only if the step is chosen and comes before this time. */
  private soonerThan(id: string, chosen: Sum, time: Sum): Sum {
    const own = this.timeOf.get(id);
    if (!own || isZero(chosen)) return chosen;
    const sooner = this.lp.binary();
    this.lp.atMost(sooner, chosen);
    this.precede(own, time, sooner);
    return sooner;
  }

  /** The same, and a chosen step for which it is 0 comes after this time, where `applies`. */
  private soonerOrLater(id: string, chosen: Sum, time: Sum, applies: Sum): Sum {
    const sooner = this.soonerThan(id, chosen, time);
    const own = this.timeOf.get(id);
    if (own) this.precede(time, own, add(chosen, times(-1, sooner), applies, constant(-1)));
    return sooner;
  }

  /** Rows: what is true of one of these parts is true of all, unless `cut`. */
  private spread(parts: readonly string[], sides: ReadonlyMap<string, Sum>, cut: Sum): void {
    for (const [place, id] of parts.entries()) {
      const next = parts[(place + 1) % parts.length] as string;
      this.lp.atMost(add(sides.get(id) ?? none, times(-1, cut)), sides.get(next) ?? none);
    }
  }

  // A lift: which parts go up, what must be released before.

  private makeLift(task: Task, lift: { readonly parts: readonly string[]; readonly limit: number }): void {
    const { lp, problem } = this;
    const done = this.choice(task.id);
    const stays = new Set([...problem.keep, ...problem.parts.filter((part) => part.fixed).map((part) => part.id)]);
    const up = new Map(problem.parts.map((part) => [part.id, stays.has(part.id) ? none : lp.binary()]));
    this.up.set(task.id, up);
    for (const id of lift.parts) lp.atMost(done, up.get(id) ?? none);
    for (const rising of up.values()) if (!isZero(rising)) lp.atMost(rising, done);
    lp.atMost(add(...problem.parts.map((part) => times(part.mass, up.get(part.id) as Sum))), constant(lift.limit));
    const early = new Early(this, task);
    for (const need of task.needs) lp.atMost(done, this.literal(need, early));
    const before = new Map(problem.connections.map((c) => [c.id, early.released(c.id)]));
    this.before.set(task.id, before);
    for (const c of problem.connections) this.spread(c.joins, up, before.get(c.id) ?? none);
    const time = this.timeOf.get(task.id);
    for (const each of problem.tasks) {
      if (!each.hang || each.back || this.order !== "all" || !time) continue;
      this.spread(
        [each.hang.part, each.hang.to],
        up,
        not(this.soonerOrLater(each.id, this.choice(each.id), time, done)),
      );
    }
    early.finish((need, copy) => this.literal(need, copy));
  }

  /** Each part that must go up does; one that hangs on nothing goes up with nothing. */
  private makeTakes(): void {
    const hung = new Map<string, Sum[]>();
    for (const { id, hang, back } of this.problem.tasks) {
      for (const part of hang && !back ? [hang.part, hang.to] : [])
        hung.set(part, [...(hung.get(part) ?? []), this.choice(id)]);
    }
    for (const id of this.problem.take) {
      this.lp.atMost(one, add(none, ...[...this.up.values()].map((up) => up.get(id) ?? none)));
      for (const [lift, up] of this.up) {
        // Only where times are modelled does the model know what is still tied at the lift; else "before" may say too much.
        if (this.order !== "all" || this.tasks.get(lift)?.lift?.parts.includes(id)) continue;
        const tied = (this.ties.get(id) ?? []).map((c) => not(this.before.get(lift)?.get(c.id) ?? none));
        this.lp.atMost(up.get(id) ?? none, add(none, ...tied, ...(hung.get(id) ?? [])));
      }
    }
  }

  /**
   * At the end, and just before each lift, each part by itself is carried, held, hung, up, or light and off. Bodies of several parts are left to
   * the oracle.
   */
  private makeHold(): void {
    const { lp, problem } = this;
    const supports = new Map<string, Sum[]>();
    const hangs = new Map<string, Sum[]>();
    const straps = new Map<string, Sum[]>();
    const note = (map: Map<string, Sum[]>, ids: readonly string[], task: Task): void => {
      for (const id of new Set(ids)) map.set(id, [...(map.get(id) ?? []), this.choice(task.id)]);
    };
    for (const task of problem.tasks) {
      if (task.back) continue;
      note(supports, task.supports, task);
      if (!task.hang) continue;
      note(hangs, [task.hang.part, task.hang.to], task);
      // A strap holds the part that it is on, and that only when it is light; its body weighs no less.
      if (isLight(problem, new Set([task.hang.part]))) note(straps, [task.hang.part], task);
    }
    for (const part of problem.parts) {
      if (part.fixed || !this.held.has(part.id) || restsUnder(problem, part.id)) continue;
      const ties = this.ties.get(part.id) ?? [];
      const hung = hangs.get(part.id) ?? [];
      const held = [...(supports.get(part.id) ?? []), ...(straps.get(part.id) ?? [])];
      const hold = (applies: Sum, released: (id: string) => Sum, before: string | undefined): void => {
        const carried = ties.filter((c) => c.carrying).map((c) => not(released(c.id)));
        const up = [...this.up].map(([lift, parts]) => (lift === before ? none : (parts.get(part.id) ?? none)));
        let aside: Sum = none;
        if (part.mass <= problem.handLimit && ties.every((c) => !isZero(released(c.id)))) {
          aside = lp.continuous(1);
          for (const c of ties) lp.atMost(aside, released(c.id));
          for (const hang of before === undefined ? hung : []) lp.atMost(aside, not(hang));
        }
        lp.atMost(applies, add(...carried, ...up, ...held, aside));
      };
      hold(one, (id) => this.isReleased(id), undefined);
      for (const [lift, before] of this.before) hold(this.choice(lift), (id) => before.get(id) ?? none, lift);
    }
  }
}

/**
 * What is released and done before one lift. A step that waits for the lift, whatever else is done, cannot be; one that can, and whose needs all
 * can, and that sets no toggle the lift is without, may as well be taken for early: then the step itself serves. Every other gets a copy.
 */
class Early {
  private readonly milp: Milp;
  private readonly lift: Task;
  private readonly reachable: ReadonlySet<string>;
  private readonly plain: ReadonlySet<string>;
  private readonly copies = new Map<string, { sum: Sum; askers: { chosen: Sum; needs: readonly Need[] }[] }>();
  private open: string[] = [];

  constructor(milp: Milp, lift: Task) {
    this.milp = milp;
    this.lift = lift;
    this.reachable = reachWithout(milp.problem, lift.id);
    this.plain = milp.order === "all" ? new Set() : this.findPlain();
  }

  released(id: string): Sum {
    const { milp } = this;
    if (milp.problem.released.includes(id)) return milp.isReleased(id);
    // What carries is told apart even so: before the lift it may still carry, though it is released in the end.
    if (this.plain.has(id) && !this.connections.get(id)?.carrying) return milp.isReleased(id);
    return this.copy(id);
  }

  done(id: string): Sum {
    const task = this.milp.tasks.get(id);
    if (!task || task.back || id === this.lift.id || !this.reachable.has(id)) return none;
    // A toggle may be set before the lift and again after it, so its one column says too little; this is a relaxation.
    if (task.toggle || this.plain.has(id)) return this.milp.choice(id);
    return this.copy(id);
  }

  /** Rows of the copies asked for: a copy is chosen only with its step, and its needs hold before the lift as well. */
  finish(literal: (need: Need, early: Early) => Sum): void {
    const { lp } = this.milp;
    for (let id = this.open.pop(); id !== undefined; id = this.open.pop()) {
      for (const { chosen, needs } of this.copies.get(id)?.askers ?? []) {
        for (const need of needs) lp.atMost(chosen, literal(need, this));
      }
    }
  }

  private copy(id: string): Sum {
    const known = this.copies.get(id);
    if (known) return known.sum;
    const { milp } = this;
    const { lp } = milp;
    const task = milp.tasks.get(id);
    const steps = task ? [task] : (this.connections.get(id)?.ways ?? []).filter((way) => this.reachable.has(way.id));
    const askers: { chosen: Sum; needs: readonly Need[] }[] = [];
    for (const step of steps) {
      const chosen = lp.binary();
      lp.atMost(chosen, milp.choice(step.id));
      askers.push({ chosen, needs: step.needs });
      for (const toggle of this.lift.without) {
        const spell = milp.spells.get(toggle)?.[0];
        if (spell && step.needs.some((need) => "done" in need && need.done === toggle)) {
          lp.atMost(add(chosen, milp.choice(this.lift.id), constant(-1)), spell.undone);
        }
      }
    }
    const sum = add(none, ...askers.map(({ chosen }) => chosen));
    this.copies.set(id, { sum, askers });
    this.open.push(id);
    const [own, time] = [milp.timeOf.get(id), milp.timeOf.get(this.lift.id)];
    if (milp.order === "all" && own && time) {
      milp.precede(own, time, sum);
      const chosen = task ? milp.choice(id) : milp.isReleased(id);
      milp.precede(time, own, add(chosen, times(-1, sum), milp.choice(this.lift.id), constant(-1)));
    }
    return sum;
  }

  private get connections(): ReadonlyMap<string, Connection> {
    return byId(this.milp.problem);
  }

  /** The greatest set of connections and tasks all of whose steps are reachable and need only others of the set. */
  private findPlain(): Set<string> {
    const { problem, tasks } = this.milp;
    const plain = new Set([
      ...problem.connections.map((c) => c.id),
      ...problem.tasks.filter((task) => !task.back).map((task) => task.id),
    ]);
    const users = new Map<string, string[]>();
    const lost: string[] = [];
    const lose = (id: string): void => {
      if (plain.delete(id)) lost.push(id);
    };
    const note = (owner: string, need: Need): void => {
      if ("all" in need) for (const each of need.all) note(owner, each);
      else if ("any" in need) for (const each of need.any) note(owner, each);
      else if ("apart" in need) lose(owner);
      else {
        const id = "released" in need ? need.released : need.done;
        if (this.lift.without.includes(id)) lose(owner);
        if (!tasks.get(id)?.toggle) users.set(id, [...(users.get(id) ?? []), owner]);
      }
    };
    for (const c of problem.connections) {
      for (const way of c.ways) {
        if (!this.reachable.has(way.id)) lose(c.id);
        for (const need of way.needs) note(c.id, need);
      }
    }
    for (const task of problem.tasks) {
      if (!this.reachable.has(task.id)) lose(task.id);
      for (const need of task.needs) note(task.id, need);
    }
    for (let id = lost.pop(); id !== undefined; id = lost.pop()) for (const user of users.get(id) ?? []) lose(user);
    return plain;
  }
}

const known = new WeakMap<Problem, ReadonlyMap<string, Connection>>();
function byId(problem: Problem): ReadonlyMap<string, Connection> {
  const map = known.get(problem) ?? new Map(problem.connections.map((c) => [c.id, c]));
  known.set(problem, map);
  return map;
}

/** Connections, ways and tasks that can be reached at all if this task is never done: a fixed point over what is reachable so far. */
function reachWithout(problem: Problem, task: string): Set<string> {
  const reached = new Set(problem.released);
  const holds = (need: Need): boolean => {
    if ("all" in need) return need.all.every(holds);
    if ("any" in need) return need.any.some(holds);
    return "apart" in need || reached.has("released" in need ? need.released : need.done);
  };
  for (let grown = true; grown; ) {
    grown = false;
    const reach = (id: string): void => {
      if (reached.has(id)) return;
      reached.add(id);
      grown = true;
    };
    for (const c of problem.connections) {
      for (const way of c.ways) {
        if (reached.has(way.id) || !way.needs.every(holds)) continue;
        reach(way.id);
        reach(c.id);
      }
    }
    for (const each of problem.tasks) if (!each.back && each.id !== task && each.needs.every(holds)) reach(each.id);
  }
  return reached;
}

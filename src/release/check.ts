// Owns the verdict on an order: whether it keeps the rules R1 to R7 of docs/release.md, what it costs, what it moves.
// Shares no code with the solver, and runs on every answer before anybody sees it.

import { Bodies } from "./check-bodies.ts";
import { Carrying, type Dropped, type Rested } from "./check-carrying.ts";
import { ties } from "./freedom.ts";
import type { Connection, Need, Problem, Task, Way } from "./problem.ts";
import type { Plan, Step } from "./result.ts";

/** What broke a rule: `kind` says how, the rest names what. */
export type Breach =
  /** R1: the step names a connection, a way of it or a task that the problem does not have. */
  | { readonly kind: "unknown"; readonly id: string }
  /** R1: released or done already. */
  | { readonly kind: "again"; readonly id: string }
  /** R1: undone, but it is off or cannot be undone. */
  | { readonly kind: "not on"; readonly task: string }
  /** R1: a task of the way back in the order out. */
  | { readonly kind: "back"; readonly task: string }
  /** R2: a need of the step that does not hold; for `apart` a pair of parts that still hang together. */
  | { readonly kind: "need"; readonly of: string; readonly need: Need; readonly joined?: readonly [string, string] }
  /** R3: the step is without this toggle, and it is on. */
  | { readonly kind: "on"; readonly of: string; readonly task: string }
  /** R4: the lift is tied to something fixed: ids of parts and connections in turn. */
  | { readonly kind: "tied"; readonly lift: string; readonly chain: readonly string[] }
  /** R4: these parts go up and must not. */
  | { readonly kind: "keep"; readonly lift: string; readonly parts: readonly string[] }
  /** R4: kilograms. */
  | { readonly kind: "mass"; readonly lift: string; readonly mass: number; readonly limit: number }
  /** R4: a part that must go up and does not. */
  | { readonly kind: "left"; readonly part: string }
  /** R5: nothing holds these parts from this step on. */
  | ({ readonly kind: "drops" } & Dropped)
  /** R6: too short for the move, and still made at the end. */
  | { readonly kind: "taut"; readonly hang: string; readonly connection: string }
  /** R7: work of the job that the order leaves out. */
  | { readonly kind: "must"; readonly task: string };

export type Rule = "R1" | "R2" | "R3" | "R4" | "R5" | "R6" | "R7";

export interface Fault {
  /** Index of the step in the order, from 0; "end" for what only the whole order can break. */
  readonly step: number | "end";
  readonly rule: Rule;
  readonly what: Breach;
}

export interface Verdict {
  readonly legal: boolean;
  readonly faults: readonly Fault[];
  /** Minutes, by the palindrome rule; of an illegal order the labour of the steps that could be taken at all. */
  readonly labour: number;
  readonly released: readonly { readonly id: string; readonly way: string }[];
  /** Tasks of the way out as they are first done, then the back tasks that are called for. */
  readonly tasks: readonly string[];
  readonly lifts: readonly { readonly task: string; readonly parts: readonly string[]; readonly mass: number }[];
  /** Parts whose every connection is released at the end, in no hang, that no lift took. */
  readonly setAside: readonly string[];
  readonly hung: readonly { readonly task: string; readonly part: string; readonly to: string }[];
  /** Bodies that sat for a while on mounts whose bolts were out; `from` −1: before the first step. */
  readonly rested: readonly Rested[];
  /** The different positions of the steps. */
  readonly positions: readonly string[];
}

/** Kilograms: what rounding may add to the sum of a lifted group. */
const ROUNDING = 1e-9;

/**
 * Replays an order under the rules R1 to R7. Every fault is reported, not the first: a step that breaks R2 to R5 is
 * taken all the same, one that breaks R1 is passed over. A part that drops is reported once, until something holds it
 * again. Costs about what each step touches: 20,000 steps take well under a second.
 */
export function check(problem: Problem, order: readonly Step[]): Verdict {
  return new Replay(problem).run(order);
}

/**
 * The verdict on a plan's order, with what the plan claims of itself that the replay does not bear out:
 * names of fields of `Plan`, empty when all agree.
 */
export function checkPlan(
  problem: Problem,
  plan: Plan,
): { readonly verdict: Verdict; readonly mismatched: readonly string[] } {
  const verdict = check(problem, plan.order);
  const set = (items: readonly string[]) => JSON.stringify(items.toSorted());
  const lifts = (of: Verdict["lifts"] | Plan["lifts"]) => of.map((lift) => `${lift.task}: ${set(lift.parts)}`);
  const agreed: Record<Exclude<keyof Plan, "order">, boolean> = {
    releases: set(plan.releases.map((r) => r.way)) === set(verdict.released.map((r) => r.way)),
    tasks: set(plan.tasks) === set(verdict.tasks),
    lifts:
      set(lifts(plan.lifts)) === set(lifts(verdict.lifts)) &&
      plan.lifts.every((lift) =>
        verdict.lifts.some((own) => own.task === lift.task && Math.abs(own.mass - lift.mass) < 1e-6),
      ),
    setAside: set(plan.setAside) === set(verdict.setAside),
    hung: set(plan.hung) === set(verdict.hung.map((hang) => hang.task)),
    labour: Math.abs(plan.labour - verdict.labour) < 1e-6,
  };
  return { verdict, mismatched: Object.entries(agreed).flatMap(([field, agrees]) => (agrees ? [] : [field])) };
}

class Replay {
  private readonly problem: Problem;
  private readonly connections: ReadonlyMap<string, { readonly number: number; readonly it: Connection }>;
  private readonly tasks: ReadonlyMap<string, Task>;
  private readonly parts: ReadonlyMap<string, number>;
  /** All that is tied, and the tie of each connection in it. */
  private readonly tied: Bodies;
  private readonly tie: readonly number[];
  private readonly carrying: Carrying;

  private readonly released = new Set<string>();
  private readonly releases: { id: string; way: string }[] = [];
  /** Tasks done, toggles that are on. */
  private readonly inForce = new Set<string>();
  private readonly everDone = new Set<string>();
  private readonly calledFor = new Set<string>();
  private readonly up = new Set<string>();
  private readonly hung: { task: string; part: string; to: string }[] = [];
  private readonly lifts: { task: string; parts: readonly string[]; mass: number }[] = [];
  private readonly positions = new Set<string>();
  private readonly faults: Fault[] = [];
  private labour = 0;
  private step: number | "end" = 0;

  constructor(problem: Problem) {
    this.problem = problem;
    this.connections = new Map(problem.connections.map((it, number) => [it.id, { number, it }]));
    this.tasks = new Map(problem.tasks.map((task) => [task.id, task]));
    this.parts = new Map(problem.parts.map((part, number) => [part.id, number]));
    const joins = problem.connections.map((connection) => this.partNumbers(connection.joins));
    this.carrying = new Carrying(problem, joins);
    this.tied = new Bodies(problem.parts.length);
    this.tie = joins.map((ends) => this.tied.make(ends));
    // The fixed parts are the vehicle itself: they hold together whatever is released.
    this.tied.make(problem.parts.flatMap((part, number) => (part.fixed ? [number] : [])));
    for (const id of problem.released) {
      this.released.add(id);
      this.untie(id);
    }
  }

  run(order: readonly Step[]): Verdict {
    order.forEach((step, index) => {
      this.step = index;
      const breach = this.take(step);
      if (breach) this.fault("R1", breach);
      for (const drop of this.carrying.look(index)) this.fault("R5", { kind: "drops", ...drop });
    });
    this.step = "end";
    this.end();
    this.carrying.finish();
    return {
      legal: this.faults.length === 0,
      faults: this.faults,
      labour: this.labour,
      released: this.releases,
      tasks: [...this.everDone, ...this.calledFor],
      lifts: this.lifts,
      setAside: this.setAside(),
      hung: this.hung,
      rested: this.carrying.rested,
      positions: [...this.positions],
    };
  }

  /** Takes a step, unless R1 forbids it: then nothing changes, and the breach is the answer. */
  private take(step: Step): Breach | undefined {
    if ("release" in step) return this.release(step.release, step.way);
    return "do" in step ? this.do(step.do) : this.undo(step.undo);
  }

  private release(id: string, wayId: string): Breach | undefined {
    const connection = this.connections.get(id);
    const way = connection?.it.ways.find((each) => each.id === wayId);
    if (!connection || !way) return { kind: "unknown", id: connection ? wayId : id };
    if (this.released.has(id)) return { kind: "again", id };
    this.mayBegin(way);
    this.spend(way);
    this.released.add(id);
    this.releases.push({ id, way: wayId });
    this.untie(id);
    this.carrying.release(connection.number);
    return undefined;
  }

  private do(id: string): Breach | undefined {
    const task = this.tasks.get(id);
    if (!task) return { kind: "unknown", id };
    if (task.back) return { kind: "back", task: id };
    if (this.inForce.has(id)) return { kind: "again", id };
    this.mayBegin(task);
    this.spend(task);
    for (const part of this.partNumbers(task.supports)) this.carrying.support(part, 1);
    // A toggle that hangs, done a second time, finds its strap still there.
    if (task.hang && !this.everDone.has(id)) this.hang(id, task.hang);
    if (task.lift) this.lift(id, task.lift);
    this.inForce.add(id);
    this.everDone.add(id);
    return undefined;
  }

  private undo(id: string): Breach | undefined {
    const task = this.tasks.get(id);
    if (!task) return { kind: "unknown", id };
    if (!task.toggle || !this.inForce.has(id)) return { kind: "not on", task: id };
    this.labour += task.labour;
    if (task.position !== undefined) this.positions.add(task.position);
    this.inForce.delete(id);
    for (const part of this.partNumbers(task.supports)) this.carrying.support(part, -1);
    return undefined;
  }

  private hang(task: string, { part, to }: NonNullable<Task["hang"]>): void {
    const [a, b] = [this.parts.get(part), this.parts.get(to)];
    if (a === undefined || b === undefined) return;
    this.hung.push({ task, part, to });
    this.tied.make([a, b]);
    this.carrying.hang(a, b);
  }

  private lift(task: string, { parts, limit }: NonNullable<Task["lift"]>): void {
    const bodies = new Set(this.partNumbers(parts).map((part) => this.tied.of[part]));
    const group = this.problem.parts.filter((_, number) => bodies.has(this.tied.of[number]));
    const ids = group.map((part) => part.id);
    const mass = group.reduce((sum, part) => sum + part.mass, 0);
    this.lifts.push({ task, parts: ids, mass });
    if (group.some((part) => part.fixed)) {
      // What else the group breaks says nothing while half the vehicle is in it.
      const hangs = this.hung.map((hang) => ({ id: hang.task, joins: [hang.part, hang.to] }));
      this.fault("R4", { kind: "tied", lift: task, chain: ties(this.problem, this.released, parts, hangs).chain });
    } else {
      const kept = ids.filter((id) => this.problem.keep.includes(id));
      if (kept.length > 0) this.fault("R4", { kind: "keep", lift: task, parts: kept });
      if (mass > limit + ROUNDING) this.fault("R4", { kind: "mass", lift: task, mass, limit });
    }
    const hook = this.partNumbers(parts);
    for (const number of group
      .flatMap(({ id }) => this.parts.get(id) ?? [])
      .filter((part) => this.carrying.rises(part, hook))) {
      this.up.add(this.problem.parts[number]?.id ?? "");
      this.carrying.support(number, 1);
    }
  }

  /** R2 and R3. */
  private mayBegin(work: Way | Task): void {
    for (const need of work.needs.flatMap(conjuncts)) {
      if (this.holds(need)) continue;
      const joined = "apart" in need ? this.joined(need.apart) : undefined;
      this.fault("R2", { kind: "need", of: work.id, need, ...(joined ? { joined } : {}) });
    }
    for (const task of work.without) if (this.inForce.has(task)) this.fault("R3", { kind: "on", of: work.id, task });
  }

  private holds(need: Need): boolean {
    if ("released" in need) return this.released.has(need.released);
    if ("done" in need) return this.inForce.has(need.done);
    if ("all" in need) return need.all.every((each) => this.holds(each));
    if ("any" in need) return need.any.some((each) => this.holds(each));
    return this.joined(need.apart) === undefined;
  }

  private joined([some, others]: readonly [readonly string[], readonly string[]]):
    | readonly [string, string]
    | undefined {
    const pair = this.tied.joined(this.partNumbers(some), this.partNumbers(others));
    return pair && [this.problem.parts[pair[0]]?.id ?? "", this.problem.parts[pair[1]]?.id ?? ""];
  }

  /** Labour of a step made, and once of every back task that it calls for. */
  private spend(work: Way | Task): void {
    this.labour += work.labour;
    if (work.position !== undefined) this.positions.add(work.position);
    const called = [...work.entails];
    for (let id = called.pop(); id !== undefined; id = called.pop()) {
      const task = this.tasks.get(id);
      if (!task?.back || this.calledFor.has(id)) continue;
      this.calledFor.add(id);
      this.labour += task.labour;
      called.push(...task.entails);
    }
  }

  private end(): void {
    for (const part of this.problem.take) if (!this.up.has(part)) this.fault("R4", { kind: "left", part });
    for (const { task } of this.hung)
      for (const connection of this.tasks.get(task)?.hang?.taut ?? [])
        if (!this.released.has(connection)) this.fault("R6", { kind: "taut", hang: task, connection });
    for (const task of this.problem.tasks)
      if (task.must && !this.inForce.has(task.id) && !this.calledFor.has(task.id))
        this.fault("R7", { kind: "must", task: task.id });
  }

  private setAside(): string[] {
    const tied = new Set(this.hung.flatMap((hang) => [hang.part, hang.to]));
    const lifted = new Set(this.lifts.flatMap((lift) => lift.parts));
    const joined = new Set<string>();
    for (const { id, joins } of this.problem.connections)
      for (const part of joins) (this.released.has(id) ? joined : tied).add(part);
    return this.problem.parts
      .filter(({ id, fixed }) => !fixed && joined.has(id) && !tied.has(id) && !lifted.has(id))
      .map((part) => part.id);
  }

  private untie(connection: string): void {
    const tie = this.tie[this.connections.get(connection)?.number ?? -1];
    if (tie !== undefined) this.tied.undo(tie);
  }

  private partNumbers(ids: readonly string[]): number[] {
    return ids.flatMap((id) => this.parts.get(id) ?? []);
  }

  private fault(rule: Rule, what: Breach): void {
    this.faults.push({ step: this.step, rule, what });
  }
}

/** The needs that `all` joins, each by itself, so that each that fails is named. */
function conjuncts(need: Need): Need[] {
  return "all" in need ? need.all.flatMap(conjuncts) : [need];
}

/** One line for a reader. `name` turns an id into what the reader calls it. */
export function faultSentence({ step, rule, what }: Fault, name: (id: string) => string = (id) => id): string {
  const at = step === "end" ? "At the end" : `Step ${step + 1}`;
  return `${at} (${rule}): ${breachSentence(what, name)}`;
}

/** What broke, for a reader, without the step. */
export function breachSentence(what: Breach, name: (id: string) => string = (id) => id): string {
  const list = (ids: readonly string[]) => ids.map(name).join(", ");
  switch (what.kind) {
    case "unknown":
      return `nothing here is called "${what.id}".`;
    case "again":
      return `${name(what.id)} has been released or done already.`;
    case "not on":
      return `${name(what.task)} cannot be undone: it is not on.`;
    case "back":
      return `${name(what.task)} belongs to the way back.`;
    case "need":
      return what.joined
        ? `${name(what.of)} needs ${needPhrase(what.need, name)}, and ${name(what.joined[0])} still hangs together with ${name(what.joined[1])}.`
        : `${name(what.of)} needs ${needPhrase(what.need, name)}.`;
    case "on":
      return `${name(what.of)} is done without ${name(what.task)}, which is on.`;
    case "tied":
      return `${name(what.lift)} lifts what is still tied: ${what.chain.map(name).join(" – ")}.`;
    case "keep":
      return `${name(what.lift)} takes along what must stay: ${list(what.parts)}.`;
    case "mass":
      return `${name(what.lift)} lifts ${round(what.mass)} kg; the limit is ${round(what.limit)} kg.`;
    case "left":
      return `${name(what.part)} must go up with a lift, and stays.`;
    case "drops":
      return `nothing holds ${list(what.parts)} (${round(what.mass)} kg with all that hangs on it)${stancePhrase(what, name)}${strapPhrase(what)}.`;
    case "taut":
      return `${name(what.connection)} is too short for ${name(what.hang)}, and is still made.`;
    case "must":
      return `${name(what.task)} is not done.`;
  }
}

function stancePhrase(drop: Dropped, name: (id: string) => string): string {
  if (drop.on.length === 0) return "";
  const on = `; it stands on ${drop.on.map(name).join(", ")}`;
  if (drop.inside === undefined) return `${on}, which show no polygon round its centre of mass`;
  const side = drop.inside < 0 ? "outside" : "inside";
  return `${on}, and its centre of mass lies ${round(Math.abs(drop.inside))} m ${side} the nearest edge`;
}

function strapPhrase({ strapHolds }: Dropped): string {
  return strapHolds === undefined ? "" : `; a strap holds at most ${round(strapHolds)} kg`;
}

function needPhrase(need: Need, name: (id: string) => string): string {
  if ("released" in need) return `${name(need.released)} released`;
  if ("done" in need) return `${name(need.done)} done`;
  if ("all" in need) return `all of (${need.all.map((each) => needPhrase(each, name)).join("; ")})`;
  if ("any" in need) return `any of (${need.any.map((each) => needPhrase(each, name)).join("; ")})`;
  return `${need.apart.map((side) => side.map(name).join(", ")).join(" apart from ")}`;
}

const round = (value: number) => Math.round(value * 1000) / 1000;

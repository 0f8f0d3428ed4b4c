// Owns what each change of the design does to one job: settled without solving where that is proven, all at once where one solve settles many, else solved again.
//
// Four proofs spare solves of what must come off. (1) A change that only shortens times by δ in the plan and by no more elsewhere: no plan gets below the least labour less δ, and the
// plan as it is costs exactly that; so it stays the least. (2) Changes that only shorten, add ways or drop needs can but lower the least labour, and all of them at once
// lower it no less than each: where all at once lower nothing, none does. (3) A change that shortens the plan by δ and other ways by more is put among those as what it
// shortens them by beyond δ: where that lowers nothing, the plan as it is, δ cheaper, stays the least. (4) A change that spares a task, by which the plan becomes δ cheaper, is put among
// those as that task without its needs; see improve-spare.ts. All else is solved again.

import type { Need, Plan } from "../release/index.ts";
import type { Vehicle } from "../vehicle/index.ts";
import type { Crew } from "./crew.ts";
import { carryOut, elapsedWith, type Reckoned, type Reckoning, release, retime, type Taken } from "./improve-base.ts";
import { type Change, changeCrew, changeVehicle, isOfCrew, isTimeOnly } from "./improve-change.ts";
import type { Effects } from "./improve-effect.ts";
import { type Spared, sparedOf, timeless } from "./improve-spare.ts";

/** What a change does to a job. `times`: the plan as it was, quicker; `anew`: planned anew. */
export type Outcome =
  | { readonly how: "nothing" }
  | { readonly how: "times" | "anew"; readonly taken: Taken }
  | { readonly how: "impossible" };

/** Two that spare more together than apart, in one job. */
export interface Pair {
  readonly both: readonly [string, string];
  /** Person-minutes and minutes more than the two apart. */
  readonly labour: number;
  readonly elapsed: number;
}

const EPS = 1e-6;
/** Of the changes that the best plan with all of them uses, so many are tried two by two. */
const PAIRED = 4;
/** So few that a plan uses are asked each alone rather than by halves: most of them do spare something. */
const FEW = 6;

/** A change that may lower the labour beyond what it spares the plan as it is, `here`; `probe` and `freed`: it, but for that. */
interface Doubt {
  readonly change: Change;
  readonly probe: Change;
  readonly freed?: readonly string[];
  readonly here: number;
  /** Times what they were, of the plan as it is. */
  readonly factors: ReadonlyMap<string, number>;
}

/** Whether what a need names is made at some time; of parts apart nothing is asked. */
const isMet = (need: Need, made: ReadonlySet<string>): boolean => {
  if ("all" in need) return need.all.every((one) => isMet(one, made));
  if ("any" in need) return need.any.some((one) => isMet(one, made));
  if ("apart" in need) return true;
  return made.has("released" in need ? need.released : need.done);
};

export class Settler {
  readonly outcomes = new Map<string, Outcome>();
  readonly pairs: Pair[] = [];
  solves = 0;
  private readonly vehicle: Vehicle;
  private readonly job: string;
  private readonly crew: Crew;
  private readonly base: Reckoned;
  private readonly asked: Reckoning;
  private readonly made: ReadonlySet<string>;
  private readonly effects: Effects;

  constructor(vehicle: Vehicle, effects: Effects, job: string, crew: Crew, base: Reckoned, asked: Reckoning) {
    this.vehicle = vehicle;
    this.effects = effects;
    this.job = job;
    this.crew = crew;
    this.base = base;
    this.asked = asked;
    this.made = new Set([...base.plan.releases.map(({ way }) => way), ...base.plan.tasks]);
  }

  /** Settles all of them, those told to be stopped aside; those have no outcome. */
  settle(changes: readonly Change[]): void {
    const open: Change[] = [];
    for (const change of changes) {
      if (isOfCrew(change)) this.withCrew(change);
      else if (!isTimeOnly(this.vehicle, change)) open.push(change);
      else if (!this.byTimes(change)) open.push(change);
    }
    const doubts: Doubt[] = [];
    for (const change of open) {
      const doubt = this.doubt(change);
      if (doubt === undefined) this.alone(change, isTimeOnly(this.vehicle, change) ? this.staying(change) : undefined);
      else doubts.push(doubt);
    }
    const together = this.pool(doubts);
    if (together !== undefined) this.pairUp(together.used, together.labour);
    this.pairTimes(changes.filter(({ id }) => this.outcomes.get(id)?.how === "times"));
  }

  private get stopped(): boolean {
    return this.asked.stop?.() === true;
  }

  /** Settles a change of times by the first proof; false where it does not reach. */
  private byTimes(change: Change): boolean {
    const effect = this.effects.of(change);
    const here = this.sparedHere(change);
    let most = 0;
    for (const { ways } of this.vehicle.connections) {
      const each = ways.map(({ id }) => effect.spared.get(id) ?? 0);
      // Of a connection a plan makes one way.
      most += Math.max(0, ...each);
    }
    for (const { id } of this.vehicle.tasks) most += Math.max(0, effect.spared.get(id) ?? 0);
    const slower = [...effect.spared.values()].some((spared) => spared < 0);
    if (slower || most - here > EPS) return false;
    this.stays(change, this.staying(change));
    return true;
  }

  /** What becomes of the plan as it is by a change of times. */
  private staying(change: Change): Spared {
    return { here: this.sparedHere(change), factors: this.effects.of(change).factors };
  }

  /** Person-minutes that it spares the plan as it is. */
  private sparedHere(change: Change): number {
    let here = 0;
    for (const [id, spared] of this.effects.of(change).spared) if (this.made.has(id)) here += spared;
    return here;
  }

  /** What is to be asked of a change among others; undefined where it must be asked alone: it makes something slower, or its task cannot be told apart. */
  private doubt(change: Change): Doubt | undefined {
    if (change.spare.some((id) => this.made.has(id))) {
      const spared = sparedOf(this.vehicle, this.job, this.crew.people.length, this.base, change);
      return spared === undefined ? undefined : { change, probe: { ...change, spare: [] }, ...spared };
    }
    if (isTimeOnly(this.vehicle, change)) {
      const probe = this.effects.beyond(change, this.made);
      return probe === undefined ? undefined : { change, probe, ...this.staying(change) };
    }
    const touched = [...this.effects.of(change).spared];
    if (touched.some(([id, minutes]) => minutes < 0 || (minutes > 0 && this.made.has(id)))) return undefined;
    return { change, probe: change, here: 0, factors: new Map() };
  }

  /** More people, or more of a tool: the plan as it is stays possible, so nothing becomes worse by it. */
  private withCrew(change: Change): void {
    if (this.stopped) return;
    const { base } = this;
    const vehicle = changeVehicle(this.vehicle, [change]);
    const crew = changeCrew(this.crew, [change]);
    const crewAlone = change.steps.length + change.ways.length + change.spare.length === 0;
    if (crewAlone && change.people === 0 && !change.tools.some((tool) => this.isShared(tool))) {
      this.outcomes.set(change.id, { how: "nothing" });
      return;
    }
    const short = base.question.removed.some(({ why }) => why.lack === "people");
    const same = crewAlone && !short;
    const { question, plan } = same ? base : this.solved(vehicle, crew);
    if (plan === undefined) return;
    const taken = carryOut(question, plan, crew, this.asked, same ? base.crew.job : undefined);
    if (this.stopped) return;
    const better = taken !== undefined && (taken.labour < base.labour - EPS || taken.elapsed < base.elapsed - EPS);
    this.outcomes.set(change.id, better ? { how: "anew", taken } : { how: "nothing" });
  }

  /** Whether more works of the job want the tool than there are of it: else one more does nothing. */
  private isShared(tool: string): boolean {
    const { stocks, tasks, states } = this.base.crew.problem;
    const stock = stocks.find(({ id }) => id === `tool:${tool}`);
    if (stock === undefined) return false;
    const works = [...tasks, ...states.flatMap(({ set, clear }) => [set, clear])];
    return works.filter(({ uses }) => uses.some((use) => use.stock === stock.id)).length > stock.count;
  }

  private solved(vehicle: Vehicle, crew: Crew, freed: readonly string[] = []) {
    this.solves += 1;
    const { question, result } = release(vehicle, this.job, crew.people.length, this.asked, freed);
    const proven = result.status === "optimal" || result.status === "infeasible";
    return { question, plan: result.plan, proven, labour: result.plan?.labour ?? Number.POSITIVE_INFINITY };
  }

  /** `staying`: what becomes of the plan as it is; undefined where it may not stay one. */
  private alone(change: Change, staying: Spared | undefined): void {
    if (this.stopped) return;
    const { question, plan, proven } = this.solved(changeVehicle(this.vehicle, [change]), this.crew);
    if (!proven) return;
    this.keep(change, staying, question, plan);
  }

  private keep(
    change: Change,
    staying: Spared | undefined,
    question: Reckoned["question"],
    plan: Plan | undefined,
  ): void {
    if (plan !== undefined && staying !== undefined && plan.labour >= this.base.labour - staying.here - EPS) {
      this.stays(change, staying);
      return;
    }
    const left = plan === undefined ? undefined : this.within(change, plan);
    if (plan !== undefined && left !== undefined) {
      this.outcomes.set(change.id, { how: "times", taken: retime(this.base, left, plan.labour) });
      return;
    }
    const taken = plan === undefined ? undefined : carryOut(question, plan, this.crew, this.asked);
    if (this.stopped) return;
    this.outcomes.set(change.id, taken === undefined ? { how: "impossible" } : { how: "anew", taken });
  }

  /** No other plan is better with the change: the one that there is stays, quicker. */
  private stays(change: Change, { here, factors }: Spared): void {
    this.outcomes.set(
      change.id,
      here === 0 ? { how: "nothing" } : { how: "times", taken: retime(this.base, factors, this.base.labour - here) },
    );
  }

  /** A plan that makes nothing that the plan as it was does not: its order stays, and what is no longer made takes no time. */
  private within(change: Change, plan: Plan): ReadonlyMap<string, number> | undefined {
    const { base } = this;
    const kept = new Set([...plan.releases.map(({ way }) => way), ...plan.tasks]);
    if (change.ways.length > 0 || [...kept].some((id) => !this.made.has(id))) return undefined;
    const { factors } = this.effects.of(change);
    const gone = [...this.made].filter((id) => !kept.has(id));
    // A state of the vehicle that is set no longer frees what waited for it: that is another order.
    if (base.crew.problem.states.some(({ id }) => gone.includes(id))) return undefined;
    return new Map([...factors, ...timeless(gone)]);
  }

  /** Settles changes that can but lower the labour, by the last three proofs; what all together come to, and which of them the plan then uses. */
  private pool(doubts: readonly Doubt[]): { readonly labour: number; readonly used: readonly Doubt[] } | undefined {
    const [first] = doubts;
    if (first === undefined || this.stopped) return undefined;
    const vehicle = changeVehicle(
      this.vehicle,
      doubts.map(({ probe }) => probe),
    );
    const freed = doubts.flatMap((doubt) => doubt.freed ?? []);
    const { question, plan, proven, labour } = this.solved(vehicle, this.crew, freed);
    if (!proven || plan === undefined) return undefined;
    if (labour >= this.base.labour - EPS) {
      for (const doubt of doubts) this.stays(doubt.change, doubt);
      return { labour, used: [] };
    }
    if (doubts.length === 1) {
      // Among others it was asked without what it spares the plan as it is; alone it need not be.
      if (first.here > 0) this.alone(first.change, first);
      else this.keep(first.change, first, question, plan);
      return { labour, used: [first] };
    }
    const used = doubts.filter((doubt) => this.uses(doubt, question, plan));
    const rest = doubts.filter((doubt) => !used.includes(doubt));
    if (used.length > 0 && used.length <= FEW) for (const one of used) this.alone(one.change, one);
    else this.halve(used);
    if (used.length > 0) this.pool(rest);
    else this.halve(rest);
    return { labour, used };
  }

  private halve(doubts: readonly Doubt[]): void {
    if (doubts.length === 0) return;
    const middle = (doubts.length + 1) >> 1;
    this.pool(doubts.slice(0, middle));
    this.pool(doubts.slice(middle));
  }

  private uses({ change, freed }: Doubt, question: Reckoned["question"], plan: Plan): boolean {
    const { ways, steps, spare } = change;
    const wayOf = new Map(plan.releases.map(({ id, way }) => [id, way]));
    const known = new Map(this.vehicle.connections.map((one) => [one.id, one.ways]));
    const made = new Set([...plan.tasks, ...plan.releases.flatMap(({ id, way }) => [id, way])]);
    if (freed !== undefined)
      return question.problem.tasks.some(
        ({ id, needs }) => freed.includes(id) && made.has(id) && needs.some((need) => !isMet(need, made)),
      );
    return (
      ways.some(({ of }) => wayOf.has(of) && !known.get(of)?.some(({ id }) => id === wayOf.get(of))) ||
      steps.some(({ of }) => made.has(of)) ||
      spare.some((id) => this.made.has(id) && !made.has(id))
    );
  }

  private labourSpared(id: string): number {
    const outcome = this.outcomes.get(id);
    return outcome !== undefined && "taken" in outcome ? this.base.labour - outcome.taken.labour : 0;
  }

  /** Where all together spare more than the sum of each alone, two of them may: those that the plan uses are tried two by two. */
  private pairUp(used: readonly Doubt[], labour: number): void {
    const apart = used.reduce((sum, { change, here }) => sum + this.labourSpared(change.id) - here, 0);
    if (this.base.labour - labour <= apart + EPS) return;
    const few = used.slice(0, PAIRED).map(({ change }) => change);
    few.forEach((a, index) => {
      for (const b of few.slice(index + 1)) {
        if (this.stopped) return;
        const both = this.solved(changeVehicle(this.vehicle, [a, b]), this.crew);
        const more = this.base.labour - both.labour - this.labourSpared(a.id) - this.labourSpared(b.id);
        if (both.proven && more > EPS) this.pairs.push({ both: [a.id, b.id], labour: more, elapsed: 0 });
      }
    });
  }

  /** Two branches side by side spare elapsed time only where both become shorter. Labour spared by times alone adds up exactly, by the first proof. */
  private pairTimes(changes: readonly Change[]): void {
    const { base } = this;
    changes.forEach((a, index) => {
      const one = this.effects.of(a);
      const outcome = this.outcomes.get(a.id);
      if (outcome?.how !== "times") return;
      for (const b of changes.slice(index + 1)) {
        const other = this.effects.of(b);
        const second = this.outcomes.get(b.id);
        // Two that quicken the same step are no pair.
        if (second?.how !== "times") continue;
        if ([...one.factors.keys()].some((work) => other.factors.has(work))) continue;
        const apart = 2 * base.elapsed - outcome.taken.elapsed - second.taken.elapsed;
        const more = base.elapsed - elapsedWith(base, new Map([...one.factors, ...other.factors])) - apart;
        if (more > EPS) this.pairs.push({ both: [a.id, b.id], labour: 0, elapsed: more });
      }
    });
  }
}

// Owns the course of a search: a legal schedule at once, better ones bred, a bound raised from below, until they meet or a limit is reached.

import { builtOf, figuresOf, scheduleOf, takenFrom } from "./answer.ts";
import { Breeder } from "./breed.ts";
import type { Built } from "./built.ts";
import { chainOf } from "./chain.ts";
import { check } from "./check.ts";
import { WorkClock } from "./clock.ts";
import { contradictionIn } from "./conflict.ts";
import { lacksOf } from "./lacks.ts";
import { lowerBound, tightened } from "./lower.ts";
import type { Problem } from "./problem.ts";
import { makeProver, type Proving } from "./proof/prove.ts";
import { randomFrom } from "./random.ts";
import { type LaneName, type Modelled, relax, startsIn } from "./relax.ts";
import type { Lack, Limits, Result, Status } from "./result.ts";
import { openShop, type Shop } from "./shop.ts";
import { Shortener } from "./shorten.ts";
import { solvePlain } from "./solve-plain.ts";
import { affordable } from "./turns.ts";

/** Without limits: so much, which is some seconds for a hundred tasks. */
const SCHEDULES = 20_000;
const CONFLICTS = 60_000;
/** With a limit of time: schedules without a better one after which the search ends where the proof has nothing left to try. */
const FRUITLESS = 10_000;
/** Schedules tried before the proof is asked whether there can be any. */
const FIRST_TRIES = 60;
/** Conflicts after which the proof reaches less far; how far it does at first above the bound, ticks. */
const PATIENCE = 1000;
const FIRST_REACH = 8;
/** Conflicts without a raise after which the case of all schedules is split. */
const STUCK = 8_000;
/** Of a round: schedules bred, windows of a schedule shortened, conflicts of the proof; all grow with the first rounds. With rounds without a shorter schedule the last grow and the windows get fewer. */
const ROUND = { schedules: 60, windows: 40, conflicts: 800, most: 4, idle: 12 };
/** Schedules bred before any is shortened. */
const BRED = 400;
/** Conflicts to refute one question with fewer rules while a contradiction is looked for. */
const SURE = 500;

/** Working ticks within which every question that has an answer has one: all of it one after the other, with every lag, way and change between, after the last change of shift. */
const amplest = (shop: Shop): number => {
  const edges = shop.people.flatMap(({ spells }) => spells.filter((tick) => Number.isFinite(tick)));
  const way = Math.max(0, ...shop.moves.flat());
  const turning = shop.states.reduce(
    (sum, { turn }) => sum + turn.reduce((both, work) => both + (shop.works[work]?.ticks ?? 0) + way, 0),
    0,
  );
  const tasks = shop.works.slice(0, shop.tasks).reduce((sum, { ticks, alone, after }) => {
    const lags = after.reduce((most, { least }) => Math.max(most, least), 0);
    return sum + ticks + alone + lags + way + turning;
  }, turning);
  return Math.max(shop.now, 0, ...edges) + tasks;
};

/** A part of all schedules, the ones with so many changes of the states; every schedule is in one at least. */
interface Case {
  readonly prover: Proving;
  /** None of them has fewer working ticks; Infinity when there is none. */
  bound: number;
  reach: number;
  closed: boolean;
  /** What the bound comes from at first. */
  readonly name: string;
}

/** The case of the schedules with more changes of one state than are modelled otherwise: these are made for certain. */
const moreOf = (most: readonly number[], more: readonly number[], certain: number): Modelled => ({
  most: most.map((turns, state) => turns + (state === certain ? 1 : 0)),
  open: more,
  certain,
});

class Course {
  private readonly shop: Shop;
  private readonly limits: Limits;
  private readonly breeder: Breeder;
  private readonly shortener: Shortener;
  private readonly clock: WorkClock;
  private readonly began: number;
  private cases: Case[] = [];
  private bound = 0;
  private boundBy = "longest chain";
  private best: Built | undefined;
  /** All schedules are in one case, which can be split. */
  private whole = false;
  /** Conflicts since that one was raised. */
  private stuck = 0;
  /** Conflicts of earlier cases. */
  private spent = 0;
  /** Schedules tried until the best one. */
  private until = 0;

  constructor(problem: Problem, limits: Limits) {
    this.shop = openShop(problem);
    this.limits = limits;
    this.breeder = new Breeder(this.shop, randomFrom(limits.seed ?? 1));
    this.shortener = new Shortener(this.shop, this.breeder, randomFrom(limits.seed ?? 1));
    this.clock = new WorkClock(this.shop);
    this.began = limits.clock?.() ?? 0;
  }

  run(): Result {
    for (const schedule of this.limits.known ?? []) {
      const built = takenFrom(this.shop, schedule);
      if (built !== undefined && check(this.shop.problem, schedule).legal && this.breeder.take(built)) this.found();
    }
    for (let tries = 0; tries < FIRST_TRIES && this.best === undefined; tries += 1) this.breed(1);
    this.ask();
    if (this.best === undefined) this.seek();
    for (let [round, idle] = [0, 0]; !this.over(); round += 1) {
      const much = Math.min(2 ** round, ROUND.most);
      const before = this.best?.finish;
      this.breed(ROUND.schedules * much);
      // What is not bred well yet is bred better sooner.
      if (!this.over() && this.breeder.built >= BRED) this.shorten(Math.ceil((ROUND.windows * much) / (1 + idle)));
      // The longer nothing shorter was found, the likelier it is for the proof to move.
      idle = this.best?.finish === before ? Math.min(idle + 1, ROUND.idle) : 0;
      if (!this.over()) this.prove(ROUND.conflicts * much * (1 + idle));
    }
    return this.result();
  }

  private stopped(): boolean {
    const { seconds, clock, stop } = this.limits;
    if (stop?.() === true) return true;
    return seconds !== undefined && clock !== undefined && clock() - this.began >= seconds * 1000;
  }

  private conflicts(): number {
    return this.cases.reduce((sum, one) => sum + one.prover.conflicts, this.spent + this.shortener.conflicts);
  }

  /** The elapsed time that the bound stands for, ticks. */
  private boundTicks(): number {
    if (this.bound === Number.POSITIVE_INFINITY) return this.bound;
    return Math.max(0, this.clock.when(Math.max(0, this.bound - this.shop.rounded)) - this.shop.now);
  }

  private closed(): boolean {
    if (this.best === undefined) return this.bound === Number.POSITIVE_INFINITY;
    return this.best.retold === 0 && this.boundTicks() >= this.best.finish - this.shop.now;
  }

  private over(): boolean {
    const { limits, best } = this;
    if (this.closed() || this.stopped()) return true;
    if (best !== undefined && limits.gap !== undefined) {
      const elapsed = best.finish - this.shop.now;
      if (elapsed - this.boundTicks() <= limits.gap * elapsed) return true;
    }
    if (limits.due !== undefined) {
      const due = limits.due * this.shop.unit;
      if (this.boundTicks() > due || (best !== undefined && best.finish - this.shop.now <= due)) return true;
    }
    const timed = limits.seconds !== undefined && limits.clock !== undefined;
    const schedules = limits.schedules ?? (timed ? this.until + FRUITLESS : SCHEDULES);
    const conflicts = limits.conflicts ?? (timed ? Number.POSITIVE_INFINITY : CONFLICTS);
    return this.breeder.built >= schedules && (this.settled() || this.conflicts() >= conflicts);
  }

  private breed(count: number): void {
    const most = this.limits.schedules ?? Number.POSITIVE_INFINITY;
    for (let made = 0; made < count && this.breeder.built < most; made += 1) {
      if (this.breeder.step()) this.found();
      if (made % 16 === 15 && this.stopped()) return;
    }
  }

  private shorten(windows: number): void {
    const conflicts = (this.limits.conflicts ?? Number.POSITIVE_INFINITY) - this.conflicts();
    if (this.shortener.run(windows, { conflicts, stop: () => this.stopped() })) this.found();
  }

  /** The breeder has a better one. */
  private found(): void {
    const { best } = this.breeder;
    if (best === undefined) return;
    this.best = best;
    this.until = this.breeder.built;
    for (const one of this.cases) one.prover.below(this.clock.at(best.finish));
    const { better } = this.limits.watch ?? {};
    if (better === undefined) return;
    const schedule = scheduleOf(this.shop, best);
    better(schedule, figuresOf(this.shop, schedule, best), this.boundTicks() / this.shop.unit);
  }

  /** The bound of the whole is that of the case with the least. */
  private raise(by?: string): void {
    const bound = this.cases.reduce((least, one) => Math.min(least, one.bound), Number.POSITIVE_INFINITY);
    if (bound <= this.bound) return;
    this.bound = bound;
    this.boundBy = by ?? this.boundBy;
    this.limits.watch?.bound?.(this.boundTicks() / this.shop.unit);
  }

  /** Whether the proof can raise the bound no further: a case that keeps it where it is cannot be raised. */
  private settled(): boolean {
    return !this.whole && this.cases.every((one) => one.closed || one.bound > this.bound);
  }

  /**
   * Puts the question to the proof: schedules that end by the best end known. At first all in one model, in which what comes after the last modelled change of a state is free; then, split, in as many changes of each
   * state as are modelled, or in more of one of them.
   */
  private ask(split = false): void {
    const { shop, clock, best } = this;
    const horizon = best?.finish ?? amplest(shop);
    const { most, more } = affordable(shop, clock, horizon);
    this.spent = this.conflicts() - this.shortener.conflicts;
    this.whole = !split && more.length > 0;
    const parts = this.whole
      ? [{ most, open: more }]
      : [{ most, open: [] }, ...more.map((state) => moreOf(most, more, state))];
    this.cases = parts.map((modelled: Modelled): Case => {
      const rough = relax(shop, horizon, modelled);
      // What is known to lie before the end says more than what may lie beyond it.
      const floor = lowerBound(rough.model, rough.still).bound;
      const relaxed = rough.absences.length === 0 ? rough : relax(shop, horizon, { ...modelled, floor });
      const lower = lowerBound(relaxed.model, relaxed.still);
      const prover = makeProver(tightened(relaxed.model, lower), { seed: this.limits.seed ?? 1 });
      const name = lower.lane < 0 ? "longest chain" : this.sayLane(relaxed.lanes[lower.lane]);
      if (best !== undefined && modelled.certain === undefined) prover.begin(startsIn(relaxed, shop, best));
      else if (best !== undefined) prover.below(clock.at(best.finish));
      return { prover, bound: lower.bound, reach: FIRST_REACH, closed: lower.bound === Number.POSITIVE_INFINITY, name };
    });
    this.stuck = 0;
    this.raise(this.cases[0]?.name);
  }

  private sayLane(lane: LaneName | undefined): string {
    if (lane === undefined || lane.kind === "people") return "people";
    const list = lane.kind === "position" ? this.shop.problem.positions : this.shop.problem.stocks;
    return list[lane.of]?.id ?? lane.kind;
  }

  /** Raises the case with the least bound, by as much at a time as lately could be refuted; what the proof finds on the way is built by the rules. */
  private prove(conflicts: number): void {
    const end =
      this.conflicts() + Math.min(conflicts, (this.limits.conflicts ?? Number.POSITIVE_INFINITY) - this.conflicts());
    while (this.conflicts() < end && !this.over()) {
      const open = this.cases.filter((one) => !one.closed);
      const one = open.reduce<Case | undefined>(
        (least, other) => (least === undefined || other.bound < least.bound ? other : least),
        undefined,
      );
      // What is closed below the others keeps the bound where it is.
      if (one === undefined || one.bound > this.bound || this.stuck >= STUCK) {
        if (!this.whole) return;
        this.ask(true);
        continue;
      }
      const { prover } = one;
      const met = prover.conflicts;
      const [starts, bound] = [prover.starts, one.bound];
      const limits = { conflicts: Math.min(PATIENCE, end - this.conflicts()), stop: () => this.stopped() };
      const verdict = prover.raise(limits, one.reach);
      one.bound = Math.max(bound, prover.bound);
      one.closed = verdict === "closed" || prover.bound >= prover.makespan;
      this.stuck = one.bound > bound || !this.whole ? 0 : this.stuck + prover.conflicts - met;
      one.reach = one.bound > bound ? 2 * one.reach + 1 : one.reach >> 1;
      this.raise("proof by clauses");
      if (prover.starts !== undefined && prover.starts !== starts) this.follow(prover.starts);
    }
  }

  /** Builds schedules that follow these starts of the relaxation. */
  private follow(starts: Int32Array): void {
    const keys = Float64Array.from({ length: this.shop.tasks }, (_, task) => this.clock.when(starts[task] ?? 0));
    if (this.breeder.tryKeys(keys, { turning: 0, moving: 0, walking: 1 })) this.found();
  }

  /** Nothing was built: is there anything at all? */
  private seek(): void {
    for (const one of this.cases) {
      while (!one.closed && this.best === undefined && !this.stopped()) {
        const room = (this.limits.conflicts ?? CONFLICTS) - this.conflicts();
        if (room <= 0) return;
        const verdict = one.prover.run({ conflicts: room, stop: () => this.stopped() });
        one.closed = verdict === "closed";
        if (one.closed && one.prover.starts === undefined) one.bound = Number.POSITIVE_INFINITY;
        if (verdict !== "better" || one.prover.starts === undefined) break;
        this.follow(one.prover.starts);
        this.breed(FIRST_TRIES);
      }
    }
    if (this.best === undefined) this.raise("proof by clauses");
    else this.ask();
  }

  private status(): Status {
    if (this.best === undefined) return this.closed() ? "infeasible" : "unknown";
    return this.closed() ? "optimal" : "feasible";
  }

  private lacks(): readonly Lack[] {
    if (this.status() !== "infeasible") return [];
    return [contradictionIn(this.shop.problem, (fewer) => !this.stopped() && impossible(fewer))];
  }

  private result(): Result {
    const { best, shop } = this;
    const schedule = best === undefined ? undefined : scheduleOf(shop, best);
    return {
      status: this.status(),
      ...(schedule === undefined || best === undefined ? {} : { schedule, figures: figuresOf(shop, schedule, best) }),
      bound: this.boundTicks() / shop.unit,
      boundBy: this.boundBy,
      lacks: this.lacks(),
      chain: schedule === undefined ? [] : chainOf(shop.problem, schedule),
      effort: { schedules: this.breeder.built, conflicts: this.conflicts() },
    };
  }
}

/** Whether it is sure, after some conflicts, that the question has no answer. */
const impossible = (problem: Problem): boolean => {
  const shop = openShop(problem);
  const horizon = amplest(shop);
  const { most, more } = affordable(shop, new WorkClock(shop), horizon);
  if (more.length > 0) return false;
  const { model } = relax(shop, horizon, { most, open: [] });
  if (lowerBound(model).bound === Number.POSITIVE_INFINITY) return true;
  const prover = makeProver(model);
  return prover.run({ conflicts: SURE }) === "closed" && prover.starts === undefined;
};

/**
 * The schedule of least elapsed time that the limits allow to find, and a bound on it. Without limits it stops by itself after a set amount of search. The same
 * seed and the same limits in counts give the same answer.
 */
export const solve = (problem: Problem, limits: Limits = {}): Result => {
  const lacks = lacksOf(problem);
  if (lacks.length > 0) {
    return {
      status: "infeasible",
      bound: Number.POSITIVE_INFINITY,
      boundBy: "the question itself",
      lacks,
      chain: [],
      effort: { schedules: 0, conflicts: 0 },
    };
  }
  return plainly(problem, limits) ?? new Course(problem, limits).run();
};

/** A question without people and states, when its model is plain: the search for such is faster by far. */
const plainly = (problem: Problem, limits: Limits): Result | undefined => {
  if (problem.people.length > 0 || problem.states.length > 0) return undefined;
  const shop = openShop(problem);
  const { watch, ...rest } = limits;
  const show = (starts: Int32Array) => {
    const built = builtOf(shop, starts);
    const schedule = scheduleOf(shop, built);
    return { schedule, figures: figuresOf(shop, schedule, built) };
  };
  const minutes = (ticks: number): number => Math.max(0, ticks - shop.rounded) / shop.unit;
  const answer = solvePlain(relax(shop, shop.now + amplest(shop), { most: [], open: [] }).model, {
    ...rest,
    better: (starts, _, bound) => {
      const { schedule, figures } = show(starts);
      watch?.better?.(schedule, figures, minutes(bound));
    },
    raised: (bound) => watch?.bound?.(minutes(bound)),
  });
  if (answer === undefined) return undefined;
  const { starts, status, bound, boundBy, effort } = answer;
  const shown = starts === undefined ? undefined : show(starts);
  return {
    status,
    ...shown,
    bound: minutes(bound),
    boundBy,
    lacks: [],
    chain: shown === undefined ? [] : chainOf(problem, shown.schedule),
    effort,
  };
};

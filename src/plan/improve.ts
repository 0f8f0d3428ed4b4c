// Owns the answer to what to change first: each change tried on every job, what it spares over all of them by how often they come, and which two spare more together.

import { type Estimate, gain } from "../times/index.ts";
import type { Vehicle } from "../vehicle/index.ts";
import type { Crew } from "./crew.ts";
import { carryOut, type Reckoned, type Reckoning, release } from "./improve-base.ts";
import { candidates } from "./improve-candidates.ts";
import { type Change, isOfCrew } from "./improve-change.ts";
import { Effects } from "./improve-effect.ts";
import { Settler } from "./improve-settle.ts";
import { labelOf } from "./labels.ts";

export interface ImproveAsked extends Reckoning {
  /** Jobs, and how often each comes. */
  readonly jobs: readonly { readonly id: string; readonly weight: number }[];
  /** Somebody said how often; else all come equally often. */
  readonly weighed: boolean;
  readonly crew: Crew;
  /** The user's own, tried besides those of the rules. */
  readonly changes: readonly Change[];
  /** So many of the rules' at most. */
  readonly most: number;
  /** Of an hour of labour. */
  readonly rate?: number;
  /** Hears what it begins, and may ask for the answer so far: changes that were not tried on a job yet count as sparing nothing there. */
  readonly onProgress?: (stage: ImproveStage, soFar: () => Improved) => void;
}

/** How far it is: the `at`-th of so many jobs is planned, or so many changes are tried on it. */
export interface ImproveStage {
  readonly doing: "planning" | "trying";
  readonly at: number;
  readonly of: number;
  readonly changes: number;
}

export interface ImprovedJob {
  readonly id: string;
  readonly label: string;
  readonly weight: number;
  /** `no plan`: this crew cannot do it. `not reckoned`: stopped before. */
  readonly status: "reckoned" | "no plan" | "not reckoned";
  readonly labour?: number;
  readonly elapsed?: number;
  readonly p95?: number;
}

/** Minutes that a change spares in the mean of all reckoned jobs, each by how often it comes. */
export interface Spared {
  readonly labour: number;
  readonly elapsed: number;
  readonly p95: Estimate;
}

export interface ImprovedChange extends Spared, Change {
  /** Jobs in which it does something. */
  readonly jobs: readonly {
    readonly id: string;
    readonly how: "times" | "anew" | "impossible";
    readonly labour: number;
    readonly elapsed: number;
    readonly p95: Estimate;
  }[];
  /** Years until it has earned its cost. */
  readonly years?: number;
}

export interface Improved {
  readonly format: "unmoor/improve/1";
  readonly vehicle: string;
  readonly note?: string;
  readonly people: number;
  readonly weighed: boolean;
  readonly jobs: readonly ImprovedJob[];
  readonly mean: { readonly labour: number; readonly elapsed: number; readonly p95: number };
  /** Person-minutes: of all jobs as often as they come, their own work among it, and the connections, tasks and work that cost most of it. */
  readonly cost: {
    readonly labour: number;
    readonly money?: number;
    readonly steps: readonly {
      readonly id: string;
      readonly label: string;
      readonly labour: number;
      readonly share: number;
    }[];
  };
  readonly changes: readonly ImprovedChange[];
  /** Ids of changes that were not tried on all of the jobs before it was stopped. */
  readonly untried: readonly string[];
  readonly pairs: readonly {
    readonly both: readonly [string, string];
    readonly labels: readonly [string, string];
    readonly labour: number;
    readonly elapsed: number;
  }[];
  readonly solves: number;
  readonly stopped: boolean;
  readonly assumed: readonly string[];
}

export type Ranking = "labour" | "elapsed" | "p95";

const DEAREST = 12;
const PAIRS = 10;
const NOTHING: Estimate = { value: 0, error: 0 };

interface Touched {
  readonly id: string;
  readonly weight: number;
  readonly how: "times" | "anew" | "impossible";
  readonly labour: number;
  readonly elapsed: number;
  readonly p95: Estimate;
}

interface Worked {
  readonly id: string;
  readonly weight: number;
  readonly base: Reckoned;
  settler?: Settler;
}

/** Person-minutes of each connection, task and state of a job, by its id in the file. */
const labourOf = ({ crew, schedule }: Reckoned): ReadonlyMap<string, number> => {
  const sums = new Map<string, number>();
  const add = (id: string, labour: number) => sums.set(id, (sums.get(id) ?? 0) + labour);
  const people = new Map(schedule.tasks.map(({ task, people: who }) => [task, who.length]));
  for (const { id, minutes } of crew.problem.tasks) {
    const says = crew.steps.get(id)?.says;
    if (says !== undefined && says.action !== "verify") add(says.id, minutes * (people.get(id) ?? 0));
  }
  const states = new Map(crew.problem.states.map((state) => [state.id, state]));
  for (const { state, to, people: who } of schedule.changes) {
    const one = states.get(state);
    if (one !== undefined) add(state, (to ? one.set : one.clear).minutes * who.length);
  }
  return sums;
};

class Improver {
  private readonly vehicle: Vehicle;
  private readonly asked: ImproveAsked;
  private readonly worked: Worked[] = [];
  private readonly lacking = new Set<string>();
  private changes: readonly Change[] = [];

  constructor(vehicle: Vehicle, asked: ImproveAsked) {
    this.vehicle = vehicle;
    this.asked = asked;
  }

  run(): void {
    const { vehicle, asked } = this;
    const { jobs, crew } = asked;
    jobs.forEach(({ id, weight }, index) => {
      if (this.stopped) return;
      this.tell("planning", index + 1, jobs.length);
      const { question, result } = release(vehicle, id, crew.people.length, asked);
      const base = result.plan === undefined ? undefined : carryOut(question, result.plan, crew, asked);
      if (base !== undefined) this.worked.push({ id, weight, base });
      else if (!this.stopped) this.lacking.add(id);
    });
    this.changes = [...asked.changes, ...candidates(vehicle, this.worked, asked.most)];
    // What comes oftenest and takes longest is settled first: whoever stops it has the most.
    const dearest = this.worked.toSorted((a, b) => b.weight * b.base.labour - a.weight * a.base.labour);
    const effects = new Effects(vehicle);
    dearest.forEach((one, index) => {
      if (this.stopped) return;
      this.tell("trying", index + 1, dearest.length);
      const settler = new Settler(vehicle, effects, one.id, crew, one.base, asked);
      settler.settle(this.changes);
      one.settler = settler;
    });
  }

  private tell(doing: ImproveStage["doing"], at: number, of: number): void {
    this.asked.onProgress?.({ doing, at, of, changes: this.changes.length }, () => this.answer());
  }

  private get stopped(): boolean {
    return this.asked.stop?.() === true;
  }

  answer(): Improved {
    const { vehicle, asked, changes } = this;
    const { crew } = asked;
    const tried = changes.filter(({ id }) => this.worked.every(({ settler }) => settler?.outcomes.has(id) === true));
    const total = this.worked.reduce((sum, { weight }) => sum + weight, 0);
    const mean = (of: (base: Reckoned) => number) =>
      this.worked.reduce((sum, { weight, base }) => sum + weight * of(base), 0) / Math.max(total, Number.MIN_VALUE);
    return {
      format: "unmoor/improve/1",
      vehicle: vehicle.name,
      ...(vehicle.note === undefined ? {} : { note: vehicle.note }),
      people: crew.people.length,
      weighed: asked.weighed,
      jobs: asked.jobs.map(({ id, weight }) => this.job(id, weight)),
      mean: { labour: mean((one) => one.labour), elapsed: mean((one) => one.elapsed), p95: mean((one) => one.p95) },
      cost: this.cost(),
      changes: changes.map((change) => this.change(change, total)),
      untried: changes.filter((change) => !tried.includes(change)).map(({ id }) => id),
      pairs: this.pairs(total),
      solves: this.worked.reduce((sum, { settler }) => sum + (settler?.solves ?? 0), 0),
      stopped: this.stopped,
      assumed: this.assumed(),
    };
  }

  private job(id: string, weight: number): ImprovedJob {
    const found = this.worked.find((one) => one.id === id)?.base;
    const label = this.vehicle.jobs.find((job) => job.id === id)?.label ?? id;
    if (found === undefined) return { id, label, weight, status: this.lacking.has(id) ? "no plan" : "not reckoned" };
    const { labour, elapsed, p95 } = found;
    return { id, label, weight, status: "reckoned", labour, elapsed, p95 };
  }

  private change(change: Change, total: number): ImprovedChange {
    const { id, cost } = change;
    const jobs = this.worked.flatMap(({ id: job, weight, base, settler }): readonly Touched[] => {
      const outcome = settler?.outcomes.get(id);
      if (outcome === undefined || outcome.how === "nothing") return [];
      if (outcome.how === "impossible")
        return [{ id: job, weight, how: outcome.how, labour: 0, elapsed: 0, p95: NOTHING }];
      const { taken, how } = outcome;
      return [
        {
          id: job,
          weight,
          how,
          labour: base.labour - taken.labour,
          elapsed: base.elapsed - taken.elapsed,
          p95: gain(base.finishes, taken.finishes, 0.95),
        },
      ];
    });
    const mean = (of: (one: Touched) => number) =>
      jobs.reduce((sum, one) => sum + one.weight * of(one), 0) / Math.max(total, Number.MIN_VALUE);
    const labour = mean((one) => one.labour);
    // Runs of different jobs have the luck of their steps' names in common, so errors add up at worst.
    const p95 = { value: mean((one) => one.p95.value), error: mean((one) => one.p95.error) };
    const earned = this.asked.rate === undefined ? 0 : ((labour * total) / 60) * this.asked.rate;
    return {
      ...change,
      labour,
      elapsed: mean((one) => one.elapsed),
      p95,
      jobs: jobs.map(({ weight: _, ...one }) => one),
      ...(cost === undefined || earned <= 0 ? {} : { years: cost / earned }),
    };
  }

  private cost(): Improved["cost"] {
    const { rate } = this.asked;
    const sums = new Map<string, number>();
    for (const { weight, base } of this.worked)
      for (const [id, labour] of labourOf(base)) sums.set(id, (sums.get(id) ?? 0) + weight * labour);
    const labour = [...sums.values()].reduce((sum, one) => sum + one, 0);
    const question = this.worked[0]?.base.question;
    return {
      labour,
      ...(rate === undefined ? {} : { money: (labour / 60) * rate }),
      steps: [...sums]
        .sort((a, b) => b[1] - a[1])
        .slice(0, DEAREST)
        .map(([id, own]) => ({
          id,
          label: question === undefined ? id : labelOf(question, id),
          labour: own,
          share: labour === 0 ? 0 : own / labour,
        })),
    };
  }

  private pairs(total: number): Improved["pairs"] {
    const sums = new Map<string, Improved["pairs"][number]>();
    const labels = new Map(this.changes.map(({ id, label }) => [id, label]));
    for (const { weight, settler } of this.worked)
      for (const { both, labour, elapsed } of settler?.pairs ?? []) {
        const known = sums.get(both.join(" "));
        sums.set(both.join(" "), {
          both,
          labels: [labels.get(both[0]) ?? both[0], labels.get(both[1]) ?? both[1]],
          labour: (known?.labour ?? 0) + (weight * labour) / total,
          elapsed: (known?.elapsed ?? 0) + (weight * elapsed) / total,
        });
      }
    return [...sums.values()].sort((a, b) => b.labour + b.elapsed - a.labour - a.elapsed).slice(0, PAIRS);
  }

  private assumed(): readonly string[] {
    const anew = this.changes.some(isOfCrew);
    return [
      this.asked.weighed
        ? "Every mean is over the jobs by how often each comes, as was given."
        : "Nobody said how often each job comes: all count alike.",
      "Labour is the least, proven, for each change and job. A change that only shortens times keeps the plan's order; what changes the plan is scheduled anew, least labour first, by a search as long as that of the job as it is: such a schedule may be a little longer or shorter by its luck.",
      ...(anew ? ["More people and more tools count only where they shorten the schedule that was found."] : []),
      "What a changed step would take is a first guess. Pairs are sought among changes of times, and for labour among those that the best plan with all changes uses.",
    ];
  }
}

/** What to change first on these jobs; stopped, what there is. */
export const improve = (vehicle: Vehicle, asked: ImproveAsked): Improved => {
  const improver = new Improver(vehicle, asked);
  improver.run();
  return improver.answer();
};

// Owns the translation of a whole job and a crew into the question of who does what, when: tasks, states, stocks, holds and ways, with what is assumed.

import type { After, Change, Changed, Hold, Problem, Seat, State, Task, Work } from "../crew/index.ts";
import type { Task as FileTask, Position, Vehicle } from "../vehicle/index.ts";
import type { Crew } from "./crew.ts";
import { Shares } from "./crew-tools.ts";
import { spellsOf } from "./days.ts";
import { backId } from "./glass.ts";
import { waysBetween } from "./going.ts";
import { refitOf } from "./refit.ts";
import type { Draft } from "./steps.ts";
import { Waiting } from "./waiting.ts";
import type { JobState, JobStep, WholeJob } from "./whole-job.ts";

/** Minutes to verify one thing at a last look: an estimate, marked as assumed. */
const LOOK = 1;

export interface CrewQuestion {
  readonly job: WholeJob;
  readonly crew: Crew;
  readonly problem: Problem;
  /** By id of a task of the problem: its step of the job; the waiting after a step has none of its own. */
  readonly steps: ReadonlyMap<string, JobStep>;
  /** By id of the waiting that nobody attends: the step that it belongs to. */
  readonly waitings: ReadonlyMap<string, string>;
  /** Changes of state made before the question begins. */
  readonly past: readonly Changed[];
  /** What the file does not say and this question takes from somewhere else, in words. */
  readonly assumed: readonly string[];
}

const seatsOf = ({ people, skill }: Draft, able: boolean): readonly Seat[] => {
  if (people === 0) return [];
  if (skill === undefined || able) return [{ count: people }];
  // One who is able leads, whoever helps.
  return people === 1 ? [{ count: 1, skill }] : [{ count: 1, skill }, { count: people - 1 }];
};

class Translator {
  private readonly job: WholeJob;
  private readonly crew: Crew;
  private readonly vehicle: Vehicle;
  private readonly shares: Shares;
  private readonly waiting: Waiting;
  private readonly tasks: ReadonlyMap<string, FileTask>;
  private readonly places: ReadonlyMap<string, Position>;
  private readonly waitings = new Map<string, string>();

  constructor(job: WholeJob, crew: Crew) {
    this.job = job;
    this.crew = crew;
    this.vehicle = job.question.vehicle;
    this.shares = new Shares(this.vehicle, crew);
    this.waiting = new Waiting(job.steps);
    this.tasks = new Map(this.vehicle.tasks.map((task) => [task.id, task]));
    this.places = new Map(this.vehicle.positions.map((position) => [position.id, position]));
  }

  translate(): CrewQuestion {
    const { job, crew } = this;
    for (const step of job.steps)
      if ((step.says.wait ?? 0) > 0 && this.freesPlace(step)) this.waitings.set(`wait:${step.id}`, step.id);
    const tasks = job.steps.flatMap((step) => this.task(step));
    const kept = job.states.map((state) => this.keeps(state));
    const states = job.states.map((state, index) => this.state(state, kept[index] ?? []));
    const works: readonly Work[] = [...tasks, ...states.flatMap(({ set, clear }) => [set, clear])];
    const taken = new Set(works.flatMap((work) => work.uses.map((one) => one.stock)));
    const at = new Set(
      works.flatMap((work) => [...(work.position === undefined ? [] : [work.position]), ...work.empties]),
    );
    const positions = this.vehicle.positions.filter((position) => at.has(position.id));
    const total = [...works, ...tasks.map((task) => ({ minutes: task.alone ?? 0 }))].reduce(
      (sum, one) => sum + one.minutes,
      0,
    );
    return {
      job,
      crew,
      problem: {
        people: crew.people.map((person) => {
          const shifts = spellsOf(crew, person, total);
          return { id: person.id, skills: person.skills, ...(shifts === undefined ? {} : { shifts }) };
        }),
        stocks: [
          ...this.shares.stocks(taken),
          ...job.states.flatMap(({ id }, index) => {
            const count = kept[index]?.length ?? 0;
            return count === 0 ? [] : [{ id: `keep:${id}`, count }];
          }),
        ],
        positions: positions.map(({ id, people }) => ({ id, room: people })),
        states,
        tasks,
        holds: kept.flat(),
        apart: this.apart(),
        moves: waysBetween(positions, crew.going),
      },
      steps: new Map(job.steps.map((step) => [step.id, step])),
      waitings: this.waitings,
      past: [],
      assumed: this.assumed(),
    };
  }

  /** The work of a step goes on alone where nobody need be, so what only its position asks for is asked no longer. */
  private freesPlace(step: JobStep): boolean {
    const { position } = step.says;
    const place = position === undefined ? undefined : this.job.question.places.get(position);
    return place !== undefined && (step.on.size > 0 || step.off.size > 0);
  }

  private ended(id: string): string {
    return this.waitings.has(`wait:${id}`) ? `wait:${id}` : id;
  }

  private task(step: JobStep): readonly Task[] {
    const { id, says, looksAt } = step;
    const own = says.action === "verify" || says.action === "work" ? undefined : this.tasks.get(says.id);
    const wait = says.wait ?? 0;
    const tail = this.waitings.has(`wait:${id}`);
    const uses = this.shares.uses(step);
    const soon = this.soonAfter(step);
    const after: readonly After[] = [
      ...this.waiting
        .last(step.after)
        .filter((one) => !soon.some((other) => other.task === one))
        .map((one) => ({ task: this.ended(one) })),
      ...soon.map((one) => ({ ...one, task: this.ended(one.task) })),
    ];
    const task: Task = {
      id,
      minutes: says.action === "verify" ? LOOK * Math.max(1, looksAt.length) : says.minutes,
      crew: seatsOf(says, this.crew.able),
      uses,
      ...(says.position === undefined ? {} : { position: says.position }),
      on: [...step.on],
      off: [...new Set([...step.off, ...this.heldTools(id, says.tools, step.on)])],
      // The return of a lift passes the same places as the lift.
      empties: own?.undo === undefined ? (own?.empties ?? []).filter((place) => place !== says.position) : [],
      pauses: this.pauses(own),
      ...(wait > 0 && !tail ? { alone: wait } : {}),
      after,
      notBy: looksAt.filter((one) => (this.job.steps.find((other) => other.id === one)?.says.people ?? 0) > 0),
    };
    if (!tail) return [task];
    const { position: _, notBy: __, ...rest } = task;
    return [
      task,
      {
        ...rest,
        id: `wait:${id}`,
        minutes: wait,
        crew: [],
        on: [],
        off: [],
        empties: [],
        after: [{ task: id, least: 0, most: 0 }],
        notBy: [],
      },
    ];
  }

  /** A load is never left hanging over lunch. */
  private pauses(task: FileTask | undefined): boolean {
    return task?.pauses ?? (task === undefined || (task.lifts.length === 0 && task.supports.length === 0));
  }

  /** What a step of the way back must begin soon after: sealant sets. */
  private soonAfter({ id, says, back }: JobStep): readonly After[] {
    const source = back !== undefined && "refit" in back ? this.job.question.sources.get(back.way) : undefined;
    const said = source?.kind === "way" ? refitOf(source.connection, source.way) : this.tasks.get(says.id);
    const within = back !== undefined && !("return" in back) ? said?.within : undefined;
    if (within === undefined) return [];
    const named = (said?.after ?? []).flatMap((one) => [`back:${one}`, one]);
    return this.job.steps
      .filter((step) => step.phase === "back" && step.id !== id && named.includes(step.id))
      .map((step) => ({ task: step.id, least: 0, most: within }));
  }

  /** Whether the file says of a step that it makes sparks. */
  private sparks({ id, says }: JobStep): boolean {
    const source = this.job.question.sources.get(says.way ?? id);
    if (source?.kind === "way") return source.way.sparks === true;
    if (source?.kind === "work") return source.work.sparks === true;
    return this.tasks.get(says.id)?.sparks === true;
  }

  /** A jack that bears something stays where it is: what else wants it waits until that state is off. */
  private heldTools(id: string, tools: readonly string[], on: ReadonlySet<string>): readonly string[] {
    return this.job.states.flatMap((state) => {
      const held = this.tasks.get(state.id);
      if (held === undefined || held.supports.length === 0 || state.id === id || on.has(state.id)) return [];
      const scarce = tools.some((tool) => held.tools.includes(tool) && this.shares.countOf(tool) === 1);
      return scarce && !this.isOnDuring(state.id, id) ? [state.id] : [];
    });
  }

  /** Whether the order for one pair of hands has the state on while it does this, so that it must be able to. */
  private isOnDuring(state: string, id: string): boolean {
    let on = false;
    for (const step of this.job.sequence.order) {
      const own = "release" in step ? step.release : "do" in step ? step.do : step.undo;
      if (on && own === id) return true;
      if (own === state) on = "do" in step;
    }
    for (const step of this.job.back.steps) {
      const own = backId(step);
      if (on && own === id) return true;
      if (own === state) on = "do" in step;
    }
    return false;
  }

  /** Pairs that no other pair covers: held longer by somebody who begins sooner and ends later. */
  private keeps({ id, keeps }: JobState): readonly Hold[] {
    const covers = (sooner: string, later: string) => sooner === later || this.waiting.isBefore(sooner, later);
    const needed = keeps.filter(
      ([from, until], index) =>
        !keeps.some(
          ([otherFrom, otherUntil], place) =>
            place !== index &&
            covers(otherFrom, from) &&
            covers(until, otherUntil) &&
            (otherFrom !== from || otherUntil !== until || place < index),
        ),
    );
    return needed.map(([from, until]) => ({ stock: `keep:${id}`, count: 1, from, until: this.ended(until) }));
  }

  private state(state: JobState, kept: readonly Hold[]): State {
    const task = this.tasks.get(state.id);
    const change = (says: Draft, setting: boolean): Change => {
      const asks = setting || state.alike;
      const held = this.heldTools(state.id, says.tools, state.on);
      return {
        minutes: says.minutes,
        crew: seatsOf(says, this.crew.able),
        uses: [
          ...this.shares.usesOfTools(says.tools),
          ...(setting || kept.length === 0 ? [] : [{ stock: `keep:${state.id}`, count: kept.length }]),
        ],
        ...(says.position === undefined ? {} : { position: says.position }),
        on: [...new Set([...(asks ? state.on : []), ...(setting ? [] : state.handed)])],
        off: [...new Set([...(asks ? state.off : []), ...held])],
        empties: (task?.empties ?? []).filter((place) => place !== says.position),
        pauses: false,
        after: setting ? this.waiting.last(state.after).map((one) => this.ended(one)) : [],
        before: this.waiting.first(state.before),
      };
    };
    return { id: state.id, on: false, end: false, set: change(state.set, true), clear: change(state.clear, false) };
  }

  /** Open fuel and what may spark, what isolates and what it isolates, unless they wait for one another anyhow. */
  private apart(): readonly (readonly [string, string])[] {
    const connections = new Map(this.vehicle.connections.map((one) => [one.id, one]));
    const made = this.job.steps.filter((step) => step.says.action !== "verify" && step.says.action !== "work");
    const isolating = made.filter(({ says }) => {
      const all = [...(connections.get(says.id)?.isolates ?? []), ...(this.tasks.get(says.id)?.isolates ?? [])];
      return all.length > 0;
    });
    const ordered = (a: string, b: string) => this.waiting.isBefore(a, b) || this.waiting.isBefore(b, a);
    const sparking = this.job.steps.filter((step) => this.sparks(step));
    const open = made.filter((step) => this.shares.isOnFuel(step));
    const fires = sparking.flatMap((one) =>
      open
        .filter((other) => other.id !== one.id && !ordered(one.id, other.id))
        .map((other) => [one.id, other.id] as const),
    );
    const live = isolating.flatMap((off) => {
      const energies = new Set([
        ...(connections.get(off.says.id)?.isolates ?? []),
        ...(this.tasks.get(off.says.id)?.isolates ?? []),
      ]);
      return made
        .filter(({ id, says }) => id !== off.id && energies.has(connections.get(says.id)?.live ?? ""))
        .filter(({ id }) => !ordered(id, off.id))
        .map(({ id }) => [off.id, id] as const);
    });
    return [...fires, ...live];
  }

  private assumed(): readonly string[] {
    const looks = this.job.steps.filter((step) => step.says.action === "verify").length;
    const blind = this.vehicle.positions.filter((position) => position.at === undefined);
    const { speed, settle, climb } = this.crew.going;
    return [
      ...(looks === 0 ? [] : [`${LOOK} min for each thing verified at a last look`]),
      `going from place to place: ${speed} m/min, ${settle} min to put down and take up, ${climb} min to get under, in or up`,
      ...(blind.length === 0
        ? []
        : [`no way to reckon to ${blind.map((one) => one.label).join(", ")}: no coordinates`]),
    ];
  }
}

/** The question of who does what when, for a whole job and a crew. */
export const crewQuestion = (job: WholeJob, crew: Crew): CrewQuestion => new Translator(job, crew).translate();

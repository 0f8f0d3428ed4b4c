// Owns the question of a crew under way: what is done stays done, what has begun goes on with its people, the clock stands where it stands, and what people were told is
// worth keeping.

import type { Changed, Placed, Problem, Schedule, Task } from "../crew/index.ts";
import type { CrewQuestion } from "./crew-question.ts";

/** An earlier schedule: of `unmoor plan --crew … --json`, or the ledger's. */
export interface Earlier {
  readonly steps: readonly {
    readonly id: string;
    readonly start: number;
    readonly free: number;
    readonly end: number;
    readonly people: readonly string[];
  }[];
  readonly changes: readonly {
    readonly state: string;
    readonly to: boolean;
    readonly start: number;
    readonly end: number;
    readonly people: readonly string[];
  }[];
}

/** How the work stands. Ids are those of the schedule's steps. */
export interface Standing {
  /** Minutes from the beginning of the order. */
  readonly now: number;
  readonly told?: Earlier;
  /** Done, besides what `told` has over by now. */
  readonly done: readonly string[];
  /** Begun and not over. */
  readonly begun: readonly { readonly id: string; readonly start: number; readonly people: readonly string[] }[];
  /** Not begun, whatever `told` says. */
  readonly open: readonly string[];
  /** States that are on; absent: as `told` has it, else as the job begins. */
  readonly on?: readonly string[];
}

/** Minutes of elapsed time that it is worth to leave a step with whom it was told to: an estimate. */
const WORTH = 2;

/** What takes no time and nobody, and was over when it was. */
const inert = (task: Task, at: number, people: readonly string[]): Task => {
  const { alone: _, position: __, ...rest } = task;
  return {
    ...rest,
    minutes: 0,
    crew: [],
    uses: [],
    on: [],
    off: [],
    empties: [],
    after: [],
    notBy: [],
    begun: { start: at, people },
  };
};

class Standpoint {
  private readonly question: CrewQuestion;
  private readonly standing: Standing;
  private readonly told: ReadonlyMap<string, Earlier["steps"][number]>;
  private readonly doneAt = new Map<string, { readonly at: number; readonly people: readonly string[] }>();
  private readonly begun = new Map<string, { readonly start: number; readonly people: readonly string[] }>();

  constructor(question: CrewQuestion, standing: Standing) {
    this.question = question;
    this.standing = standing;
    this.told = new Map((standing.told?.steps ?? []).map((step) => [step.id, step]));
    const open = this.openOf(new Set(standing.open));
    const { now } = standing;
    for (const { id, start, end, people } of this.told.values()) {
      if (open.has(id)) continue;
      if (end <= now) this.doneAt.set(id, { at: end, people });
      else if (start < now) this.begun.set(id, { start, people });
    }
    for (const id of standing.done) {
      const told = this.told.get(id);
      this.begun.delete(id);
      this.doneAt.set(id, { at: Math.min(told?.end ?? now, now), people: told?.people ?? [] });
    }
    for (const { id, start, people } of standing.begun) {
      this.doneAt.delete(id);
      this.begun.set(id, { start, people });
    }
    // What nobody does is over when everything before it is.
    for (const task of question.problem.tasks)
      if (task.crew.length === 0 && task.minutes === 0 && task.after.every((one) => this.doneAt.has(one.task)))
        this.doneAt.set(task.id, { at: now, people: [] });
  }

  /** What is not done leaves open whatever comes after it. */
  private openOf(open: ReadonlySet<string>): ReadonlySet<string> {
    const all = new Set(open);
    for (let before = -1; before < all.size; ) {
      before = all.size;
      for (const task of this.question.problem.tasks) if (task.after.some((one) => all.has(one.task))) all.add(task.id);
    }
    return all;
  }

  ask(): { readonly question: CrewQuestion; readonly carriedOn?: Schedule } {
    const { problem } = this.question;
    const { now, told } = this.standing;
    const turning = this.turning();
    const isOn = this.statesOn();
    const tasks = problem.tasks.map((task) => this.task(task, turning));
    const inWork = turning.map((change) => this.changeTask(change));
    const again: Problem = {
      ...problem,
      now,
      tasks: [...tasks, ...inWork],
      states: problem.states.map((state) => {
        const waits = turning.filter((one) => one.state === state.id).map((one) => changeId(one.state));
        return {
          ...state,
          on: isOn.has(state.id),
          set: { ...state.set, after: [...state.set.after, ...waits] },
          clear: { ...state.clear, after: [...state.clear.after, ...waits] },
        };
      }),
      holds: problem.holds.filter((hold) => !this.doneAt.has(hold.until)),
      ...(told === undefined
        ? {}
        : {
            told: {
              worth: WORTH,
              tasks: problem.tasks.flatMap(({ id }) => {
                const step = this.told.get(id);
                if (step === undefined || this.doneAt.has(id) || this.begun.has(id)) return [];
                return [{ task: id, start: step.start, people: step.people }];
              }),
            },
          }),
    };
    const question = { ...this.question, problem: again, past: this.past() };
    return told === undefined ? { question } : { question, carriedOn: this.carriedOn(again, told, turning) };
  }

  private task(task: Task, turning: Earlier["changes"]): Task {
    const done = this.doneAt.get(task.id);
    if (done !== undefined) return inert(task, done.at, done.people);
    const begun = this.begun.get(task.id);
    if (begun !== undefined) return { ...task, after: [], notBy: [], begun };
    const waits = turning.filter(({ state }) => task.on.includes(state) || task.off.includes(state));
    return { ...task, after: [...task.after, ...waits.map(({ state }) => ({ task: changeId(state) }))] };
  }

  /** Changes of state that are going on now. */
  private turning(): Earlier["changes"] {
    const { now, told, on } = this.standing;
    if (on !== undefined) return [];
    return (told?.changes ?? []).filter(({ start, end }) => start < now && end > now);
  }

  private statesOn(): ReadonlySet<string> {
    const { now, told, on } = this.standing;
    if (on !== undefined) return new Set(on);
    const isOn = new Set(this.question.problem.states.flatMap((state) => (state.on ? [state.id] : [])));
    for (const { state, to } of (told?.changes ?? [])
      .filter((one) => one.start < now)
      .toSorted((a, b) => a.start - b.start)) {
      if (to) isOn.add(state);
      else isOn.delete(state);
    }
    return isOn;
  }

  /** A change going on is a task that has begun; whatever wants the state waits for it. */
  private changeTask({ state, to, start, end, people }: Earlier["changes"][number]): Task {
    const found = this.question.problem.states.find((one) => one.id === state);
    const change = to ? found?.set : found?.clear;
    return {
      id: changeId(state),
      minutes: end - start,
      crew: change?.crew ?? [],
      uses: change?.uses ?? [],
      ...(change?.position === undefined ? {} : { position: change.position }),
      on: [],
      off: [],
      empties: change?.empties ?? [],
      pauses: false,
      after: [],
      notBy: [],
      begun: { start, people },
    };
  }

  /** The changes before now; where nobody knows when, now. */
  private past(): readonly Changed[] {
    const { now, told, on } = this.standing;
    if (on !== undefined) return on.map((state) => ({ state, to: true, start: now, free: now, end: now, people: [] }));
    return (told?.changes ?? []).filter((one) => one.start < now).map((one) => ({ ...one, free: one.end }));
  }

  private carriedOn(problem: Problem, told: Earlier, turning: Earlier["changes"]): Schedule {
    const going = new Map(turning.map((one) => [changeId(one.state), one]));
    const tasks = problem.tasks.flatMap((task): readonly Placed[] => {
      const done = this.doneAt.get(task.id);
      if (done !== undefined)
        return [{ task: task.id, start: done.at, free: done.at, end: done.at, people: done.people }];
      const change = going.get(task.id);
      if (change !== undefined)
        return [{ task: task.id, start: change.start, free: change.end, end: change.end, people: change.people }];
      const step = this.told.get(task.id);
      if (step === undefined) return [];
      return [{ task: task.id, start: step.start, free: step.free, end: step.end, people: step.people }];
    });
    const changes = told.changes
      .filter((one) => one.start >= this.standing.now)
      .map((one): Changed => ({ ...one, free: one.end }));
    return { tasks, changes };
  }
}

const changeId = (state: string): string => `change:${state}`;

/** What of a standing names nothing: ids that the schedule does not have, people that the crew does not have. */
export const unknownIn = (
  question: CrewQuestion,
  standing: Standing,
): readonly { readonly id: string; readonly known: readonly string[] }[] => {
  const tasks = question.problem.tasks.map((task) => task.id);
  const people = question.problem.people.map((person) => person.id);
  const states = question.problem.states.map((state) => state.id);
  const missing = (ids: readonly string[], known: readonly string[]) =>
    ids.filter((id) => !known.includes(id)).map((id) => ({ id, known }));
  return [
    ...missing([...standing.done, ...standing.begun.map((one) => one.id), ...standing.open], tasks),
    ...missing(
      standing.begun.flatMap((one) => one.people),
      people,
    ),
    ...missing(standing.on ?? [], states),
  ];
};

/** The question that is left, from where the work stands; and, where people were told of a schedule, that one carried on with. */
export const replan = (
  question: CrewQuestion,
  standing: Standing,
): { readonly question: CrewQuestion; readonly carriedOn?: Schedule } => new Standpoint(question, standing).ask();

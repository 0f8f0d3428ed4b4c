// Owns the schedule in which everything is done one after the other, in the order for one pair of hands: long, but there at once where a search finds none in time.

import type { Changed, Placed, Problem, Schedule, Spell, Work } from "../crew/index.ts";
import type { CrewQuestion } from "./crew-question.ts";
import { backId } from "./glass.ts";

const FOREVER: readonly Spell[] = [{ from: Number.NEGATIVE_INFINITY, until: Number.POSITIVE_INFINITY }];

/** Spells in which all of these people are there. */
const together = (problem: Problem, people: readonly string[]): readonly Spell[] =>
  people.reduce<readonly Spell[]>((all, id) => {
    const own = problem.people.find((person) => person.id === id)?.shifts ?? FOREVER;
    return all.flatMap((one) =>
      own
        .map((other) => ({ from: Math.max(one.from, other.from), until: Math.min(one.until, other.until) }))
        .filter(({ from, until }) => until > from),
    );
  }, FOREVER);

interface Span {
  readonly start: number;
  readonly free: number;
}

/** The first span from a minute on in which these people do the work; undefined when they are never there so long. */
const spanFrom = (problem: Problem, work: Work, people: readonly string[], from: number): Span | undefined => {
  if (people.length === 0 || work.minutes === 0) return { start: from, free: from + work.minutes };
  const spells = together(problem, people).filter((spell) => spell.until > from);
  if (!work.pauses) {
    const spell = spells.find(({ from: there, until }) => Math.max(there, from) + work.minutes <= until);
    const start = Math.max(spell?.from ?? 0, from);
    return spell === undefined ? undefined : { start, free: start + work.minutes };
  }
  let left = work.minutes;
  const start = Math.max(spells[0]?.from ?? 0, from);
  for (const spell of spells) {
    const begins = Math.max(spell.from, from);
    if (begins + left <= spell.until) return { start, free: begins + left };
    left -= spell.until - begins;
  }
  return undefined;
};

class Placing {
  private readonly problem: Problem;
  private readonly longestWay: number;
  private readonly who = new Map<string, readonly string[]>();
  private minute = 0;

  constructor(problem: Problem) {
    this.problem = problem;
    this.longestWay = Math.max(0, ...(problem.moves ?? []).flat());
  }

  /** Places a work after everything placed so far; whoever may do it and is there soonest, does it. */
  put(
    work: Work & { readonly alone?: number; readonly notBy?: readonly string[] },
    id: string,
    at?: number,
  ): Omit<Placed, "task"> | undefined {
    const barred = new Set((work.notBy ?? []).flatMap((one) => this.who.get(one) ?? []));
    const teams = this.teams(work, [...barred]);
    const from = at ?? this.minute;
    let best: (Span & { readonly people: readonly string[] }) | undefined;
    for (const people of teams) {
      const span = spanFrom(this.problem, work, people, from);
      if (span !== undefined && (best === undefined || span.free < best.free)) best = { ...span, people };
    }
    if (best === undefined) return undefined;
    this.who.set(id, best.people);
    const end = best.free + (work.alone ?? 0);
    this.minute = end + this.longestWay;
    return { start: best.start, free: best.free, end, people: best.people };
  }

  /** Some teams for a work: with each person in turn asked first. */
  private teams(work: Work, barred: readonly string[]): readonly (readonly string[])[] {
    const free = this.problem.people.filter(({ id }) => !barred.includes(id));
    const seats = work.crew
      .flatMap(({ count, skill }) => Array.from({ length: count }, () => skill))
      .toSorted((a, b) => Number(a === undefined) - Number(b === undefined));
    if (seats.length === 0) return [[]];
    return free.flatMap((_, first) => {
      const asked = [...free.slice(first), ...free.slice(0, first)];
      const team: string[] = [];
      for (const skill of seats) {
        const one = asked.find(
          ({ id, skills }) => !team.includes(id) && (skill === undefined || skills.includes(skill)),
        );
        if (one !== undefined) team.push(one.id);
      }
      return team.length === seats.length ? [team] : [];
    });
  }
}

/** Everything one after the other; undefined where that cannot be placed simply. Who takes it has it checked. */
export const oneByOne = ({ job, problem }: CrewQuestion): Schedule | undefined => {
  const tasks: Placed[] = [];
  const changes: Changed[] = [];
  const placing = new Placing(problem);
  const byId = new Map(problem.tasks.map((task) => [task.id, task]));
  const states = new Map(problem.states.map((state) => [state.id, state]));
  const steps = [
    ...job.sequence.order.map((step) => ({
      id: "release" in step ? step.release : "do" in step ? step.do : step.undo,
      on: "do" in step,
    })),
    ...job.back.steps.flatMap((step) => {
      const id = backId(step);
      return [...(byId.has(`look:${id}`) ? [{ id: `look:${id}`, on: false }] : []), { id, on: "do" in step }];
    }),
  ];
  for (const { id, on } of steps) {
    const state = states.get(id);
    const work = state === undefined ? byId.get(id) : on ? state.set : state.clear;
    const placed = work === undefined ? undefined : placing.put(work, id);
    if (placed === undefined) return undefined;
    if (state !== undefined) {
      changes.push({ state: id, to: on, ...placed });
      continue;
    }
    tasks.push({ task: id, ...placed });
    const waiting = byId.get(`wait:${id}`);
    const waited = waiting === undefined ? undefined : placing.put(waiting, waiting.id, placed.end);
    if (waiting !== undefined && waited !== undefined) tasks.push({ task: waiting.id, ...waited });
  }
  const placeOf = new Map(problem.tasks.map(({ id }, index) => [id, index]));
  return { tasks: tasks.sort((a, b) => (placeOf.get(a.task) ?? 0) - (placeOf.get(b.task) ?? 0)), changes };
};

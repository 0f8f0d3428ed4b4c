// Owns pins: what somebody wants of a step, when it begins or who does it, put into a crew's question. The search and its checker know no pins: a person is a skill that nobody else has, a
// minute is a wait from the beginning.

import type { Change, Problem, Seat, State, Task } from "../crew/index.ts";
import { PIN, titleOf } from "./crew-plan.ts";
import type { CrewQuestion } from "./crew-question.ts";
import { privately, seated } from "./crew-seat.ts";

/**
 * One wish about one step. Steps are named as the schedule names them; a change of the vehicle's state is `set:` or `clear:` and the state, and a pin on it is on every such change.
 * Minutes are whole, from the beginning of the order.
 */
export type Pin =
  | { readonly step: string; readonly at: number }
  | { readonly step: string; readonly from: number }
  | { readonly step: string; readonly by: string };

export type PinRefused =
  /** This order has no such step. */
  | "no such step"
  /** Nobody of this crew is called that. */
  | "no such person"
  /** What the step asks for is left to nobody who has the skill. */
  | "without the skill"
  /** The step is for fewer people than are pinned to it. */
  | "too many people"
  /** It goes on by itself. */
  | "nobody does it"
  /** Before the beginning, or before now. */
  | "past"
  /** No whole minute. */
  | "no minute"
  /** It has begun. */
  | "begun"
  /** A change of state can be held back, not set to a minute. */
  | "not to the minute"
  /** Another pin on the same step says otherwise. */
  | "against another pin";

/** A pin that is refused; the other pins hold. */
export interface PinFault {
  readonly pin: Pin;
  readonly kind: PinRefused;
  /** The skill that is missing. */
  readonly skill?: string;
  readonly what: string;
  readonly mend: string;
}

export interface Pinned {
  readonly question: CrewQuestion;
  readonly faults: readonly PinFault[];
}

const CLOCK = `${PIN}clock`;

/** What nobody attends and takes nothing, from now on for so many minutes. */
const standing = (id: string, now: number, minutes: number): Task => ({
  id,
  minutes,
  crew: [],
  uses: [],
  on: [],
  off: [],
  empties: [],
  pauses: false,
  after: [],
  notBy: [],
  begun: { start: now, people: [] },
});

/** What a step is called. */
const called = ({ steps, job }: CrewQuestion, id: string): string => {
  const step = steps.get(id);
  if (step !== undefined) return `"${titleOf(step.says)}"`;
  const [turn, state] = [id.slice(0, id.indexOf(":")), id.slice(id.indexOf(":") + 1)];
  const found = job.states.find((one) => one.id === state);
  return found === undefined ? id : `"${turn === "set" ? found.set.label : found.clear.label}"`;
};

class Pinning {
  private readonly question: CrewQuestion;
  private readonly problem: Problem;
  private readonly now: number;
  private readonly faults: PinFault[] = [];
  private readonly tasks: Map<string, Task>;
  private readonly changes: Map<string, Change>;
  private readonly added = new Map<string, Task>();
  private readonly persons = new Set<string>();

  constructor(question: CrewQuestion) {
    this.question = question;
    this.problem = question.problem;
    this.now = question.problem.now ?? 0;
    this.tasks = new Map(this.problem.tasks.map((task) => [task.id, task]));
    this.changes = new Map(
      this.problem.states.flatMap(({ id, set, clear }) => [
        [`set:${id}`, set],
        [`clear:${id}`, clear],
      ]),
    );
  }

  pin(pins: readonly Pin[]): Pinned {
    for (const step of new Set(pins.map((pin) => pin.step))) {
      const own = pins.filter((pin) => pin.step === step);
      const work = this.tasks.get(step) ?? this.changes.get(step);
      if (work === undefined || step.startsWith(PIN)) {
        for (const pin of own) this.refuse(pin, "no such step", `this order has no step ${step}`, "Let go of the pin.");
        continue;
      }
      if ("begun" in work && work.begun !== undefined) {
        for (const pin of own) this.refuse(pin, "begun", `${this.call(step)} has begun`, "Pin what is still to come.");
        continue;
      }
      this.time(step, own);
      this.people(step, own);
    }
    const { problem, question } = this;
    const states = problem.states.map(
      (state): State => ({
        ...state,
        set: this.changes.get(`set:${state.id}`) ?? state.set,
        clear: this.changes.get(`clear:${state.id}`) ?? state.clear,
      }),
    );
    const people = problem.people.map((person) =>
      this.persons.has(person.id) ? { ...person, skills: [...person.skills, privately(person.id)] } : person,
    );
    const tasks = [...problem.tasks.map((task) => this.tasks.get(task.id) ?? task), ...this.added.values()];
    return { question: { ...question, problem: { ...problem, people, tasks, states } }, faults: this.faults };
  }

  private call(step: string): string {
    return called(this.question, step);
  }

  private refuse(pin: Pin, kind: PinRefused, what: string, mend: string, skill?: string): void {
    this.faults.push({ pin, kind, what, mend, ...(skill === undefined ? {} : { skill }) });
  }

  private time(step: string, pins: readonly Pin[]): void {
    let least: number | undefined;
    let exact: number | undefined;
    for (const pin of pins) {
      if ("by" in pin) continue;
      const minute = "at" in pin ? pin.at : pin.from;
      if (!Number.isInteger(minute)) {
        this.refuse(pin, "no minute", `${minute} is no whole minute`, "Give a whole number of minutes from 0.");
      } else if (minute < this.now) {
        const past = this.now === 0 ? "before the order begins" : `before now, minute ${this.now}`;
        this.refuse(pin, "past", `minute ${minute} is ${past}`, `Give a minute from ${this.now}.`);
      } else if ("at" in pin && this.changes.has(step)) {
        const what = `${this.call(step)} changes the vehicle, and is made when the work that wants it so comes`;
        this.refuse(pin, "not to the minute", what, "Say from when at the earliest.");
      } else if (exact !== undefined && ("at" in pin ? minute !== exact : minute > exact)) {
        this.refuse(pin, "against another pin", `${this.call(step)} is pinned to minute ${exact}`, "Let go of one.");
      } else if ("at" in pin && least !== undefined && least > minute) {
        this.refuse(pin, "against another pin", `${this.call(step)} is not before minute ${least}`, "Let go of one.");
      } else if ("at" in pin) exact = minute;
      else least = Math.max(least ?? 0, minute);
    }
    const from = exact ?? least;
    if (from === undefined) return;
    const task = this.tasks.get(step);
    const change = this.changes.get(step);
    const wait = from - this.now;
    if (task !== undefined) {
      this.added.set(CLOCK, standing(CLOCK, this.now, 0));
      const pinned = { task: CLOCK, least: wait, ...(exact === undefined ? {} : { most: wait }) };
      this.tasks.set(step, { ...task, after: [...task.after, pinned] });
    } else if (change !== undefined) {
      const id = `${PIN}${step}`;
      this.added.set(id, standing(id, this.now, wait));
      this.changes.set(step, { ...change, after: [...change.after, id] });
    }
  }

  private people(step: string, pins: readonly Pin[]): void {
    const work = this.tasks.get(step) ?? this.changes.get(step);
    if (work === undefined) return;
    const pinned: { readonly id: string; readonly skills: readonly string[] }[] = [];
    let crew: readonly Seat[] = work.crew;
    for (const pin of pins) {
      if (!("by" in pin)) continue;
      const person = this.problem.people.find(({ id }) => id === pin.by);
      if (person === undefined) {
        const names = this.question.crew.people.map(({ label }) => label).join(", ");
        this.refuse(pin, "no such person", `nobody of this crew is called ${pin.by}`, `There are: ${names}.`);
        continue;
      }
      if (work.crew.length === 0) {
        this.refuse(pin, "nobody does it", `${this.call(step)} goes on by itself`, "Pin the step before it.");
        continue;
      }
      if (pinned.includes(person)) continue;
      const seats = seated(work.crew, [...pinned, person]);
      if ("seats" in seats) {
        crew = seats.seats;
        pinned.push(person);
        this.persons.add(person.id);
        continue;
      }
      const name = this.question.crew.people.find(({ id }) => id === person.id)?.label ?? person.id;
      if (seats.skill === undefined) {
        const room = work.crew.reduce((sum, seat) => sum + seat.count, 0);
        const what = `${this.call(step)} is for ${room === 1 ? "one person" : `${room} people`}, and more are pinned to it`;
        this.refuse(pin, "too many people", what, "Let go of one.");
      } else {
        const what = `${this.call(step)} asks for the skill ${seats.skill}, and ${name} is not known to have it`;
        const able = this.question.crew.people.filter(({ skills }) => skills.includes(seats.skill ?? ""));
        const mend =
          able.length === 0
            ? "Nobody of this crew has it."
            : `Give it to ${able.map(({ label }) => label).join(" or ")}.`;
        this.refuse(pin, "without the skill", what, mend, seats.skill);
      }
    }
    if (pinned.length === 0) return;
    const task = this.tasks.get(step);
    const change = this.changes.get(step);
    if (task !== undefined) this.tasks.set(step, { ...task, crew });
    else if (change !== undefined) this.changes.set(step, { ...change, crew });
  }
}

/** The question with these pins in it; a pin that cannot be is refused in words and left out. */
export const pinned = (question: CrewQuestion, pins: readonly Pin[]): Pinned => new Pinning(question).pin(pins);

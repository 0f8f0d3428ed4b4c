// Owns the question of who does what when, as plain data: ids, minutes and counts, nothing of the vehicle file.
//
// Times are minutes from the beginning of the order, on one clock that runs through breaks and nights. A task, once begun,
// keeps its people, its position and what it uses until it ends. `docs/crew.md` states the rules in full (C1 to C13).

/** One person. Nobody does two tasks at a time. */
export interface Person {
  readonly id: string;
  readonly skills: readonly string[];
  /** When the person is there: half-open spells of minutes, rising, not touching. Absent: always. */
  readonly shifts?: readonly Spell[];
  /** The position where the person stands at the beginning. Absent: the first move costs nothing. */
  readonly at?: string;
}

/** From `from` to before `until`, minutes. */
export interface Spell {
  readonly from: number;
  readonly until: number;
}

/** Anything that exists in a number and is taken while a task uses it: a tool, a jack, a hoist, a bay; a system that one task works at a time has count 1. */
export interface Stock {
  readonly id: string;
  readonly count: number;
}

export interface Position {
  readonly id: string;
  /** How many people fit. */
  readonly room: number;
}

/** How many people with a skill; without one, anybody. The people of one task are all different. */
export interface Seat {
  readonly count: number;
  readonly skill?: string;
}

/** What any piece of work asks for, a task or a change of state. */
export interface Work {
  /** Minutes of the people's time, at least 0. */
  readonly minutes: number;
  readonly crew: readonly Seat[];
  readonly uses: readonly { readonly stock: string; readonly count: number }[];
  readonly position?: string;
  /** States that must be on, and off, throughout, to the end of what runs on alone. */
  readonly on: readonly string[];
  readonly off: readonly string[];
  /** Positions where nobody may be meanwhile; its own people too are elsewhere. */
  readonly empties: readonly string[];
  /**
   * Stops while any of its people is away and goes on when all are back. Otherwise it is done in one go. What nobody attends (`crew` empty) never stops.
   */
  readonly pauses: boolean;
}

/** What must have ended before, and how long before: begins at least `least`, at most `most` minutes after the end of `task`. */
export interface After {
  readonly task: string;
  /** Minutes, default 0; negative: may begin that much before the end. */
  readonly least?: number;
  readonly most?: number;
}

export interface Task extends Work {
  readonly id: string;
  /** Minutes that it runs on by itself when its people have left (draining, cooling); it uses its stocks and needs its states until then, and it ends then. */
  readonly alone?: number;
  readonly after: readonly After[];
  /** Tasks none of whose people may do this one: the second person verifies. */
  readonly notBy: readonly string[];
  /** Begun before this question: at this minute, by these people. Minutes may be negative; the task ends as if planned. */
  readonly begun?: { readonly start: number; readonly people: readonly string[] };
}

/** One direction of a change. */
export interface Change extends Work {
  /** Each such change begins only when these tasks have ended … */
  readonly after: readonly string[];
  /** … and ends before any of these begins. */
  readonly before: readonly string[];
}

/** A state of the vehicle: raised, slung, cab tilted. The answer says when it is changed; a change takes people and time like a task. */
export interface State {
  readonly id: string;
  readonly on: boolean;
  /** How it must be at the end; absent: either. */
  readonly end?: boolean;
  readonly set: Change;
  readonly clear: Change;
}

/** Holds a count of a stock from the beginning of one task to the end of another: a jack that stays until its part is set down. */
export interface Hold {
  readonly stock: string;
  readonly count: number;
  readonly from: string;
  readonly until: string;
}

export interface Problem {
  readonly people: readonly Person[];
  readonly stocks: readonly Stock[];
  readonly positions: readonly Position[];
  readonly states: readonly State[];
  readonly tasks: readonly Task[];
  readonly holds: readonly Hold[];
  /** Pairs of tasks that never run at the same time. */
  readonly apart: readonly (readonly [string, string])[];
  /**
   * Minutes for one person from one position to another, in the order of `positions`, row = from; the diagonal is 0 and no way round is shorter than the direct
   * one. Absent: moving takes no time. A task without a position is done wherever the person stands.
   */
  readonly moves?: readonly (readonly number[])[];
  /** Nothing that is not begun starts before this minute. Default 0. */
  readonly now?: number;
  readonly told?: Told;
}

/** What people were told before: a schedule is the better the less of it changes. */
export interface Told {
  readonly tasks: readonly { readonly task: string; readonly start: number; readonly people: readonly string[] }[];
  /** Minutes of elapsed time that it is worth to leave one task with the people who were told of it. */
  readonly worth: number;
}

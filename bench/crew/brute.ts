// Owns the least elapsed time of a tiny problem found by trying everything, minute by minute: the yardstick of search and proof, sharing code with neither, nor with the checker.
//
// Whole minutes suffice where every figure is whole: of a legal schedule take the floor of every start. "Starts at least a whole number of minutes after" survives it,
// and so does "begins in, or ends by, a spell with whole ends", so that every rule that is such a difference holds as before. One case is left: work that pauses and is begun a moment
// into a minute can be caught by a break that it would miss if begun on the minute, and end later, which only `most` can ask for. Then there is no least time at all, only one that is
// approached; what is found here is the least on whole minutes.
//
// What a minute holds is decided in steps: a state of affairs at minute t, one more work begun at t, and so on, in any order; then on to t + 1, if nothing is used twice from t to t + 1.
// States of affairs that allow the same future are met once. After the last shift has begun or ended the clock itself no longer matters, so that there are finitely many and the
// search ends by itself.

import type { Problem, Seat, Work } from "../../src/crew/problem.ts";
import type { Changed, Placed, Schedule } from "../../src/crew/result.ts";
import { type Chance, makeChance } from "../release/chance.ts";

export interface Brute {
  /** Minutes from `now`; Infinity where no schedule is legal, NaN where the search was given up. */
  readonly elapsed: number;
  readonly schedule?: Schedule;
  /** States of affairs looked at. */
  readonly states: number;
}

/** States of affairs up to which a problem is swept at once; beyond, some ways at random first give something to be better than. */
const EASY = 300;
const DIVES = 60;

/** Not begun yet. */
const NOT = 1e9;

/** A work in indices; `turns` is the state of a change. */
interface Job {
  readonly minutes: number;
  readonly alone: number;
  readonly pauses: boolean;
  readonly position: number;
  readonly uses: readonly { readonly stock: number; readonly count: number }[];
  readonly wants: readonly { readonly state: number; readonly value: boolean }[];
  readonly empties: readonly number[];
  readonly heads: number;
  /** Sets of people who can do it, as bits. */
  readonly teams: readonly number[];
}

/** Tasks as they stand, by index; times on the clock. */
interface Affairs {
  readonly start: readonly number[];
  readonly free: readonly number[];
  readonly end: readonly number[];
  readonly team: readonly number[];
  /** Of people: when they were last free, and where they stand (-1: not known). */
  readonly ready: readonly number[];
  readonly stands: readonly number[];
  /** Of states: as they are or are becoming; when and by whom they were last changed; the last end of what wants them as they are. */
  readonly value: readonly boolean[];
  readonly changed: readonly number[];
  readonly changers: readonly number[];
  readonly wanted: readonly number[];
  /** The last end of all. */
  readonly last: number;
  /** Changes made, the last first. */
  readonly log: Log | undefined;
}

/** One more work begun, by whom, and how everything stands then but for the work itself. */
interface Begun {
  readonly team: number;
  readonly free: number;
  readonly a: Affairs;
}

interface Log {
  readonly change: Changed;
  readonly before: Log | undefined;
}

const bits = (team: number): number => {
  let count = 0;
  for (let rest = team; rest > 0; rest &= rest - 1) count += 1;
  return count;
};

const setAt = <T>(list: readonly T[], place: number, value: T): readonly T[] => {
  const copy = list.slice();
  copy[place] = value;
  return copy;
};

class Search {
  private readonly problem: Problem;
  private readonly now: number;
  private readonly tasks: readonly Job[];
  /** By state: the changes to off and to on. */
  private readonly turns: readonly (readonly [Job, Job])[];
  /** Index of each id, by kind. */
  private readonly task: ReadonlyMap<string, number>;
  private readonly stock: ReadonlyMap<string, number>;
  private readonly spot: ReadonlyMap<string, number>;
  private readonly states: ReadonlyMap<string, number>;
  private readonly persons: ReadonlyMap<string, number>;
  /** Tasks that a task is tied to by time, and by who does it. */
  private readonly timed: readonly (readonly number[])[];
  private readonly shared: readonly (readonly number[])[];
  private readonly sealing: readonly boolean[];
  private readonly holds: readonly { stock: number; count: number; from: number; until: number }[];
  private readonly apart: readonly (readonly [number, number])[];
  /** By team, its people. */
  private readonly members: readonly (readonly number[])[];
  private readonly tails: readonly number[];
  /** Of people: their skills and shifts, equal for equal ones. */
  private readonly alikes: readonly string[];
  /** Minutes after which how long ago something was no longer matters. */
  private readonly ago: number;
  private readonly lastEdge: number;
  private readonly most: number;
  private best: { elapsed: number; affairs: Affairs } | undefined;
  private looked = 0;

  constructor(problem: Problem, most: number) {
    this.problem = problem;
    this.most = most;
    this.now = problem.now ?? 0;
    const index = (list: readonly { readonly id: string }[]) => new Map(list.map(({ id }, place) => [id, place]));
    this.task = index(problem.tasks);
    this.stock = index(problem.stocks);
    this.spot = index(problem.positions);
    this.states = index(problem.states);
    this.persons = index(problem.people);
    this.tasks = problem.tasks.map((task) => this.job(task, task.alone));
    this.turns = problem.states.map(({ set, clear }) => [this.job(clear), this.job(set)]);
    const both = (pairs: readonly (readonly [string, string])[]): readonly (readonly number[])[] =>
      problem.tasks.map(({ id }) =>
        pairs.flatMap(([a, b]) => (a === id ? [this.task.get(b)!] : b === id ? [this.task.get(a)!] : [])),
      );
    this.timed = both(problem.tasks.flatMap(({ id, after }) => after.map(({ task }) => [id, task] as const)));
    this.shared = both(problem.tasks.flatMap(({ id, notBy }) => notBy.map((other) => [id, other] as const)));
    this.tails = this.tailsOf();
    this.holds = problem.holds.map(({ stock, count, from, until }) => ({
      stock: this.stock.get(stock)!,
      count,
      from: this.task.get(from)!,
      until: this.task.get(until)!,
    }));
    this.apart = problem.apart.map(([one, two]) => [this.task.get(one)!, this.task.get(two)!]);
    this.members = Array.from({ length: 2 ** problem.people.length }, (_, team) =>
      [...problem.people.keys()].filter((person) => ((team >> person) & 1) === 1),
    );
    this.alikes = problem.people.map(({ skills, shifts }) => JSON.stringify([skills, shifts]));
    this.sealing = problem.tasks.map(({ id }) =>
      problem.states.some(({ set, clear }) => set.before.includes(id) || clear.before.includes(id)),
    );
    const lengths = problem.tasks.flatMap(({ minutes, alone, after }) => [
      minutes + (alone ?? 0),
      ...after.flatMap(({ least, most: latest }) => [Math.abs(least ?? 0), Math.abs(latest ?? 0)]),
    ]);
    this.ago = 2 + Math.max(0, ...lengths) + Math.max(0, ...(problem.moves ?? []).flat());
    const edges = problem.people.flatMap(({ shifts }) => (shifts ?? []).flatMap(({ from, until }) => [from, until]));
    this.lastEdge = Math.max(this.now, ...edges.filter(Number.isFinite));
  }

  private job(work: Work, alone = 0): Job {
    return {
      minutes: work.minutes,
      alone,
      pauses: work.pauses && work.crew.length > 0,
      position: work.position === undefined ? -1 : this.spot.get(work.position)!,
      uses: work.uses.map(({ stock, count }) => ({ stock: this.stock.get(stock)!, count })),
      wants: [
        ...work.on.map((state) => ({ state: this.states.get(state)!, value: true })),
        ...work.off.map((state) => ({ state: this.states.get(state)!, value: false })),
      ],
      empties: work.empties.map((position) => this.spot.get(position)!),
      heads: work.crew.reduce((sum, { count }) => sum + count, 0),
      teams: Array.from({ length: 2 ** this.problem.people.length }, (_, team) => team).filter((team) =>
        this.seats(
          work.crew.flatMap(({ count, skill }) =>
            Array.from({ length: count }, (): Seat => ({ count: 1, ...(skill === undefined ? {} : { skill }) })),
          ),
          team,
        ),
      ),
    };
  }

  /** Whether exactly this team can sit on these single seats. */
  private seats(chairs: readonly Seat[], team: number): boolean {
    const [first, ...rest] = chairs;
    if (first === undefined) return team === 0;
    return this.problem.people.some(
      ({ skills }, person) =>
        ((team >> person) & 1) === 1 &&
        (first.skill === undefined || skills.includes(first.skill)) &&
        this.seats(rest, team & ~(1 << person)),
    );
  }

  /** Whether a person is there all through the minute that begins at `minute`. */
  private there(person: number, minute: number): boolean {
    const shifts = this.problem.people[person]?.shifts;
    return shifts === undefined || shifts.some(({ from, until }) => from <= minute && minute + 1 <= until);
  }

  private allThere(team: number, minute: number): boolean {
    for (const person of this.members[team]!) if (!this.there(person, minute)) return false;
    return true;
  }

  /** When this team would be free of the work; undefined where it cannot begin it now. */
  private freed({ minutes, pauses }: Job, team: number, start: number): number | undefined {
    if (minutes === 0) {
      // Work without length: there at that minute, the end of a spell included.
      const at = this.problem.people.every(
        ({ shifts }, person) =>
          ((team >> person) & 1) === 0 ||
          shifts === undefined ||
          shifts.some(({ from, until }) => from <= start && start <= until),
      );
      return at ? start : undefined;
    }
    if (team !== 0 && !this.allThere(team, start)) return undefined;
    if (pauses && team !== 0) return this.workedOff(team, start, minutes);
    for (let minute = start; team !== 0 && minute < start + minutes; minute += 1)
      if (!this.allThere(team, minute)) return undefined;
    return start + minutes;
  }

  private workedOff(team: number, start: number, minutes: number): number | undefined {
    let left = minutes;
    for (let minute = start; ; minute += 1) {
      if (left === 0) return minute;
      if (this.allThere(team, minute)) left -= 1;
      else if (minute > this.lastEdge) return undefined;
    }
  }

  private way(from: number, to: number): number {
    return from < 0 || to < 0 ? 0 : (this.problem.moves?.[from]?.[to] ?? 0);
  }

  /** C9 between two tasks whose times are known. */
  private inTime(first: number, second: number, a: Affairs): boolean {
    const from = this.problem.tasks[first]!;
    return this.problem.tasks[second]!.after.every(
      ({ task, least, most }) =>
        task !== from.id ||
        a.start[first] === NOT ||
        a.start[second] === NOT ||
        (a.start[second]! >= a.end[first]! + (least ?? 0) &&
          a.start[second]! <= a.end[first]! + (most ?? Number.POSITIVE_INFINITY)),
    );
  }

  /** How everything stands at `now`, with what had begun; undefined where that is against the rules already. */
  private beginning(): Affairs | undefined {
    const { people, tasks, states } = this.problem;
    const start = tasks.map(({ begun }) => begun?.start ?? NOT);
    const team = tasks.map(({ begun }) =>
      (begun?.people ?? []).reduce((set, id) => set | (1 << this.persons.get(id)!), 0),
    );
    const free = tasks.map(({ minutes, pauses, begun }, task) => {
      if (begun === undefined) return NOT;
      return pauses && team[task] !== 0
        ? (this.workedOff(team[task]!, begun.start, minutes) ?? NOT)
        : begun.start + minutes;
    });
    const end = tasks.map(({ alone, begun }, task) => (begun === undefined ? NOT : free[task]! + (alone ?? 0)));
    if (tasks.some(({ begun }, task) => begun !== undefined && free[task] === NOT)) return undefined;
    const own = (person: number) =>
      [...tasks.keys()]
        .filter((task) => start[task] !== NOT && ((team[task]! >> person) & 1) === 1)
        .sort((one, two) => start[one]! - start[two]!);
    const affairs: Affairs = {
      start,
      free,
      end,
      team,
      ready: people.map((_, person) => {
        const works = own(person);
        return works.length === 0 ? this.now : Math.max(...works.map((task) => free[task]!));
      }),
      stands: people.map(({ at }, person) => {
        const last = own(person).findLast((task) => this.tasks[task]!.position >= 0);
        if (last !== undefined) return this.tasks[last]!.position;
        return at === undefined ? -1 : this.spot.get(at)!;
      }),
      value: states.map(({ on }) => on),
      changed: states.map(() => -NOT),
      changers: states.map(() => 0),
      wanted: states.map((_, state) =>
        Math.max(
          -NOT,
          ...this.tasks.flatMap(({ wants }, task) =>
            start[task] !== NOT && wants.some((want) => want.state === state) ? [end[task]!] : [],
          ),
        ),
      ),
      last: Math.max(this.now, ...end.filter((_, task) => start[task] !== NOT)),
      log: undefined,
    };
    for (const [task, { wants }] of this.tasks.entries()) {
      if (start[task] === NOT) continue;
      if (wants.some(({ state, value }) => states[state]!.on !== value)) return undefined;
      if (this.timed[task]!.some((other) => !this.inTime(other, task, affairs))) return undefined;
      if (this.shared[task]!.some((other) => (team[other]! & team[task]!) !== 0)) return undefined;
    }
    for (let minute = Math.min(this.now, ...start); minute < this.now; minute += 1)
      if (!this.fits(affairs, minute, true)) return undefined;
    return affairs;
  }

  /** Whether nothing is used twice in the minute from `minute` on: people, room, positions to be empty, stocks, what must be apart. */
  private fits(a: Affairs, minute: number, holds: boolean): boolean {
    const { problem, tasks } = this;
    let busy = 0;
    const running: Job[] = [];
    const room = new Array<number>(problem.positions.length).fill(0);
    const attend = ({ position }: Job, team: number): boolean => {
      if ((busy & team) !== 0) return false;
      busy |= team;
      if (position >= 0) room[position]! += bits(team);
      return true;
    };
    for (let task = 0; task < tasks.length; task += 1) {
      if (a.start[task]! > minute || a.end[task]! <= minute) continue;
      running.push(tasks[task]!);
      if (minute < a.free[task]! && !attend(tasks[task]!, a.team[task]!)) return false;
    }
    for (let state = 0; state < this.turns.length; state += 1) {
      if (a.changed[state]! <= minute) continue;
      const job = this.turns[state]![a.value[state] ? 1 : 0];
      running.push(job);
      if (!attend(job, a.changers[state]!)) return false;
    }
    for (let place = 0; place < room.length; place += 1)
      if (room[place]! > problem.positions[place]!.room) return false;
    const taken = new Array<number>(problem.stocks.length).fill(0);
    for (const { uses, empties } of running) {
      for (const position of empties) if (room[position]! > 0) return false;
      for (const { stock, count } of uses) taken[stock]! += count;
    }
    if (holds)
      for (const { stock, count, from, until } of this.holds)
        if (a.start[from]! <= minute && (a.start[until] === NOT || minute < a.end[until]!)) taken[stock]! += count;
    for (let stock = 0; stock < taken.length; stock += 1)
      if (taken[stock]! > problem.stocks[stock]!.count) return false;
    for (const [one, two] of this.apart)
      if (running.includes(tasks[one]!) && running.includes(tasks[two]!)) return false;
    return true;
  }

  /** Affairs with one more work begun at `minute`, for each team that can. */
  private begin(a: Affairs, job: Job, minute: number, barred: number): readonly Begun[] {
    for (const { state, value } of job.wants) if (a.value[state] !== value || a.changed[state]! > minute) return [];
    const list: Begun[] = [];
    teams: for (const team of job.teams) {
      if ((team & barred) !== 0) continue;
      const members = this.members[team]!;
      if (job.position >= 0)
        for (const person of members)
          if (a.ready[person]! + this.way(a.stands[person]!, job.position) > minute) continue teams;
      const free = this.freed(job, team, minute);
      if (free === undefined || !this.firstAlike(a, team, minute)) continue;
      const end = free + job.alone;
      const ready = a.ready.slice();
      const stands = a.stands.slice();
      for (const person of members) {
        ready[person] = Math.max(ready[person]!, free);
        if (job.position >= 0) stands[person] = job.position;
      }
      const wanted = a.wanted.slice();
      for (const { state } of job.wants) wanted[state] = Math.max(wanted[state]!, end);
      list.push({ team, free, a: { ...a, ready, stands, wanted, last: Math.max(a.last, end) } });
    }
    return list;
  }

  /** Of people who are alike in all that matters from now on, those with the lowest index are tried. */
  private firstAlike(a: Affairs, team: number, minute: number): boolean {
    const { alikes } = this;
    for (let two = 1; two < alikes.length; two += 1) {
      if (((team >> two) & 1) === 0) continue;
      for (let one = 0; one < two; one += 1)
        if (((team >> one) & 1) === 0 && alikes[one] === alikes[two] && this.alike(a, one, two, minute)) return false;
    }
    return true;
  }

  /** Whether two people with the same skills and shifts have been the same so far, for all that still matters. */
  private alike(a: Affairs, one: number, two: number, minute: number): boolean {
    if (a.ready[one] !== a.ready[two] || a.stands[one] !== a.stands[two]) return false;
    const same = (set: number): boolean => ((set >> one) & 1) === ((set >> two) & 1);
    return (
      a.team.every((set, task) => same(set) || (a.free[task]! <= minute && this.shared[task]!.length === 0)) &&
      a.changers.every((set, state) => same(set) || a.changed[state]! <= minute)
    );
  }

  private beginTask(a: Affairs, task: number, minute: number): readonly Affairs[] {
    const job = this.tasks[task]!;
    const { id } = this.problem.tasks[task]!;
    for (const [state, { set, clear }] of this.problem.states.entries())
      if (a.changed[state]! > minute && (a.value[state] ? set : clear).before.includes(id)) return [];
    const barred = this.shared[task]!.reduce((set, other) => set | a.team[other]!, 0);
    return this.begin(a, job, minute, barred).flatMap(({ team, free, a: with_ }) => {
      const next: Affairs = {
        ...with_,
        start: setAt(a.start, task, minute),
        free: setAt(a.free, task, free),
        end: setAt(a.end, task, free + job.alone),
        team: setAt(a.team, task, team),
      };
      const timely = this.timed[task]!.every(
        (other) =>
          this.inTime(other, task, next) && this.inTime(task, other, next) && this.waitedFor(other, task, next),
      );
      return timely ? [next] : [];
    });
  }

  /** Whether what `task` comes after may still end in time where it has not begun: no earlier than this minute, and so long after. */
  private waitedFor(first: number, task: number, a: Affairs): boolean {
    if (a.start[first] !== NOT) return true;
    const { id, minutes, alone } = this.problem.tasks[first]!;
    const soonest = a.start[task]! + minutes + (alone ?? 0);
    return this.problem.tasks[task]!.after.every(
      (one) => one.task !== id || a.start[task]! >= soonest + (one.least ?? 0),
    );
  }

  private beginChange(a: Affairs, state: number, minute: number): readonly Affairs[] {
    const value = !a.value[state];
    const job = this.turns[state]![value ? 1 : 0];
    const { id, set, clear } = this.problem.states[state]!;
    const change = value ? set : clear;
    if (a.changed[state]! > minute || a.wanted[state]! > minute) return [];
    if (change.after.some((task) => !(a.end[this.task.get(task)!]! <= minute))) return [];
    return this.begin(a, job, minute, 0).flatMap(({ team, free, a: with_ }) => {
      if (change.before.some((task) => a.start[this.task.get(task)!]! < free)) return [];
      const people = this.named(team);
      return [
        {
          ...with_,
          value: setAt(a.value, state, value),
          changed: setAt(a.changed, state, free),
          changers: setAt(a.changers, state, team),
          log: { change: { state: id, to: value, start: minute, free, end: free, people }, before: a.log },
        },
      ];
    });
  }

  private named(team: number): readonly string[] {
    return this.problem.people.filter((_, person) => ((team >> person) & 1) === 1).map(({ id }) => id);
  }

  /** Equal for affairs with the same future. */
  private key(a: Affairs, minute: number): string {
    const ago = (time: number): number => Math.max(-this.ago, time - minute);
    const key: number[] = [minute < this.lastEdge ? minute : -1, Math.max(0, a.last - minute)];
    for (let task = 0; task < this.tasks.length; task += 1) {
      if (a.start[task] === NOT) {
        key.push(-1);
        continue;
      }
      const open = this.timed[task]!.some((other) => a.start[other] === NOT);
      const known = a.free[task]! > minute || this.shared[task]!.some((other) => a.start[other] === NOT);
      key.push(
        Math.max(0, a.free[task]! - minute),
        open ? ago(a.end[task]!) : Math.max(0, a.end[task]! - minute),
        open ? ago(a.start[task]!) : this.sealing[task] && a.start[task] === minute ? 1 : 0,
        known ? a.team[task]! : 0,
      );
    }
    for (let person = 0; person < a.ready.length; person += 1) key.push(ago(a.ready[person]!), a.stands[person]!);
    for (let state = 0; state < a.value.length; state += 1) {
      const changing = Math.max(0, a.changed[state]! - minute);
      const changers = changing > 0 ? a.changers[state]! : 0;
      key.push(a.value[state] ? 1 : 0, changing, changers, Math.max(0, a.wanted[state]! - minute));
    }
    // As characters: far faster to make and to compare than digits. No figure of a tiny problem is out of their range.
    return String.fromCharCode(...key.map((figure) => figure + 1000));
  }

  /** Whether nothing not begun is already too late after what it must soon follow. */
  private hopeful(a: Affairs, minute: number): boolean {
    return this.problem.tasks.every(
      ({ after }, task) =>
        a.start[task] !== NOT ||
        after.every(({ task: first, most }) => {
          const place = this.task.get(first)!;
          return most === undefined || a.start[place] === NOT || minute <= a.end[place]! + most;
        }),
    );
  }

  /** No schedule that goes on from here ends before: chains, changes still wanted, and the work left over all people. */
  private soonest(a: Affairs, minute: number): number {
    const { states, people } = this.problem;
    let last = a.last;
    let work = 0;
    const turning = new Set<number>();
    for (const [task, { minutes, wants, heads }] of this.tasks.entries()) {
      if (a.start[task] !== NOT) continue;
      let start = minute;
      for (const { state, value } of wants) {
        if (value === a.value[state]) continue;
        turning.add(state);
        start = Math.max(start, minute + this.turns[state]![value ? 1 : 0].minutes);
      }
      last = Math.max(last, start + this.tails[task]!);
      work += minutes * heads;
    }
    for (const [state, { end }] of states.entries())
      if (end !== undefined && end !== a.value[state]) turning.add(state);
    for (const state of turning) {
      const { minutes, heads } = this.turns[state]![a.value[state] ? 0 : 1];
      last = Math.max(last, minute + minutes);
      work += minutes * heads;
    }
    if (work === 0) return last;
    const busy = a.ready.reduce((sum, ready) => sum + Math.max(ready, minute), 0);
    return Math.max(last, Math.ceil((work + busy) / people.length));
  }

  /** From the start of each task to the end of all that must come after it, at the least. */
  private tailsOf(): readonly number[] {
    const { tasks } = this.problem;
    const tails = tasks.map(({ minutes, alone }) => minutes + (alone ?? 0));
    // As often as there are tasks: longer chains only go round in circles.
    for (const _ of tasks)
      for (const { id, after } of tasks)
        for (const { task, least } of after) {
          const [first, second] = [this.task.get(task)!, this.task.get(id)!];
          const { minutes, alone } = this.tasks[first]!;
          tails[first] = Math.max(tails[first]!, minutes + alone + (least ?? 0) + tails[second]!);
        }
    return tails;
  }

  /** Notes affairs in which all has begun and goes together to its end, when they are the best so far. */
  private note(a: Affairs, minute: number): void {
    if (this.best !== undefined && a.last - this.now >= this.best.elapsed) return;
    const done =
      !a.start.includes(NOT) &&
      this.problem.states.every(({ end }, state) => end === undefined || a.value[state] === end);
    if (!done) return;
    for (let at = minute; at < a.last; at += 1) if (!this.fits(a, at, true)) return;
    this.best = { elapsed: a.last - this.now, affairs: a };
  }

  /** All affairs that one more work begun at this minute leads to. */
  private onward(a: Affairs, minute: number): readonly Affairs[] {
    const next: Affairs[] = [];
    for (const task of this.tasks.keys()) if (a.start[task] === NOT) next.push(...this.beginTask(a, task, minute));
    for (const state of this.problem.states.keys()) next.push(...this.beginChange(a, state, minute));
    return next.filter((one) => this.fits(one, minute, false));
  }

  /** Whether the next minute can come. */
  private passes(a: Affairs, minute: number): boolean {
    return this.fits(a, minute, true) && this.hopeful(a, minute + 1);
  }

  /** One way at random to the end, if it leads there: what is no better than the best known need not be looked at. */
  private dive(first: Affairs, chance: Chance): void {
    let a = first;
    for (let minute = this.now; minute < this.now + this.ago * (this.tasks.length + 2); ) {
      const next = chance.hit(0.85) ? this.onward(a, minute) : [];
      if (next.length > 0) a = chance.pick(next);
      else if (this.passes(a, minute)) minute += 1;
      else return;
      if (this.best !== undefined && this.soonest(a, minute) - this.now >= this.best.elapsed) return;
      this.note(a, minute);
    }
  }

  /** Minute by minute, whatever may lead to something better than the best known; false where it takes more than so many states of affairs. */
  private sweep(first: Affairs, most: number): boolean {
    const seen = new Set<string>();
    /** Takes up affairs at a minute, unless the like was met before. */
    const meet = (list: Affairs[], a: Affairs, minute: number): void => {
      if (this.best !== undefined && this.soonest(a, minute) - this.now >= this.best.elapsed) return;
      const key = this.key(a, minute);
      if (seen.has(key)) return;
      seen.add(key);
      list.push(a);
      this.note(a, minute);
    };
    let now: Affairs[] = [];
    meet(now, first, this.now);
    for (let minute = this.now; now.length > 0; minute += 1) {
      const next: Affairs[] = [];
      // The list grows while it is gone through.
      for (const a of now) {
        for (const more of this.onward(a, minute)) meet(now, more, minute);
        if (this.passes(a, minute)) meet(next, a, minute + 1);
        if (seen.size > most) return false;
      }
      now = next;
    }
    this.looked = seen.size;
    return true;
  }

  run(): Brute {
    const first = this.beginning();
    if (first !== undefined && !this.sweep(first, Math.min(EASY, this.most))) {
      const chance = makeChance(1);
      for (let dive = 0; dive < DIVES; dive += 1) this.dive(first, chance);
      if (!this.sweep(first, this.most)) return { elapsed: Number.NaN, states: this.most };
    }
    if (this.best === undefined) return { elapsed: Number.POSITIVE_INFINITY, states: this.looked };
    return { elapsed: this.best.elapsed, schedule: this.scheduleOf(this.best.affairs), states: this.looked };
  }

  private scheduleOf(a: Affairs): Schedule {
    const changes: Changed[] = [];
    for (let log = a.log; log !== undefined; log = log.before) changes.unshift(log.change);
    const tasks = this.problem.tasks.map(
      ({ id }, task): Placed => ({
        task: id,
        start: a.start[task]!,
        free: a.free[task]!,
        end: a.end[task]!,
        people: this.named(a.team[task]!),
      }),
    );
    return { tasks, changes };
  }
}

/**
 * The least elapsed time on whole minutes, and a schedule that has it. Every figure must be whole, what had begun must have begun before `now`, and the problem must be tiny: after `most`
 * states of affairs it is given up.
 */
export const brute = (problem: Problem, most = 2_000_000): Brute => new Search(problem, most).run();

// Owns what the checker asks of people: C2 that work takes its time while they are there, C3 seats, C4 one at a time, C5 moves; and how often they move.

import { before, type Laid, meet, type Scene } from "./check-fault.ts";
import type { Person, Problem, Seat, Spell } from "./problem.ts";

const ALWAYS: readonly Spell[] = [{ from: Number.NEGATIVE_INFINITY, until: Number.POSITIVE_INFINITY }];

/** Spells in which all of them are there. */
const shared = (people: readonly Person[]): readonly Spell[] =>
  people.reduce<readonly Spell[]>(
    (spells, { shifts }) =>
      spells.flatMap((spell) =>
        (shifts ?? ALWAYS)
          .map(({ from, until }) => ({ from: Math.max(from, spell.from), until: Math.min(until, spell.until) }))
          .filter(({ from, until }) => before(from, until)),
      ),
    ALWAYS,
  );

/** When so many minutes from `start` on have passed in the spells; Infinity where they never do. */
const passed = (spells: readonly Spell[], start: number, minutes: number): number => {
  if (minutes === 0) return start;
  let left = minutes;
  for (const { from, until } of spells) {
    const begin = Math.max(from, start);
    if (!before(begin, until)) continue;
    if (!before(until, begin + left)) return begin + left;
    left -= until - begin;
  }
  return Number.POSITIVE_INFINITY;
};

/** C2. A work without length has its people there at its minute, the end of a spell included. */
export const checkTime = ({ problem, works, fault }: Scene): void => {
  for (const laid of works) {
    const { name, work, task, start, free, end } = laid;
    const people = problem.people.filter(({ id }) => laid.people.includes(id));
    const pauses = work.pauses && people.length > 0;
    const due = pauses ? passed(shared(people), start, work.minutes) : start + work.minutes;
    if (before(free, due) || before(due, free)) fault("C2", free, { kind: "free", of: name, free, due });
    const ended = free + (task?.alone ?? 0);
    if (before(end, ended) || before(ended, end)) fault("C2", end, { kind: "end", of: name, end, due: ended });
    if (task?.begun !== undefined) continue;
    const there = ({ shifts }: Person): boolean =>
      (shifts ?? ALWAYS).some(({ from, until }) => {
        if (before(start, from)) return false;
        return pauses && work.minutes > 0 ? before(start, until) : !before(until, start + work.minutes);
      });
    for (const person of people) if (!there(person)) fault("C2", start, { kind: "away", of: name, person: person.id });
  }
};

/** The skill of a seat that stays empty when as many as can be are seated; undefined when all are. Seats are filled by augmenting paths. */
const emptySeat = (crew: readonly Seat[], people: readonly Person[]): string | undefined => {
  const chairs = crew.flatMap(({ count, skill }) => Array.from({ length: count }, () => skill));
  const sits = new Map<Person, number>();
  const fill = (chair: number, asked: Set<Person>): boolean => {
    const skill = chairs[chair];
    for (const person of people) {
      if (asked.has(person) || !(skill === undefined || person.skills.includes(skill))) continue;
      asked.add(person);
      const other = sits.get(person);
      if (other !== undefined && !fill(other, asked)) continue;
      sits.set(person, chair);
      return true;
    }
    return false;
  };
  const empty = chairs.findIndex((_, chair) => !fill(chair, new Set()));
  return empty < 0 ? undefined : (chairs[empty] ?? "");
};

/** C3. */
export const checkSeats = ({ problem, works, fault }: Scene): void => {
  for (const { name, work, task, start, people } of works) {
    if (task?.begun !== undefined) continue;
    for (const [place, person] of people.entries())
      if (people.indexOf(person) === place && people.lastIndexOf(person) !== place)
        fault("C3", start, { kind: "same", of: name, person });
    const seats = work.crew.reduce((sum, { count }) => sum + count, 0);
    if (people.length !== seats) {
      fault("C3", start, { kind: "count", of: name, people: people.length, seats });
      continue;
    }
    const skill = emptySeat(
      work.crew,
      problem.people.filter(({ id }) => people.includes(id)),
    );
    if (skill !== undefined) fault("C3", start, { kind: "skill", of: name, skill });
  }
};

/** Minutes from one position to another. */
const wayOf = ({ positions, moves }: Problem, from: string | undefined, to: string | undefined): number => {
  const place = (id: string | undefined) => positions.findIndex((position) => position.id === id);
  return from === undefined || to === undefined ? 0 : (moves?.[place(from)]?.[place(to)] ?? 0);
};

/** Works without length at one minute may have been done in any order: more positions than this among them are tried only in the order given. */
const MOST_ORDERED = 5;

const permutations = <T>(list: readonly T[]): readonly (readonly T[])[] =>
  list.length === 0
    ? [[]]
    : list.flatMap((first, place) =>
        permutations([...list.slice(0, place), ...list.slice(place + 1)]).map((rest) => [first, ...rest]),
      );

/**
 * The orders in which a person can have done works that begin at the same minute: those without length first, position by position. What has neither length nor
 * position asks nothing and is put last, where it hinders nothing.
 */
const ordersOf = (works: readonly Laid[]): readonly (readonly Laid[])[] => {
  const lasts = ({ start, free }: Laid): boolean => before(start, free);
  const short = works.filter((laid) => !lasts(laid) && laid.work.position !== undefined);
  const rest = [...works.filter(lasts), ...works.filter((laid) => !lasts(laid) && laid.work.position === undefined)];
  const places = [...new Set(short.map(({ work }) => work.position))];
  const orders = places.length > MOST_ORDERED ? [places] : permutations(places);
  return orders.map((order) => [
    ...order.flatMap((position) => short.filter(({ work }) => work.position === position)),
    ...rest,
  ]);
};

/** A person's day up to a point. */
interface Day {
  /** When the last work was done; -Infinity before the first. */
  readonly ready: number;
  readonly stands: string | undefined;
  readonly moves: number;
  /** Works that begin before the person can be there. */
  readonly late: readonly { readonly laid: Laid; readonly from: string | undefined; readonly due: number }[];
}

const after = (problem: Problem, day: Day, laid: Laid): Day => {
  const { position } = laid.work;
  const ready = Math.max(day.ready, laid.free);
  if (position === undefined) return { ...day, ready };
  const beginning = day.ready === Number.NEGATIVE_INFINITY;
  const due = (beginning ? (problem.now ?? 0) : day.ready) + wayOf(problem, day.stands, position);
  const late = laid.task?.begun === undefined && before(laid.start, due);
  return {
    ready,
    stands: position,
    moves: day.moves + (day.stands !== undefined && day.stands !== position ? 1 : 0),
    late: late ? [...day.late, { laid, from: day.stands, due }] : day.late,
  };
};

/** Fewer works too early, then fewer moves. */
const better = (a: Day, b: Day): boolean =>
  a.late.length < b.late.length || (a.late.length === b.late.length && a.moves < b.moves);

/** The best day for each place where it can leave the person. */
const bestOf = (days: readonly Day[]): readonly Day[] =>
  days.filter(
    (day, place) =>
      !days.some(
        (other, at) => other.stands === day.stands && (better(other, day) || (at < place && !better(day, other))),
      ),
  );

const dayOf = (problem: Problem, person: Person, works: readonly Laid[]): Day => {
  let days: readonly Day[] = [{ ready: Number.NEGATIVE_INFINITY, stands: person.at, moves: 0, late: [] }];
  for (let place = 0; place < works.length; ) {
    const start = works[place]?.start ?? 0;
    const same = works.slice(place).filter((laid) => !before(start, laid.start));
    const orders = ordersOf(same);
    days = bestOf(
      days.flatMap((day) => orders.map((order) => order.reduce((so, laid) => after(problem, so, laid), day))),
    );
    place += same.length;
  }
  return days.reduce((best, day) => (better(day, best) ? day : best));
};

/** C4 and C5. How often somebody goes from one position to another. */
export const checkDays = ({ problem, works, fault }: Scene): number => {
  let moves = 0;
  for (const person of problem.people) {
    const own = works.filter(({ people }) => people.includes(person.id)).sort((a, b) => a.start - b.start);
    for (const [place, one] of own.entries())
      for (const other of own.slice(place + 1))
        if (meet(one.start, one.free, other.start, other.free))
          fault("C4", other.start, { kind: "both", person: person.id, works: [one.name, other.name] });
    const day = dayOf(problem, person, own);
    moves += day.moves;
    for (const { laid, from, due } of day.late)
      fault("C5", laid.start, {
        kind: "way",
        of: laid.name,
        person: person.id,
        ...(from === undefined || from === laid.work.position ? {} : { from }),
        to: laid.work.position ?? "",
        due,
      });
  }
  return moves;
};

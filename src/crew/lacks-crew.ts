// Owns what people, room and stocks can never give a work, whatever else is done when.

import { workedOff } from "./diary.ts";
import { type Named, worksOf } from "./lacks-figures.ts";
import type { Person, Problem, Seat, Task, Work } from "./problem.ts";
import type { Lack } from "./result.ts";

/** Seats that cannot be filled all at once, and the only people for them: fewer (Hall's condition). */
interface Short {
  readonly skills: readonly (string | undefined)[];
  readonly people: readonly Person[];
}

const chairsOf = (crew: readonly Seat[]): readonly (string | undefined)[] =>
  crew.flatMap(({ count, skill }) => Array.from({ length: count }, () => skill));

/** Seats as many as can be by augmenting paths; where a chair stays empty, all that its search reached is too short. */
const shortOf = (crew: readonly Seat[], people: readonly Person[]): Short | undefined => {
  const chairs = chairsOf(crew);
  const sits = new Map<Person, number>();
  for (const empty of chairs.keys()) {
    const reached = new Set([empty]);
    const asked = new Set<Person>();
    const fill = (chair: number): boolean => {
      reached.add(chair);
      const skill = chairs[chair];
      for (const person of people) {
        if (asked.has(person) || (skill !== undefined && !person.skills.includes(skill))) continue;
        asked.add(person);
        const other = sits.get(person);
        if (other !== undefined && !fill(other)) continue;
        sits.set(person, chair);
        return true;
      }
      return false;
    };
    if (!fill(empty)) return { skills: [...reached].map((chair) => chairs[chair]), people: [...asked] };
  }
  return undefined;
};

const canFill = (crew: readonly Seat[], people: readonly Person[]): boolean => shortOf(crew, people) === undefined;

const headsOf = (crew: readonly Seat[]): number => crew.reduce((sum, { count }) => sum + count, 0);

/** Seats of a work that the people there are cannot fill. */
const unseated = ({ people }: Problem, { at, work }: Named): readonly Lack[] => {
  const lacks: Lack[] = [];
  const heads = headsOf(work.crew);
  if (heads > people.length) lacks.push({ what: "too few people", at, count: heads, have: people.length });
  const chairs = chairsOf(work.crew);
  for (const skill of new Set(chairs)) {
    if (skill === undefined) continue;
    const count = chairs.filter((one) => one === skill).length;
    const have = people.filter(({ skills }) => skills.includes(skill)).length;
    if (have < count) lacks.push({ what: "no such skill", at, skill, count, have });
  }
  if (lacks.length > 0) return lacks;
  const short = shortOf(work.crew, people);
  if (short === undefined) return [];
  const skills = [...new Set(short.skills)].filter((skill) => skill !== undefined);
  return [{ what: "too few skilled", at, skills, count: short.skills.length, have: short.people.length }];
};

const ALWAYS = [{ from: Number.NEGATIVE_INFINITY, until: Number.POSITIVE_INFINITY }];

/** No time at which enough of the people are there for long enough; of work that pauses, for long enough in all. */
const unattended = ({ people, now = 0 }: Problem, { at, work }: Named): readonly Lack[] => {
  if (work.crew.length === 0 || !canFill(work.crew, people)) return [];
  const shifts = people.flatMap((person) =>
    (person.shifts ?? ALWAYS).map(({ from, until }) => ({ person, from: Math.max(from, now), until })),
  );
  const there = (from: number, until: number): readonly Person[] =>
    shifts.filter((one) => one.from <= from && until <= one.until).map(({ person }) => person);
  const lack: Lack = { what: "no spell long enough", at, minutes: work.minutes };
  if (!work.pauses)
    return shifts.some(({ from }) => canFill(work.crew, there(from, from + work.minutes))) ? [] : [lack];
  const edges = [...new Set(shifts.flatMap(({ from, until }) => [from, until]))].sort((a, b) => a - b);
  let sum = 0;
  for (const [place, from] of edges.entries()) {
    const until = edges[place + 1];
    if (until !== undefined && canFill(work.crew, there(from, until))) sum += until - from;
  }
  return sum < work.minutes ? [lack] : [];
};

/** Begun, and its people are not there for long enough after that. */
const unfinished = ({ people }: Problem, { id, begun, minutes, pauses }: Task): readonly Lack[] => {
  if (begun === undefined || !pauses || begun.people.length === 0) return [];
  const lists = people
    .filter((person) => begun.people.includes(person.id))
    .map(({ shifts = ALWAYS }) => shifts.flatMap(({ from, until }) => [from, until]));
  if (Number.isFinite(workedOff(lists, begun.start, minutes))) return [];
  return [{ what: "no spell long enough", at: id, minutes }];
};

/** Teams tried for a task that others must not have done; beyond, only each of these alone is looked at. */
const MOST_TEAMS = 3000;

/** Sets of so many of the list; undefined where they are more than that. */
const teamsOf = <T>(list: readonly T[], size: number): readonly (readonly T[])[] | undefined => {
  let teams: (readonly T[])[] = [[]];
  for (const [place, one] of list.entries()) {
    const left = list.length - place - 1;
    teams = teams.flatMap((team) => [
      ...(team.length < size ? [[...team, one]] : []),
      ...(team.length + left >= size ? [team] : []),
    ]);
    if (teams.length > MOST_TEAMS) return undefined;
  }
  return teams;
};

/** Nobody may do the task because of those who do the others. */
const unverified = ({ people, tasks }: Problem, task: Task): readonly Lack[] => {
  const others = tasks.filter(({ id }) => task.notBy.includes(id));
  const may = ({ crew, begun }: Task, barred: readonly Person[]): boolean =>
    begun === undefined
      ? canFill(
          crew,
          people.filter((person) => !barred.includes(person)),
        )
      : !barred.some(({ id }) => begun.people.includes(id));
  if (!may(task, []) || others.length === 0) return [];
  if (others.includes(task)) return headsOf(task.crew) > 0 ? [{ what: "no verifier", at: task.id, of: [task.id] }] : [];
  const own = task.begun?.people;
  const teams =
    own === undefined
      ? teamsOf(people, headsOf(task.crew))?.filter((team) => canFill(task.crew, team))
      : [people.filter(({ id }) => own.includes(id))];
  if (teams === undefined) {
    const left = others.filter(({ begun }) => begun === undefined);
    const gone = others.flatMap(({ begun }) => begun?.people ?? []);
    const free = people.filter(({ id }) => !gone.includes(id));
    const of = left.filter(({ crew }) => !canFill([...task.crew, ...crew], people)).map(({ id }) => id);
    if (of.length === 0 && canFill(task.crew, free)) return [];
    return [{ what: "no verifier", at: task.id, of: of.length > 0 ? of : task.notBy }];
  }
  if (teams.some((team) => others.every((other) => may(other, team)))) return [];
  // Those that leave nobody by themselves, or else all of them together.
  const alone = others.filter((other) => may(other, []) && !teams.some((team) => may(other, team)));
  if (alone.length === 0 && others.some((other) => !may(other, []))) return [];
  return [{ what: "no verifier", at: task.id, of: (alone.length > 0 ? alone : others).map(({ id }) => id) }];
};

/** More than there is of a stock, or than fits at the position; and the position that the work itself must leave empty. */
const unequipped = (
  { stocks, positions, holds }: Problem,
  { at, work }: Named,
  task: Task | undefined,
): readonly Lack[] => {
  const lacks: Lack[] = [];
  for (const { id, count: have } of stocks) {
    const used = work.uses.filter(({ stock }) => stock === id).reduce((sum, { count }) => sum + count, 0);
    const held = holds.filter(({ stock, from }) => stock === id && from === task?.id).map(({ count }) => count);
    // What is held from its start on is taken beside what it uses, unless it has no length.
    const lasts = work.minutes + (task?.alone ?? 0) > 0;
    const taken = lasts ? held.reduce((sum, one) => sum + one, used) : Math.max(used, ...held);
    if (taken > have) lacks.push({ what: "stock too small", at, stock: id, count: taken, have });
  }
  const count = task?.begun?.people.length ?? headsOf(work.crew);
  const position = positions.find(({ id }) => id === work.position);
  if (position !== undefined && count > position.room)
    lacks.push({ what: "position too small", at, position: position.id, count, room: position.room });
  if (work.position !== undefined && count > 0 && work.empties.includes(work.position))
    lacks.push({ what: "empties its own position", at, position: work.position });
  return lacks;
};

/**
 * What the works that must be done can never get. Of changes that may not be needed nothing is asked: a crew that cannot make them may do without.
 */
export const unable = (problem: Problem, needed: ReadonlySet<Work>): readonly Lack[] => {
  const lacks = worksOf(problem)
    .filter(({ work }) => needed.has(work))
    .flatMap((named) => {
      const task = problem.tasks.find((one) => one === named.work);
      // Nothing is asked of people who are at it already.
      if (task?.begun !== undefined) return [...unequipped(problem, named, task), ...unfinished(problem, task)];
      return [...unseated(problem, named), ...unattended(problem, named), ...unequipped(problem, named, task)];
    });
  return [...lacks, ...problem.tasks.flatMap((task) => unverified(problem, task))];
};

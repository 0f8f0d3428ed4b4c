// Owns the reading of published project files: PSPLIB `.sm` and Patterson `.rcp` text to the crew's question, or to what is wrong with the text.
//
// Both formats say: activities with a duration and what they use of resources that exist in a number, and which follow which. Nobody is named, so the question has no people.

import type { Problem, Task } from "../../src/crew/index.ts";

export interface Fault {
  /** Line of the text, from 1. */
  readonly line: number;
  readonly what: string;
  readonly mend: string;
}

export type Reading = { readonly problem: Problem } | { readonly faults: readonly Fault[] };

/** An activity as both formats have it; numbers from 1. */
interface Activity {
  readonly duration: number;
  readonly needs: readonly number[];
  readonly followers: readonly number[];
}

class Malformed extends Error {
  readonly fault: Fault;

  constructor(line: number, what: string, mend: string) {
    super(what);
    this.fault = { line, what, mend };
  }
}

interface Token {
  readonly text: string;
  readonly line: number;
}

/** Whole numbers one after the other; what else is met is a fault. */
class Numbers {
  private readonly tokens: readonly Token[];
  private place = 0;

  constructor(text: string, firstLine: number) {
    this.tokens = text
      .split(/\r?\n/)
      .flatMap((line, index) => (line.match(/\S+/g) ?? []).map((token) => ({ text: token, line: firstLine + index })));
  }

  get line(): number {
    return this.tokens[Math.min(this.place, this.tokens.length - 1)]?.line ?? 1;
  }

  next(what: string): number {
    const token = this.tokens[this.place];
    if (token === undefined) throw new Malformed(this.line, `the text ends before ${what}`, "give the file in full");
    if (!/^\d{1,9}$/.test(token.text))
      throw new Malformed(token.line, `${what} is "${token.text}"`, "write a whole number, at least 0");
    this.place += 1;
    return Number(token.text);
  }

  list(count: number, what: string): readonly number[] {
    return Array.from({ length: count }, () => this.next(what));
  }

  end(): void {
    const token = this.tokens[this.place];
    if (token !== undefined)
      throw new Malformed(token.line, `"${token.text}" after the last figure`, "leave out what is too much");
  }
}

const resource = (index: number): string => `R${index + 1}`;

/** Begins and ends that take no time and use nothing only frame the project. */
const isFrame = ({ duration, needs }: Activity, alone: boolean): boolean =>
  alone && duration === 0 && needs.every((need) => need === 0);

function problemOf(capacities: readonly number[], activities: readonly Activity[], lines: readonly number[]): Problem {
  const before = activities.map((): number[] => []);
  for (const [index, { followers, needs }] of activities.entries()) {
    for (const follower of followers) {
      const list = before[follower - 1];
      if (list === undefined || follower - 1 === index)
        throw new Malformed(
          lines[index] ?? 1,
          `activity ${index + 1} is followed by ${follower}`,
          "name another activity",
        );
      if (!list.includes(index)) list.push(index);
    }
    for (const [r, need] of needs.entries())
      if (need > (capacities[r] ?? 0))
        throw new Malformed(
          lines[index] ?? 1,
          `activity ${index + 1} uses ${need} of ${resource(r)}`,
          `there are ${capacities[r]}`,
        );
  }
  const kept = activities.map(
    (activity, index) => !isFrame(activity, before[index]?.length === 0 || activity.followers.length === 0),
  );
  const tasks = activities.map(
    ({ duration, needs }, index): Task => ({
      id: String(index + 1),
      minutes: duration,
      crew: [],
      uses: needs.flatMap((count, r) => (count > 0 ? [{ stock: resource(r), count }] : [])),
      on: [],
      off: [],
      empties: [],
      pauses: false,
      after: (before[index] ?? []).filter((first) => kept[first]).map((first) => ({ task: String(first + 1) })),
      notBy: [],
    }),
  );
  return {
    people: [],
    stocks: capacities.map((count, r) => ({ id: resource(r), count })),
    positions: [],
    states: [],
    tasks: tasks.filter((_, index) => kept[index]),
    holds: [],
    apart: [],
  };
}

const attempt = (read: () => Problem): Reading => {
  try {
    return { problem: read() };
  } catch (error) {
    if (error instanceof Malformed) return { faults: [error.fault] };
    throw error;
  }
};

/** Patterson's format: activities and resources in number, capacities, then a row an activity: duration, needs, number of followers, followers. */
export const readRcp = (text: string): Reading =>
  attempt(() => {
    const numbers = new Numbers(text, 1);
    const count = numbers.next("the number of activities");
    const capacities = numbers.list(numbers.next("the number of resources"), "a capacity");
    const lines: number[] = [];
    const activities: Activity[] = [];
    for (let index = 1; index <= count; index += 1) {
      lines.push(numbers.line);
      const duration = numbers.next(`the duration of activity ${index}`);
      const needs = numbers.list(capacities.length, `a need of activity ${index}`);
      const followers = numbers.list(numbers.next(`the number of followers of ${index}`), `a follower of ${index}`);
      activities.push({ duration, needs, followers });
    }
    numbers.end();
    return problemOf(capacities, activities, lines);
  });

/** The figures under a heading as far as the next line of asterisks; `skip` lines of column heads are passed over. */
function section(lines: readonly string[], heading: string, skip: number): Numbers {
  const at = lines.findIndex((line) => line.startsWith(heading));
  if (at < 0) throw new Malformed(lines.length, `no section ${heading}`, "give the file in full");
  const body = lines.slice(at + 1 + skip);
  const end = body.findIndex((line) => /^\*+\s*$/.test(line));
  return new Numbers((end < 0 ? body : body.slice(0, end)).join("\n"), at + 2 + skip);
}

function header(lines: readonly string[], label: RegExp, otherwise?: number): number {
  const at = lines.findIndex((line) => label.test(line));
  const figure = /:\s*(\d+)/.exec(lines[at] ?? "")?.[1];
  if (figure !== undefined) return Number(figure);
  if (otherwise !== undefined) return otherwise;
  throw new Malformed(Math.max(1, at + 1), `no figure for ${label.source}`, "write it after a colon");
}

/** PSPLIB's format for one mode: sections for precedence, requests and durations, availabilities. */
export const readSm = (text: string): Reading =>
  attempt(() => {
    const lines = text.split(/\r?\n/);
    const count = header(lines, /^jobs\b/);
    const renewable = header(lines, /- renewable/);
    if (header(lines, /- nonrenewable/, 0) > 0 || header(lines, /- doubly constrained/, 0) > 0)
      throw new Malformed(1, "resources that are used up", "only renewable resources are read");

    const order = section(lines, "PRECEDENCE RELATIONS", 1);
    const requests = section(lines, "REQUESTS/DURATIONS", 2);
    const capacities = section(lines, "RESOURCEAVAILABILITIES", 1).list(renewable, "an availability");
    const one = (numbers: Numbers, wanted: number, what: string): void => {
      const { line } = numbers;
      const met = numbers.next(what);
      if (met !== wanted) throw new Malformed(line, `${what} is ${met}`, `${wanted} is read here`);
    };
    const at: number[] = [];
    const followers: (readonly number[])[] = [];
    for (let job = 1; job <= count; job += 1) {
      at.push(order.line);
      one(order, job, "the job's number");
      one(order, 1, "the number of modes");
      followers.push(order.list(order.next(`the number of successors of ${job}`), `a successor of ${job}`));
    }
    order.end();
    const activities: Activity[] = [];
    for (let job = 1; job <= count; job += 1) {
      one(requests, job, "the job's number");
      one(requests, 1, "the mode");
      const duration = requests.next(`the duration of ${job}`);
      activities.push({
        duration,
        needs: requests.list(renewable, `a request of ${job}`),
        followers: followers[job - 1] ?? [],
      });
    }
    requests.end();
    return problemOf(capacities, activities, at);
  });

// Owns what stands where on the timeline: bars in the rows of their people, what goes on by itself in lanes, how the vehicle stands, and the chain through them.

import type { CrewChange, CrewPlan, CrewStep, Held } from "../../plan/index.ts";

/** A step, or a change of a state of the vehicle, as one of the things that people do. */
export interface Doing {
  /** As a pin names it. */
  readonly pin: string;
  /** As the schedule and its chain name it: of a step, or of the state that is changed. */
  readonly id: string;
  readonly action: CrewStep["action"] | "set" | "clear";
  readonly label: string;
  readonly position?: string;
  readonly start: number;
  /** When its people leave. */
  readonly free: number;
  /** When it is over. */
  readonly end: number;
  readonly people: readonly string[];
  readonly skill?: string;
  readonly tools: readonly string[];
  readonly isChained: boolean;
  /** How often the like is done: a pin on a change of the vehicle is on each of them. */
  readonly times: number;
  readonly held?: Held;
}

/** One person's part of it. */
export interface Bar {
  /** The same while the schedule gets better, as long as it is the same person's: focus stays where it is. */
  readonly key: string;
  readonly person: string;
  readonly doing: Doing;
}

/** What goes on with nobody at it. */
export interface Alone {
  readonly key: string;
  readonly doing: Doing;
  readonly from: number;
  readonly until: number;
  readonly lane: number;
}

/** Where somebody is, from the first work there to the last. */
export interface Stay {
  readonly person: string;
  readonly position: string;
  readonly from: number;
  readonly until: number;
}

export interface StateRow {
  readonly id: string;
  readonly label: string;
  readonly on: readonly { readonly from: number; readonly until: number }[];
  readonly turns: readonly { readonly to: boolean; readonly from: number; readonly until: number }[];
}

/** A stretch of the chain: in the row of a person, or in a lane. */
export interface Thread {
  readonly row: string | number;
  readonly from: number;
  readonly until: number;
}

export interface Layout {
  readonly doings: readonly Doing[];
  readonly bars: readonly Bar[];
  readonly stays: readonly Stay[];
  readonly alone: readonly Alone[];
  readonly lanes: number;
  readonly states: readonly StateRow[];
  readonly chain: readonly Thread[];
}

const spot = (id: string, start: number): string => `${id} ${start}`;

const doingsOf = ({ steps, changes, chain }: CrewPlan, held: readonly Held[]): readonly Doing[] => {
  const chained = new Set(chain.flatMap((run) => run.steps.map(({ id, start }) => spot(id, start))));
  const holds = new Map(held.map((one) => [spot(one.id, one.start), one]));
  const more = (id: string, start: number) => {
    const hold = holds.get(spot(id, start));
    return { isChained: chained.has(spot(id, start)), ...(hold === undefined ? {} : { held: hold }) };
  };
  return [
    ...steps.map((step: CrewStep): Doing => ({ ...step, pin: step.id, times: 1, ...more(step.id, step.start) })),
    ...changes.map(
      (change: CrewChange): Doing => ({
        ...change,
        pin: `${change.to ? "set" : "clear"}:${change.state}`,
        id: change.state,
        action: change.to ? "set" : "clear",
        free: change.end,
        tools: [],
        times: changes.filter(({ state, to }) => state === change.state && to === change.to).length,
        ...more(change.state, change.start),
      }),
    ),
  ].toSorted((a, b) => a.start - b.start || a.end - b.end);
};

const aloneIn = (doings: readonly Doing[]): { readonly alone: readonly Alone[]; readonly lanes: number } => {
  const ends: number[] = [];
  const alone = doings
    .map((doing) => ({ doing, from: doing.people.length === 0 ? doing.start : doing.free, until: doing.end }))
    .filter(({ from, until }) => until > from)
    .toSorted((a, b) => a.from - b.from)
    .map(({ doing, from, until }): Alone => {
      const free = ends.findIndex((end) => end <= from);
      const lane = free < 0 ? ends.length : free;
      ends[lane] = until;
      return { key: `${doing.pin} ${from}`, doing, from, until, lane };
    });
  return { alone, lanes: ends.length };
};

const staysOf = (bars: readonly Bar[]): readonly Stay[] => {
  const stays = new Map<string, { person: string; position: string; from: number; until: number }[]>();
  for (const { person, doing } of bars) {
    if (doing.position === undefined) continue;
    const own = stays.get(person) ?? [];
    const last = own.at(-1);
    if (last !== undefined && last.position === doing.position) last.until = Math.max(last.until, doing.free);
    else own.push({ person, position: doing.position, from: doing.start, until: doing.free });
    stays.set(person, own);
  }
  return [...stays.values()].flat();
};

const statesOf = ({ states, changes, now, elapsed }: CrewPlan): readonly StateRow[] =>
  states.flatMap(({ id, label }): readonly StateRow[] => {
    const own = changes.filter((change) => change.state === id);
    if (own.length === 0) return [];
    const before = own[0]?.to === false ? [{ from: now, until: own[0].start }] : [];
    return [
      {
        id,
        label,
        turns: own.map(({ to, start, end }) => ({ to, from: start, until: end })),
        on: [
          ...before,
          ...own.flatMap(({ to, end }, place) =>
            to ? [{ from: end, until: own[place + 1]?.start ?? now + elapsed }] : [],
          ),
        ],
      },
    ];
  });

/** The chain as one line: it stays with a person as long as the person is in it. */
const threadOf = ({ chain }: CrewPlan, doings: readonly Doing[], alone: readonly Alone[]): readonly Thread[] => {
  const bySpot = new Map(doings.map((doing) => [spot(doing.id, doing.start), doing]));
  const threads: Thread[] = [];
  for (const { id, start } of chain.flatMap(({ steps }) => steps)) {
    const doing = bySpot.get(spot(id, start));
    if (doing === undefined) continue;
    const last = threads.at(-1)?.row;
    const person = typeof last === "string" && doing.people.includes(last) ? last : doing.people[0];
    if (person !== undefined) threads.push({ row: person, from: doing.start, until: doing.free });
    const on = alone.find((one) => one.doing === doing);
    if (on !== undefined) threads.push({ row: on.lane, from: on.from, until: on.until });
  }
  return threads;
};

export const layOut = (plan: CrewPlan, held: readonly Held[]): Layout => {
  const doings = doingsOf(plan, held);
  const turns = new Map<string, number>();
  const bars = doings.flatMap((doing) => {
    const turn = turns.get(doing.pin) ?? 0;
    turns.set(doing.pin, turn + 1);
    return doing.people.map((person): Bar => ({ key: `${doing.pin} ${turn} ${person}`, person, doing }));
  });
  const { alone, lanes } = aloneIn(doings);
  return {
    doings,
    bars,
    stays: staysOf(bars),
    alone,
    lanes,
    states: statesOf(plan),
    chain: threadOf(plan, doings, alone),
  };
};

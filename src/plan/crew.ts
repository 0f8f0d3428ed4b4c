// Owns the crew of an order: who is there with which skills and when, what there is of each tool, and how long it takes to go from place to place.

import type { Vehicle } from "../vehicle/index.ts";

/** From `from` to before `until`, minutes after midnight; beyond 1440 it ends on the next day. */
export interface Span {
  readonly from: number;
  readonly until: number;
}

export interface CrewPerson {
  readonly id: string;
  readonly label: string;
  readonly skills: readonly string[];
  /** The same every day; absent: always there. */
  readonly days?: { readonly shift: Span; readonly breaks: readonly Span[] };
}

/** How long it takes to go from one position to another. */
export interface Going {
  /** Metres in a minute. */
  readonly speed: number;
  /** Minutes for each change of position: put down, take the tools along, settle. */
  readonly settle: number;
  /** Minutes more for getting in, up or under, and as many for getting out again. */
  readonly climb: number;
}

export interface Crew {
  /** Persons, or so many people each with every skill. */
  readonly people: readonly CrewPerson[];
  /** Everybody can do anything: skills are not asked for. */
  readonly able: boolean;
  readonly note?: string;
  /** Minutes after midnight of the order's minute 0; absent: times are shown from 0:00. */
  readonly begins?: number;
  /** By name of the tool: how many there are; what is not named is as `crew-question.ts` says. */
  readonly tools: ReadonlyMap<string, number>;
  /** By fluid or energy: how many steps may work on it at a time. */
  readonly systems: ReadonlyMap<string, number>;
  readonly going: Going;
}

/**
 * Common practice, not a standard: 60 m/min is an unhurried walk with something in hand (work measurement takes 3 mph, 80 m/min, for a brisk walk with empty
 * hands; that figure from memory), half a minute to put down and take up, half a minute more to get under or up.
 */
export const USUAL_GOING: Going = { speed: 60, settle: 0.5, climb: 0.5 };

/** As many as some step of the vehicle asks for, and two at least: with fewer a job could not be done at all. */
export const fewestCrew = ({ connections, tasks, jobs }: Vehicle): Crew => {
  const work = [...connections.flatMap(({ ways }) => ways), ...tasks, ...jobs.flatMap((job) => job.work)];
  return crewOf(Math.max(2, ...work.map(({ people }) => people)));
};

/** So many people, each of whom can do anything and is always there. */
export const crewOf = (count: number): Crew => ({
  people: Array.from({ length: count }, (_, index) => ({
    id: `person-${index + 1}`,
    label: `Person ${index + 1}`,
    skills: [],
  })),
  able: true,
  tools: new Map(),
  systems: new Map(),
  going: USUAL_GOING,
});

/** These people of the shop, always there. */
export const crewOfShop = (
  people: readonly { readonly id: string; readonly label: string; readonly skills: readonly string[] }[],
): Crew => ({
  people,
  able: false,
  tools: new Map(),
  systems: new Map(),
  going: USUAL_GOING,
});

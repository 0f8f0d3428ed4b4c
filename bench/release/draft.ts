// Owns a machine while it is being drawn: the parts, connections and tasks so far, and how a way to reach a place is drawn.

import type { Connection, Need, Part, Task, Way } from "../../src/release/problem.ts";
import type { Chance } from "./chance.ts";

export type DraftConnection = Omit<Connection, "ways"> & { readonly ways: Way[] };

/** A sub-assembly: a heavy core, what hangs on it, and the covers over it. */
export interface Bay {
  readonly index: number;
  readonly core: string;
  readonly at: readonly [number, number, number];
  /** Cover fixings, in the order made: a cover needs only earlier ones. */
  readonly covers: string[];
  /** Connections that carry nothing: others may lie behind them without taking anything's hold away. */
  readonly behind: string[];
  /** Parts that must be off or hung aside before something behind them can be reached. */
  readonly blockers: string[];
  /** Satellites that others may be tied to. */
  readonly satellites: string[];
}

export interface Draft {
  readonly chance: Chance;
  readonly parts: Part[];
  readonly connections: DraftConnection[];
  readonly tasks: Task[];
}

export const FIXED = ["frame", "cross-member", "bulkhead", "cab-floor"] as const;
/** The connection that comes before anything else. */
export const FIRST = "battery-ground";
export const LIFT = "lift-out";

/** A place to work: what the vehicle must be like for it, and how often a connection is reached from there. */
interface Place {
  readonly position: string;
  readonly share: number;
  readonly needs: readonly Need[];
  readonly without: readonly string[];
}

const PLACES: readonly Place[] = [
  { position: "left", share: 0.2, needs: [], without: [] },
  { position: "right", share: 0.18, needs: [], without: [] },
  { position: "front", share: 0.1, needs: [], without: [] },
  { position: "rear", share: 0.08, needs: [], without: [] },
  { position: "top", share: 0.16, needs: [{ done: "tilt" }], without: [] },
  { position: "under", share: 0.18, needs: [{ done: "raise" }], without: [] },
  { position: "in-cab", share: 0.04, needs: [], without: ["tilt"] },
  { position: "hatch", share: 0.06, needs: [{ released: "hatch-lid" }], without: [] },
];
const UNDER = PLACES[5] as Place;

export function addPart(draft: Draft, id: string, mass: number, centre: readonly [number, number, number]): string {
  draft.parts.push({ id, fixed: false, mass, centre });
  return id;
}

/** Whole minutes, now and then a half. */
export function drawMinutes(chance: Chance, low: number, high: number): number {
  return chance.whole(low, high) + (chance.hit(0.05) ? 0.5 : 0);
}

function drawPlace(chance: Chance): Place {
  let left = chance.next();
  for (const place of PLACES) {
    left -= place.share;
    if (left < 0) return place;
  }
  return PLACES[0] as Place;
}

/** Holds when every connection of the part is released, or it was hung aside. */
function clearOf(draft: Draft, part: string): Need {
  const off: Need = { all: draft.connections.filter((c) => c.joins.includes(part)).map((c) => ({ released: c.id })) };
  const hangs = draft.tasks.filter((task) => task.hang?.part === part).map((task): Need => ({ done: task.id }));
  return hangs.length === 0 ? off : { any: [off, ...hangs] };
}

/** What lies in front of a place in this bay: a cover, something behind which it is, a part in the way, or one of two. */
function drawCovering(draft: Draft, bay: Bay): Need[] {
  const { chance } = draft;
  const needs: Need[] = [];
  if (bay.covers.length > 0 && chance.hit(0.4)) needs.push({ released: chance.pick(bay.covers) });
  if (bay.behind.length > 0 && chance.hit(0.1)) needs.push({ released: chance.pick(bay.behind) });
  if (bay.blockers.length > 0 && chance.hit(0.05)) needs.push(clearOf(draft, chance.pick(bay.blockers)));
  if (bay.covers.length > 1 && chance.hit(0.1)) {
    const choices: Need[] = chance.some(bay.covers, 2).map((id) => ({ released: id }));
    needs.push({ any: chance.hit(0.3) ? [...choices, { done: "raise" }] : choices });
  }
  return needs;
}

export interface Tie {
  readonly id: string;
  readonly joins: readonly string[];
  /** Labour of the way in place, release and refit together. */
  readonly labour: number;
  readonly carrying?: boolean;
  readonly restsAt?: readonly [number, number, number];
  readonly needs?: readonly Need[];
  readonly entails?: readonly string[];
  /** May also be released at the bench, once the lift has been made. */
  readonly bench?: boolean;
}

/**
 * Adds a connection with one to three ways: in place, perhaps from underneath with less in front of it, perhaps at the bench. The
 * first way needs only what was drawn before and never the lift, so that a plan exists whatever is drawn later.
 */
export function tie(draft: Draft, bay: Bay, { id, joins, labour, ...rest }: Tie): string {
  const { chance } = draft;
  const place = drawPlace(chance);
  const always: Need[] = [{ released: FIRST }, ...(rest.needs ?? [])];
  const entails = rest.entails ?? [];
  const covering = place.position === "in-cab" ? [] : drawCovering(draft, bay);
  const ways: Way[] = [
    {
      id: `${id}/1`,
      labour,
      position: place.position,
      needs: [...always, ...place.needs, ...covering],
      without: place.without,
      entails,
    },
  ];
  if (chance.hit(0.3)) {
    const slower = Math.ceil(labour * (1.2 + chance.next()));
    const other = place === UNDER ? drawPlace(chance) : UNDER;
    ways.push({
      id: `${id}/${ways.length + 1}`,
      labour: slower,
      position: other.position,
      needs: [...always, ...other.needs, ...(chance.hit(0.3) ? drawCovering(draft, bay) : [])],
      without: other.without,
      entails,
    });
  }
  if (rest.bench && chance.hit(0.5)) {
    const quicker = Math.max(1, Math.floor(labour * 0.7));
    ways.push({
      id: `${id}/${ways.length + 1}`,
      labour: quicker,
      position: "bench",
      needs: [...always, { done: LIFT }],
      without: [],
      entails,
    });
  }
  draft.connections.push({
    id,
    joins,
    carrying: rest.carrying ?? false,
    rests: rest.restsAt !== undefined,
    ...(rest.restsAt && { at: rest.restsAt }),
    ways,
  });
  return id;
}

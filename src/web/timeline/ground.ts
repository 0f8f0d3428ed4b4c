// Owns the measures of the drawing: how high each row is and where it stands, and which minute is where across.

import type { CrewPlan } from "../../plan/index.ts";
import type { Layout } from "./layout.ts";

/** Pixels. */
const AXIS = 26;
const BINDS = 30;
const PLACE = 17;
const GAP = 14;
const LANE = 24;
const STATE = 28;
/** Fewer people have higher rows, so that more of the names is read. */
const BARS: readonly (readonly [people: number, bar: number])[] = [
  [4, 62],
  [8, 46],
];
const LEAST_BAR = 34;
const LINE = 13.2;

export interface Ground {
  readonly minute: (pixels: number) => number;
  readonly x: (minute: number) => number;
  readonly width: number;
  readonly height: number;
  readonly scale: number;
  readonly bindsTop: number;
  readonly bindsHigh: number;
  readonly bar: number;
  /** Of a name in a bar, above the chain. */
  readonly lines: number;
  readonly personTop: (id: string) => number;
  /** The person in whose row this is; the nearest where it is in none. */
  readonly personAt: (y: number) => string | undefined;
  readonly laneTop: (lane: number) => number;
  readonly laneHigh: number;
  readonly stateTop: (place: number) => number;
  readonly stateHigh: number;
}

/** @param width pixels for the whole from now to the end */
export const groundOf = ({ crew, now, elapsed }: CrewPlan, { lanes, states }: Layout, width: number): Ground => {
  const { people } = crew;
  const bar = BARS.find(([most]) => people.length <= most)?.[1] ?? LEAST_BAR;
  const row = bar + PLACE + GAP;
  const scale = width / Math.max(1, elapsed);
  const first = AXIS + BINDS + 8;
  const place = new Map(people.map(({ id }, index) => [id, index]));
  const lanesTop = first + people.length * row;
  const statesTop = lanesTop + (lanes === 0 ? 0 : lanes * LANE + 10);
  return {
    minute: (pixels) => now + pixels / scale,
    x: (minute) => (minute - now) * scale,
    width,
    height: statesTop + states.length * STATE + 6,
    scale,
    bindsTop: AXIS,
    bindsHigh: BINDS,
    bar,
    lines: Math.max(1, Math.floor((bar - 14) / LINE)),
    personTop: (id) => first + (place.get(id) ?? 0) * row,
    personAt: (y) => people[Math.min(people.length - 1, Math.max(0, Math.floor((y - first) / row)))]?.id,
    laneTop: (lane) => lanesTop + lane * LANE,
    laneHigh: LANE - 5,
    stateTop: (index) => statesTop + index * STATE,
    stateHigh: STATE - 10,
  };
};

// Owns the time of each release and refit as a spread: the file's number, or what runs taught of it, with the catalogue's first guess beside.

import { refitOf } from "../../plan/index.ts";
import { DEFAULT_SPREAD, FASTENERS, fromMedian, guess, type Lognormal, percentileOf } from "../../times/index.ts";
import type { Connection, Vehicle } from "../../vehicle/index.ts";
import type { Taught } from "../engine/times-asked.ts";

/** Where a time comes from: `release`: the file gives the refit none, so it is taken as long as the release; `guess`: the file's is 0. */
export type From = "file" | "release" | "runs" | "guess";

export interface Timed {
  readonly time: Lognormal;
  readonly from: From;
  readonly people: number;
  /** The catalogue's, for what the file says is fastened. */
  readonly guess?: Lognormal;
}

/** A way to release a connection, with its refit. */
export interface Span {
  readonly way: string;
  readonly connection: string;
  readonly label: string;
  /** Of the way, where it has one. */
  readonly called?: string;
  readonly kind: Connection["kind"];
  readonly off: Timed;
  readonly on: Timed;
  /** Person-minutes of both, in their medians. */
  readonly labour: number;
  /** Minutes between P10 and P90, of both together at worst. */
  readonly spread: number;
}

/** A class of the catalogue in the words of an item: "clamp screw M8×30" is a screw, "hose clamp 40-60" a hose clamp. */
const fastenerIn = (item: string): string | undefined =>
  FASTENERS.map(({ id }) => id)
    .filter((id) => new RegExp(`\\b${id}s?\\b`, "i").test(item))
    .sort((a, b) => b.length - a.length)[0];

const sizeIn = (item: string): number | undefined => {
  const size = /\bM(\d+(?:\.\d+)?)/.exec(item)?.[1];
  return size === undefined ? undefined : Number(size);
};

/** The catalogue's first guess of a connection: by its kind, and by whichever fastener it has most of. */
export const firstGuess = (connection: Connection, way: Connection["ways"][number]) => {
  const known = connection.hardware
    .flatMap(({ item, count }) => {
      const fastener = fastenerIn(item);
      return fastener === undefined ? [] : [{ fastener, count, size: sizeIn(item) }];
    })
    .sort((a, b) => b.count - a.count)[0];
  const made = guess({
    kind: connection.kind,
    ...(known === undefined ? {} : { fastener: known.fastener, count: known.count }),
    ...(known?.size === undefined ? {} : { size: known.size }),
    tool: refitOf(connection, way).torque === undefined ? "hand" : "torque wrench",
  });
  return "off" in made ? made : undefined;
};

export const middleOf = (time: Lognormal): number => percentileOf(time, 0.5);

/** From the tenth to the ninetieth percentile. */
export const rangeOf = (time: Lognormal): readonly [number, number] => [
  percentileOf(time, 0.1),
  percentileOf(time, 0.9),
];

const widthOf = (time: Lognormal): number => {
  const [low, high] = rangeOf(time);
  return high - low;
};

export const spansOf = ({ connections }: Vehicle, taught: Taught = {}): readonly Span[] =>
  connections.flatMap((connection) =>
    connection.ways.map((way): Span => {
      const refit = refitOf(connection, way);
      const first = firstGuess(connection, way);
      const timed = (id: string, minutes: number, people: number, assumed: boolean, catalogue?: Lognormal): Timed => {
        const own = taught[id];
        const known =
          own !== undefined
            ? { time: own, from: "runs" as const }
            : minutes > 0 || catalogue === undefined
              ? { time: fromMedian(minutes, DEFAULT_SPREAD), from: assumed ? ("release" as const) : ("file" as const) }
              : { time: catalogue, from: "guess" as const };
        return { ...known, people, ...(catalogue === undefined ? {} : { guess: catalogue }) };
      };
      const off = timed(way.id, way.time, way.people, false, first?.off);
      const on = timed(`back:${way.id}`, refit.time, refit.people, refit.assumed.includes("time"), first?.on);
      return {
        way: way.id,
        connection: connection.id,
        label: connection.label,
        ...(way.label === undefined ? {} : { called: way.label }),
        kind: connection.kind,
        off,
        on,
        labour: off.people * middleOf(off.time) + on.people * middleOf(on.time),
        spread: widthOf(off.time) + widthOf(on.time),
      };
    }),
  );

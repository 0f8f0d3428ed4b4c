// Owns how a connection is made again after one of its ways: the way's own figures, else the connection's, else those of the release.

import type { Connection, Refit, Way } from "../vehicle/index.ts";

/** What a way's own refit says of the fastening stands for the connection's, key by key. */
const FASTENING = [
  "torque",
  "preload",
  "turn",
  "grip",
  "stages",
  "pattern",
  "threads",
  "meant",
  "friction",
  "running",
  "clamp",
  "pressure",
  "bore",
  "consumes",
] as const;

/** What a refit says of how its fasteners are tightened. */
export type Fastened = Pick<Refit, (typeof FASTENING)[number]>;

/** The refit of one connection, nothing left open. `assumed` names the figures that the file does not give. */
export interface ResolvedRefit extends Fastened {
  /** Minutes. */
  readonly time: number;
  readonly people: number;
  readonly at?: string;
  /** It is refitted from another position than the one it was released at, so the release's tasks are no access to it. */
  readonly elsewhere: boolean;
  readonly after: readonly string[];
  /** Minutes after what it comes after, at most. */
  readonly within?: number;
  readonly tools: readonly string[];
  readonly skill?: string;
  readonly fresh: readonly string[];
  readonly check?: string;
  /** Tasks of the way back that it calls for. */
  readonly calls: readonly string[];
  readonly assumed: readonly ("time" | "people")[];
}

const filled = (
  own: readonly string[] | undefined,
  other: readonly string[],
  last: readonly string[] = [],
): readonly string[] => (own !== undefined && own.length > 0 ? own : other.length > 0 ? other : last);

function fasteningOf(own: Refit | undefined, shared: Refit): Fastened {
  const said: Partial<Record<(typeof FASTENING)[number], unknown>> = {};
  for (const key of FASTENING) {
    // A way that gives a torque of its own is not tightened to the connection's preload besides.
    const other = key === "preload" ? "torque" : key === "torque" ? "preload" : undefined;
    const value = own?.[key] ?? (other !== undefined && own?.[other] !== undefined ? undefined : shared[key]);
    if (value !== undefined) said[key] = value;
  }
  return said as Fastened;
}

export const refitOf = (connection: Connection, way: Way): ResolvedRefit => {
  const own = way.refit;
  const shared = connection.refit;
  const time = own?.time ?? shared.time;
  const people = own?.people ?? shared.people;
  const at = own?.at ?? shared.at ?? way.at;
  const skill = own?.skill ?? shared.skill ?? way.skill;
  const check = own?.check ?? shared.check;
  const within = own?.within ?? shared.within;
  return {
    time: time ?? way.time,
    people: people ?? way.people,
    ...(at === undefined ? {} : { at }),
    elsewhere: at !== way.at,
    after: filled(own?.after, shared.after),
    ...(within === undefined ? {} : { within }),
    tools: filled(own?.tools, shared.tools, way.tools),
    ...(skill === undefined ? {} : { skill }),
    ...fasteningOf(own, shared),
    fresh: filled(own?.fresh, shared.fresh),
    ...(check === undefined ? {} : { check }),
    calls: filled(own?.then, shared.then),
    assumed: [
      ...(time === undefined ? (["time"] as const) : []),
      ...(people === undefined ? (["people"] as const) : []),
    ],
  };
};

// Owns how a connection is made again after one of its ways: the way's own figures, else the connection's, else those of the release.

import type { Connection, Way } from "../vehicle/index.ts";

/** The refit of one connection, nothing left open. `assumed` names the figures that the file does not give. */
export interface ResolvedRefit {
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
  /** Newton-metres. */
  readonly torque?: number;
  readonly pattern?: string;
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

export const refitOf = (connection: Connection, way: Way): ResolvedRefit => {
  const own = way.refit;
  const shared = connection.refit;
  const time = own?.time ?? shared.time;
  const people = own?.people ?? shared.people;
  const at = own?.at ?? shared.at ?? way.at;
  const skill = own?.skill ?? shared.skill ?? way.skill;
  const torque = own?.torque ?? shared.torque;
  const pattern = own?.pattern ?? shared.pattern;
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
    ...(torque === undefined ? {} : { torque }),
    ...(pattern === undefined ? {} : { pattern }),
    fresh: filled(own?.fresh, shared.fresh),
    ...(check === undefined ? {} : { check }),
    calls: filled(own?.then, shared.then),
    assumed: [
      ...(time === undefined ? (["time"] as const) : []),
      ...(people === undefined ? (["people"] as const) : []),
    ],
  };
};

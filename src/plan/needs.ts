// Owns how the needs of a vehicle file are put in the terms of the release question.

import type { Need as Asked } from "../release/index.ts";
import type { Need, Part, Vehicle } from "../vehicle/index.ts";

/** A need that always holds, and one that never does: what it names is left out of this order. */
export const ALWAYS: Asked = { all: [] };
export const NEVER: Asked = { any: [] };

/** The vehicle as the needs look it up. */
export interface Lookup {
  readonly joined: ReadonlyMap<string, readonly string[]>;
  readonly parts: ReadonlyMap<string, Part>;
  readonly fixed: readonly string[];
  readonly connections: ReadonlySet<string>;
  readonly tasks: ReadonlySet<string>;
  readonly backTasks: ReadonlySet<string>;
  readonly slack: ReadonlyMap<string, number>;
}

export const lookupOf = (vehicle: Vehicle): Lookup => {
  const joined = new Map<string, string[]>(vehicle.parts.map((part) => [part.id, []]));
  for (const connection of vehicle.connections) {
    for (const part of new Set(connection.joins)) joined.get(part)?.push(connection.id);
  }
  return {
    joined,
    parts: new Map(vehicle.parts.map((part) => [part.id, part])),
    fixed: vehicle.parts.filter((part) => part.fixed).map((part) => part.id),
    connections: new Set(vehicle.connections.map((connection) => connection.id)),
    tasks: new Set(vehicle.tasks.filter((task) => task.phase === "out").map((task) => task.id)),
    backTasks: new Set(vehicle.tasks.filter((task) => task.phase === "back").map((task) => task.id)),
    slack: new Map(vehicle.connections.map((connection) => [connection.id, connection.slack])),
  };
};

/** A part is off when its every connection is released. */
const off = (look: Lookup, part: string): Asked => ({
  all: (look.joined.get(part) ?? []).map((released) => ({ released })),
});

/** Every tie of a part that is too short for a move of so many metres; one that joins it to `to` is moved like any other. */
export const tautAt = (look: Lookup, part: string, moves: number): readonly string[] =>
  (look.joined.get(part) ?? []).filter((id) => (look.slack.get(id) ?? 0) < moves);

/** A part is clear when it is off, or hung aside with nothing left on that is too short for it. */
const clear = (look: Lookup, id: string, leftOut: ReadonlySet<string>): Asked => ({
  any: [
    off(look, id),
    ...(look.parts.get(id)?.hang ?? [])
      .filter((hang) => !leftOut.has(hang.id))
      .map(
        (hang): Asked => ({
          all: [{ done: hang.id }, ...tautAt(look, id, hang.moves).map((released) => ({ released }))],
        }),
      ),
  ],
});

/** One need in the question's terms. Tasks in `leftOut` can never be done; tasks of the way back stand in the way of nothing. */
export const askNeed = (look: Lookup, need: Need, leftOut: ReadonlySet<string>): Asked => {
  if ("all" in need) return { all: need.all.map((one) => askNeed(look, one, leftOut)) };
  if ("any" in need) return { any: need.any.map((one) => askNeed(look, one, leftOut)) };
  if ("apart" in need) return { apart: [[need.apart[0]], [need.apart[1]]] };
  if ("out" in need) return { apart: [[need.out], look.fixed] };
  if ("clear" in need) return clear(look, need.clear, leftOut);
  if (look.connections.has(need.id)) return { released: need.id };
  if (look.joined.has(need.id)) return off(look, need.id);
  if (look.backTasks.has(need.id)) return ALWAYS;
  return leftOut.has(need.id) || !look.tasks.has(need.id) ? NEVER : { done: need.id };
};

/** The tasks of the way back that a list of needs calls for outright. */
export const calledBack = (look: Lookup, needs: readonly Need[]): readonly string[] =>
  needs.flatMap((need) =>
    "all" in need ? calledBack(look, need.all) : "id" in need && look.backTasks.has(need.id) ? [need.id] : [],
  );

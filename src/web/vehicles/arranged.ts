// Owns the ways in which the overview arranges a vehicle: its parts and positions each with the ties there, its tasks, its jobs, and what a search leaves of them.

import type { Connection, Need, Part, Position, Vehicle } from "../../vehicle/index.ts";

export const ARRANGEMENTS = ["part", "position", "task", "job"] as const;
export type Arrangement = (typeof ARRANGEMENTS)[number];

export interface PartTies {
  readonly part: Part;
  readonly ties: readonly Connection[];
  /** Found by its own name: then all its ties are shown. */
  readonly isFound: boolean;
}

export interface PositionTies {
  /** Absent: what is released anywhere. */
  readonly position?: Position;
  readonly ties: readonly Connection[];
}

/** Whether any of the texts has what is searched in it; nothing searched, everything is found. */
export const isFound = (query: string, ...texts: readonly (string | undefined)[]): boolean => {
  const wanted = query.trim().toLocaleLowerCase();
  return wanted === "" || texts.some((text) => text?.toLocaleLowerCase().includes(wanted) === true);
};

/** Parts with what ties each; what stays comes last, for its ties are all at the others. */
export const byPart = (vehicle: Vehicle, query: string, kindOf: (tie: Connection) => string): readonly PartTies[] => {
  const ties = new Map<string, Connection[]>(vehicle.parts.map(({ id }) => [id, []]));
  for (const tie of vehicle.connections) for (const id of tie.joins) ties.get(id)?.push(tie);
  const all = vehicle.parts.map((part) => {
    const own = ties.get(part.id) ?? [];
    const found = isFound(query, part.id, part.label);
    return { part, isFound: found, ties: found ? own : own.filter((tie) => tieFound(tie, query, kindOf)) };
  });
  return all
    .filter((one) => one.isFound || one.ties.length > 0)
    .toSorted((a, b) => Number(a.part.fixed) - Number(b.part.fixed));
};

export const byPosition = (
  vehicle: Vehicle,
  query: string,
  kindOf: (tie: Connection) => string,
): readonly PositionTies[] => {
  const at = new Map<string | undefined, Connection[]>();
  for (const tie of vehicle.connections)
    for (const place of new Set(tie.ways.length === 0 ? [undefined] : tie.ways.map((way) => way.at)))
      at.set(place, [...(at.get(place) ?? []), tie]);
  const group = (position?: Position): PositionTies => {
    const own = at.get(position?.id) ?? [];
    const whole = position !== undefined && isFound(query, position.id, position.label);
    return {
      ...(position === undefined ? {} : { position }),
      ties: whole ? own : own.filter((tie) => tieFound(tie, query, kindOf)),
    };
  };
  return [...vehicle.positions.map(group), group()].filter(
    ({ position, ties }) => ties.length > 0 || (position !== undefined && isFound(query, position.id, position.label)),
  );
};

const tieFound = (tie: Connection, query: string, kindOf: (tie: Connection) => string): boolean =>
  isFound(query, tie.id, tie.label, kindOf(tie), tie.holds?.fluid, tie.live);

/** A need as it is written, with the labels of what it names. */
export const sayNeed = (need: Need, label: (id: string) => string): string => {
  const all = (needs: readonly Need[], between: string) => needs.map((one) => sayNeed(one, label)).join(between);
  if ("id" in need) return label(need.id);
  if ("all" in need) return all(need.all, " + ");
  if ("any" in need) return `(${all(need.any, " | ")})`;
  if ("apart" in need) return `${label(need.apart[0])} ↔ ${label(need.apart[1])}`;
  return label("out" in need ? need.out : need.clear);
};

/** The labels of everything that a need may name. */
export const labelsOf = (vehicle: Vehicle): ReadonlyMap<string, string> =>
  new Map(
    [vehicle.parts, vehicle.connections, vehicle.tasks, vehicle.positions, vehicle.jobs, vehicle.hoists].flatMap(
      (list): (readonly [string, string])[] => list.map(({ id, label }) => [id, label]),
    ),
  );

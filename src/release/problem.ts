// Owns the question of what must come off, as plain data: ids and numbers, nothing of the vehicle file.
//
// Steps are the ways of the connections and the tasks. A plan out is a sequence of steps; a connection is released by
// one of its ways, a toggle (a state of the vehicle that is set and undone) may be done and undone several times,
// every other task is done at most once. The way back mirrors it. `docs/release.md` states the rules in full.

/** What must hold when a step is made. */
export type Need =
  /** That connection is released. */
  | { readonly released: string }
  /** That task is done (a toggle: is on at this moment). */
  | { readonly done: string }
  | { readonly all: readonly Need[] }
  | { readonly any: readonly Need[] }
  /** No chain of unreleased connections or hangs in force joins any part of the one set to any of the other. */
  | { readonly apart: readonly [readonly string[], readonly string[]] };

export interface Part {
  readonly id: string;
  readonly fixed: boolean;
  /** Kilograms, the upper end of the tolerance; 0 where it is not known. */
  readonly mass: number;
  /** Metres, vehicle frame; absent: no `rests` can be shown to hold it. */
  readonly centre?: readonly [number, number, number];
}

export interface Way {
  readonly id: string;
  /** Labour in minutes, people × time, release and refit together; at least 0. */
  readonly labour: number;
  readonly position?: string;
  readonly needs: readonly Need[];
  /** Toggles that must be off when it is done. */
  readonly without: readonly string[];
  /** Tasks of the way back that this release calls for; their labour is counted, they have no place in the order out. */
  readonly entails: readonly string[];
}

export interface Connection {
  readonly id: string;
  /** Two or more parts; all of them hang together until it is released. */
  readonly joins: readonly string[];
  readonly carrying: boolean;
  readonly rests: boolean;
  /** Metres; where a `rests` connection bears. */
  readonly at?: readonly [number, number, number];
  /** At least one; none means that it cannot be released under this order. */
  readonly ways: readonly Way[];
}

export interface Task {
  readonly id: string;
  /**
   * Labour in minutes with its return. A toggle costs this each time it is done and each time it is undone before the
   * end of the way out, because the way back mirrors both; left on at the end, it costs this once in all.
   */
  readonly labour: number;
  readonly position?: string;
  readonly needs: readonly Need[];
  readonly without: readonly string[];
  readonly entails: readonly string[];
  readonly toggle: boolean;
  /** Done on the way back only: counted when entailed, never in the order. */
  readonly back: boolean;
  /** Must be in every plan: the work of a job. */
  readonly must: boolean;
  /** Parts it holds while it is done (a toggle: while it is on). */
  readonly supports: readonly string[];
  /**
   * A hang: from now on a strap joins `part` and `to`; it holds the body of `part` while that is at most `handLimit` and the body of `to` is held
   * firmly. No connection in `taut` may be left made at the end of the way out.
   */
  readonly hang?: { readonly part: string; readonly to: string; readonly taut: readonly string[] };
  /** A lift: these parts go up with all that is still tied to them; no fixed part among it, at most `limit` kg. */
  readonly lift?: { readonly parts: readonly string[]; readonly limit: number };
}

export interface Problem {
  readonly parts: readonly Part[];
  readonly connections: readonly Connection[];
  readonly tasks: readonly Task[];
  /** Kilograms: a part no heavier than this may be set aside in the step that releases its last connection, and a strap holds no more. */
  readonly handLimit: number;
  /** Metres: how far inside the polygon of its rests a centre of mass must lie. */
  readonly margin: number;
  /** Parts that may not go up with any lift. */
  readonly keep: readonly string[];
  /** Parts that must go up with some lift, still tied to it. */
  readonly take: readonly string[];
  /** Connections released before this plan begins: nothing to release; their refit is no part of this question. */
  readonly released: readonly string[];
}

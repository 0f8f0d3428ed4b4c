// Owns the question of a finish: activities with times and what each waits for, on calendars; and the order to reckon them in.

import type { Lognormal } from "./lognormal.ts";

/** Half-open spells of minutes in which work goes on, rising, not touching. After the last it goes on as ever: nobody knows more. */
export interface Calendar {
  readonly spells: readonly { readonly from: number; readonly until: number }[];
  /** Stops at the end of a spell and goes on in the next; else it is done in one go, in the first spell that is long enough. */
  readonly pauses: boolean;
}

/** Minutes by their chance: `quantile(p)` for p above 0 and below 1. */
export interface ByQuantile {
  readonly quantile: (p: number) => number;
}

export interface Activity {
  readonly id: string;
  readonly time: Lognormal | ByQuantile | { readonly minutes: number };
  /** Begins `lag` minutes after the end of each at the soonest; negative: may begin that much before its end. */
  readonly after: readonly { readonly id: string; readonly lag: number }[];
  /** Begins at most `lag` minutes after the end of each: where it would begin later, that is done again first. */
  readonly soon?: readonly { readonly id: string; readonly lag: number }[];
  readonly calendar?: Calendar;
  /** Begins no sooner, minutes. */
  readonly notBefore?: number;
  /** The shop's good or bad day does not touch it: paint dries as it dries. */
  readonly alone?: boolean;
}

export interface Network {
  readonly activities: readonly Activity[];
}

/** Activities by place, each after all it waits for. */
export interface Ordered {
  readonly activities: readonly Activity[];
  /** By place in `activities`: the places and lags of what it waits for. */
  readonly waits: readonly (readonly (readonly [place: number, lag: number])[])[];
  /** Likewise of what it must follow soon. */
  readonly soon: readonly (readonly (readonly [place: number, lag: number])[])[];
}

/**
 * An order in which each activity comes after all that it waits for.
 *
 * @throws RangeError where an id is not there, is there twice, or activities wait for one another in a ring.
 */
export const order = ({ activities }: Network): Ordered => {
  const byId = new Map(activities.map((activity) => [activity.id, activity]));
  if (byId.size < activities.length) throw new RangeError("two activities have the same id");
  const place = new Map<string, number>();
  const sorted: Activity[] = [];
  const open = new Set<string>();
  for (const first of activities) {
    // Depth first with a stack of its own: chains are longer than the call stack is deep.
    const stack: { readonly activity: Activity; at: number }[] = place.has(first.id)
      ? []
      : [{ activity: first, at: 0 }];
    while (stack.length > 0) {
      const top = stack[stack.length - 1];
      if (top === undefined) break;
      const { id, after, soon = [] } = top.activity;
      open.add(id);
      const wait = after[top.at] ?? soon[top.at - after.length];
      top.at += 1;
      if (wait === undefined) {
        place.set(id, sorted.length);
        sorted.push(top.activity);
        open.delete(id);
        stack.pop();
        continue;
      }
      if (place.has(wait.id)) continue;
      const next = byId.get(wait.id);
      if (next === undefined) throw new RangeError(`${id} waits for ${wait.id}, which is not there`);
      if (open.has(wait.id)) throw new RangeError(`${wait.id} and ${id} wait for one another`);
      stack.push({ activity: next, at: 0 });
    }
  }
  const placed = (list: Activity["after"]) => list.map(({ id, lag }) => [place.get(id) ?? 0, lag] as const);
  return {
    activities: sorted,
    waits: sorted.map(({ after }) => placed(after)),
    soon: sorted.map(({ soon = [] }) => placed(soon)),
  };
};

/** When work of so many minutes that can begin at `ready` begins and ends on a calendar. */
export const onCalendar = (
  { spells, pauses }: Calendar,
  ready: number,
  minutes: number,
): { readonly start: number; readonly end: number } => {
  let left = minutes;
  let start: number | undefined;
  let at = ready;
  for (const { from, until } of spells) {
    if (until <= at) continue;
    const begin = Math.max(at, from);
    if (until - begin >= left) return { start: start ?? begin, end: begin + left };
    at = until;
    if (!pauses) continue;
    start ??= begin;
    left -= until - begin;
  }
  return { start: start ?? at, end: at + left };
};

// Owns what is done where something would follow later than it may: the step before is done again first, and what that step in its turn must follow soon.
//
// Sealant that has set is scraped off and laid anew by who is there when the parts are ready; nobody can know beforehand that he will be held up, so that what was
// done in vain stays done, and its time is lost. What must be done again for the same step is done side by side, and ends together.

import { type Ordered, onCalendar } from "./network.ts";

/** Two times as near as this are the same. */
export const TIE = 1e-9;

/** One run so far: ends and minutes of what came before, by place. */
interface RunSoFar {
  readonly endOf: (place: number) => number;
  readonly minutesOf: (place: number) => number;
}

/** Minutes that go to doing again what has waited too long where the activity at `place` can begin at `at`; 0 where nothing has. */
const againBefore = (ordered: Ordered, place: number, at: number, run: RunSoFar): number => {
  const soon = ordered.soon[place] ?? [];
  const open = new Set(soon);
  let minutes = 0;
  // What is done again makes the others wait longer still: those are looked at once more.
  for (let grown = true; grown; ) {
    grown = false;
    for (const one of open) {
      const [before, most] = one;
      if (at + minutes - run.endOf(before) <= most + TIE) continue;
      const [, least = 0] = ordered.waits[place]?.find(([other]) => other === before) ?? [];
      const own = againBefore(ordered, before, at, run) + run.minutesOf(before) + least;
      if (own > minutes) minutes = own;
      open.delete(one);
      grown = true;
    }
  }
  return minutes;
};

/** When the activity at `place` is over that could begin at `ready`, and the minutes that went to doing again what it follows. They and its own time go in one on its calendar. */
export const soonAfter = (
  ordered: Ordered,
  place: number,
  ready: number,
  run: RunSoFar,
): { readonly end: number; readonly again: number } => {
  const calendar = ordered.activities[place]?.calendar;
  const on = (minutes: number) =>
    calendar === undefined ? { start: ready, end: ready + minutes } : onCalendar(calendar, ready, minutes);
  const own = run.minutesOf(place);
  let again = 0;
  for (;;) {
    const { start, end } = on(again + own);
    // With more to do a later spell may be the first that is long enough: what was in time is then too late as well.
    const needed = againBefore(ordered, place, start, run);
    if (needed <= again) return { end, again };
    again = needed;
  }
};

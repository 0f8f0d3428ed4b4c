// Owns how many changes of each state a schedule can afford: more of them would take more labour, or more time, than there is.

import { alternationsOf } from "./alternations.ts";
import type { WorkClock } from "./clock.ts";
import type { Shop } from "./shop.ts";

export interface Turns {
  /** By state: a schedule that finishes by the horizon and has no change to no purpose has at most so many, but for the states in `more`. */
  readonly most: readonly number[];
  /** States that could be changed more often than is modelled. */
  readonly more: readonly number[];
}

/** Changes of one state that are modelled. */
const MOST_MODELLED = 12;

/**
 * Changes that let nothing be done between them can be left out of a schedule without making it illegal or longer, so there are at most two for each task that wants what the state
 * is not at the beginning. Each takes time one after the other, and people × time of all there is.
 */
export const affordable = (shop: Shop, clock: WorkClock, horizon: number): Turns => {
  const working = Math.max(0, clock.at(horizon));
  const heads = Math.max(1, shop.people.length);
  const labourOf = (work: number): number => (shop.works[work]?.ticks ?? 0) * (shop.works[work]?.people ?? 0);
  const lengthOf = (work: number): number => (shop.works[work]?.people === 0 ? 0 : (shop.works[work]?.ticks ?? 0));
  const fewest = shop.states.map((_, state) => alternationsOf(shop, state).fewest);
  const labourOfTurns = (place: number, count: number): number => {
    const state = shop.states[place];
    if (state === undefined) return 0;
    const [first, second] = state.on ? state.turn : [state.turn[1], state.turn[0]];
    return Math.ceil(count / 2) * labourOf(first) + Math.floor(count / 2) * labourOf(second);
  };
  let least = shop.states.reduce((sum, _, place) => sum + labourOfTurns(place, fewest[place] ?? 0), 0);
  for (let task = 0; task < shop.tasks; task += 1) {
    const { begun } = shop.works[task] ?? {};
    if (begun === undefined) least += labourOf(task);
  }
  const more: number[] = [];
  const most = shop.states.map(({ on, end, turn }, place) => {
    const own = labourOfTurns(place, fewest[place] ?? 0);
    const wanting = shop.works.filter(
      (work, number) =>
        number !== turn[0] &&
        number !== turn[1] &&
        work.wants.some((want) => want.state === place && want.value !== on),
    ).length;
    // A change that another state's change wants may be made as often as that one is.
    const byOthers = shop.works.some(
      (work) =>
        work.turns !== undefined && work.turns.state !== place && work.wants.some((want) => want.state === place),
    );
    const useful = byOthers ? Number.POSITIVE_INFINITY : 2 * wanting + (end !== undefined && end !== on ? 1 : 0);
    let count = fewest[place] ?? 0;
    const fits = (turns: number): boolean => {
      const length =
        Math.ceil(turns / 2) * lengthOf(turn[on ? 0 : 1]) + Math.floor(turns / 2) * lengthOf(turn[on ? 1 : 0]);
      return length <= working && least - own + labourOfTurns(place, turns) <= heads * working;
    };
    while (count < useful && count < MOST_MODELLED && fits(count + 1)) count += 1;
    if (count >= MOST_MODELLED && count < useful && fits(count + 1)) more.push(place);
    return count;
  });
  return { most, more };
};

// Owns the shop turned round in time: what is built in it, read backwards, says how late everything can be, and so what to put first.

import type { Shop, ShopPerson, ShopState, ShopWork } from "./shop.ts";

/** The tick that a tick of the one shop is in the other, when the whole ends at `finish`. */
export const mirrorTick = (shop: Shop, finish: number, tick: number): number => finish + shop.now - tick;

/**
 * The shop backwards from `finish`. What runs on alone becomes a wait before the work, without its stocks and states, and where people stand at first is left
 * out: an order of preference comes of it, not a schedule. Undefined where something has begun, for that has no other place.
 */
export const mirrored = (shop: Shop, finish: number): Shop | undefined => {
  if (shop.works.some((work) => work.begun !== undefined)) return undefined;
  const after: { work: number; least: number; most: number }[][] = shop.works.map(() => []);
  for (const [task, work] of shop.works.entries()) {
    for (const { work: before, least, most } of work.after) {
      const alone = shop.works[before]?.alone ?? 0;
      after[before]?.push({ work: task, least: least + alone, most: most + alone });
    }
  }
  const works = shop.works.map((work, place): ShopWork => {
    const { turns, told: _, ...rest } = work;
    return {
      ...rest,
      alone: 0,
      after: after[place] ?? [],
      ...(turns === undefined ? {} : { turns: { state: turns.state, value: !turns.value } }),
    };
  });
  const flip = (tick: number): number => mirrorTick(shop, finish, tick);
  return {
    ...shop,
    works,
    states: shop.states.map(
      ({ on, end, turn, after: first, before }): ShopState => ({
        on: end ?? on,
        end: on,
        turn: [turn[1], turn[0]],
        after: [before[1], before[0]],
        before: [first[1], first[0]],
      }),
    ),
    people: shop.people.map(
      ({ skills, spells }): ShopPerson => ({ skills, spells: spells.toReversed().map(flip), at: -1 }),
    ),
    holds: shop.holds.map(({ from, until, ...hold }) => ({ ...hold, from: until, until: from })),
    moves: shop.moves.map((row, from) => row.map((_, to) => shop.moves[to]?.[from] ?? 0)),
  };
};

// Owns the sum over everything that could add up to what is left: exact chances of each way, by what comes before and after it.

import type { Chances, Draw } from "./omission.ts";

/** The counts that can be left of each kind, from nothing to what was found: one state for each combination. */
export interface Grid {
  readonly names: readonly string[];
  readonly items: readonly ReadonlySet<string>[];
  readonly found: readonly number[];
  /** How far apart two states lie that differ by one piece of the kind. */
  readonly step: readonly number[];
  readonly states: number;
}

/** States beyond which a kind is counted only up to a few pieces: more left of one kind tells nothing new. */
const MOST_STATES = 4096;

export function gridOf(
  kinds: readonly { readonly name: string; readonly items: ReadonlySet<string>; readonly count: number }[],
): Grid {
  const found = kinds.map(({ count }) => count);
  while (found.reduce((product, count) => product * (count + 1), 1) > MOST_STATES)
    found[found.indexOf(Math.max(...found))] = Math.max(...found) - 1;
  const step: number[] = [];
  let states = 1;
  for (const count of found) {
    step.push(states);
    states *= count + 1;
  }
  return { names: kinds.map(({ name }) => name), items: kinds.map(({ items }) => items), found, step, states };
}

/** Where a way leads in the grid, or undefined when it leaves more than was found. */
function move(take: readonly number[], { found, step }: Grid): number | undefined {
  let by = 0;
  for (const [i, count] of take.entries()) {
    if (count > (found[i] as number)) return undefined;
    by += count * (step[i] as number);
  }
  return by;
}

/** True when a state has room for so many more of each kind. */
function roomIn(state: number, take: readonly number[], { found, step }: Grid): boolean {
  return take.every((count, i) => {
    const have = Math.floor(state / (step[i] as number)) % ((found[i] as number) + 1);
    return have + count <= (found[i] as number);
  });
}

interface Move {
  readonly by: number;
  readonly take: readonly number[];
  readonly chance: number;
}

/**
 * Chance of each way of each draw, given that together they left exactly what was found. Draws are independent, so the
 * chance of a sum is a convolution, and that of one way is what all others make of the rest: forward and backward once over the draws.
 */
export function posterior(
  draws: readonly Draw[],
  grid: Grid,
  chances: Chances,
): { readonly chanceOf: readonly (readonly number[])[]; readonly stray: number } {
  const strays = grid.found.map((count, kind): readonly Move[] =>
    Array.from({ length: count }, (_, i) => ({
      by: (i + 1) * (grid.step[kind] as number),
      take: grid.found.map((_, j) => (j === kind ? i + 1 : 0)),
      chance: chances.stray * (1 - chances.further) * chances.further ** i,
    })),
  );
  const sources: { readonly none: number; readonly moves: readonly (Move | undefined)[] }[] = [
    ...draws.map(({ none, ways }) => ({
      none,
      moves: ways.map(({ take, chance }) => {
        const by = move(take, grid);
        return by === undefined ? undefined : { by, take, chance };
      }),
    })),
    ...strays.map((moves) => ({ none: 1 - chances.stray, moves })),
  ];

  const forward: Float64Array[] = [];
  let before = new Float64Array(grid.states);
  before[0] = 1;
  for (const source of sources) {
    forward.push(before);
    const after = new Float64Array(grid.states);
    for (let state = 0; state < grid.states; state++) {
      const chance = before[state] as number;
      if (chance === 0) continue;
      after[state] = (after[state] as number) + chance * source.none;
      for (const one of source.moves)
        if (one !== undefined && roomIn(state, one.take, grid))
          after[state + one.by] = (after[state + one.by] as number) + chance * one.chance;
    }
    before = after;
  }

  const full = grid.states - 1;
  const total = before[full] as number;
  // Without a stray the bags alone made it full.
  const alone = (forward[draws.length]?.[full] ?? 0) * (1 - chances.stray) ** strays.length;
  const stray = total > 0 ? 1 - alone / total : 1;
  const chanceOf: number[][] = sources.map(({ moves }) => moves.map(() => 0));
  // From each state: the chance that the sources behind still make it full.
  let behind = new Float64Array(grid.states);
  behind[full] = 1;
  for (let i = sources.length - 1; i >= 0; i--) {
    const { none, moves } = sources[i] as (typeof sources)[number];
    const front = forward[i] as Float64Array;
    const here = new Float64Array(grid.states);
    for (let state = 0; state < grid.states; state++) {
      let chance = none * (behind[state] as number);
      for (const [j, one] of moves.entries()) {
        if (one === undefined || !roomIn(state, one.take, grid)) continue;
        const way = one.chance * (behind[state + one.by] as number);
        chance += way;
        if (total > 0)
          (chanceOf[i] as number[])[j] = (chanceOf[i]?.[j] as number) + ((front[state] as number) * way) / total;
      }
      here[state] = chance;
    }
    behind = here;
  }
  return { chanceOf: chanceOf.slice(0, draws.length), stray };
}

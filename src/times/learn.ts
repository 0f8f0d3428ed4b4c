// Owns what runs teach of times: each way's own effect, and what its kind, its size, its people and the shop have in common with others.

import { type Predictive, predictedPercentile } from "./belief.ts";
import { studentBelow } from "./beta.ts";
import { type Datum, type Fitted, infer, predict, type Row, standing } from "./conjugate.ts";

/** What a time is of. */
export interface Subject {
  /** The piece of work: what is learnt of it alone goes by this. A new method of doing it is another. */
  readonly work: string;
  readonly kind?: string;
  /** A class of sizes: "M10", "hose 32". */
  readonly size?: string;
  readonly people?: readonly string[];
  /** Minutes guessed before anything was seen: the file's, or the catalogue's. */
  readonly guess: number;
}

export interface Seen extends Subject {
  /** Minutes of the work itself: without waiting, fetching and interruptions. Above 0. */
  readonly minutes: number;
  /** Broken off: the whole would have taken longer. */
  readonly broken: boolean;
  /** How long ago, days. */
  readonly age: number;
}

/** How far things differ before anything is seen: standard deviations of logarithms, and the scatter of the same thing done again. Ours. */
export interface Habits {
  readonly shop: number;
  readonly kind: number;
  readonly size: number;
  readonly person: number;
  readonly work: number;
  readonly scatter: number;
  /** As if the scatter had been seen so many times. */
  readonly sure: number;
  /** Days after which what was seen counts half. Infinity: nothing is forgotten. */
  readonly halfLife: number;
}

export const USUAL_HABITS: Habits = {
  shop: 0.4,
  kind: 0.25,
  size: 0.2,
  person: 0.15,
  work: 0.3,
  scatter: 0.3,
  sure: 6,
  halfLife: 730,
};

/** Less often than once in a thousand: such a time is shown, and counts until somebody says it does not. */
const ODD = 0.001;

export interface Lesson {
  /** The next time of this, minutes: percentiles by `predictedPercentile` only, for it has no mean. */
  next(of: Subject): Predictive;
  /** Before anything was seen. */
  before(of: Subject): Predictive;
  /** What was learnt of a group: minutes are multiplied by `times`, between `low` and `high` with nine chances of ten. */
  readonly effects: readonly {
    readonly group: "shop" | "kind" | "size" | "person" | "work";
    readonly name: string;
    readonly seen: number;
    readonly times: number;
    readonly low: number;
    readonly high: number;
  }[];
  /** Places in the list of what was seen, and how seldom one at least so far off would come. */
  readonly odd: readonly { readonly index: number; readonly chance: number }[];
  /** Scatter of the same thing done again, standard deviation of the logarithm. */
  readonly scatter: number;
}

type Group = Lesson["effects"][number]["group"];

interface Level {
  readonly group: Group;
  readonly name: string;
  readonly share: number;
}

const levelsOf = ({ work, kind, size, people = [] }: Subject): readonly Level[] => [
  { group: "shop", name: "", share: 1 },
  ...(kind === undefined ? [] : [{ group: "kind", name: kind, share: 1 } as const]),
  ...(size === undefined ? [] : [{ group: "size", name: size, share: 1 } as const]),
  ...people.map((name) => ({ group: "person", name, share: 1 / people.length }) as const),
  { group: "work", name: work, share: 1 },
];

const keyOf = ({ group, name }: Level): string => `${group}:${name}`;

/** How much a time of this age counts. */
export const countsAt = (age: number, halfLife: number): number => 2 ** (-Math.max(0, age) / halfLife);

/**
 * What was seen, taken together: one exact conjugate update, so neither the order of the times nor their being told one by one matters.
 *
 * @throws RangeError where a time or a guess is not above 0: whoever reads times names the place.
 */
export const learn = (seen: readonly Seen[], habits: Habits = USUAL_HABITS): Lesson => {
  const columns = new Map<string, { readonly level: Level; readonly index: number; seen: number }>();
  const rowOf = (of: Subject): Row =>
    levelsOf(of).map((level) => {
      const key = keyOf(level);
      const column = columns.get(key) ?? { level, index: columns.size, seen: 0 };
      columns.set(key, column);
      column.seen += 1;
      return [column.index, level.share];
    });
  const data = seen.map((one): Datum => {
    if (!(one.minutes > 0) || !(one.guess > 0)) throw new RangeError(`${one.work}: a time must be above 0 minutes`);
    return {
      row: rowOf(one),
      y: Math.log(one.minutes / one.guess),
      counts: countsAt(one.age, habits.halfLife),
      censored: one.broken,
    };
  });
  // A first guess of the scatter that has been seen `sure` times: E[σ²] = β/(α − 1).
  const alpha = 1 + habits.sure / 2;
  const prior = {
    variances: [...columns.values()].map(({ level }) => (habits[level.group] / habits.scatter) ** 2),
    alpha,
    beta: (alpha - 1) * habits.scatter ** 2,
  };
  const fitted = infer(data, prior);
  const nothing = infer([], { ...prior, variances: [] });
  const ask = (known: Fitted, of: Subject): Predictive => {
    const row: (readonly [number, number])[] = [];
    let unknown = 0;
    const levels = levelsOf(of);
    // Nobody named: anybody, who may be as quick or slow as people are.
    for (const level of of.people === undefined
      ? [...levels, { group: "person", name: "", share: 1 } as const]
      : levels) {
      const column = known === nothing ? undefined : columns.get(keyOf(level));
      if (column === undefined) unknown += (level.share * (habits[level.group] / habits.scatter)) ** 2;
      else row.push([column.index, level.share]);
    }
    const { centre, scale, freedom } = predict(known, row, unknown);
    return { centre: centre + Math.log(of.guess), scale, freedom };
  };
  return {
    next: (of) => ask(fitted, of),
    before: (of) => ask(nothing, of),
    effects: [...columns.values()].map(({ level: { group, name }, index, seen: count }) => {
      const effect = predict(fitted, [[index, 1]], 0, false);
      return {
        group,
        name,
        seen: count,
        times: Math.exp(effect.centre),
        low: predictedPercentile(effect, 0.05),
        high: predictedPercentile(effect, 0.95),
      };
    }),
    odd: data.flatMap((datum, index) => {
      if (datum.censored) return [];
      const { t, freedom } = standing(fitted, datum);
      const chance = 2 * studentBelow(-Math.abs(t), freedom);
      return chance < ODD ? [{ index, chance }] : [];
    }),
    scatter: Math.sqrt(fitted.beta / (fitted.alpha - 1)),
  };
};

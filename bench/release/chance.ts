// Owns seeded chance for the bench: the same seed gives the same machine on every computer.

/** Draws from one seeded stream. */
export interface Chance {
  /** Uniform in [0, 1). */
  next(): number;
  /** A whole number, both ends possible. */
  whole(low: number, high: number): number;
  /** True with this probability. */
  hit(probability: number): boolean;
  /** One of the list; throws a RangeError on an empty list. */
  pick<T>(list: readonly T[]): T;
  /** Up to `count` different ones of the list, in the order drawn. */
  some<T>(list: readonly T[], count: number): T[];
}

/**
 * A stream of draws from a seed: the 32-bit generator mulberry32 (T. Ettinger, public domain), whose state is one counter,
 * so that a seed is a whole number and nothing else need be kept. Good enough to make machines, no use for secrets.
 */
export function makeChance(seed: number): Chance {
  let state = Math.imul(seed + 1, 0x9e3779b1) | 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
  const whole = (low: number, high: number): number => low + Math.floor(next() * (high - low + 1));
  const pick = <T>(list: readonly T[]): T => {
    if (list.length === 0) throw new RangeError("pick: the list is empty");
    return list[whole(0, list.length - 1)] as T;
  };
  const some = <T>(list: readonly T[], count: number): T[] => {
    const rest = [...list];
    const drawn: T[] = [];
    while (drawn.length < count && rest.length > 0) drawn.push(...rest.splice(whole(0, rest.length - 1), 1));
    return drawn;
  };
  return { next, whole, hit: (probability) => next() < probability, pick, some };
}

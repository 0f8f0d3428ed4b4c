// Owns chance in the crew room: one small seeded generator, the same numbers for the same seed everywhere.

/** A generator of numbers in [0, 1) (mulberry32, T. Ettinger, public domain; from memory). */
export const randomFrom = (seed: number): (() => number) => {
  let state = seed | 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
};

// Owns the chance of this bench: standard normal numbers of a seed, apart from the room that is measured.

/** mulberry32 (public domain) and Box & Muller. */
export function normalsOf(seed: number): () => number {
  let state = (seed * 0x9e3779b9) | 0;
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t ^= t + Math.imul(t ^ (t >>> 7), 61 | t);
    return (((t ^ (t >>> 14)) >>> 0) + 0.5) / 4294967296;
  };
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
}

// Owns chance for the inner loops: whole numbers from a small seeded generator, without closures.

/** Xorshift of 32 bits (G. Marsaglia, "Xorshift RNGs", Journal of Statistical Software 8 (2003); the triple 13, 17, 5). */
export class Chance {
  private state: number;

  constructor(seed: number) {
    // Spread, so that neighbouring seeds do not begin alike; never 0.
    this.state = Math.imul(seed ^ 0x9e3779b9, 0x85ebca6b) | 1;
    for (let round = 0; round < 8; round += 1) this.whole(2);
  }

  /** From 0 to below `count`, which is at most 2^31. */
  whole(count: number): number {
    let state = this.state;
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    this.state = state;
    return Math.floor((state >>> 0) * (count / 4294967296));
  }

  /** From 0 to below 1. */
  next(): number {
    return this.whole(0x40000000) / 0x40000000;
  }
}

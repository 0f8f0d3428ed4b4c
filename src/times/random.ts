// Owns chance: numbers that look random and are the same each time from the same seed, a stream of its own for each name.

/** Uniform numbers above 0 and below 1. */
export type Uniform = () => number;

/** 32 bits from a text: FNV-1a, stirred at the end. */
const hash = (text: string, seed: number): number => {
  let h = 0x811c9dc5 ^ seed;
  for (let i = 0; i < text.length; i++) h = Math.imul(h ^ text.charCodeAt(i), 0x01000193);
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) >>> 0;
};

/**
 * The stream of a name: the same for the same name and seed, whatever else is drawn (sfc32 of PractRand, public domain; from memory). So a plan that differs in one
 * task meets the same luck in all others: common random numbers.
 */
export const uniformOf = (name: string, seed: number): Uniform => {
  let [a, b, c, d] = [hash(name, seed), hash(name, seed ^ 0x9e3779b9), hash(name, seed ^ 0x243f6a88), 1];
  const next = () => {
    const t = (((a + b) | 0) + d) | 0;
    d = (d + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (((c << 21) | (c >>> 11)) + t) | 0;
    return ((t >>> 0) + 0.5) / 4294967296;
  };
  for (let i = 0; i < 12; i++) next();
  return next;
};

/** Fills `into` with standard normal numbers, two at a time (Box & Muller 1958). */
export const fillNormal = (into: Float64Array, uniform: Uniform): void => {
  for (let i = 0; i < into.length; i += 2) {
    const radius = Math.sqrt(-2 * Math.log(uniform()));
    const angle = 2 * Math.PI * uniform();
    into[i] = radius * Math.cos(angle);
    if (i + 1 < into.length) into[i + 1] = radius * Math.sin(angle);
  }
};

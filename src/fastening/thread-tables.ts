// Owns the standard threads as data: which diameters are made with which pitches.

/** Metric coarse and fine (ISO 261), unified coarse and fine (ASME B1.1). */
export type Series = "M" | "MF" | "UNC" | "UNF";

/**
 * Diameter, coarse pitch, fine pitches, mm. Coarse pitches from M1.6 and the first fine pitches from a published chart of ISO 261 and 262; the
 * sizes below M1.6, M7 and the third and later fine pitches, of ISO 261, are from memory.
 */
export const METRIC: readonly (readonly [number, number, ...number[]])[] = [
  [1, 0.25, 0.2],
  [1.2, 0.25, 0.2],
  [1.6, 0.35, 0.2],
  [2, 0.4, 0.25],
  [2.5, 0.45, 0.35],
  [3, 0.5, 0.35],
  [3.5, 0.6, 0.35],
  [4, 0.7, 0.5],
  [5, 0.8, 0.5],
  [6, 1, 0.75],
  [7, 1, 0.75],
  [8, 1.25, 1, 0.75],
  [10, 1.5, 1.25, 1, 0.75],
  [12, 1.75, 1.5, 1.25, 1],
  [14, 2, 1.5, 1.25, 1],
  [16, 2, 1.5, 1],
  [18, 2.5, 2, 1.5, 1],
  [20, 2.5, 2, 1.5, 1],
  [22, 2.5, 2, 1.5, 1],
  [24, 3, 2, 1.5, 1],
  [27, 3, 2, 1.5, 1],
  [30, 3.5, 3, 2, 1.5, 1],
  [33, 3.5, 3, 2, 1.5],
  [36, 4, 3, 2, 1.5],
  [39, 4, 3, 2, 1.5],
  [42, 4.5, 4, 3, 2, 1.5],
  [45, 4.5, 4, 3, 2, 1.5],
  [48, 5, 4, 3, 2, 1.5],
  [52, 5, 4, 3, 2, 1.5],
  [56, 5.5, 4, 3, 2, 1.5],
  [60, 5.5, 4, 3, 2, 1.5],
  [64, 6, 4, 3, 2, 1.5],
];

/**
 * Size, diameter in inches, threads per inch coarse and fine. Fine series: a published table of ASME B1.1. Coarse from 1/4 to 3/4: published
 * tables of bolt loads; the other coarse ones from memory of the same standard.
 */
export const UNIFIED: readonly (readonly [string, number, number | undefined, number | undefined])[] = [
  ["#0", 0.06, undefined, 80],
  ["#1", 0.073, 64, 72],
  ["#2", 0.086, 56, 64],
  ["#3", 0.099, 48, 56],
  ["#4", 0.112, 40, 48],
  ["#5", 0.125, 40, 44],
  ["#6", 0.138, 32, 40],
  ["#8", 0.164, 32, 36],
  ["#10", 0.19, 24, 32],
  ["#12", 0.216, 24, 28],
  ["1/4", 0.25, 20, 28],
  ["5/16", 0.3125, 18, 24],
  ["3/8", 0.375, 16, 24],
  ["7/16", 0.4375, 14, 20],
  ["1/2", 0.5, 13, 20],
  ["9/16", 0.5625, 12, 18],
  ["5/8", 0.625, 11, 18],
  ["3/4", 0.75, 10, 16],
  ["7/8", 0.875, 9, 14],
  ["1", 1, 8, 12],
  ["1 1/8", 1.125, 7, 12],
  ["1 1/4", 1.25, 7, 12],
  ["1 3/8", 1.375, 6, 12],
  ["1 1/2", 1.5, 6, 12],
  ["1 3/4", 1.75, 5, undefined],
  ["2", 2, 4.5, undefined],
];

/** Numbered sizes in inches: 0.060 + 0.013 × number (ASME B1.1). */
export const NUMBERED: ReadonlyMap<number, number> = new Map(
  UNIFIED.filter(([size]) => size.startsWith("#")).map(([size, diameter]) => [Number(size.slice(1)), diameter]),
);

// Owns what is free over time: lanes of 8 bits packed in words of 32, a guard bit on top of each, so that one subtraction asks four lanes at once.
//
// free - need leaves every guard bit set exactly where it fits. A lane that holds more than 127 has a word to itself, guarded at bit 30.

const NARROW = 127;
const PER_WORD = 4;
const WIDE_GUARD = 1 << 30;

export interface Packing {
  readonly words: number;
  /** Word by word: the guard bits, and all free with them. */
  readonly guard: Int32Array;
  readonly full: Int32Array;
  /** Item × word, row by item. */
  readonly need: Int32Array;
}

/** Packs capacities and needs (item × lane, row by item). Lanes that nothing uses, or that cannot run short, are left out. Capacities are below 2^30. */
export const packLanes = (capacity: Int32Array, need: Int32Array): Packing => {
  const lanes = capacity.length;
  const size = lanes === 0 ? 0 : need.length / lanes;
  const sums = new Float64Array(lanes);
  for (let at = 0; at < need.length; at += 1) sums[at % lanes] = (sums[at % lanes] ?? 0) + (need[at] ?? 0);
  const scarce = [...capacity.keys()].filter((lane) => (sums[lane] ?? 0) > (capacity[lane] ?? 0));
  const narrow = scarce.filter((lane) => (capacity[lane] ?? 0) <= NARROW);
  const wide = scarce.filter((lane) => (capacity[lane] ?? 0) > NARROW);
  const packed = Math.ceil(narrow.length / PER_WORD);
  const words = packed + wide.length;
  const guard = new Int32Array(words);
  const full = new Int32Array(words);
  const needs = new Int32Array(size * words);
  const put = (lane: number, word: number, shift: number, bit: number): void => {
    guard[word] = (guard[word] ?? 0) | bit;
    full[word] = (full[word] ?? 0) | bit | ((capacity[lane] ?? 0) << shift);
    for (let item = 0; item < size; item += 1) {
      const at = item * words + word;
      needs[at] = (needs[at] ?? 0) | ((need[item * lanes + lane] ?? 0) << shift);
    }
  };
  for (const [place, lane] of narrow.entries()) {
    const shift = (place % PER_WORD) * 8;
    put(lane, Math.floor(place / PER_WORD), shift, 0x80 << shift);
  }
  for (const [place, lane] of wide.entries()) put(lane, packed + place, 0, WIDE_GUARD);
  return { words, guard, full, need: needs };
};

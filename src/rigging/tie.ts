// Owns how stiff a tie is that was forgotten, by its kind: what it pulls when the load is lifted against it.

/** Logarithmic middle, N/m, and the spread of its logarithm: a factor e^spread up and down covers two of three. */
export interface TieStiffness {
  readonly likely: number;
  readonly spread: number;
}

/**
 * By the kinds of the vehicle file. Estimates for this program from plain mechanics (a rubber hose of some 20 mm, a steel line bent round, a bolt in a bracket),
 * good to a factor of three, with no outside source; what is shown from them is marked as such.
 */
export const TIE_STIFFNESS: Readonly<Record<string, TieStiffness>> = {
  hose: { likely: 1.2e4, spread: 0.8 },
  line: { likely: 6e4, spread: 0.9 },
  cable: { likely: 3e4, spread: 0.9 },
  wire: { likely: 8e3, spread: 0.9 },
  strap: { likely: 1e5, spread: 0.8 },
  linkage: { likely: 3e5, spread: 0.9 },
  rod: { likely: 1e6, spread: 0.9 },
  spring: { likely: 1e4, spread: 1 },
  clamp: { likely: 5e4, spread: 1 },
  clip: { likely: 1e4, spread: 1 },
  flange: { likely: 5e6, spread: 0.8 },
  bracket: { likely: 2e6, spread: 0.9 },
  coupling: { likely: 1e6, spread: 1 },
  "shaft joint": { likely: 1e6, spread: 1 },
  "bolted joint": { likely: 1e7, spread: 0.8 },
  mount: { likely: 5e5, spread: 0.8 },
  "cover fixing": { likely: 1e6, spread: 1 },
};

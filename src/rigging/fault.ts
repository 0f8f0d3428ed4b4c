// Owns the faults of a question about rigging, as data, and the one sentence that is made of each.

/** What makes a question one that has no answer. */
export const FAULTS = [
  "not-a-figure",
  "not-positive",
  "spread-order",
  "id-twice",
  "unknown-id",
  "no-legs",
  "no-hook",
  "hook-place",
  "leg-ends",
  "too-short",
  "nothing-hangs",
  "misclosure",
  "centre-outside",
  "curve-order",
  "beyond-reach",
  "take-up",
  "shape",
  "quantity",
] as const;

/** Something in the question that has no answer: where, what, and what would mend it. `values` are what the sentences are made of. */
export interface Fault {
  readonly rule: (typeof FAULTS)[number];
  /** Where in the question, as the asker knows it: "legs/front-left", "load.mass". */
  readonly at: string;
  readonly what: string;
  readonly mend: string;
  readonly values: Readonly<Record<string, string | number>>;
}

/** A fault as it is shown. */
export const sentence = (fault: Fault): string => `${fault.at}: ${fault.what}. ${fault.mend}`;

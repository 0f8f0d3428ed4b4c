// Owns the faults of a question about fastening, as data, and the one sentence that is made of each.

/** What makes a question one that has no answer. */
export const FAULTS = [
  "no-thread",
  "unknown-thread",
  "unknown-class",
  "class-of-other-thread",
  "unknown-friction",
  "not-positive",
  "below-nothing",
  "not-a-share",
  "not-a-count",
  "two-aims",
  "no-adapter",
  "empty-layout",
  "same-place",
  "id-twice",
  "more-in-than-out",
] as const;

/** Something in the question that has no answer: where, what, and what would mend it. `values` are what the sentences are made of. */
export interface Fault {
  readonly rule: (typeof FAULTS)[number];
  /** Where in the question, as the asker knows it: "thread", "wrench", "bolts/3". */
  readonly at: string;
  readonly what: string;
  readonly mend: string;
  readonly values: Readonly<Record<string, string | number>>;
}

/** An answer, or every fault of the question at once. */
export type Answer<T> = { readonly answer: T } | { readonly faults: readonly Fault[] };

/** A fault as it is shown. */
export const sentence = (fault: Fault): string => `${fault.at}: ${fault.what}. ${fault.mend}`;

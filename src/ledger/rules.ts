// Owns the rules that entries can break, each with its id and what it says; a broken rule is a contradiction that stands until a person settles it.

import { hashOf } from "./canonical.ts";

export const RULES = {
  J1: "verified loose, and nobody is recorded to have released it",
  J2: "put together, and it was never taken apart",
  J3: "the same twice: somebody did or booked what was done already",
  J4: "locked or marked before it was tightened",
  J5: "loosened, and it was released already",
  J6: "a step back: it stood further already",
  J7: "verified made before it was refitted",
  J8: "verified by somebody who did it himself",
  J9: "two readings of its torque differ by more than the tools may",
  T1: "undone or returned, and it was not done",
  T2: "done twice without having been undone between",
  K1: "isolated twice by different people: who holds the key?",
  K2: "restored, and it was not isolated",
  K3: "restored by somebody who does not hold the key",
  P1: "brought back, and it was not away",
  P2: "put aside at two places",
  M1: "more came out than went in",
  U1: "names something that the vehicle file does not have",
  F1: "released before what must come first",
  C1: "a correction of another person's entry, by nobody who may",
  D1: "two different entries with one id",
  W1: "the shift was taken over by somebody else than it was handed to",
  G1: "lifted, and the lift gate was not passed",
  G2: "a gate was passed while something was missing",
} as const;

export type RuleId = keyof typeof RULES;

/** What contradicts what. It keeps its key however often and in whatever order its entries arrive. */
export interface Contradiction {
  /** The rule and eight digits that stand for the entries, short enough to be read out. */
  readonly key: string;
  readonly rule: RuleId;
  /** What it is about: an id of the vehicle file, an energy, a thing. */
  readonly about: string;
  /** The entries that contradict, in their order. */
  readonly entries: readonly string[];
}

export const contradiction = (rule: RuleId, about: string, ...entries: readonly string[]): Contradiction => ({
  key: `${rule}-${hashOf(entries.join("+")).slice(0, 8)}`,
  rule,
  about,
  entries,
});

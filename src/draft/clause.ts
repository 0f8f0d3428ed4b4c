// Owns the clause: what is done to one thing in one breath.

import type { Off, Tie, Verb } from "./item.ts";
import type { Language } from "./language.ts";

/** What a verb does. */
export interface Doing {
  readonly act: Verb;
  readonly lemma: string;
  /** It is done to a plug. */
  readonly unplugs: boolean;
}

export const doing = ({ act, lemma }: { readonly act: string; readonly lemma: string }, { set }: Language): Doing => ({
  act: act as Verb,
  lemma,
  unplugs: set.unplugs.has(lemma),
});

/** What is done to one thing in one breath. */
export interface Clause {
  verb?: Doing;
  /** Things named since the clause began, the verb's or not. */
  readonly refs: (Tie | Off)[];
  there: boolean;
  corrects: boolean;
  /** Not ours: a warning, a negation, the way back; of a task only its own words. */
  skip: boolean;
  task: boolean;
  /** The verb does something to it and undoes nothing: "hang the shaft up". */
  mention: boolean;
  /** "each held by": the number is of each. */
  each: boolean;
  held: boolean;
  /** "that's four bolts": of what was just named. */
  of: boolean;
  leave: boolean;
  /** "they call it the outlet pipe". */
  alias: boolean;
  /** "two bolts and the starter comes out": of what is named next. */
  forNext: boolean;
  /** Things passed over since a warning. */
  passed: number;
  /** A particle after the thing: "the hose off". */
  undone: boolean;
  /** How many things had been named by then. */
  undoneOf: number;
  readonly from: number;
}

export const clauseFrom = (from: number): Clause => ({
  refs: [],
  there: false,
  corrects: false,
  skip: false,
  task: false,
  mention: false,
  each: false,
  held: false,
  of: false,
  leave: false,
  alias: false,
  forNext: false,
  passed: 0,
  undone: false,
  undoneOf: 0,
  from,
});

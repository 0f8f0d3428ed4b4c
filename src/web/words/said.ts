// Owns what each language must say on the screens: what the English says.

import type { en } from "./en/index.ts";

/** Text stays text, a function of figures stays one: a language that lacks a word, or takes other arguments, does not compile. */
type Told<T> = {
  readonly [K in keyof T]: T[K] extends string
    ? string
    : T[K] extends (...given: infer G) => infer R
      ? (...given: G) => R extends string ? string : R
      : Told<T[K]>;
};

export type Words = Told<typeof en>;

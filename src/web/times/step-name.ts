// Owns how a step of a finish is called in the language of the page: the plan's own name of it, with what the plan adds to it.

import type { Words } from "../words/said.ts";

/** A name ends with what is done to the thing: it goes back on, it waits, it is the second time. */
export const stepName = (label: string, words: Words["times"]): string =>
  label
    .replace(/, back on(?=$|, | \[)/, () => `, ${words.back}`)
    .replace(/, waiting(?=$| \[)/, () => `, ${words.waiting}`)
    .replace(/, time (\d+)(?=$| \[)/, (_, n: string) => `, ${words.again(n)}`)
    .replace(/ \((\d+) ties?\)(?=$| \[)/, (_, n: string) => ` (${words.looks(n)})`);

// Owns the words that people write for an order of tightening: which style they mean, and in how many stages.

import type { Style } from "./sequence.ts";

/** What the words of a pattern say; a style is absent where they name none that is known. */
export interface StyleReading {
  readonly style?: Style;
  /** Shares of the stages, where a number of them is said. */
  readonly shares?: readonly number[];
  /** They name a plain order of the whole joint and no more: nothing like "on each side". */
  readonly plain: boolean;
}

const STYLE_WORDS: readonly (readonly [RegExp, Style])[] = [
  [/\b(cross|crosswise|star|diagonal(ly)?)\b/i, "cross"],
  [/\b(middle|centre|center|spiral|outwards?)\b/i, "centre outwards"],
  [/\b(balanced?)\b/i, "balanced"],
];

const NUMBERS = ["one", "two", "three", "four", "five", "six"];
const STAGES = new RegExp(String.raw`,?\s*\bin (${NUMBERS.join("|")}|\d) (?:stages?|steps?|passes)\b`, "i");

/** Shares of so many stages: 30, 60 and 100 % for three, as most texts print; else in equal parts. */
const sharesOf = (stages: number): readonly number[] =>
  stages === 3 ? [0.3, 0.6, 1] : Array.from({ length: stages }, (_, i) => (i + 1) / stages);

/** Reads "cross", "from the middle outwards", "cross in three stages", "spiral". */
export function readStyle(text: string): StyleReading {
  const staged = STAGES.exec(text);
  const written = staged?.[1]?.toLowerCase() ?? "";
  const stages = NUMBERS.indexOf(written) + 1 || Number(written);
  const rest = text.replace(STAGES, "").trim();
  const style = STYLE_WORDS.find(([pattern]) => pattern.test(rest))?.[1];
  return {
    ...(style === undefined ? {} : { style }),
    ...(stages > 0 ? { shares: sharesOf(stages) } : {}),
    plain: /^(from the |in a )?[\w-]+( outwards?| pattern)?$/i.test(rest),
  };
}

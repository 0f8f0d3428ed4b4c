// Owns what a wrong word is answered with: the nearest known one, else the list of them.

import { indexWords } from "../vehicle/index.ts";

/** More than this is no help on a screen. */
const LISTED = 12;

/** The mend for a word that is none of the known ones. */
export function mendWord(word: string, known: readonly string[], write = (one: string) => one): string {
  const near =
    indexWords(known)(word) ?? known.find((one) => word.length > 2 && (one.startsWith(word) || one.endsWith(word)));
  if (near !== undefined) return `Nearest: ${write(near)}.`;
  if (known.length === 0) return "There is none.";
  const more = known.length > LISTED ? `, and ${known.length - LISTED} more` : "";
  return `There are: ${known.slice(0, LISTED).map(write).join(", ")}${more}.`;
}

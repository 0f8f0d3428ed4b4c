// Owns the going to a place: words that say so before it.

import type { Chunk } from "./chunk.ts";
import type { Language } from "./language.ts";
import { placeAt } from "./place.ts";
import { type Reading, spanned } from "./reading.ts";
import type { Word } from "./spoken.ts";

/** "come round to", before a place. */
export function goingAt(r: Reading): Chunk | undefined {
  const { words, i, language, last } = r;
  // "the breather is on top of the axle": a thing, and nobody goes there.
  if (last?.is === "phrase" && last.to === i && language.set.copulas.is(words[i])) return undefined;
  const move = moveAt(words, i, language);
  return move === undefined ? undefined : { ...spanned(r, move), is: "move" };
}

/** Words of going somewhere before a place: how many. */
function moveAt(words: readonly Word[], i: number, language: Language): number | undefined {
  const first = language.set.moves.at(words, i);
  if (first === undefined) return undefined;
  for (let k = i + 1; k < i + 6; k += 1) {
    const word = words[k];
    if (word === undefined || word.pause >= 2) return undefined;
    // "it comes off the back of the engine": nobody goes there.
    if (language.set.departs.has(word.text) && language.set.falls.has(first.value)) return undefined;
    const placed = placeAt(words, k, language);
    // "hoses that go up to the cab", "reach the top of the gearbox".
    if (placed !== undefined)
      return placed.aside || (placed.local && language.set.reaching.has(first.value)) ? undefined : k - i;
    if (
      language.set.stop.at(words, k) === undefined &&
      language.set.particles.at(words, k) === undefined &&
      language.set.moves.at(words, k) === undefined &&
      language.set.articles.at(words, k) === undefined
    )
      return undefined;
  }
  return undefined;
}

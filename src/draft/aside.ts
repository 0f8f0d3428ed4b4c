// Owns the places that are said of a thing: where it runs, which of two it is, where on something it sits. Nobody stands there.

import type { Language } from "./language.ts";
import type { Placed } from "./place.ts";
import type { Word } from "./spoken.ts";

/** How far before a place the verb of a course may stand: "that go on up to the cab". */
const COURSE = 3;

/** Whether the place said at `i` is of a thing. */
export const isAside = (words: readonly Word[], i: number, placed: Placed, language: Language): boolean =>
  words[i]?.pause === 0 &&
  (isChoice(words, i, language) ||
    isCourse(words, i, placed, language) ||
    isInFront(words, i, placed, language) ||
    isOnIt(words, i, placed, language));

/** "the one on the left". */
const isChoice = (words: readonly Word[], i: number, { set }: Language): boolean =>
  set.one.is(words[i - 1]) || set.ones.is(words[i - 1]);

/** "from the left to the engine", "two hoses that go up to the cab". */
function isCourse(words: readonly Word[], i: number, { length }: Placed, { set }: Language): boolean {
  if (set.from.is(words[i]) && set.to.is(words[i + length])) return true;
  for (let k = i; k > i - COURSE && words[k]?.pause === 0; k -= 1)
    if (set.courses.at(words, k) !== undefined) return set.relatives.is(words[k - 1]);
  return false;
}

/** "in front of it": before a thing. */
const isInFront = (words: readonly Word[], i: number, { length }: Placed, { set }: Language): boolean =>
  set.of.is(words[i + length]) && set.pointing.is(words[i + length + 1]);

/** "bolts at the back of the gearbox", "four of them at the pack end", "a spanner on the back": of something, after a word that nobody goes by. */
function isOnIt(words: readonly Word[], i: number, { local, end }: Placed, { set }: Language): boolean {
  const before = i - 1;
  if (set.tools.at(words, before) !== undefined) return true;
  // "undo them at the pump end"
  if (end === true && set.pronouns.at(words, before) !== undefined) return true;
  return (
    (local || end === true) &&
    set.stop.at(words, before) === undefined &&
    set.moves.at(words, before) === undefined &&
    set.nobody.at(words, before) === undefined &&
    set.particles.at(words, before) === undefined &&
    !set.breaths.is(words[before])
  );
}

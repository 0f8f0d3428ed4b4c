// Owns the verbs as they are said: whether a word is one here, what it does with its particle, and whether that is not to be done.

import type { Chunk } from "./chunk.ts";
import type { Language } from "./language.ts";
import { type Phrase, phraseAt } from "./phrase.ts";
import { type Reading, spanned } from "./reading.ts";
import type { Word } from "./spoken.ts";

/** A verb; null where it is one that does nothing of ours. */
export function verbAt(r: Reading): Chunk | null | undefined {
  const { words, i, language, last, pause } = r;
  const { set } = language;
  // "the rest of the bolts", "the jack goes under": a noun behind its article.
  const isNamed = pause === 0 && set.the.is(words[i - 1]);
  const verb = isNamed ? undefined : language.verbs.at(words, i)?.value;
  if (verb === undefined || nounHere(words, i, language, phraseAt(words, i, language), last)) return undefined;
  const act = actAt(words, i, verb.does, language);
  if (act === "" || act === undefined) return null;
  // "the cable has to be unhooked": its object stands before it.
  const isPassive = words[i]?.text !== verb.lemma && set.passives.is(words[i - 1]);
  return {
    ...spanned(r, 1),
    is: "verb",
    lemma: verb.lemma,
    act,
    last: verb.last || (isPassive && pause === 0),
    negated: negatedAt(words, i, language),
  };
}

/** A particle; where it ends its clause, one that a thing follows is a preposition: "zieh ihn aus dem Halter". */
export const particleAt = (words: readonly Word[], i: number, language: Language): boolean =>
  language.set.particles.at(words, i) !== undefined &&
  !(
    language.verbSecond &&
    language.links.is(words[i]) &&
    words[i + 1]?.pause === 0 &&
    phraseAt(words, i + 1, language) !== undefined
  );

/** Whether a word that may be a verb is a noun here: "the drain plug", "split pin", "plug" after "the". */
function nounHere(
  words: readonly Word[],
  i: number,
  language: Language,
  phrase: Phrase | undefined,
  last: Chunk | undefined,
): boolean {
  if (phrase?.noun === undefined || phrase.to <= i) return false;
  if (
    language.set.describing.at(words, i) !== undefined &&
    phrase.from === i &&
    phrase.words.length > 1 &&
    ["tie", "cover", "fixing"].includes(phrase.noun.role)
  )
    return true;
  const noun = language.nouns.at(words, i);
  // "prop shaft guard"
  if (noun !== undefined && noun.length > 1) return true;
  if (noun !== undefined && phrase.to === i + noun.length)
    return noun.value.plural || last?.is === "link" || last?.is === "number";
  return false;
}

/** What a verb does with its particle, next to it or after its object; "" for nothing of ours. */
function actAt(
  words: readonly Word[],
  i: number,
  does: Readonly<Record<string, string>>,
  language: Language,
): string | undefined {
  for (let k = i + 1; k < words.length && k <= i + 9; k += 1) {
    const word = words[k];
    if (word === undefined || (word.pause >= 2 && k > i + 1) || word.pause === 3) break;
    if (k > i + 1 && language.set.andThen.has(word.text)) break;
    if (
      k > i + 1 &&
      language.verbs.at(words, k) !== undefined &&
      language.nouns.at(words, k) === undefined &&
      does[word.text] === undefined
    )
      break;
    const act = Object.hasOwn(does, word.text) && word.text !== "" ? does[word.text] : undefined;
    if (act !== undefined && particleAt(words, k, language)) return act;
  }
  return does[""];
}

function negatedAt(words: readonly Word[], i: number, language: Language): boolean {
  for (let k = i - 1; k >= 0 && k >= i - 4; k -= 1) {
    const next = words[k + 1];
    if (next === undefined || (next.pause > 0 && k + 1 < i)) return false;
    if (language.set.remind.at(words, k) !== undefined) return false;
    if (k > 0 && language.set.remind.at(words, k - 1) !== undefined) return false;
    if (language.set.not.at(words, k) !== undefined) return true;
  }
  return false;
}

// Owns the signs: what a whole phrase says of what stands around it ("that's everything", "same on", "held by"), and where such words are none.

import type { Chunk } from "./chunk.ts";
import type { Language } from "./language.ts";
import { numberAt, phraseAt } from "./phrase.ts";
import type { Found } from "./phrases.ts";
import { type Reading, spanned } from "./reading.ts";
import type { Word } from "./spoken.ts";
import type { Sets } from "./words.ts";

/** What the sets of the language are to the grammar, the first that fits. */
const SIGNS = [
  "closing",
  "final",
  "erase",
  "correct",
  "remind",
  "same",
  "eachSide",
  "back",
  "leave",
  "alias",
  "beware",
  "there",
  "held",
] as const satisfies readonly Sets[];
export type Sign = (typeof SIGNS)[number];

/** The signs that a word may begin, in their order: of most words there are none. */
function signsBy(language: Language): ReadonlyMap<string, readonly Sign[]> {
  const known = signs.get(language);
  if (known !== undefined) return known;
  const made = new Map<string, Sign[]>();
  for (const sign of SIGNS)
    for (const first of language.set[sign].firsts) made.set(first, [...(made.get(first) ?? []), sign]);
  signs.set(language, made);
  return made;
}
const signs = new WeakMap<Language, ReadonlyMap<string, readonly Sign[]>>();

/** A sign of the language's lists, or what comes to the same. */
export const signAt = (r: Reading): Chunk | undefined => listedAt(r) ?? fastenedAt(r) ?? freedAt(r) ?? neverAt(r);

const signed = (r: Reading, length: number, sign: Sign, said: string): Chunk => ({
  ...spanned(r, length),
  is: "sign",
  sign,
  said,
});

function listedAt(r: Reading): Chunk | undefined {
  const { words, i, language } = r;
  for (const sign of signsBy(language).get(words[i]?.text ?? "") ?? []) {
    const found = language.set[sign].at(words, i);
    if (found !== undefined && !isOtherwise(r, sign, found)) return signed(r, found.length, sign, found.value);
  }
  return undefined;
}

/** Whether the words of a sign say something else here: "with", "that's all the bolts". */
function isOtherwise(
  { words, i, language, last, pause }: Reading,
  sign: Sign,
  { length, value }: Found<string>,
): boolean {
  const { set, verbs, tasks } = language;
  switch (sign) {
    case "back":
      return last?.is === "verb";
    // "the battery we have disconnected"
    case "there":
      return set.possessing.has(value) && verbs.at(words, i + length) !== undefined;
    // "unbolt the pump and lift it out"
    case "final":
      return set.finalActs.has(value) && (pause < 2 || set.not.is(words[i - 1]));
    // "it has the weight": a task.
    case "held":
      return (
        [1, 2].some((k) => k < length && tasks.at(words, i + k) !== undefined) ||
        phraseAt(words, i + length, language) === undefined
      );
    case "leave":
      return (
        set.leaveObject.has(value) &&
        phraseAt(words, i + 1, language) === undefined &&
        numberAt(words, i + 1, language) === undefined &&
        set.pronouns.at(words, i + 1) === undefined
      );
    case "correct":
      return pause === 0 && words[i + 1]?.pause === 0 && set.notCorrecting.at(words, i) !== undefined;
    default:
      return false;
  }
}

/** "is tied on with three zip ties", "is bolted to the gearbox": how it is held. */
function fastenedAt(r: Reading): Chunk | undefined {
  const { words, i, pause, language } = r;
  const { set } = language;
  if (!set.passives.is(words[i - 1]) || pause > 0) return undefined;
  const verb = language.verbs.at(words, i)?.value;
  if (verb === undefined || words[i]?.text === verb.lemma) return undefined;
  const on = set.particles.is(words[i + 1]) || set.heldOn.is(words[i + 1]) ? 1 : 0;
  const by = i + 1 + on;
  const isBy = set.heldOn.is(words[by]) && phraseAt(words, by + 1, language)?.noun?.role === "fixing";
  const length = isBy ? 2 + on : set.dual.has(verb.lemma) ? 1 : 0;
  return length === 0 ? undefined : signed(r, length, "held", textOf(words, i, length));
}

/** "the module is free": what is to come out. */
function freedAt(r: Reading): Chunk | undefined {
  const { words, i, last, language } = r;
  const isLoad = last?.is === "phrase" && last.phrase.noun?.role === "assembly" && last.to === i - 1;
  return isLoad && language.set.freed.is(words[i]) && language.set.copulas.is(words[i - 1])
    ? signed(r, 1, "final", words[i]?.text ?? "")
    : undefined;
}

/** "do not disturb the anchors": whatever is not to be done. */
function neverAt(r: Reading): Chunk | undefined {
  const { words, i, language } = r;
  const never = language.set.never.at(words, i);
  if (never === undefined) return undefined;
  const next = i + never.length;
  return language.verbs.at(words, next) === undefined && words[next]?.pause === 0
    ? signed(r, never.length + 1, "beware", never.value)
    : undefined;
}

const textOf = (words: readonly Word[], from: number, length: number): string =>
  words
    .slice(from, from + length)
    .map(({ text }) => text)
    .join(" ");

// Owns the first reading of the words: what each stretch of them is, the longest that fits: a verb of the trade, a thing, a place, a closing remark.

import { goingAt } from "./going.ts";
import type { Language } from "./language.ts";
import { forgetPhrases, numberAt, type Phrase, phraseAt, sizeAt } from "./phrase.ts";
import type { Found } from "./phrases.ts";
import { type Placed, placeAt } from "./place.ts";
import { type Reading, spanned } from "./reading.ts";
import { type Sign, signAt } from "./sign.ts";
import type { Pause, Word } from "./spoken.ts";
import { particleAt, verbAt } from "./verb.ts";

export type Chunk = { readonly from: number; readonly to: number; readonly pause: Pause } & (
  | { readonly is: "phrase"; readonly phrase: Phrase }
  | {
      readonly is: "verb";
      readonly lemma: string;
      readonly act: string;
      readonly last: boolean;
      readonly negated: boolean;
    }
  | { readonly is: "task"; readonly does: string }
  | { readonly is: "pronoun"; readonly many: boolean; readonly which: string }
  | { readonly is: "another"; readonly count: number }
  | { readonly is: "number"; readonly value: number }
  | { readonly is: "torque"; readonly text: string }
  | { readonly is: "link"; readonly link: string }
  | { readonly is: "place"; readonly placed: Placed; readonly moved: boolean }
  | { readonly is: "move" }
  | { readonly is: "is" }
  | { readonly is: "each" }
  | { readonly is: "particle"; readonly particle: string }
  | { readonly is: "then" }
  | { readonly is: "sign"; readonly sign: Sign; readonly said: string }
);

/** What the words are, in their order; what is none of it is passed over. */
export function chunksOf(words: readonly Word[], language: Language): Chunk[] {
  const chunks: Chunk[] = [];
  for (let i = 0; i < words.length; ) {
    const word = words[i];
    if (word === undefined) break;
    const found = chunkAt(words, i, language, chunks.at(-1));
    if (found === undefined) {
      // The pause before a word that is nothing belongs to what follows.
      const next = words[i + 1];
      if (next !== undefined && next.pause < word.pause && word.pause > 0) {
        (words as Word[])[i + 1] = { ...next, pause: word.pause };
        forgetPhrases(words, i + 1);
      }
      i += 1;
      continue;
    }
    chunks.push(found);
    i = found.to;
  }
  return chunks;
}

/** Reads one thing at a stretch; null where the words are nothing of ours whatever else they might be. */
type Read = (r: Reading) => Chunk | null | undefined;

/** What a stretch of words may be, the first that fits. */
const READ: readonly Read[] = [
  torqueAt,
  signAt,
  (r) => found(taskAt(r), ({ length, value }) => ({ ...spanned(r, length), is: "task", does: value })),
  goingAt,
  placedAt,
  (r) => (r.language.set.then.is(r.words[r.i]) ? { ...spanned(r, 1), is: "then" } : undefined),
  anotherAt,
  linkAt,
  verbAt,
  isAt,
  thingAt,
  pronounAt,
  (r) => (r.language.set.each.is(r.words[r.i]) ? { ...spanned(r, 1), is: "each" } : undefined),
  (r) =>
    found(r.language.set.particles.at(r.words, r.i), ({ length, value }) => ({
      ...spanned(r, length),
      is: "particle",
      particle: value,
    })),
  numberedAt,
];

function chunkAt(words: readonly Word[], i: number, language: Language, last: Chunk | undefined): Chunk | undefined {
  const r: Reading = { words, i, language, last, pause: words[i]?.pause ?? 0 };
  if (words[i + 1]?.joined) return found(phraseAt(words, i, language), (phrase) => named(r, phrase));
  for (const read of READ) {
    const chunk = read(r);
    if (chunk !== undefined) return chunk ?? undefined;
  }
  return undefined;
}

const found = <T>(what: T | undefined, make: (what: T) => Chunk): Chunk | undefined =>
  what === undefined ? undefined : make(what);

const named = ({ i, pause }: Reading, phrase: Phrase): Chunk => ({
  from: i,
  to: phrase.to,
  pause,
  is: "phrase",
  phrase,
});

function torqueAt(r: Reading): Chunk | undefined {
  const { words, i, language } = r;
  const number = numberAt(words, i, language);
  if (number === undefined) return undefined;
  return found(language.torques.at(words, i + number.length), (unit) => ({
    ...spanned(r, number.length + unit.length),
    is: "torque",
    text: `${number.value} ${unit.value}`,
  }));
}

/** A task; "i opened the battery disconnect" has an article before its words. */
function taskAt({ words, i, language, last }: Reading): Found<string> | undefined {
  const { tasks, set } = language;
  // "we don't lift it out"
  if (set.not.is(words[i - 1]) && words[i]?.pause === 0) return undefined;
  const task = tasks.at(words, i) ?? emptiedAt(words, i, language);
  // "take the switch off": a thing.
  if (task !== undefined || !set.the.is(words[i]) || words[i + 1]?.pause !== 0 || last?.is === "verb") return task;
  const named = tasks.at(words, i + 1);
  return named === undefined || named.length < 2 ? undefined : { length: named.length + 1, value: named.value };
}

/** "coolant out", "the oil is out": drained already; "water out hose" is a thing. */
function emptiedAt(words: readonly Word[], i: number, language: Language): Found<string> | undefined {
  const { set, fluids, nouns } = language;
  const fluid = fluids.at(words, i);
  if (fluid === undefined || nouns.is(words[i - 1])) return undefined;
  let at = i + fluid.length;
  const isSaid = set.copulas.is(words[at]);
  if (isSaid) at += 1;
  const isOut = words[at]?.pause === 0 && set.emptied.is(words[at]);
  return isOut && nouns.at(words, at + 1) === undefined ? { length: at + 1 - i, value: "drain" } : undefined;
}

function placedAt(r: Reading): Chunk | undefined {
  return found(placeAt(r.words, r.i, r.language), (placed) => ({
    ...spanned(r, placed.length),
    is: "place",
    placed,
    moved: r.last?.is === "move",
  }));
}

/** "another two", "two more", where no thing is named with them. */
function anotherAt(r: Reading): Chunk | undefined {
  const { words, i, language } = r;
  const { set } = language;
  const another = set.another.at(words, i);
  const number = numberAt(words, i + (another?.length ?? 0), language);
  const isMore = another === undefined && number !== undefined && set.further.is(words[i + number.length]);
  if ((another === undefined && !isMore) || phraseAt(words, i, language)?.noun !== undefined) return undefined;
  return {
    ...spanned(r, (another?.length ?? 1) + (number?.length ?? 0)),
    is: "another",
    count: number?.value ?? 1,
  };
}

/** What a link may stand behind. */
const LINKED: readonly Chunk["is"][] = ["phrase", "particle", "pronoun", "verb", "place", "number", "another", "link"];

function linkAt(r: Reading): Chunk | undefined {
  const { words, i, language, last, pause } = r;
  const link = language.links.at(words, i) ?? genitiveAt(r);
  if (link === undefined || last === undefined || pause >= 2 || !LINKED.includes(last.is)) return undefined;
  // "hold down bolts": the longer one is a name.
  if ((language.nouns.at(words, i)?.length ?? 0) > link.length) return undefined;
  // "pull off the hose": the verb's own particle.
  if (last.is === "verb" && !language.set.selfMoving.has(last.lemma) && particleAt(words, i, language))
    return undefined;
  const what = words[i + link.length]?.pause === 0 ? phraseAt(words, i + link.length, language) : undefined;
  return what === undefined ? undefined : { ...spanned(r, link.length), is: "link", link: link.value };
}

/** "der Stecker der Pumpe": an article that says of what. */
const genitiveAt = ({ words, i, language, last, pause }: Reading): Found<string> | undefined =>
  last?.is === "phrase" && last.to === i && pause === 0 && language.set.genitive.is(words[i])
    ? { length: 1, value: "of" }
    : undefined;

function isAt(r: Reading): Chunk | undefined {
  const { words, i, language } = r;
  const is = language.set.is.at(words, i);
  return is === undefined || phraseAt(words, i + is.length, language) === undefined
    ? undefined
    : { ...spanned(r, is.length), is: "is" };
}

/** A thing, or "the left one". */
function thingAt(r: Reading): Chunk | null | undefined {
  const { words, i, language } = r;
  const { set } = language;
  const phrase = phraseAt(words, i, language);
  if (phrase === undefined || (phrase.noun === undefined && set.particles.at(words, i))) return undefined;
  if (phrase.noun !== undefined) return named(r, phrase);
  // "I hate these": what somebody does, and no thing.
  const isBare = phrase.words.length === phrase.to - i;
  if (isBare && (set.subjects.is(words[i - 1]) || set.nobody.at(words, i - 1) !== undefined)) return null;
  return isChoice(r, phrase)
    ? {
        ...spanned(r, phrase.to + 1 - i),
        is: "pronoun",
        many: set.ones.is(words[phrase.to]),
        which: phrase.words.join(" "),
      }
    : named(r, phrase);
}

/** "the left one"; "the anodes, one on each side", "the leg, one bolt each": no one of them is meant. */
function isChoice({ words, language }: Reading, { to, words: said }: Phrase): boolean {
  const { set, contrasts, forms } = language;
  const last = said.at(-1) ?? "";
  const isThings = !contrasts.has(last) && language.unknownSingular(last) !== undefined && forms.isNoun(last);
  return (
    (set.one.is(words[to]) || set.ones.is(words[to])) &&
    words[to]?.pause === 0 &&
    !isThings &&
    language.nouns.at(words, to + 1) === undefined
  );
}

function pronounAt(r: Reading): Chunk | undefined {
  const { words, i, language } = r;
  const { manyPronouns, whichPronouns, pronouns } = language.set;
  const pronoun = pronouns.at(words, i);
  if (pronoun === undefined || isAddress(words, i, language)) return undefined;
  const { length, value } = pronoun;
  return {
    ...spanned(r, length),
    is: "pronoun",
    many: manyPronouns.has(value),
    which: whichPronouns.has(value) ? value : "",
  };
}

/** "ziehen Sie den Schlauch": who is spoken to, and not what is spoken of. */
const isAddress = (words: readonly Word[], i: number, language: Language): boolean =>
  language.set.formal.is(words[i]) && words[i + 1]?.pause === 0 && phraseAt(words, i + 1, language) !== undefined;

function numberedAt(r: Reading): Chunk | undefined {
  const { words, i, language } = r;
  const number = numberAt(words, i, language);
  return number === undefined || sizeAt(words, i, language) > 0
    ? undefined
    : { ...spanned(r, number.length), is: "number", value: number.value };
}

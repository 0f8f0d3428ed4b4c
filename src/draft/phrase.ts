// Owns the noun phrase: "the two 10 mil heater hoses", "another clip", "that one", with its number, its head and its describing words.

import type { Language, Noun } from "./language.ts";
import type { Word } from "./spoken.ts";

export interface Phrase {
  /** Words from the first to the end. */
  readonly from: number;
  readonly to: number;
  /** Describing words and head, as said. */
  readonly words: readonly string[];
  readonly noun?: Noun;
  /** Describing words before the head. */
  readonly before: readonly string[];
  readonly count?: number;
  /** "another", "the other": one more of the same. */
  readonly more: boolean;
  readonly definite: boolean;
  readonly plural: boolean;
  /** A tool, or another thing that ties nothing. */
  readonly nothing: boolean;
}

const SIZE = /^m\d+(?:[x×]\d+)?$/;

interface Numbered {
  readonly length: number;
  readonly value: number;
}

/** A number at `i`: digits, words, "twenty four", "six hundred and ten". */
export function numberAt(words: readonly Word[], i: number, language: Language): Numbered | undefined {
  const { hundreds, and } = language.set;
  const first = belowHundred(words, i, language);
  const at = i + (first?.length ?? 0);
  if (first === undefined || first.value > 9 || words[at]?.pause !== 0 || !hundreds.has(words[at]?.text)) return first;
  const joint = and.has(words[at + 1]?.text) ? 1 : 0;
  const rest = words[at + 1]?.pause === 0 ? belowHundred(words, at + 1 + joint, language) : undefined;
  return rest === undefined || rest.value > 99
    ? { length: at + 1 - i, value: first.value * 100 }
    : { length: at + 1 + joint + rest.length - i, value: first.value * 100 + rest.value };
}

function belowHundred(words: readonly Word[], i: number, language: Language): Numbered | undefined {
  const word = words[i];
  if (word === undefined) return undefined;
  if (/^\d{1,3}$/.test(word.text)) return { length: 1, value: Number(word.text) };
  const tens = language.tens.get(word.text);
  const unit = language.numbers.at(words, i + 1);
  if (tens !== undefined)
    return unit !== undefined && unit.value < 10 && unit.value > 0 && words[i + 1]?.pause === 0
      ? { length: 1 + unit.length, value: tens + unit.value }
      : { length: 1, value: tens };
  return language.numbers.at(words, i);
}

/** A size ("10 mil", "M8", "13 mm") at `i`, in words. */
export function sizeAt(words: readonly Word[], i: number, language: Language): number {
  const said = words[i]?.text ?? "";
  if (SIZE.test(said) || language.set.sizes.has(/^\d+(\p{L}+)$/u.exec(said)?.[1])) return 1;
  const number = numberAt(words, i, language);
  if (number === undefined) return 0;
  const unit = language.set.sizes.at(words, i + number.length);
  return unit === undefined ? 0 : number.length + unit.length;
}

/** Whether no name goes on at `i`. */
const ends = (words: readonly Word[], i: number, language: Language): boolean =>
  (words[i]?.pause ?? 3) > 0 ||
  language.set.stop.at(words, i) !== undefined ||
  language.links.at(words, i) !== undefined ||
  language.set.articles.at(words, i) !== undefined ||
  numberAt(words, i, language) !== undefined;

/** Phrases that were looked for, by where: each is asked for up to ten times. */
const looked = new WeakMap<readonly Word[], Map<number, Phrase | undefined>>();

/** The pause before the word at `i` is another one now: what was found there is looked for anew. */
export function forgetPhrases(words: readonly Word[], i: number): void {
  const known = looked.get(words);
  for (let k = i - 8; k <= i; k += 1) known?.delete(k);
}

/** The noun phrase that begins at `i`, if one does. */
export function phraseAt(words: readonly Word[], i: number, language: Language): Phrase | undefined {
  let known = looked.get(words);
  if (known === undefined) {
    known = new Map();
    looked.set(words, known);
  }
  if (known.has(i)) return known.get(i);
  const phrase = lookAt(words, i, language);
  known.set(i, phrase);
  return phrase;
}

function lookAt(words: readonly Word[], i: number, language: Language): Phrase | undefined {
  const { set } = language;
  let at = i;
  let definite = false;
  let more = false;
  let count: number | undefined;
  let opened = false;
  let distributed = false;
  let isCounted = false;
  const open = (length: number) => {
    at += length;
    opened = true;
  };
  for (;;) {
    if (at > i && (words[at]?.pause ?? 3) >= (isCounted ? 2 : 3)) break;
    if (words[at + 1]?.joined) break;
    const size = sizeAt(words, at, language);
    // "grease lines, three, ten mil spanners"
    if (size > 0 && count !== undefined && (words[at]?.pause ?? 0) > 0) break;
    if (size > 0) {
      open(size);
      continue;
    }
    const number = numberAt(words, at, language);
    if (number !== undefined && number.value > 0 && count === undefined) {
      // "the one clip", "one of the clips"; "one" alone is no number of things.
      const of = set.of.has(words[at + number.length]?.text) ? 1 : 0;
      // "position two, the right side": no two of what follows.
      if (of === 0 && set.the.has(words[at + number.length]?.text) && !set.whole.has(words[at]?.text)) return undefined;
      count = number.value;
      isCounted = true;
      open(number.length + of);
      continue;
    }
    const another = set.more.at(words, at);
    if (another !== undefined && (opened || set.moreOpening.has(another.value))) {
      more ||= set.moreOfSame.has(another.value);
      open(another.length);
      continue;
    }
    const article = set.articles.at(words, at);
    // "four each": the number is of each, and what follows is another thing.
    if (article !== undefined && set.distributing.has(article.value) && (count !== undefined || opened)) break;
    if (article !== undefined && distributed) return undefined;
    if (article !== undefined) {
      distributed = set.distributing.has(article.value);
      if (distributed && (words[at + article.length]?.pause ?? 3) > 0) return undefined;
      // "unplug that. Shock absorber …": it stands for something by itself.
      const after = words[at + article.length];
      if (set.demonstratives.has(article.value) && ((after?.pause ?? 3) > 0 || set.the.has(after?.text)))
        return undefined;
      definite ||= set.definite.has(article.value);
      open(article.length);
      continue;
    }
    const word = words[at]?.text ?? "";
    const heard = language.homophones.get(word);
    const next = language.nouns.at(words, at + 1);
    if ((opened || set.sureHomophones.has(word)) && count === undefined && heard !== undefined && next?.value.plural) {
      count = heard;
      open(1);
      continue;
    }
    break;
  }
  // "the upper and lower cooler lines": two, and one name.
  const by = language.contrasts.get(words[at]?.text ?? "");
  const isPair =
    by !== undefined && set.and.has(words[at + 1]?.text) && language.contrasts.get(words[at + 2]?.text ?? "") === by;
  if (isPair) open(2);
  // The run of words that may belong to its name, to the last known noun in it.
  let end = at;
  let head: { noun: Noun; from: number; to: number } | undefined;
  let k = at;
  let nothing = false;
  while (k < words.length && k < at + 8) {
    const word = words[k];
    if (word === undefined) break;
    const noun = language.nouns.at(words, k);
    if (k > at) {
      // A recogniser puts stops into a name; after a known noun, or before what is none, they part.
      if (word.pause >= 2 || (word.pause > 0 && (head !== undefined || noun === undefined || !opened))) break;
    } else if (opened && word.pause === 3) break;
    else if (opened && word.pause > 0 && noun === undefined) break;
    const size = sizeAt(words, k, language);
    if (size > 0) {
      k += size;
      continue;
    }
    const tool = language.set.tools.at(words, k);
    const of = tool === undefined ? undefined : language.nouns.at(words, k + tool.length)?.value.role;
    if (tool !== undefined && of !== "fixing" && (noun === undefined || noun.length <= tool.length)) {
      // "with the thirty two spanner": nothing is tied by it.
      end = k + tool.length;
      nothing = true;
      break;
    }
    // What a thing is called ends with it: "upper hose lower hose" are two, "gearbox mount bolts" one.
    if (head !== undefined && noun === undefined && word.pause === 0) {
      // "flange type": how it is made, and no flange.
      if (language.set.kindly.at(words, k) !== undefined) nothing = true;
      // "the coupling halves": one name, whose last word no list has.
      else if (
        !head.noun.plural &&
        ends(words, k + 1, language) &&
        language.forms.isNoun(word.text) &&
        language.verbs.at(words, k) === undefined &&
        language.set.stop.at(words, k) === undefined
      )
        end = k + 1;
    }
    if (
      head !== undefined &&
      (noun === undefined ? !["part", "assembly", "fixed"].includes(head.noun.role) : head.noun.plural)
    )
      break;
    const follows = (from: number): boolean =>
      language.nouns.at(words, from) !== undefined && (words[from]?.pause ?? 1) === 0;
    const verb = language.verbs.at(words, k);
    // "the motor stays": a verb.
    if (
      noun !== undefined &&
      set.verbLike.has(noun.value.name) &&
      (head !== undefined ||
        (noun.value.plural && k > at && count === undefined) ||
        set.subjects.has(words[k - 1]?.text) ||
        (k > at && language.unknownSingular(words[k - 1]?.text ?? "") !== undefined))
    )
      break;
    if (noun !== undefined) {
      const next = words[k + 1];
      const hasObject =
        next?.pause === 0 &&
        (language.set.pronouns.at(words, k + 1) !== undefined || language.set.articles.at(words, k + 1) !== undefined);
      const asVerb =
        noun.length === 1 &&
        verb !== undefined &&
        (language.set.dual.at(words, k) === undefined || hasObject) &&
        (!noun.value.plural || (language.set.dual.at(words, k) !== undefined && hasObject)) &&
        !opened &&
        k === at &&
        !follows(k + noun.length);
      if (asVerb) break;
      head = { noun: noun.value, from: k, to: k + noun.length };
      k += noun.length;
      end = k;
      continue;
    }
    if (words[k + 1]?.joined) {
      k += 1;
      continue;
    }
    const stop = language.set.stop.at(words, k);
    if (stop !== undefined) {
      // "the back mount", "the inside panel".
      if (set.stopsInNames.has(stop.value) && follows(k + stop.length)) {
        k += stop.length;
        continue;
      }
      break;
    }
    // "lower radiator hose", "shift cable": it describes.
    const describes =
      k === at &&
      language.set.describing.at(words, k) !== undefined &&
      language.set.articles.at(words, k + 1) === undefined &&
      (follows(k + 1) || (words[k + 1]?.pause === 0 && follows(k + 2)));
    if (
      verb !== undefined &&
      !describes &&
      !((opened || k > at) && (follows(k + 1) || (words[k + 1]?.pause === 0 && follows(k + 2))))
    )
      break;
    if (language.set.particles.at(words, k) || language.set.articles.at(words, k) || language.set.nobody.at(words, k))
      break;
    const inner = numberAt(words, k, language);
    // "the upper three bolts"
    if (
      inner !== undefined &&
      head === undefined &&
      count === undefined &&
      k > at &&
      inner.value > 1 &&
      follows(k + inner.length)
    ) {
      count = inner.value;
      k += inner.length;
      continue;
    }
    if (inner !== undefined) break;
    if (head !== undefined && !follows(k + 1)) break;
    if (!language.forms.names(word.text)) {
      if (!follows(k + 1)) break;
    }
    k += 1;
    if (head === undefined) end = k;
  }
  if (end === at) return undefined;
  // "zwei Stecker", "die Stecker": the number or the article says that there are several.
  if (head?.noun.alike && ((count ?? 1) > 1 || set.manyArticles.has(words[i]?.text)))
    head = { ...head, noun: { ...head.noun, plural: true } };
  // "fuel pipes, two, lift pump plug": the number is of what came before.
  if (head !== undefined && !head.noun.plural && count !== undefined && count > 1 && !nothing) return undefined;
  // "pull those upper hose off": what was named, and then another thing.
  if (head !== undefined && !head.noun.plural && count === undefined && set.demonstrativesMany.has(words[i]?.text))
    return undefined;
  // "that stays on" is no kind of stays.
  if (head?.noun.plural === true && count === undefined && set.singulars.has(words[i]?.text)) return undefined;
  const name = words
    .slice(at, end)
    .map(({ text }) => text)
    .filter((text) => !SIZE.test(text));
  return {
    from: i,
    to: end,
    words: name,
    nothing,
    ...(head === undefined || nothing ? {} : { noun: head.noun }),
    before: head === undefined || nothing ? name.slice(0, -1) : words.slice(at, head.from).map(({ text }) => text),
    ...(count === undefined ? (isPair && head?.noun.plural === true ? { count: 2 } : {}) : { count }),
    more,
    definite,
    plural: head?.noun.plural ?? false,
  };
}

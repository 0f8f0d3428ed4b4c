// Owns the noun phrase: "the two 10 mil heater hoses", "another clip", "that one", with its number, its head and its describing words.

import type { Language, Noun } from "./language.ts";
import type { Found } from "./phrases.ts";
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

/** Asked of every word many times, so without a pattern. */
const beginsWithDigit = (text: string): boolean => {
  const code = text.charCodeAt(0);
  return code > 47 && code < 58;
};

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
  if (first === undefined || first.value > 9 || words[at]?.pause !== 0 || !hundreds.is(words[at])) return first;
  const joint = and.is(words[at + 1]) ? 1 : 0;
  const rest = words[at + 1]?.pause === 0 ? belowHundred(words, at + 1 + joint, language) : undefined;
  return rest === undefined || rest.value > 99
    ? { length: at + 1 - i, value: first.value * 100 }
    : { length: at + 1 + joint + rest.length - i, value: first.value * 100 + rest.value };
}

function belowHundred(words: readonly Word[], i: number, language: Language): Numbered | undefined {
  const word = words[i];
  if (word === undefined) return undefined;
  if (beginsWithDigit(word.text) && /^\d{1,3}$/.test(word.text)) return { length: 1, value: Number(word.text) };
  const tens = language.tens.get(word.text);
  if (tens === undefined) return language.numbers.at(words, i);
  const unit = language.numbers.at(words, i + 1);
  return unit !== undefined && unit.value < 10 && unit.value > 0 && words[i + 1]?.pause === 0
    ? { length: 1 + unit.length, value: tens + unit.value }
    : { length: 1, value: tens };
}

/** A size ("10 mil", "M8", "13 mm") at `i`, in words. */
export function sizeAt(words: readonly Word[], i: number, language: Language): number {
  const said = words[i]?.text ?? "";
  if (said.startsWith("m") && SIZE.test(said)) return 1;
  if (beginsWithDigit(said) && language.set.sizes.has(/^\d+(\p{L}+)$/u.exec(said)?.[1])) return 1;
  const number = numberAt(words, i, language);
  if (number === undefined) return 0;
  const end = i + number.length;
  const isMade = number.value > 1 && language.set.poles.is(words[end]) && words[end + 1]?.pause === 0;
  if (isMade && language.nouns.at(words, end + 1)?.value.role === "tie") return number.length + 1;
  const unit = language.set.sizes.at(words, end);
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
  const { set, contrasts } = language;
  const opening = openingAt(words, i, language);
  if (opening === undefined) return undefined;
  // "the upper and lower cooler lines": two, and one name.
  const by = contrasts.get(words[opening.at]?.text ?? "");
  const isPair =
    by !== undefined && set.and.is(words[opening.at + 1]) && contrasts.get(words[opening.at + 2]?.text ?? "") === by;
  if (isPair) {
    opening.at += 2;
    opening.opened = true;
  }
  const name = nameAt(words, opening, language);
  if (name.end === opening.at || isOther(words, i, name, language)) return undefined;
  const { at, definite, more } = opening;
  const { end, nothing, count } = name;
  // "zwei Stecker", "die Stecker": the number or the article says that there are several.
  const isMany = name.head?.noun.alike && ((count ?? 1) > 1 || set.manyArticles.is(words[i]));
  const head =
    name.head !== undefined && isMany ? { ...name.head, noun: { ...name.head.noun, plural: true } } : name.head;
  const said = words
    .slice(at, end)
    .map(({ text }) => text)
    .filter((text) => !SIZE.test(text));
  return {
    from: i,
    to: end,
    words: said,
    nothing,
    ...(head === undefined || nothing ? {} : { noun: head.noun }),
    before: head === undefined || nothing ? said.slice(0, -1) : words.slice(at, head.from).map(({ text }) => text),
    ...(count === undefined ? (isPair && head?.noun.plural === true ? { count: 2 } : {}) : { count }),
    more,
    definite,
    plural: head?.noun.plural ?? false,
  };
}

/** Whether the number or the article is of something else, and not of this name. */
function isOther(words: readonly Word[], i: number, { head, count, nothing }: Name, { set }: Language): boolean {
  if (head === undefined) return false;
  const said = words[i]?.text;
  const isPlural = head.noun.plural || (head.noun.alike && ((count ?? 1) > 1 || set.manyArticles.has(said)));
  // "that stays on" is no kind of stays.
  if (isPlural) return count === undefined && set.singulars.has(said);
  // "fuel pipes, two, lift pump plug": the number is of what came before.
  // "pull those upper hose off": what was named, and then another thing.
  return count === undefined ? set.demonstrativesMany.has(said) : count > 1 && !nothing;
}

/** What stands before a name, as far as it was read: article, number, "another", a size. */
interface Opening {
  at: number;
  opened: boolean;
  definite: boolean;
  more: boolean;
  isArticled: boolean;
  count: number | undefined;
  /** By a number, and by no word that only sounds like one. */
  isCounted: boolean;
  /** "each": the number before it was of each. */
  distributed: boolean;
}

/** What words are to an opening: read, the beginning of the name, no phrase at all; undefined, not what was asked. */
type Read = "on" | "name" | "none" | undefined;

/** Undefined where what is said there is no phrase. */
function openingAt(words: readonly Word[], i: number, language: Language): Opening | undefined {
  const o: Opening = {
    at: i,
    opened: false,
    definite: false,
    more: false,
    isArticled: false,
    count: undefined,
    isCounted: false,
    distributed: false,
  };
  for (;;) {
    if (o.at > i && (words[o.at]?.pause ?? 3) >= (o.isCounted ? 2 : 3)) return o;
    if (words[o.at + 1]?.joined) return o;
    const read =
      readFigure(words, o, language) ??
      readMore(words, o, language) ??
      readArticle(words, o, language) ??
      readHomophone(words, o, language);
    if (read === "none") return undefined;
    if (read !== "on") return o;
  }
}

const open = (o: Opening, length: number): Read => {
  o.at += length;
  o.opened = true;
  return "on";
};

/** A size, or how many. */
function readFigure(words: readonly Word[], o: Opening, language: Language): Read {
  const { set, nouns } = language;
  const { at } = o;
  const size = sizeAt(words, at, language);
  // "grease lines, three, ten mil spanners"
  if (size > 0 && o.count !== undefined && (words[at]?.pause ?? 0) > 0) return "name";
  if (size > 0) return open(o, size);
  const number = numberAt(words, at, language);
  if (number === undefined || number.value <= 0 || o.count !== undefined) return undefined;
  // "the one clip", "one of the clips"; "one" alone is no number of things.
  const of = set.of.is(words[at + number.length]) ? 1 : 0;
  // "position two, the right side": no two of what follows.
  if (of === 0 && set.the.is(words[at + number.length]) && !set.whole.is(words[at])) return "none";
  o.count = number.value;
  o.isCounted = true;
  const next = at + number.length + of;
  // "eight of them bolts"
  const them =
    of === 1 &&
    set.manyPronouns.is(words[next]) &&
    words[next + 1]?.pause === 0 &&
    nouns.at(words, next + 1)?.value.plural;
  return open(o, number.length + of + (them ? 1 : 0));
}

function readMore(words: readonly Word[], o: Opening, { set }: Language): Read {
  const another = set.more.at(words, o.at);
  if (another === undefined || !(o.opened || set.moreOpening.has(another.value))) return undefined;
  o.more ||= set.moreOfSame.has(another.value);
  return open(o, another.length);
}

function readArticle(words: readonly Word[], o: Opening, { set, positions }: Language): Read {
  const article = set.articles.at(words, o.at);
  if (article === undefined) return undefined;
  // "four each": the number is of each, and what follows is another thing.
  if (set.distributing.has(article.value) && (o.count !== undefined || o.opened)) return "name";
  // "with a ten millimetre, the heater plug"
  if (o.distributed || (o.isArticled && set.the.is(words[o.at]))) return "none";
  const after = words[o.at + article.length];
  o.distributed = set.distributing.has(article.value);
  if (o.distributed && (after?.pause ?? 3) > 0) return "none";
  // "unplug that. Shock absorber …": it stands for something by itself.
  if (set.demonstratives.has(article.value) && ((after?.pause ?? 3) > 0 || set.the.has(after?.text))) return "none";
  // "cut those, right hand side"
  if (set.demonstrativesMany.has(article.value) && (positions.at(words, o.at + article.length)?.length ?? 0) > 1)
    return "none";
  o.definite ||= set.definite.has(article.value);
  o.isArticled ||= set.the.has(article.value) || set.indefinite.has(article.value);
  return open(o, article.length);
}

function readHomophone(words: readonly Word[], o: Opening, { set, homophones, nouns }: Language): Read {
  const word = words[o.at]?.text ?? "";
  const heard = homophones.get(word);
  if (heard === undefined || o.count !== undefined || !(o.opened || set.sureHomophones.has(word))) return "name";
  if (nouns.at(words, o.at + 1)?.value.plural !== true) return "name";
  o.count = heard;
  return open(o, 1);
}

/** A name as far as it was read: the run of words that may belong to it, to the last known noun in it. */
interface Name {
  /** Where the next word stands. */
  k: number;
  end: number;
  head: { readonly noun: Noun; readonly from: number; readonly to: number } | undefined;
  count: number | undefined;
  nothing: boolean;
}

/** Where a name is read, and what it is read of. */
interface Reading {
  readonly words: readonly Word[];
  readonly language: Language;
  readonly at: number;
  readonly opened: boolean;
}

const follows = ({ words, language }: Reading, from: number): boolean =>
  language.nouns.at(words, from) !== undefined && (words[from]?.pause ?? 1) === 0;

/** A noun at `from`, or one behind the word there. */
const followsSoon = (r: Reading, from: number): boolean =>
  follows(r, from) || (r.words[from]?.pause === 0 && follows(r, from + 1));

function nameAt(words: readonly Word[], { at, opened, count }: Opening, language: Language): Name {
  const n: Name = { k: at, end: at, head: undefined, count, nothing: false };
  const r: Reading = { words, language, at, opened };
  const isSized = language.set.sizes.is(words[at - 1]);
  while (n.k < at + 8) {
    const word = words[n.k];
    if (word === undefined) break;
    const noun = language.nouns.at(words, n.k);
    if (isParted(r, n, word, noun !== undefined)) break;
    const size = sizeAt(words, n.k, language);
    if (size > 0) {
      n.k += size;
      continue;
    }
    if (isTool(r, n, noun)) break;
    if (n.head !== undefined && noun === undefined && word.pause === 0) takeTail(r, n, n.head, word);
    if (n.head !== undefined && (noun === undefined ? !GOES_ON.has(n.head.noun.role) : n.head.noun.plural)) break;
    if (noun === undefined) {
      if (!takeWord(r, n, word)) break;
      continue;
    }
    if (isStay(r, n, noun.value) || isVerb(r, n, noun)) break;
    // "one nut, vent hose", "13 mil nut starter wire"
    const isCounted = n.count !== undefined || isSized;
    if (n.head?.noun.role === "fixing" && isCounted && noun.value.role !== "fixing") break;
    if (n.head !== undefined && isNextName(r, n, noun.value)) break;
    n.head = { noun: noun.value, from: n.k, to: n.k + noun.length };
    n.k += noun.length;
    n.end = n.k;
  }
  return n;
}

/** Nouns that a name may go on behind: "the gearbox mount". */
const GOES_ON: ReadonlySet<string> = new Set(["part", "assembly", "fixed"]);

/** A recogniser puts stops into a name; after a known noun, or before what is none, they part. */
const isParted = ({ at, opened }: Reading, { k, head }: Name, { pause }: Word, isNoun: boolean): boolean =>
  k > at
    ? pause >= 2 || (pause > 0 && (head !== undefined || !isNoun || !opened))
    : opened && (pause === 3 || (pause > 0 && !isNoun));

/** "with the thirty two spanner": nothing is tied by it. */
function isTool({ words, language }: Reading, n: Name, noun: Found<Noun> | undefined): boolean {
  const tool = language.set.tools.at(words, n.k);
  if (tool === undefined || (noun !== undefined && noun.length > tool.length)) return false;
  const after = words[n.k + tool.length]?.pause === 0 ? language.nouns.at(words, n.k + tool.length) : undefined;
  if (after?.value.role === "fixing" || after?.value.role === "cover") return false;
  // "tray, six screws": what is screwed on is none.
  const number = noun?.value.role === "cover" ? numberAt(words, n.k + tool.length, language) : undefined;
  if (number !== undefined && language.nouns.at(words, n.k + tool.length + number.length)?.value.role === "fixing")
    return false;
  n.end = n.k + tool.length;
  n.nothing = true;
  return true;
}

/** Whether a name ends with what tells it from another one: "mount left", "pipe feed". */
const isToldApart = (words: readonly Word[], k: number, { role, plural }: Noun, language: Language): boolean =>
  role === "tie" &&
  !plural &&
  ((language.contrasts.has(words[k]?.text ?? "") &&
    numberAt(words, k + 1, language) !== undefined &&
    words[k + 1]?.pause !== 3) ||
    isInOrOut(words, k, language));

/** How far apart "hose in" and "hose out" stand. */
const APART = 12;

/** "cooler hose in, one clip, cooler hose out, one clip" */
function isInOrOut(words: readonly Word[], k: number, { set }: Language): boolean {
  if (!set.inOut.is(words[k])) return false;
  for (let i = Math.max(1, k - APART); i < k + APART && i < words.length; i += 1)
    if (set.inOut.is(words[i]) && words[i]?.text !== words[k]?.text && words[i - 1]?.text === words[k - 1]?.text)
      return true;
  return false;
}

/** What a thing is called ends with it: "upper hose lower hose" are two, "gearbox mount bolts" one. */
function takeTail({ words, language }: Reading, n: Name, head: { readonly noun: Noun }, word: Word): void {
  // "flange type": how it is made, and no flange.
  if (language.set.kindly.at(words, n.k) !== undefined) n.nothing = true;
  // "gearbox mount left, two bolts"
  else if (isToldApart(words, n.k, head.noun, language)) n.end = n.k + 1;
  // "the coupling halves": one name, whose last word no list has.
  else if (
    !head.noun.plural &&
    ends(words, n.k + 1, language) &&
    // "the hose guide is": no verb has another one behind it.
    (language.verbs.at(words, n.k) === undefined
      ? language.forms.isNoun(word.text)
      : language.set.copulas.is(words[n.k + 1])) &&
    language.set.stop.at(words, n.k) === undefined
  )
    n.end = n.k + 1;
}

/** Whether a name has its last word: "hose", "wire". */
const endsNames = ({ words, language, at }: Reading, { head, count }: Name): boolean =>
  head?.noun.role === "tie" &&
  (head.from > at || count !== undefined) &&
  language.set.enders.has(language.singular(words[head.to - 1]?.text ?? ""));

/** "alternator plug downpipe", "starter cable starter wire": another thing, and no detail of it. */
const isNextName = (r: Reading, n: Name, { role, kind, name }: Noun): boolean =>
  endsNames(r, n) &&
  (role === "part" ||
    role === "assembly" ||
    r.language.set.starters.has(name.split(" ").at(-1)) ||
    (role === "tie" && OTHERS.has(kind) && !r.language.set.details.has(name.split(" ").at(-1))));

/** Kinds that are no detail of a hose or a wire. */
const OTHERS: ReadonlySet<string> = new Set(["hose", "line", "shaft joint", "strap", "flange", "mount", "rod"]);

/** "the motor stays": a verb. */
const isStay = ({ words, language, at }: Reading, { k, head, count }: Name, noun: Noun): boolean =>
  language.set.verbLike.has(noun.name) &&
  (head !== undefined ||
    (noun.plural && k > at && count === undefined) ||
    language.set.subjects.is(words[k - 1]) ||
    // "the motor and the gearbox stay"
    (k === at && words[k]?.pause === 0 && language.nouns.is(words[k - 1])) ||
    (k > at && language.unknownSingular(words[k - 1]?.text ?? "") !== undefined));

/** "plug it in", "clamp the hose": what may be a thing, and is done here. */
function isVerb(r: Reading, { k }: Name, noun: Found<Noun>): boolean {
  const { words, language, at, opened } = r;
  const { set } = language;
  if (noun.length !== 1 || language.verbs.at(words, k) === undefined || opened || k !== at) return false;
  const isNext = words[k + 1]?.pause === 0;
  const hasObject =
    isNext && (set.pronouns.at(words, k + 1) !== undefined || set.articles.at(words, k + 1) !== undefined);
  const isDual = set.dual.at(words, k) !== undefined;
  return (!isDual || hasObject) && (!noun.value.plural || (isDual && hasObject)) && !follows(r, k + noun.length);
}

/** Takes a word that is no noun of the lists. @returns whether the name goes on */
function takeWord(r: Reading, n: Name, word: Word): boolean {
  const { words, language } = r;
  const { set } = language;
  const { k } = n;
  if (words[k + 1]?.joined) {
    n.k += 1;
    return true;
  }
  // "with the pack, leave it where it is"
  if (k > r.at && (set.leave.at(words, k) !== undefined || set.beware.at(words, k) !== undefined)) return false;
  const stop = set.stop.at(words, k);
  if (stop !== undefined) {
    // "the back mount", "the inside panel".
    n.k += stop.length;
    return set.stopsInNames.has(stop.value) && follows(r, k + stop.length);
  }
  if (isDone(r, k)) return false;
  // "yesterday, left hand side"
  if (k > r.at && (language.positions.at(words, k)?.length ?? 0) > 1) return false;
  if (set.particles.at(words, k) || set.articles.at(words, k) || set.nobody.at(words, k)) return false;
  const inner = numberAt(words, k, language);
  if (inner !== undefined) {
    // "to the inlet two clamps"
    if ([1, 2].some((back) => language.links.at(words, r.at - back) !== undefined)) return false;
    // "the upper three bolts"; "the reducer twelve bolts" are two things.
    const isDescribed = words
      .slice(r.at, k)
      .every(({ text }) => language.contrasts.has(text) || !language.forms.isNoun(text));
    const isCount = n.head === undefined && n.count === undefined && k > r.at && inner.value > 1 && isDescribed;
    if (!isCount || !follows(r, k + inner.length)) return false;
    n.count = inner.value;
    n.k += inner.length;
    return true;
  }
  // "a steering pressure hose"
  const goesOn = r.opened && n.head === undefined ? followsSoon(r, k + 1) : follows(r, k + 1);
  if ((n.head !== undefined || !language.forms.names(word.text)) && !goesOn) return false;
  // "pressure switch wire temp sender wire"
  if (n.head !== undefined && endsNames(r, n)) return false;
  n.k += 1;
  if (n.head === undefined) n.end = n.k;
  return true;
}

/** Whether a word is what is done, and describes nothing: "lower radiator hose", "shift cable" do. */
function isDone(r: Reading, k: number): boolean {
  const { words, language, at, opened } = r;
  if (language.verbs.at(words, k) === undefined) return false;
  const describes =
    k === at &&
    language.set.describing.at(words, k) !== undefined &&
    language.set.articles.at(words, k + 1) === undefined &&
    followsSoon(r, k + 1);
  return !describes && !((opened || k > at) && followsSoon(r, k + 1));
}

// Owns the first reading of the words: what each stretch of them is, the longest that fits: a verb of the trade, a thing, a place, a closing remark.

import type { Language } from "./language.ts";
import { forgetPhrases, numberAt, type Phrase, phraseAt, sizeAt } from "./phrase.ts";
import type { Found } from "./phrases.ts";
import { type Placed, placeAt } from "./place.ts";
import type { Pause, Word } from "./spoken.ts";
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

function chunkAt(words: readonly Word[], i: number, language: Language, last: Chunk | undefined): Chunk | undefined {
  const { set } = language;
  const pause = words[i]?.pause ?? 0;
  const span = (length: number) => ({ from: i, to: i + length, pause });

  if (words[i + 1]?.joined) {
    const named = phraseAt(words, i, language);
    return named === undefined ? undefined : { from: i, to: named.to, pause, is: "phrase", phrase: named };
  }
  const measured = torqueAt(words, i, language);
  if (measured !== undefined) return { ...span(measured.length), is: "torque", text: measured.text };

  for (const sign of signsBy(language).get(words[i]?.text ?? "") ?? []) {
    const found = set[sign].at(words, i);
    if (found === undefined) continue;
    // "that's all the bolts", "with": only what the rest of the words bear out.
    if (sign === "back" && last?.is === "verb") continue;
    // "the battery we have disconnected", "unbolt the pump and lift it out"
    if (sign === "there" && set.possessing.has(found.value) && language.verbs.at(words, i + found.length) !== undefined)
      continue;
    if (sign === "final" && set.finalActs.has(found.value) && pause < 2) continue;
    // "it has the weight": a task.
    if (sign === "held" && [1, 2].some((k) => k < found.length && language.tasks.at(words, i + k) !== undefined))
      continue;
    if (sign === "held" && phraseAt(words, i + found.length, language) === undefined) continue;
    if (
      sign === "leave" &&
      set.leaveObject.has(found.value) &&
      phraseAt(words, i + 1, language) === undefined &&
      set.pronouns.at(words, i + 1) === undefined
    )
      continue;
    if (sign === "correct" && pause === 0 && words[i + 1]?.pause === 0 && set.notCorrecting.at(words, i) !== undefined)
      continue;
    return { ...span(found.length), is: "sign", sign, said: found.value };
  }
  const fastened = fastenedAt(words, i, language);
  if (fastened > 0) return { ...span(fastened), is: "sign", sign: "held", said: textOf(words, i, fastened) };
  // "the module is free": what is to come out.
  const isLoad = last?.is === "phrase" && last.phrase.noun?.role === "assembly" && last.to === i - 1;
  if (isLoad && set.freed.is(words[i]) && set.copulas.is(words[i - 1]))
    return { ...span(1), is: "sign", sign: "final", said: words[i]?.text ?? "" };
  // "do not disturb the anchors": whatever is not to be done.
  const never = set.never.at(words, i);
  if (
    never !== undefined &&
    language.verbs.at(words, i + never.length) === undefined &&
    words[i + never.length]?.pause === 0
  )
    return { ...span(never.length + 1), is: "sign", sign: "beware", said: never.value };
  const task = taskAt(words, i, language);
  if (task !== undefined) return { ...span(task.length), is: "task", does: task.value };

  // "the breather is on top of the axle": a thing, and nobody goes there.
  const isStanding = last?.is === "phrase" && last.to === i && set.copulas.is(words[i]);
  const move = isStanding ? undefined : moveAt(words, i, language);
  if (move !== undefined) return { ...span(move), is: "move" };
  const placed = placeAt(words, i, language);
  if (placed !== undefined) return { ...span(placed.length), is: "place", placed, moved: last?.is === "move" };

  if (set.then.is(words[i])) return { ...span(1), is: "then" };
  const another = set.another.at(words, i);
  if (another !== undefined && phraseAt(words, i, language)?.noun === undefined) {
    const many = numberAt(words, i + another.length, language);
    return { ...span(another.length + (many?.length ?? 0)), is: "another", count: many?.value ?? 1 };
  }
  const more = numberAt(words, i, language);
  if (more !== undefined && set.further.is(words[i + more.length]) && phraseAt(words, i, language)?.noun === undefined)
    return { ...span(more.length + 1), is: "another", count: more.value };

  const isPartOfName = (language.nouns.at(words, i)?.length ?? 0) > (language.links.at(words, i)?.length ?? 0);
  const link = isPartOfName ? undefined : (language.links.at(words, i) ?? genitiveAt(words, i, language, last));
  // "pull off the hose": the verb's own particle.
  const own = last?.is === "verb" && !set.selfMoving.has(last.lemma) && particleAt(words, i, language);
  if (link !== undefined && last !== undefined && pause < 2 && !own) {
    const what = phraseAt(words, i + link.length, language);
    if (
      what !== undefined &&
      words[i + link.length]?.pause === 0 &&
      (last.is === "phrase" ||
        last.is === "particle" ||
        last.is === "pronoun" ||
        last.is === "verb" ||
        last.is === "place" ||
        last.is === "number" ||
        last.is === "another" ||
        last.is === "link")
    )
      return { ...span(link.length), is: "link", link: link.value };
  }
  // "the rest of the bolts", "the jack goes under": a noun behind its article.
  const isNamed = pause === 0 && set.the.is(words[i - 1]);
  const verb = isNamed ? undefined : language.verbs.at(words, i);
  const phrase = phraseAt(words, i, language);
  if (
    verb !== undefined &&
    (phrase === undefined || phrase.from + 0 === i) &&
    !nounHere(words, i, language, phrase, last)
  ) {
    const act = actAt(words, i, verb.value.does, language);
    // "the cable has to be unhooked": its object stands before it.
    const isPassive = words[i]?.text !== verb.value.lemma && set.passives.is(words[i - 1]);
    const isLast = verb.value.last || (isPassive && words[i]?.pause === 0);
    if (act !== "" && act !== undefined)
      return {
        ...span(1),
        is: "verb",
        lemma: verb.value.lemma,
        act,
        last: isLast,
        negated: negatedAt(words, i, language),
      };
    return undefined;
  }
  if (
    set.is.at(words, i) !== undefined &&
    phraseAt(words, i + (set.is.at(words, i)?.length ?? 1), language) !== undefined
  ) {
    const is = set.is.at(words, i);
    if (is !== undefined) return { ...span(is.length), is: "is" };
  }
  if (phrase !== undefined && (phrase.noun !== undefined || !set.particles.at(words, i))) {
    const after = words[phrase.to];
    // "I hate these": what somebody does, and no thing.
    const who = words[i - 1]?.text ?? "";
    if (
      phrase.noun === undefined &&
      phrase.words.length === phrase.to - i &&
      (set.subjects.has(who) || set.nobody.at(words, i - 1) !== undefined)
    )
      return undefined;
    if (
      phrase.noun === undefined &&
      after !== undefined &&
      (set.one.has(after.text) || set.ones.has(after.text)) &&
      after.pause === 0 &&
      // "the anodes, one on each side": no one of them is meant.
      !isThing(phrase.words.at(-1) ?? "", language) &&
      language.nouns.at(words, phrase.to + 1) === undefined
    )
      return {
        ...span(phrase.to + 1 - i),
        is: "pronoun",
        many: set.ones.has(after.text),
        which: phrase.words.join(" "),
      };
    return { from: i, to: phrase.to, pause, is: "phrase", phrase };
  }
  const pronoun = set.pronouns.at(words, i);
  if (pronoun !== undefined && !isAddress(words, i, language))
    return {
      ...span(pronoun.length),
      is: "pronoun",
      many: set.manyPronouns.has(pronoun.value),
      which: set.whichPronouns.has(pronoun.value) ? pronoun.value : "",
    };
  if (set.each.is(words[i])) return { ...span(1), is: "each" };
  const particle = set.particles.at(words, i);
  if (particle !== undefined) return { ...span(particle.length), is: "particle", particle: particle.value };
  const number = numberAt(words, i, language);
  if (number !== undefined && sizeAt(words, i, language) === 0)
    return { ...span(number.length), is: "number", value: number.value };
  return undefined;
}

const textOf = (words: readonly Word[], from: number, length: number): string =>
  words
    .slice(from, from + length)
    .map(({ text }) => text)
    .join(" ");

/** "is tied on with three zip ties", "is bolted to the gearbox": how it is held; how many words. */
function fastenedAt(words: readonly Word[], i: number, language: Language): number {
  const { set } = language;
  if (!set.passives.is(words[i - 1]) || words[i]?.pause !== 0) return 0;
  const verb = language.verbs.at(words, i)?.value;
  if (verb === undefined || words[i]?.text === verb.lemma) return 0;
  const on = set.particles.is(words[i + 1]) || set.heldOn.is(words[i + 1]) ? 1 : 0;
  const by = i + 1 + on;
  if (set.heldOn.is(words[by]) && phraseAt(words, by + 1, language)?.noun?.role === "fixing") return 2 + on;
  return set.dual.has(verb.lemma) ? 1 : 0;
}

/** A task; "i opened the battery disconnect" has an article before its words. */
function taskAt(words: readonly Word[], i: number, { tasks, set }: Language): Found<string> | undefined {
  const task = tasks.at(words, i);
  if (task !== undefined || !set.the.is(words[i]) || words[i + 1]?.pause !== 0) return task;
  const named = tasks.at(words, i + 1);
  return named === undefined || named.length < 2 ? undefined : { length: named.length + 1, value: named.value };
}

/** Whether a word names something, and does not tell one thing from another. */
const isThing = (word: string, { contrasts, forms, unknownSingular }: Language): boolean =>
  !contrasts.has(word) && unknownSingular(word) !== undefined && forms.isNoun(word);

/** A particle; where it ends its clause, one that a thing follows is a preposition: "zieh ihn aus dem Halter". */
const particleAt = (words: readonly Word[], i: number, language: Language): boolean =>
  language.set.particles.at(words, i) !== undefined &&
  !(
    language.verbSecond &&
    language.links.is(words[i]) &&
    words[i + 1]?.pause === 0 &&
    phraseAt(words, i + 1, language) !== undefined
  );

/** "der Stecker der Pumpe": an article that says of what. */
const genitiveAt = (
  words: readonly Word[],
  i: number,
  { set }: Language,
  last: Chunk | undefined,
): Found<string> | undefined =>
  last?.is === "phrase" && last.to === i && words[i]?.pause === 0 && set.genitive.is(words[i])
    ? { length: 1, value: "of" }
    : undefined;

/** "ziehen Sie den Schlauch": who is spoken to, and not what is spoken of. */
const isAddress = (words: readonly Word[], i: number, language: Language): boolean =>
  language.set.formal.is(words[i]) && words[i + 1]?.pause === 0 && phraseAt(words, i + 1, language) !== undefined;

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
  if (noun !== undefined && phrase.to === i + noun.length)
    return noun.length > 1 || noun.value.plural || last?.is === "link" || last?.is === "number";
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

function torqueAt(
  words: readonly Word[],
  i: number,
  language: Language,
): { readonly length: number; readonly text: string } | undefined {
  const number = numberAt(words, i, language);
  if (number === undefined) return undefined;
  const unit = language.torques.at(words, i + number.length);
  return unit === undefined
    ? undefined
    : { length: number.length + unit.length, text: `${number.value} ${unit.value}` };
}

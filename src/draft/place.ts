// Owns the positions as they are said: "coming round to the left side", "underneath", "at the pump end", "the other side".

import { isAside } from "./aside.ts";
import type { Language, PositionName } from "./language.ts";
import { phraseAt } from "./phrase.ts";
import type { Word } from "./spoken.ts";

export interface Placed {
  readonly length: number;
  /** Absent: the other side of where we are. */
  readonly position?: PositionName;
  /** "over to the left side": said of going there. */
  readonly goes: boolean;
  /** Where on a thing, not where people stand: "at the back of the gearbox". */
  readonly local: boolean;
  /** Called after what is there: "at the pump end". */
  readonly end?: true;
  /** Of a thing, and nobody stands there: "the one on the left". */
  readonly aside?: boolean;
}

/** The sides; what crosses them is an end. */
const ACROSS: ReadonlySet<string> = new Set(["left", "right"]);

/** How a place is begun: "over to the". */
interface Beginning {
  readonly i: number;
  /** Where its name begins, after prepositions and article. */
  readonly at: number;
  readonly prepared: boolean;
  /** How many articles. */
  readonly the: number;
  readonly goes: boolean;
}

/** The position said at `i`, if one is. */
export function placeAt(words: readonly Word[], i: number, language: Language): Placed | undefined {
  const beginning = mayBegin(words, i, language) ? beginAt(words, i, language) : undefined;
  if (beginning === undefined) return undefined;
  const said =
    otherAt(words, beginning, language) ??
    crossedAt(words, beginning, language) ??
    headingAt(words, beginning, language) ??
    knownAt(words, beginning, language) ??
    endAt(words, beginning, language);
  if (said === undefined || said === "none") return undefined;
  return isAside(words, i, said, language) ? { ...said, aside: true } : said;
}

/** Whether a place may begin with a word: most do not, and are asked nothing else. */
function mayBegin(words: readonly Word[], i: number, { set, positions }: Language): boolean {
  const word = words[i];
  return (
    word !== undefined &&
    (word.pause >= 2 ||
      word.turn === true ||
      set.placePrepositions.is(word) ||
      set.placeArticles.is(word) ||
      set.crossed.is(word) ||
      positions.at(words, i) !== undefined ||
      set.otherSide.at(words, i) !== undefined)
  );
}

function beginAt(words: readonly Word[], i: number, language: Language): Beginning | undefined {
  const { set } = language;
  // "out through the front", "the end towards the cab": its way, and nobody's place.
  if (set.not.is(words[i - 1]) && words[i]?.pause === 0) return undefined;
  const isWay = set.through.is(words[i - 1]) && set.moves.at(words, i - 2) === undefined;
  if (isWay || set.notPlaces.at(words, i) !== undefined) return undefined;
  // "take them out, other side": the verb's own.
  if (set.departs.is(words[i]) && words[i]?.pause === 0 && set.pronouns.is(words[i - 1])) return undefined;
  let at = i;
  while (
    at < i + 3 &&
    set.placePrepositions.is(words[at]) &&
    (at === i || words[at]?.pause === 0) &&
    bare(words, at, language)
  )
    at += 1;
  const prepared = at > i;
  if (prepared && set.notPlaces.at(words, at) !== undefined) return undefined;
  const goes =
    (at > i + 1 && set.to.is(words[at - 1])) || set.moves.at(words, i) !== undefined || set.going.is(words[i]);
  const the = set.placeArticles.is(words[at]) ? 1 : 0;
  at += the;
  return at > i && (words[at]?.pause ?? 3) > 1 ? undefined : { i, at, prepared, the, goes };
}

function otherAt(words: readonly Word[], { i, at, goes }: Beginning, language: Language): Placed | undefined {
  const other = language.set.otherSide.at(words, at);
  if (other === undefined) return undefined;
  const to = at + other.length;
  // "on the other side of the plate"
  return {
    length: to - i,
    local: language.set.moves.at(words, i - 1) === undefined && isOfThing(words, to, language),
    goes,
  };
}

/** "the front left corner" */
function crossedAt(
  words: readonly Word[],
  { i, at, prepared, the, goes }: Beginning,
  { set, nouns, positions }: Language,
): Placed | undefined {
  const [a, b] = [words[at]?.text ?? "", words[at + 1]?.text ?? ""];
  const isCrossed = set.crossed.has(a) && set.crossed.has(b) && words[at + 1]?.pause === 0;
  if (!isCrossed || !(prepared || the > 0 || set.placeAdverbs.has(a))) return undefined;
  const end = set.sideEnds.at(words, at + 2);
  if (end === undefined && nouns.at(words, at + 2) !== undefined) return undefined;
  const first = positions.at(words, at)?.value;
  const second = positions.at(words, at + 1)?.value;
  if (first === undefined || second === undefined) return undefined;
  const isAcross = ACROSS.has(first.id);
  const [along, across] = isAcross ? [second, first] : [first, second];
  if (along.id === across.id) return undefined;
  return {
    length: at + 2 + (end?.length ?? 0) - i,
    position: { id: `${along.id}-${across.id}`, label: `${along.label} ${isAcross ? a : b}` },
    local: false,
    goes,
  };
}

/** "Front." alone is a heading; "Right," alone is a breath. */
function headingAt(words: readonly Word[], { i, goes }: Beginning, language: Language): Placed | undefined {
  const { set, positions } = language;
  const alone = positions.at(words, i);
  // "Then under the frame."
  const isFirst = (words[i]?.pause ?? 0) >= 2 || (set.nowThen.is(words[i - 1]) && (words[i - 1]?.pause ?? 0) >= 2);
  if (alone === undefined || !isFirst || isPointed(words, i, i + alone.length, language)) return undefined;
  const next = i + alone.length;
  const end = words[next]?.pause ?? 3;
  // "Top of the unit.", "Under the deck."
  const of = set.of.is(words[next]) ? 1 : 0;
  const isOver = alone.length === 1 && (set.placesOver.is(words[i]) || set.placesUnder.is(words[i]));
  const whole = end === 0 && (of === 1 || isOver) ? phraseAt(words, next + of, language) : undefined;
  const isWhole =
    whole?.noun === undefined || ["assembly", "fixed"].includes(whole.noun.role) || set.roofs.has(whole.words.at(-1));
  if (whole !== undefined && isWhole && (of === 1 || whole.definite) && (words[whole.to]?.pause ?? 3) >= 2)
    return { length: whole.to - i, position: alone.value, local: false, goes };
  // "Under, the plate …" of a recogniser is under the plate.
  if (set.placesUnder.is(words[i]) && language.set.articles.at(words, next) !== undefined) return undefined;
  // "Back of the press.": a word that no list has as a thing.
  if (of === 1 && set.the.is(words[next + 1]) && (words[next + 3]?.pause ?? 3) >= 2)
    return { length: next + 3 - i, position: alone.value, local: false, goes };
  const isHeading = set.nowThen.is(words[next]) || end >= (set.breaths.is(words[i]) ? 2 : 1);
  return isHeading ? { length: alone.length, position: alone.value, local: false, goes } : undefined;
}

/** A place of the language's list; "none" where it is said and nobody goes there. */
function knownAt(words: readonly Word[], beginning: Beginning, language: Language): Placed | "none" | undefined {
  const { i, at, prepared, the, goes } = beginning;
  const { set } = language;
  // "back inside": of two prepositions the last one may be the place.
  const last = the === 0 && at - 1 > i ? [at - 1] : [];
  for (const from of the > 0 || prepared ? [i, at - the, at, ...last] : [i]) {
    const found = language.positions.at(words, from);
    if (found === undefined || !isSure(words, from, found.length, beginning, language)) continue;
    const to = from + found.length;
    if (
      (set.copulas.is(words[i - 1]) && set.pointing.is(words[to])) ||
      isPointed(words, from, to, language) ||
      isOver(words, i, from, to, language)
    )
      return "none";
    // "Round the back suction hose": somebody goes there.
    const isGone = the > 0 && set.going.is(words[i]) && (words[i]?.pause !== 0 || set.stop.is(words[i - 1]));
    if (!isGone && namesThing(words, from, to, language)) continue;
    return { length: to - i, position: found.value, local: isOfThing(words, to, language), goes };
  }
  return undefined;
}

const textOf = (words: readonly Word[], from: number, to: number): string =>
  words
    .slice(from, to)
    .map(({ text }) => text)
    .join(" ");

const isJoined = (words: readonly Word[], at: number): boolean => words[at]?.pause === 0;

/** Whether the words from `from` on are a place by themselves: "underneath", "the left", "up top"; "back" alone is none. */
function isSure(
  words: readonly Word[],
  from: number,
  length: number,
  { i, prepared, the }: Beginning,
  { set }: Language,
): boolean {
  const said = textOf(words, from, from + length);
  const isThing = set.indefinite.is(words[from - 1]) || (from === i && !isPlaceAlone(words, from, set));
  if (set.placeThings.has(said) && isThing) return false;
  // "now go outside"; "go back" is the way back.
  if (set.barePlaces.has(said) && from === i)
    return !set.particles.has(said) && set.moves.at(words, i - 1) !== undefined;
  return length > 1 || set.placeAdverbs.has(said) || (from > i && (prepared || the > 0));
}

/** "under it is the pipe", "behind that there's a clip": where on the thing, and nobody goes there. */
function isPointed(words: readonly Word[], from: number, to: number, { set }: Language): boolean {
  // "underneath is the grille": under what was spoken of.
  const said = textOf(words, from, to);
  if (
    set.placesOver.has(said) &&
    !set.sides.has(said) &&
    isJoined(words, to) &&
    set.standing.is(words[to]) &&
    set.copulas.is(words[to])
  )
    return true;
  const last = words[to - 1]?.text;
  const isPointer = to - from > 1 && (set.pointing.has(last) || set.standing.has(last));
  if (!isPointer && !(isJoined(words, to) && set.pointing.is(words[to]))) return false;
  const then = isPointer ? to : to + 1;
  return set.standing.is(words[then]) || set.nobody.at(words, then) !== undefined;
}

/** "underneath the gearbox": where on a thing, unless somebody moves there. */
function isOver(words: readonly Word[], i: number, from: number, to: number, language: Language): boolean {
  const { set, nouns } = language;
  const said = textOf(words, from, to);
  const isOf = set.of.is(words[to]);
  return (
    isJoined(words, to) &&
    set.moves.at(words, i - 1) === undefined &&
    ((set.placesOf.has(said) && isOf) ||
      (set.placesOver.has(said) && (isOf || set.articles.at(words, to) !== undefined))) &&
    nouns.at(words, to + 1) !== undefined &&
    set.vehicles.at(words, to + 1) === undefined &&
    !isSubject(words, to, language)
  );
}

/** "the left one", "the front cover", "the left …" of what is no end of it: the place names a thing. */
function namesThing(words: readonly Word[], from: number, to: number, language: Language): boolean {
  const { set, nouns, numbers } = language;
  if (!isJoined(words, to)) return false;
  if (set.one.is(words[to]) || set.ones.is(words[to])) return true;
  if (to - from > 1) return false;
  // "the nearside spring", "nearside spring … offside spring"; "nearside, the spring".
  if (set.placeAdverbs.has(textOf(words, from, to)))
    return (
      phraseAt(words, to, language)?.noun !== undefined &&
      (isOneOfTwo(words, from, language) || (set.the.is(words[from - 1]) && !isTurn(words, from - 1, language)))
    );
  return (
    nouns.at(words, to) !== undefined ||
    (set.sideEnds.at(words, to) === undefined && numbers.at(words, to) === undefined && !knownEnd(words, to, language))
  );
}

/** "Now the nearside, side flap": the talk turns to it. */
const isTurn = (words: readonly Word[], the: number, { set }: Language): boolean =>
  set.nowThen.is(words[the - 1]) && words[the]?.pause === 0 && (words[the - 1]?.pause ?? 3) >= 2;

/** "port, the pump", "so port first"; "a port", "drain port", "port a" are things. */
const isPlaceAlone = (words: readonly Word[], i: number, set: Language["set"]): boolean =>
  (words[i]?.pause !== 0 || set.stop.is(words[i - 1])) &&
  ((words[i + 1]?.pause ?? 3) > 0 || set.stop.is(words[i + 1]) || set.the.is(words[i + 1]));

/** How far apart two things that are told apart by their side stand. */
const APART = 24;

/** "port foot, two bolts, starboard foot, two bolts": of two such things, each by its side. */
function isOneOfTwo(words: readonly Word[], i: number, { mirror, singular }: Language): boolean {
  const other = mirror.get(words[i]?.text ?? "");
  const thing = (k: number): string => singular(words[k + 1]?.text ?? "");
  for (let k = Math.max(0, i - APART); k < i + APART && k < words.length; k += 1)
    if (words[k]?.text === other && words[k + 1]?.pause === 0 && thing(k) === thing(i)) return true;
  return false;
}

/** "at the pump end", "the battery side"; "a ball end" is no place. */
function endAt(words: readonly Word[], beginning: Beginning, language: Language): Placed | undefined {
  const { i, at, prepared, the, goes } = beginning;
  const { set, nouns, numbers } = language;
  const isHeading = words[i]?.turn === true || (words[i]?.pause ?? 3) >= 2;
  if ((!prepared && the === 0 && !isHeading) || set.indefinite.is(words[at - 1])) return undefined;
  const isName = ({ text, pause }: Word, k: number): boolean =>
    (pause === 0 || k === 0) &&
    !set.stop.at([{ text }], 0) &&
    !set.more.at([{ text }], 0) &&
    !numbers.at([{ text }], 0);
  for (const n of [1, 2]) {
    const end = set.sideEnds.at(words, at + n);
    if (end === undefined || !words.slice(at, at + n).every(isName)) continue;
    const to = at + n + end.length;
    // "discharge end, the reducer …"
    if (!prepared && the === 0 && !isBehindHeading(words, to, language)) continue;
    if ((nouns.at(words, to) !== undefined && isJoined(words, to)) || set.noEnds.is(words[at])) continue;
    const label = `${textOf(words, at, at + n)} ${end.value}`;
    return {
      length: to - i,
      position: { id: label.replace(/[^\p{L}\p{N}]+/gu, "-"), label: label.charAt(0).toUpperCase() + label.slice(1) },
      local: isOfThing(words, to, language),
      goes,
      end: true,
    };
  }
  return undefined;
}

/** Whether something begins here, so that what stands before it can be a heading. */
const isBehindHeading = (words: readonly Word[], at: number, { set }: Language): boolean =>
  (words[at]?.pause ?? 3) >= 2 ||
  set.the.is(words[at]) ||
  set.there.at(words, at) !== undefined ||
  set.nowThen.is(words[at]);

/** "underneath the shaft has eight bolts": what is told of there, and not what it is underneath of. */
function isSubject(words: readonly Word[], at: number, language: Language): boolean {
  const phrase = phraseAt(words, at, language);
  if (phrase === undefined || (words[phrase.to]?.pause ?? 3) > 0) return false;
  return language.set.held.at(words, phrase.to) !== undefined || language.set.copulas.is(words[phrase.to]);
}

/** "of the gearbox"; not "of the tractor", "of the engine room". */
const isOfThing = (words: readonly Word[], at: number, { set, positions }: Language): boolean =>
  isJoined(words, at) &&
  set.of.is(words[at]) &&
  set.vehicles.at(words, at + 2) === undefined &&
  positions.at(words, at + 2) === undefined;

/** Whether what follows a bare "the left" can end it: a stop word, a verb, the end. */
function knownEnd(words: readonly Word[], at: number, language: Language): boolean {
  return (
    language.set.stop.at(words, at) !== undefined ||
    language.verbs.at(words, at) !== undefined ||
    language.set.articles.at(words, at) !== undefined ||
    language.set.there.at(words, at) !== undefined ||
    language.set.nobody.at(words, at) !== undefined
  );
}

/** A preposition that is not the beginning of a position of its own ("under the bonnet", "in the cab"). */
const bare = (words: readonly Word[], at: number, language: Language): boolean => {
  const own = language.positions.at(words, at);
  return own === undefined || own.length === 1;
};

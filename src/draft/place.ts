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

/** The position said at `i`, if one is. */
export function placeAt(words: readonly Word[], i: number, language: Language): Placed | undefined {
  const placed = saidAt(words, i, language);
  return placed !== undefined && isAside(words, i, placed, language) ? { ...placed, aside: true } : placed;
}

function saidAt(words: readonly Word[], i: number, language: Language): Placed | undefined {
  // "out through the front": its way, and nobody's place.
  const { set } = language;
  if (set.through.has(words[i - 1]?.text) || set.notPlaces.at(words, i) !== undefined) return undefined;
  let at = i;
  while (
    at < i + 3 &&
    set.placePrepositions.has(words[at]?.text) &&
    (at === i || words[at]?.pause === 0) &&
    bare(words, at, language)
  )
    at += 1;
  const prepared = at > i;
  if (prepared && set.notPlaces.at(words, at) !== undefined) return undefined;
  const goes =
    (at > i + 1 && set.to.has(words[at - 1]?.text)) ||
    language.set.moves.at(words, i) !== undefined ||
    set.going.has(words[i]?.text);
  const the = set.placeArticles.has(words[at]?.text) ? 1 : 0;
  at += the;
  if (at > i && (words[at]?.pause ?? 3) > 1) return undefined;
  const other = language.set.otherSide.at(words, at);
  if (other !== undefined) return { length: at + other.length - i, local: false, goes };

  // "the front left corner"
  const a = words[at]?.text ?? "";
  const b = words[at + 1]?.text ?? "";
  if (
    set.crossed.has(a) &&
    set.crossed.has(b) &&
    (prepared || the > 0 || set.placeAdverbs.has(a)) &&
    words[at + 1]?.pause === 0
  ) {
    const end = language.set.sideEnds.at(words, at + 2);
    if (end !== undefined || language.nouns.at(words, at + 2) === undefined) {
      const first = language.positions.at(words, at)?.value;
      const second = language.positions.at(words, at + 1)?.value;
      if (first && second) {
        const isAcross = ACROSS.has(first.id);
        const [along, across] = isAcross ? [second, first] : [first, second];
        if (along.id !== across.id)
          return {
            length: at + 2 + (end?.length ?? 0) - i,
            position: { id: `${along.id}-${across.id}`, label: `${along.label} ${isAcross ? a : b}` },
            local: false,
            goes,
          };
      }
    }
  }

  // "Front." alone is a heading; "Right," alone is a breath.
  const alone = language.positions.at(words, i);
  if (alone !== undefined && (words[i]?.pause ?? 0) >= 2) {
    const end = words[i + alone.length]?.pause ?? 3;
    const then = set.nowThen.has(words[i + alone.length]?.text);
    if (then || end >= (set.breaths.has(words[i]?.text) ? 2 : 1))
      return { length: alone.length, position: alone.value, local: false, goes };
  }

  for (const from of the > 0 || prepared ? [i, at - the, at] : [i]) {
    const found = language.positions.at(words, from);
    if (found === undefined) continue;
    const to = from + found.length;
    const said = words
      .slice(from, to)
      .map(({ text }) => text)
      .join(" ");
    const adverb = set.placeAdverbs.has(said);
    const sure = found.length > 1 || adverb || (from > i && (prepared || the > 0));
    if (!sure) continue;
    if (set.barePlaces.has(said) && from === i) continue;
    const after = words[to];
    const joined = after !== undefined && after.pause === 0;
    // "under it is the pipe", "behind that there's a clip": where on the thing, and nobody goes there.
    const isPointer =
      found.length > 1 && (set.pointing.has(words[to - 1]?.text) || set.standing.has(words[to - 1]?.text));
    const pointed = isPointer || (joined && set.pointing.has(after.text));
    const stands = words[isPointer ? to : to + 1]?.text;
    if (pointed && (set.standing.has(stands) || set.nobody.at(words, isPointer ? to : to + 1) !== undefined))
      return undefined;
    if (joined && (set.one.has(after.text) || set.ones.has(after.text))) continue;
    if (joined && found.length === 1 && !adverb && language.nouns.at(words, to) !== undefined) continue;
    if (
      joined &&
      found.length === 1 &&
      !adverb &&
      language.set.sideEnds.at(words, to) === undefined &&
      language.numbers.at(words, to) === undefined &&
      !knownEnd(words, to, language)
    )
      continue;
    if (
      joined &&
      set.moves.at(words, i - 1) === undefined &&
      ((set.placesOf.has(said) && set.of.has(after.text)) ||
        (set.placesOver.has(said) && (set.of.has(after.text) || set.articles.at(words, to) !== undefined))) &&
      language.nouns.at(words, to + 1) !== undefined &&
      set.vehicles.at(words, to + 1) === undefined &&
      !isSubject(words, to, language)
    )
      return undefined;
    const local = joined && isOfThing(words, to, language);
    return { length: to - i, position: found.value, local, goes };
  }

  // "at the pump end", "the battery side"; "a ball end" is no place.
  if ((prepared || the > 0) && !set.indefinite.has(words[at - 1]?.text))
    for (const n of [1, 2]) {
      const end = language.set.sideEnds.at(words, at + n);
      const name = words.slice(at, at + n);
      if (
        end === undefined ||
        name.some(
          ({ text, pause }, k) =>
            (pause > 0 && k > 0) ||
            language.set.stop.at([{ text }], 0) ||
            language.set.more.at([{ text }], 0) ||
            language.numbers.at([{ text }], 0),
        )
      )
        continue;
      if (language.nouns.at(words, at + n + end.length) !== undefined && words[at + n + end.length]?.pause === 0)
        continue;
      const said = [...name.map(({ text }) => text), end.value];
      if (set.noEnds.has(said[0])) continue;
      const label = said.join(" ");
      return {
        length: at + n + end.length - i,
        position: { id: label.replace(/[^\p{L}\p{N}]+/gu, "-"), label: label.charAt(0).toUpperCase() + label.slice(1) },
        local: isOfThing(words, at + n + end.length, language),
        goes,
        end: true,
      };
    }
  return undefined;
}

/** "underneath the shaft has eight bolts": what is told of there, and not what it is underneath of. */
function isSubject(words: readonly Word[], at: number, language: Language): boolean {
  const phrase = phraseAt(words, at, language);
  if (phrase === undefined || (words[phrase.to]?.pause ?? 3) > 0) return false;
  return language.set.held.at(words, phrase.to) !== undefined || language.set.copulas.has(words[phrase.to]?.text);
}

/** "of the gearbox"; not "of the tractor", "of the engine room". */
const isOfThing = (words: readonly Word[], at: number, { set, positions }: Language): boolean =>
  set.of.has(words[at]?.text) &&
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

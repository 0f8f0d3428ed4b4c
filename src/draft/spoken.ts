// Owns the words of a text as they are taken: in small letters, each with the passage it is from and the pause before it, without fillers, marks and stutters.

import type { Passage } from "./intake.ts";
import type { Language } from "./language.ts";
import { numberAt } from "./phrase.ts";
import type { Begins } from "./phrases.ts";

/** The pause before a word: none, a comma, the end of a sentence, a paragraph or step. */
export type Pause = 0 | 1 | 2 | 3;

export interface Word {
  readonly text: string;
  readonly passage: Passage;
  readonly pause: Pause;
  /** Written in one with the word before it. */
  readonly joined?: true;
  /** Behind a word that turns to something else: "okay". */
  readonly turn?: true;
  readonly begins?: Begins;
}

const MARKS = /\[[^\]]*\]|[♪♫#*>_`"“”„]|^\s*-\s/g;
const ASIDE = /\([^)]*\)/g;
const SPEAKER = /^\s*[A-Z][A-Z0-9 .'-]{1,24}:(?=\s)/;
const PIECE = /[\p{L}\p{N}][\p{L}\p{N}'’·]*(?:[-./×][\p{L}\p{N}][\p{L}\p{N}'’·]*)*|[.,;:!?…–—]+/gu;

/** A name before a colon, as talk between people is written. */
const NAME = /^\s*(\p{Lu}\p{L}+):(?=\s)/u;
/** A name that begins so many passages is somebody's. */
const OFTEN = 3;

/** Who speaks, where that is written before what is said. */
function speakersIn(passages: readonly Passage[], { nouns, positions }: Language): ReadonlySet<string> {
  const often = new Map<string, number>();
  for (const { text } of passages) {
    const name = NAME.exec(text)?.[1];
    if (name !== undefined) often.set(name, (often.get(name) ?? 0) + 1);
  }
  const isKnown = (name: string): boolean => nouns.has(name.toLowerCase()) || positions.has(name.toLowerCase());
  return new Set([...often].flatMap(([name, many]) => (many >= OFTEN && !isKnown(name) ? [name] : [])));
}

/** The words of passages in order. */
export function hearWords(passages: readonly Passage[], language: Language): Word[] {
  const words: Word[] = [];
  const speakers = speakersIn(passages, language);
  let pause: Pause = 3;
  for (const passage of passages) {
    if (passage.fresh) pause = 3;
    const heard = passage.text
      .replace(SPEAKER, " ")
      .replace(NAME, (said, name: string) => (speakers.has(name) ? " " : said))
      .replace(MARKS, " ")
      .replace(ASIDE, (aside) => (isNoise(aside, language) ? " " : aside))
      .replaceAll("’", "'");
    for (const [piece] of heard.matchAll(PIECE)) {
      if (!/[\p{L}\p{N}]/u.test(piece)) {
        pause = Math.max(pause, /[.!?…]/.test(piece) ? 2 : 1) as Pause;
        continue;
      }
      const said = piece.toLowerCase();
      const text = language.contractions.get(said) ?? said;
      const { pieces, joined } = piecesOf(text, language);
      for (const [k, part] of pieces.entries()) {
        words.push({ text: part, passage, pause, ...(joined && k > 0 ? { joined } : {}) });
        pause = 0;
      }
    }
    if (/:\s*$/.test(heard)) pause = 2;
  }
  const spoken = withoutFillers(withApostrophe(withoutNumbering(words, language), language), language);
  return withBegins(withoutSlips(withoutStutter(spoken), language), language);
}

const JOINED = { joined: true } as const;
const TURN = { turn: true } as const;

/** What each word may begin, found once for all that are the same. */
function withBegins(words: readonly Word[], language: Language): Word[] {
  const known = new Map<string, { readonly text: string; readonly begins: Begins }>();
  return words.map(({ text, passage, pause, joined, turn }) => {
    let one = known.get(text);
    if (one === undefined) {
      one = { text, begins: language.begins(text) };
      known.set(text, one);
    }
    // The one text of all that are the same: lists find it without comparing letters.
    return { text: one.text, begins: one.begins, passage, pause, ...(joined ? JOINED : {}), ...(turn ? TURN : {}) };
  });
}

/** "(engine running)" */
const isNoise = (aside: string, { set }: Language): boolean => set.noises.within(aside);

/** A word as the lists have it: "the starter's next" is said of a thing, "that's" is one word; compounds and "thirty-seven" are taken apart. */
function piecesOf(
  word: string,
  { clitics, nouns, fluids, positions, set, compounds, tens, numbers }: Language,
): { readonly pieces: readonly string[]; readonly joined?: true } {
  for (const [end, means] of clitics) {
    const name = word.slice(0, -end.length);
    if (word.endsWith(end) && [nouns, fluids, positions, set.one].some((list) => list.has(name)))
      return { pieces: [name, means] };
  }
  const [ten = "", unit = ""] = word.includes("-") ? word.split("-") : [];
  if (tens.has(ten) && numbers.has(unit)) return { pieces: [ten, unit] };
  return { pieces: compounds.split(word), joined: true };
}

/** "its four mounts" is "it's" where a number follows. */
const withApostrophe = (words: readonly Word[], language: Language): readonly Word[] =>
  words.map((word, i) => {
    const text = language.beforeNumber.get(word.text);
    const { the, indefinite } = language.set;
    const next = words[i + 1]?.text;
    const isOther = numberAt(words, i + 1, language) !== undefined || the.has(next) || indefinite.has(next);
    return text !== undefined && isOther ? { ...word, text } : word;
  });

/** "item seven, phase cables": read off a list, and no number of anything. What follows is the next step. */
function withoutNumbering(words: readonly Word[], language: Language): readonly Word[] {
  const { steps, the, indefinite } = language.set;
  const kept: Word[] = [];
  for (let i = 0; i < words.length; i += 1) {
    const word = words[i];
    const number = word !== undefined && steps.is(word) ? numberAt(words, i + 1, language) : undefined;
    const next = words[i + 1 + (number?.length ?? 0)];
    const isNamed = the.is(words[i - 1]) || indefinite.is(words[i - 1]);
    // "the step two bolts" is a thing with its own.
    if (word === undefined || number === undefined || words[i + 1]?.pause !== 0 || isNamed) {
      if (word !== undefined) kept.push(word);
      continue;
    }
    if (next !== undefined) kept.push({ ...next, pause: 3 });
    i += number.length + 1;
  }
  return kept;
}

/** A word left out gives its pause to the next one. */
function withoutFillers(words: readonly Word[], language: Language): Word[] {
  const kept: Word[] = [];
  let pause: Pause = 0;
  let turn = false;
  for (let i = 0; i < words.length; ) {
    const filler = language.set.fillers.at(words, i);
    const word = words[i];
    if (word === undefined) break;
    // "six bolts, i mean five": a correction, and no filler.
    const corrects =
      filler !== undefined &&
      language.set.correctingFillers.has(filler.value) &&
      numberAt(words, i + filler.length, language) !== undefined;
    // "the same on the right, so …"
    const isSide =
      filler !== undefined && filler.length > 1 && language.set.breaths.is(word) && language.set.the.is(words[i - 1]);
    if (filler !== undefined && !corrects && !isSide) {
      for (let k = i; k < i + filler.length; k += 1) pause = Math.max(pause, words[k]?.pause ?? 0) as Pause;
      turn ||= language.set.turns.has(filler.value);
      i += filler.length;
      continue;
    }
    kept.push(
      pause > word.pause || turn
        ? { ...word, pause: Math.max(pause, word.pause) as Pause, ...(turn ? TURN : {}) }
        : word,
    );
    pause = 0;
    turn = false;
    i += 1;
  }
  return kept;
}

/** How many words of a thing may stand between its number and the one that is meant. */
const NAMED = 6;

/** "three, no, four bolts", "two bolts, no, three, sorry": the number that is meant, of what was named. */
function withoutSlips(words: readonly Word[], language: Language): Word[] {
  const kept = [...words];
  for (let i = 0; i < kept.length; i += 1) {
    const first = numberAt(kept, i, language);
    if (first === undefined) continue;
    for (let k = i + first.length; k <= i + first.length + NAMED; k += 1) {
      const to = slipEnd(kept, k, language);
      const meant = to === k ? undefined : numberAt(kept, to, language);
      if (meant === undefined) {
        if (isAnother(kept, k, language)) break;
        continue;
      }
      const end = to + meant.length;
      // "four nuts, not three"
      if (language.set.not.is(kept[k])) {
        kept.splice(k, end - k);
        break;
      }
      const said = kept.slice(i + first.length, k);
      const pause = kept[i]?.pause ?? 0;
      const isSame = language.singular(kept[end]?.text ?? "") === language.singular(said[0]?.text ?? "");
      // "two nuts on each, no, one nut on each" is told whole; "six bolts, no, five nuts" is another thing.
      const isWhole = said.length === 0 || isSame;
      const after = isWhole ? end : slipEnd(kept, end, language);
      if (!isWhole && kept[end]?.pause === 0 && after === end) break;
      const number = kept.slice(to, end).map((word, n) => (n === 0 ? { ...word, pause } : word));
      kept.splice(i, after - i, ...number, ...(isWhole ? [] : said));
      break;
    }
  }
  return kept;
}

/** Where the words end that take back a number. */
function slipEnd(words: readonly Word[], from: number, { set }: Language): number {
  let at = from;
  for (let slip = set.slips.at(words, at); slip !== undefined; slip = set.slips.at(words, at)) at += slip.length;
  return at;
}

/** Whether something begins that the number before it does not count. */
const isAnother = (words: readonly Word[], k: number, language: Language): boolean =>
  (words[k]?.pause ?? 3) > 2 || language.set.the.is(words[k]) || numberAt(words, k, language) !== undefined;

/** "undo the undo the clip", "the the": what is said twice in a row is heard once. */
function withoutStutter(words: readonly Word[]): Word[] {
  const kept: Word[] = [];
  for (const word of words) {
    const n = kept.length;
    const last = kept[n - 1];
    const isLine = word.passage.cue === undefined && word.passage !== last?.passage;
    if (last?.text === word.text && word.pause < 2 && !isLine && !/^\d/.test(word.text)) continue;
    kept.push(word);
    const [a, b, c, d] = kept.slice(-4);
    if (
      a !== undefined &&
      c !== undefined &&
      a.text === c.text &&
      b?.text === d?.text &&
      c.pause < 2 &&
      b !== undefined
    )
      kept.length -= 2;
  }
  return kept;
}

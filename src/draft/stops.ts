// Owns the stops of talk that was written down without any: where one clause ends and the next begins, by what stands around each gap.
//
// A logistic regression over what the stretches of words are (a thing, what is done, a place …), never over the words themselves. Its
// weights were learned from narrations that have their stops: `npm run bench -- draft learn` makes them anew.

import { ACTS } from "./ahead.ts";
import { type Chunk, chunksOf } from "./chunk.ts";
import type { Language } from "./language.ts";
import type { Pause, Word } from "./spoken.ts";
import known from "./stops.json" with { type: "json" };

/** What a gap may be: nothing, a comma, the end of a sentence. */
export const GAPS = [0, 1, 2] as const;
export type Gap = (typeof GAPS)[number];

export type Weights = Readonly<Record<string, readonly number[]>>;

/** Fewer stops than one in so many words are none that anybody wrote. */
const SPARSE = 60;

/** Words with stops where they have none; those of a text that has its own are left as they are. */
export function withStops(words: readonly Word[], language: Language, weights: Weights = known): readonly Word[] {
  const stops = words.filter(({ pause }) => pause === 1 || pause === 2).length;
  if (stops * SPARSE > words.length) return withEnds(words, language, weights);
  const turned = atTurns(words);
  const isTerse = saysLittle(turned, language);
  const breathed = turned.map((word, i) =>
    word.pause < 2 && word.passage.breath && isEnd(turned, i) ? { ...word, pause: 2 as const } : word,
  );
  return placed({ words: breathed, language, weights, isTerse }, endsAreMeant(breathed, language, weights));
}

/** Whether a line ends before a word. */
const isEnd = (words: readonly Word[], i: number): boolean => words[i]?.passage !== words[i - 1]?.passage;

/** Stops at the ends of lines that have none, of somebody who writes one thing a line. */
function withEnds(words: readonly Word[], language: Language, weights: Weights): readonly Word[] {
  const ends = words.filter((_, i) => i > 0 && isEnd(words, i));
  const isStopped = ends.filter(({ pause }) => pause >= 2).length * 2 > ends.length;
  if (isStopped || !endsAreMeant(words, language, weights)) return words;
  return words.map((word, i) => (i > 0 && isEnd(words, i) && word.pause < 2 ? { ...word, pause: 2 } : word));
}

/** Words that get their stops, and what that asks. */
interface Talk {
  readonly words: readonly Word[];
  readonly language: Language;
  readonly weights: Weights;
  readonly isTerse: boolean;
}

/** Puts the stops, one by one; where ends of lines are meant one stands at each. */
function placed({ words, ...asked }: Talk, isMeant: boolean): readonly Word[] {
  const isLast = (i: number): boolean => isMeant && isEnd(words, i);
  const kept = words.map((word, i) => (isLast(i) && word.pause < 2 ? { ...word, pause: 2 as const } : word));
  const talk: Talk = { words: kept, ...asked };
  const chunks = chunksOf(kept, asked.language);
  const since = new Since();
  chunks.forEach((chunk, i) => {
    const word = kept[chunk.from];
    if (i === 0 || word === undefined) return;
    const isLine = isLast(chunk.from) && (words[chunk.from]?.pause ?? 0) < 2;
    const gap = gapBefore(talk, chunks, i, since, isLine);
    since.take(chunk, gap);
    if (gap > word.pause || isLine) kept[chunk.from] = { ...word, pause: gap };
  });
  return kept;
}

function gapBefore(talk: Talk, chunks: readonly Chunk[], i: number, since: Since, isLine: boolean): Gap {
  const { words, language, weights, isTerse } = talk;
  const chunk = chunks[i];
  if (!isLine && (words[chunk?.from ?? 0]?.pause ?? 0) > 1) return 2;
  if (
    chunk === undefined ||
    isSameThere(chunks[i - 1], chunk) ||
    isOfHardware(chunks.slice(i - 1, i + 2), words, language)
  )
    return 0;
  const scores = scoresOf(featuresOf(chunks, i, words, since, language, isTerse), weights);
  const [, comma, end] = scores;
  return isLine ? (end + LINE_END > comma ? 2 : 1) : gapOfScores(scores);
}

/** How much likelier an end is than a comma where a line ends. */
const LINE_END = 1;

/** Notes in half sentences have few of the words that only sentences need: fewer than one in so many. */
const LITTLE = 0.13;

/** Whether somebody talks in half sentences: "fuel feed, one clip". */
export function saysLittle(words: readonly Word[], { set }: Language): boolean {
  const little = [set.nobody, set.subjects, set.the, set.indefinite, set.copulas];
  const many = words.filter((word) => little.some((list) => list.is(word))).length;
  return many < LITTLE * words.length;
}

/** Of the ends of lines so many are at words that go on ("the", "and"), and so likely are stops there, where lines are what was said in one breath. */
const OPEN = 0.1;
const LIKELY = 0.48;

/** Whoever talks long does not begin to write otherwise: so many words tell. */
const SAMPLE = 3000;

/** Whether lines end where something ends, and not where a recogniser's caption was full. */
function endsAreMeant(words: readonly Word[], language: Language, weights: Weights): boolean {
  const { set } = language;
  const bare = words.slice(0, SAMPLE).map((word) => (word.pause === 0 ? word : { ...word, pause: 0 as const }));
  const chunks = chunksOf(bare, language);
  const since = new Since();
  let [ends, open, likely] = [0, 0, 0];
  chunks.forEach((chunk, i) => {
    const scores = scoresOf(featuresOf(chunks, i, bare, since, language, false), weights);
    const shares = sharesOf(scores);
    since.take(chunk, gapOfScores(scores));
    for (let k = Math.max(1, chunks[i - 1]?.to ?? 0); k < chunk.to; k += 1) {
      if (!isEnd(bare, k)) continue;
      ends += 1;
      if (k <= chunk.from) likely += 1 - (shares[0] ?? 0);
      if ([set.the, set.indefinite, set.andOr, set.of].some((list) => list.is(bare[k - 1]))) open += 1;
    }
  });
  return ends >= 5 && open <= OPEN * ends && likely >= LIKELY * ends;
}

/** "the same on the right": over there, in one breath. */
const isSameThere = (before: Chunk | undefined, chunk: Chunk): boolean =>
  before?.is === "sign" &&
  before.sign === "same" &&
  chunk.is === "place" &&
  !chunk.placed.goes &&
  before.to === chunk.from;

/** "a clamp at the front, lift it out": where on the thing. */
const isOfHardware = ([before, chunk, next]: readonly Chunk[], words: readonly Word[], { set }: Language): boolean =>
  before?.is === "phrase" &&
  before.phrase.noun?.role === "fixing" &&
  chunk?.is === "place" &&
  set.atWhich.is(words[chunk.from]) &&
  next?.is !== "phrase" &&
  next?.is !== "sign";

/** Whoever says "okay" has done with what came before. */
export const atTurns = (words: readonly Word[]): readonly Word[] =>
  words.map((word) => (word.turn && word.pause < 2 ? { ...word, pause: 2 } : word));

/** What was said since the last stop, as far as the next one hangs on it. */
export class Since {
  things = 0;
  done = false;
  chunks = 0;

  take(chunk: Chunk, gap: Pause): void {
    if (gap >= 2) {
      this.things = 0;
      this.done = false;
      this.chunks = 0;
    }
    this.chunks += 1;
    if (chunk.is === "phrase" && chunk.phrase.noun !== undefined && chunk.phrase.noun.role !== "fixing")
      this.things += 1;
    if (chunk.is === "verb" && ACTS.includes(chunk.act)) this.done = true;
  }
}

/** What is seen at the gap before a chunk. */
export function featuresOf(
  chunks: readonly Chunk[],
  i: number,
  words: readonly Word[],
  since: Since,
  language: Language,
  isTerse: boolean,
): readonly string[] {
  const [l3, l2, l1, r1, r2, r3] = [-3, -2, -1, 0, 1, 2].map((k) => typeOf(chunks[i + k], words, language));
  const before = chunks[i - 1];
  const chunk = chunks[i];
  const gap = chunk === undefined ? [] : gapOf(words.slice(before?.to ?? 0, chunk.from), language);
  const between = gap.join("+");
  const state = `${Math.min(since.things, 2)}${since.done ? "d" : ""}`;
  const turn = words.slice(before?.to ?? 0, (chunk?.from ?? 0) + 1).some((word) => word.turn);
  const features = [
    "any",
    ...(turn ? ["turn"] : []),
    `l1 ${l1}`,
    `l2 ${l2} ${l1}`,
    `l3 ${l3} ${l2} ${l1}`,
    `r1 ${r1}`,
    `r2 ${r1} ${r2}`,
    `r3 ${r1} ${r2} ${r3}`,
    `at ${l1} ${r1}`,
    `at ${l2} ${l1} ${r1}`,
    `at ${l1} ${r1} ${r2}`,
    `gap ${between}`,
    `gap ${l1} ${between} ${r1}`,
    `gap ${between} ${r1} ${r2}`,
    ...gap.map((one) => `in ${one}`),
    `since ${state} ${r1}`,
    `since ${state} ${r1} ${r2}`,
    `since ${state} ${l1} ${r1}`,
    `long ${Math.min(8, since.chunks)}`,
    ...opening(chunk, words, language).map((one) => `r1 ${one} ${l1}`),
  ];
  // What holds of both stands once; half sentences add what is otherwise with them.
  return isTerse ? [...features, ...features.map((one) => `terse ${one}`)] : features;
}

/** How a thing is begun, where one is. */
const opening = (chunk: Chunk | undefined, words: readonly Word[], { set }: Language): readonly string[] => {
  if (chunk?.is !== "phrase") return [];
  const { phrase } = chunk;
  const first = words[chunk.from];
  const article = set.the.is(first) ? "the" : set.indefinite.is(first) ? "a" : phrase.definite ? "this" : "bare";
  return [
    `${article} ${phrase.noun?.role ?? "unknown"} ${phrase.count === undefined ? "" : "counted"}`,
    `${article} ${phrase.words.length > 1 ? "named" : "one word"} ${phrase.noun?.role ?? "unknown"}`,
  ];
};

/** What the words between two chunks are: at most three of them. */
const gapOf = (words: readonly Word[], { set }: Language): readonly string[] =>
  words.slice(-3).map((word) => {
    for (const name of [
      "and",
      "or",
      "then",
      "nobody",
      "subjects",
      "relatives",
      "breaths",
      "to",
      "of",
      "passives",
    ] as const)
      if (name === "or" ? set.andOr.is(word) : set[name].is(word)) return name;
    return set.stop.is(word) ? "stop" : "other";
  });

/** What a chunk is. */
function typeOf(chunk: Chunk | undefined, words: readonly Word[], { set }: Language): string {
  if (chunk === undefined) return "end";
  switch (chunk.is) {
    case "phrase": {
      const { noun, nothing, count } = chunk.phrase;
      if (nothing) return "tool";
      return `${noun?.role ?? "thing"}${noun?.role === "fixing" && count !== undefined ? "s" : ""}`;
    }
    case "verb":
      return ACTS.includes(chunk.act) ? "do" : chunk.act;
    case "sign":
      return chunk.sign;
    case "place":
      return chunk.moved || chunk.placed.goes ? "there" : chunk.placed.local || chunk.placed.aside ? "on it" : "place";
    case "pronoun":
      return chunk.many ? "them" : "it";
    case "task":
      return "task";
    case "link":
      // "pull it off, the hose": it may be the verb's own.
      return set.departs.is(words[chunk.from]) ? "link or particle" : "link";
    default:
      return chunk.is;
  }
}

function gapOfScores([none, comma, end]: readonly [number, number, number]): Gap {
  return end > comma && end > none ? 2 : comma > none ? 1 : 0;
}

/** How likely each gap is. */
export function sharesOf(scores: readonly number[]): readonly number[] {
  const most = Math.max(...scores);
  const shares = scores.map((score) => Math.exp(score - most));
  const all = shares.reduce((sum, share) => sum + share, 0);
  return shares.map((share) => share / all);
}

export function scoresOf(features: readonly string[], weights: Weights): [number, number, number] {
  const sums: [number, number, number] = [0, 0, 0];
  for (const feature of features) {
    const weight = weights[feature];
    if (weight !== undefined) for (const gap of GAPS) sums[gap] += weight[gap] ?? 0;
  }
  return sums;
}

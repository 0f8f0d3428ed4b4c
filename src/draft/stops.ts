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
  if (stops * SPARSE > words.length) return words;
  const turned = atTurns(words);
  const chunks = chunksOf([...turned], language);
  const placed = [...turned];
  const since = new Since();
  chunks.forEach((chunk, i) => {
    const word = placed[chunk.from];
    if (i === 0 || word === undefined) return;
    const gap =
      word.pause > 1
        ? 2
        : isSameThere(chunks[i - 1], chunk)
          ? 0
          : likeliest(featuresOf(chunks, i, words, since, language), weights);
    since.take(chunk, gap);
    if (gap > word.pause) placed[chunk.from] = { ...word, pause: gap };
  });
  return placed;
}

/** "the same on the right": over there, in one breath. */
const isSameThere = (before: Chunk | undefined, chunk: Chunk): boolean =>
  before?.is === "sign" &&
  before.sign === "same" &&
  chunk.is === "place" &&
  !chunk.placed.goes &&
  before.to === chunk.from;

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
): readonly string[] {
  const [l3, l2, l1, r1, r2, r3] = [-3, -2, -1, 0, 1, 2].map((k) => typeOf(chunks[i + k], words, language));
  const before = chunks[i - 1];
  const chunk = chunks[i];
  const gap = chunk === undefined ? [] : gapOf(words.slice(before?.to ?? 0, chunk.from), language);
  const between = gap.join("+");
  const state = `${Math.min(since.things, 2)}${since.done ? "d" : ""}`;
  const turn = words.slice(before?.to ?? 0, (chunk?.from ?? 0) + 1).some((word) => word.turn);
  return [
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

function likeliest(features: readonly string[], weights: Weights): Gap {
  const sums = scoresOf(features, weights);
  return sums[2] > sums[1] && sums[2] > sums[0] ? 2 : sums[1] > sums[0] ? 1 : 0;
}

export function scoresOf(features: readonly string[], weights: Weights): [number, number, number] {
  const sums: [number, number, number] = [0, 0, 0];
  for (const feature of features) {
    const weight = weights[feature];
    if (weight !== undefined) for (const gap of GAPS) sums[gap] += weight[gap] ?? 0;
  }
  return sums;
}

// Owns the learning of where stops stand: softmax regression on narrations that have theirs, in a seeded order, and how well it finds those of narrations kept out of it.
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { chunksOf } from "../../src/draft/chunk.ts";
import { takeIn } from "../../src/draft/intake.ts";
import { languageFor } from "../../src/draft/languages.ts";
import { hearWords } from "../../src/draft/spoken.ts";
import { atTurns, featuresOf, GAPS, type Gap, Since, saysLittle, scoresOf, sharesOf } from "../../src/draft/stops.ts";

interface Example {
  readonly features: readonly string[];
  readonly gap: Gap;
}

const PASSES = 12;
/** A feature that was seen less often is chance. */
const SEEN = 8;
const RATE = 0.1;
const DECAY = 5e-3;

/** The gaps of a narration whose stops are written, as they are seen without them. */
function examplesIn(file: string, text: string): readonly Example[] {
  const language = languageFor(text);
  const taken = takeIn(text, file, language.set.steps);
  if ("what" in taken) return [];
  const words = hearWords(taken.passages, language);
  const stops = words.filter(({ pause }) => pause === 1 || pause === 2).length;
  if (stops * 20 < words.length) return [];
  const bare = atTurns(words.map((word) => ({ ...word, pause: 0 })));
  const chunks = chunksOf([...bare], language);
  const since = new Since();
  const isTerse = saysLittle(bare, language);
  return chunks.flatMap((chunk, i) => {
    if (i === 0) return [];
    const pause = Math.max(...words.slice(chunks[i - 1]?.to ?? 0, chunk.from + 1).map((word) => word.pause));
    const gap: Gap = pause >= 2 ? 2 : pause === 1 ? 1 : 0;
    const features = featuresOf(chunks, i, bare, since, language, isTerse);
    since.take(chunk, gap);
    return [{ features, gap }];
  });
}

function learn(examples: readonly Example[]): Record<string, number[]> {
  const seen = new Map<string, number>();
  for (const { features } of examples) for (const one of features) seen.set(one, (seen.get(one) ?? 0) + 1);
  const kept = examples.map(({ features, gap }) => ({
    gap,
    features: features.filter((one) => (seen.get(one) ?? 0) >= SEEN),
  }));
  const weights: Record<string, number[]> = {};
  const sums: Record<string, number[]> = {};
  let seed = 5;
  const random = (below: number) => {
    seed = (seed * 1103515245 + 12345) % 2147483648;
    return Math.floor(seed / 65536) % below;
  };
  for (let pass = 0; pass < PASSES; pass += 1) {
    for (let i = kept.length - 1; i > 0; i -= 1) {
      const j = random(i + 1);
      const [a, b] = [kept[i], kept[j]];
      if (a !== undefined && b !== undefined) [kept[i], kept[j]] = [b, a];
    }
    const rate = RATE / (1 + pass);
    for (const { features, gap } of kept) {
      const shares = sharesOf(scoresOf(features, weights));
      for (const feature of features) {
        weights[feature] ??= [0, 0, 0];
        const weight = weights[feature];
        for (const one of GAPS)
          weight[one] = (weight[one] ?? 0) * (1 - rate * DECAY) + rate * ((one === gap ? 1 : 0) - (shares[one] ?? 0));
      }
    }
    for (const [feature, weight] of Object.entries(weights)) {
      sums[feature] ??= [0, 0, 0];
      const sum = sums[feature];
      for (const one of GAPS) sum[one] = (sum[one] ?? 0) + (weight[one] ?? 0) / PASSES;
    }
  }
  return sums;
}

/** How many stops are found, and how many of those found are there: of sentences, and of either. */
function judge(examples: readonly Example[], weights: Record<string, number[]>): string {
  let [right, found, there, rightAny, foundAny, thereAny] = [0, 0, 0, 0, 0, 0];
  for (const { features, gap } of examples) {
    const scores = scoresOf(features, weights);
    const guess = scores.indexOf(Math.max(...scores));
    if (guess === 2) found += 1;
    if (gap === 2) there += 1;
    if (guess === 2 && gap === 2) right += 1;
    if (guess > 0) foundAny += 1;
    if (gap > 0) thereAny += 1;
    if (guess > 0 && gap > 0) rightAny += 1;
  }
  const share = (a: number, b: number) => (a / b).toFixed(3);
  return `sentences: precision ${share(right, found)}, recall ${share(right, there)}; any stop: ${share(rightAny, foundAny)}, ${share(rightAny, thereAny)}`;
}

/** Learns from the narrations of folders and writes the weights. */
export function learnStops(folders: readonly string[], to: string): void {
  const narrations = folders.flatMap((folder) =>
    readdirSync(folder)
      .filter((name) => !name.endsWith(".json"))
      .sort()
      .map((name) => examplesIn(name, readFileSync(join(folder, name), "utf8"))),
  );
  const told = narrations.filter((one) => one.length > 0);
  const isKeptOut = (i: number) => i % 5 === 0;
  const some = learn(told.filter((_, i) => !isKeptOut(i)).flat());
  console.log(
    `${told.length} narrations; a fifth of them kept out, ${judge(told.filter((_, i) => isKeptOut(i)).flat(), some)}`,
  );
  const weights = learn(told.flat());
  const round = (value: number) => Math.round(value * 100) / 100;
  const lines = Object.entries(weights)
    .map(([feature, weight]) => {
      // What all three have in common changes nothing.
      const least = weight[0] ?? 0;
      return [feature, weight.map((value) => round(value - least))] as const;
    })
    .filter(([, weight]) => weight.some((value) => Math.abs(value) >= 0.15))
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([feature, weight]) => `  ${JSON.stringify(feature)}: [${weight.join(", ")}]`);
  writeFileSync(to, `{\n${lines.join(",\n")}\n}\n`);
  console.log(`${lines.length} weights`);
}

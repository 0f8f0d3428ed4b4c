// Owns the tasks as they are told: drain, raise, sling, support.

import type { Chunk } from "./chunk.ts";
import type { Source } from "./item.ts";
import type { Memory } from "./memory.ts";
import { capital } from "./names.ts";
import { numberAt } from "./phrase.ts";
import { LABELS } from "./words.ts";

export function tellTask(m: Memory, does: string, chunk: Chunk): void {
  if (does === "catch" || does === "mark" || does === "plug" || does === "lower" || does === "back" || does === "fill")
    return;
  const source = m.source(chunk.from, Math.min(chunk.to + 6, m.words.length));
  if (does === "ready") m.told.closings.push({ after: m.told.ties.length, final: true, source });
  // The lift is what the job is for, and no task beside it.
  if (does === "ready" || does === "lift") return;
  if (does === "support" && isOnHoist(m, chunk)) {
    tell(m, "sling", undefined, undefined, source);
    return;
  }
  const said = fluidsSaid(m, chunk, does === "drain" || does === "vent");
  if (said.length === 0) tell(m, does, undefined, undefined, source);
  for (const { fluid, amount } of said) tell(m, does, fluid, amount, source);
}

/** Words before and after the weight in which a hoist is what takes it. */
const NEAR = [12, 6] as const;

/** "the crane comes over and takes the weight" */
function isOnHoist({ words, language }: Memory, { from, to }: Chunk): boolean {
  let start = from;
  while (start > Math.max(0, from - NEAR[0]) && (words[start]?.pause ?? 3) < 2) start -= 1;
  for (let k = start; k < Math.min(to + NEAR[1], words.length); k += 1) {
    if (k > to && (words[k]?.pause ?? 3) >= 2) return false;
    if (language.set.hoists.is(words[k])) return true;
  }
  return false;
}

/** The fluids of a task with their amounts: after its verb to the end of the sentence, or, "the fuel tank gets drained", before it. */
function fluidsSaid(
  m: Memory,
  chunk: Chunk,
  holds: boolean,
): readonly { readonly fluid: string; readonly amount: string | undefined }[] {
  if (!holds) return [];
  const said: { fluid: string; amount: string | undefined }[] = [];
  const look = (from: number, to: number): void => {
    for (let k = from; k < to; k += 1) {
      const word = m.words[k];
      if (word === undefined || (word.pause >= 2 && k > from)) break;
      if (
        k > chunk.to &&
        m.language.verbs.at(m.words, k) !== undefined &&
        m.language.nouns.at(m.words, k) === undefined
      )
        break;
      const found = m.language.fluids.at(m.words, k);
      if (found !== undefined && !said.some(({ fluid }) => fluid === found.value)) {
        said.push({ fluid: found.value, amount: undefined });
        k += found.length - 1;
      }
      const number = numberAt(m.words, k, m.language);
      const decimal = /^\d+(\.\d+)?$/.test(word.text) ? word.text : number?.value.toString();
      const unit = m.language.volumes.at(m.words, k + (number?.length ?? 1));
      const last = said.at(-1);
      if (decimal !== undefined && unit !== undefined && last !== undefined) last.amount ??= `${decimal} ${unit.value}`;
      else if (decimal !== undefined && unit !== undefined) early = `${decimal} ${unit.value}`;
    }
  };
  // "nine litres of coolant"
  let early: string | undefined;
  const word = m.words[chunk.to - 1]?.text ?? "";
  const isPassive =
    m.language.verbs.get(word)?.last ||
    m.language.forms.isParticiple(word) ||
    m.language.set.passiveStart.is(m.words[chunk.from]);
  const start = chunk.from - 7;
  let from = chunk.from;
  while (from > Math.max(0, start) && (m.words[from]?.pause ?? 3) < 2) from -= 1;
  if (isPassive) look(from, chunk.from);
  look(chunk.from, chunk.to + 24);
  const first = said[0];
  if (first !== undefined) first.amount ??= early;
  return said;
}

function tell(m: Memory, does: string, fluid: string | undefined, amount: string | undefined, source: Source): void {
  const same = m.told.tasks.find((one) => one.does === does && (one.fluid === fluid || fluid === undefined));
  if (same !== undefined) {
    same.sources.push(source);
    return;
  }
  const { labels, compounds } = m.language;
  const called = LABELS.find((one) => one === (does === "vent" && fluid !== undefined ? "ventOf" : does));
  const label =
    called === undefined ? capital(does) : capital(labels[called].replace("{}", compounds.noun(fluid ?? labels.fluid)));
  m.told.tasks.push({
    id: "",
    does,
    label,
    ...(fluid === undefined ? {} : { fluid }),
    ...(amount === undefined ? {} : { amount }),
    ...(m.here === undefined || does === "raise" || does === "lift" ? {} : { at: m.here.id }),
    after: m.told.ties.length,
    sources: [source],
  });
}

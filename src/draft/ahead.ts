// Owns what stands around a chunk: whether a verb has its object, what belongs to a phrase, whether a thing has its own hardware or is the next one.

import type { Memory } from "./memory.ts";
import type { Phrase } from "./phrase.ts";

export const ACTS: readonly string[] = ["disconnect", "loosen", "remove", "free"];

export const isShares = (m: Memory, { count, words }: Phrase): boolean =>
  count !== undefined && m.language.set.shares.at([{ text: words.at(-1) ?? "" }], 0) !== undefined;

export const isSpots = (m: Memory, { count, words }: Phrase): boolean =>
  count !== undefined && m.language.set.spots.at([{ text: words.at(-1) ?? "" }], 0) !== undefined;

/** "slide it off glow plug wire unplug it": the particle was the verb's, and this is the next thing. */
export function isNext(m: Memory, i: number): boolean {
  const chunk = m.chunks[i];
  const link = m.chunks[i - 1];
  if (chunk?.is !== "phrase" || link?.is !== "link" || !m.language.set.off.is(m.words[link.from])) return false;
  const role = chunk.phrase.noun?.role;
  const isBareName = chunk.phrase.words.length === chunk.to - chunk.from && (role === "tie" || role === "cover");
  const before = m.chunks[i - 2];
  const done = before?.is === "pronoun" || (before?.is === "phrase" && before.phrase.noun?.role === "fixing");
  return done && (isBareName || hasOwn(m, i));
}

/** "the hood on two hinge pins": what holds it, and no place on it. */
function isHardwareOn(m: Memory, i: number): boolean {
  const chunk = m.chunks[i];
  const link = m.chunks[i - 1];
  return (
    chunk?.is === "phrase" &&
    chunk.phrase.noun?.role === "fixing" &&
    chunk.phrase.count !== undefined &&
    link?.is === "link" &&
    m.language.set.heldOn.is(m.words[link.from])
  );
}

/** Whether a phrase stands right after another thing, joined to it by no word. */
export function isNewThing(m: Memory, i: number): boolean {
  const chunk = m.chunks[i];
  const last = m.chunks[i - 1];
  return (
    chunk?.is === "phrase" &&
    (chunk.phrase.noun?.role === "tie" || chunk.phrase.noun?.role === "cover" || chunk.phrase.noun?.role === "part") &&
    last !== undefined &&
    last.to === chunk.from &&
    ["phrase", "pronoun", "particle", "each", "number"].includes(last.is)
  );
}

/** "each flange has four screws" */
export function saysEach(m: Memory, i: number): boolean {
  const chunk = m.chunks[i];
  return chunk !== undefined && m.words.slice(chunk.from, chunk.to).some(({ text }) => m.language.set.every.has(text));
}

/** "then two bolts and the starter comes out": hardware of what is named after it. */
export function isOfNext(m: Memory, i: number): boolean {
  const [next, verb, after] = m.chunks.slice(i + 1, i + 4);
  return (
    next?.is === "phrase" &&
    next.pause < 2 &&
    m.language.set.and.is(m.words[next.from - 1]) &&
    next.phrase.noun?.role !== "fixing" &&
    verb?.is === "verb" &&
    verb.act === "remove" &&
    verb.pause === 0 &&
    after?.is !== "phrase" &&
    after?.is !== "pronoun"
  );
}

/** Whether a thing is told of with its own hardware, or with what is done to it. */
export function hasOwn(m: Memory, i: number): boolean {
  const chunk = m.chunks[i];
  const after = m.chunks
    .slice(i + 1, i + 5)
    .filter((one, k, all) => one.is !== "number" && !(one.is === "pronoun" && all[k - 1]?.is === "number"))
    .filter((one) => one.is !== "phrase" || !one.phrase.nothing);
  const next = after[0];
  if (chunk?.is !== "phrase" || (chunk.phrase.noun?.role !== "tie" && chunk.phrase.noun?.role !== "cover"))
    return false;
  return (
    (next?.is === "phrase" && next.phrase.noun?.role === "fixing" && next.phrase.count !== undefined) ||
    (next?.is === "sign" && next.sign === "held" && next.pause === 0 && next.to - next.from === 1) ||
    (next?.is === "verb" && after[1]?.is === "pronoun") ||
    (next?.is === "verb" && ACTS.includes(next.act) && next.pause === 0 && after[1]?.is !== "phrase")
  );
}

/** Whether the verb has its object after it, before anything that ends the clause. */
export function objectFollows(m: Memory, i: number): boolean {
  for (let k = i + 1; k < m.chunks.length && k < i + 5; k += 1) {
    const chunk = m.chunks[k];
    if (chunk === undefined || chunk.pause >= 2) return false;
    if (chunk.is === "phrase") return chunk.pause === 0 || k === i + 1;
    if (chunk.is === "pronoun") return chunk.pause === 0;
    if (chunk.is !== "particle") return false;
  }
  return false;
}

/** The phrases that belong to the one at `i`: "on the bell housing", "from the pump to the tank". */
export function attachments(
  m: Memory,
  i: number,
): { readonly phrases: readonly { link: string; phrase: Phrase }[]; readonly length: number } {
  const phrases: { link: string; phrase: Phrase }[] = [];
  let k = i + 1;
  for (;;) {
    const a = m.chunks[k];
    if (a === undefined || a.pause >= 2) break;
    // A particle between: "pull the hose off of the stub".
    const link = a.is === "link" ? a : a.is === "place" && a.placed.local ? a : undefined;
    if (link === undefined) break;
    let b = m.chunks[k + 1];
    let skip = 1;
    if (link.is === "place" && b?.is === "link") {
      b = m.chunks[k + 2];
      skip = 2;
    }
    if (
      b?.is !== "phrase" ||
      b.pause >= 2 ||
      isSpots(m, b.phrase) ||
      isShares(m, b.phrase) ||
      isNext(m, k + skip) ||
      isHardwareOn(m, k + skip)
    )
      break;
    phrases.push({ link: link.is === "link" ? link.link : "near", phrase: b.phrase });
    k += skip + 1;
    const and = m.words[b.to];
    const joined = m.chunks[k];
    // "between the pump and the tank"
    if (
      link.is === "link" &&
      m.language.set.and.has(and?.text) &&
      joined?.is === "phrase" &&
      joined.from === b.to + 1 &&
      m.language.set.between.is(m.words[link.from])
    ) {
      phrases.push({ link: "to", phrase: joined.phrase });
      k += 1;
    }
  }
  return { phrases, length: k - i - 1 };
}

export function silentBefore(m: Memory, from: number): boolean {
  for (let k = from; k > from - 14 && k > 0; k -= 1) if ((m.words[k]?.pause ?? 0) >= 2) return false;
  return true;
}

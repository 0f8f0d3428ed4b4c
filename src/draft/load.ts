// Owns what the talk is of: the assembly that comes out.

import type { Language } from "./language.ts";
import type { Memory } from "./memory.ts";
import { naming } from "./names.ts";

/** The assembly that is named most, most of all where it is said to come free. */
export function mostNamed(m: Memory): string | undefined {
  const votes = new Map<string, number>();
  m.chunks.forEach((chunk, i) => {
    if (chunk.is !== "phrase" || chunk.phrase.noun === undefined || isHousing(chunk.phrase.noun.name, m.language))
      return;
    const { role } = chunk.phrase.noun;
    if (role !== "assembly" && role !== "part") return;
    const near = m.chunks.slice(Math.max(0, i - 2), i + 3);
    const freed = near.some(
      // "unbolt the pump and lift it out" is said of any part; of the load at the end.
      (one) =>
        (one.is === "sign" && one.sign === "final") ||
        (one.is === "task" &&
          (one.does === "ready" || (one.does === "lift" && (role === "assembly" || i > 0.8 * m.chunks.length)))),
    );
    // "removal of the gear pump"
    const of = m.chunks[i - 1];
    const what = m.chunks[i - 2];
    const isRemoved =
      of?.is === "link" && what?.is === "phrase" && m.language.set.removals.has(what.phrase.words.at(-1));
    // "the rear axle out of the ambulance"
    const link = m.chunks[i + 1];
    const from = m.chunks[i + 2];
    const leaves =
      isRemoved ||
      isTitle(m, i) ||
      (i < 12 &&
        link?.is === "link" &&
        from?.is === "phrase" &&
        from.phrase.words.some((text) => m.language.set.vehicles.has(text)));
    // "this is how I take the pump out": before anything is told, what the talk is of.
    const opening =
      i < 8 &&
      Array.from({ length: chunk.from }, (_, k) => k).some((k) => m.language.set.intro.at(m.words, k) !== undefined);
    if (role === "part" && !freed && !opening && !leaves) return;
    const name = naming(chunk.phrase.words, m.language).join(" ");
    votes.set(name, (votes.get(name) ?? 0) + (leaves ? 6 : freed ? 4 : opening ? 3 : 1));
  });
  return [...votes].sort((a, b) => b[1] - a[1])[0]?.[0];
}

/** "Winch motor off the crane": what is named first, and comes off. */
function isTitle({ chunks, words, language }: Memory, i: number): boolean {
  const next = chunks[i + 1];
  return i === 0 && next !== undefined && next.pause === 0 && language.set.departs.is(words[next.from]);
}

/** What an assembly sits in is none. */
const isHousing = (name: string, language: Language): boolean =>
  name.split(" ").some((word) => language.set.noLoads.has(word));

// Owns the order of a clause where the verb stands behind what it is done to ("den Schlauch ziehst du ab", "den Schlauch abziehen"): it is heard first.

import type { Chunk } from "./chunk.ts";
import type { Language } from "./language.ts";
import type { Word } from "./spoken.ts";

/** What an object is made of. */
const OBJECT: readonly Chunk["is"][] = ["phrase", "pronoun", "link", "place"];

/** The chunks with each verb before its object. */
export function verbsFirst(chunks: readonly Chunk[], words: readonly Word[], language: Language): Chunk[] {
  const ordered: Chunk[] = [];
  for (const chunk of chunks) {
    const at = chunk.is === "verb" && chunk.pause === 0 ? objectBefore(ordered, chunk, words, language) : undefined;
    const first = at === undefined ? undefined : ordered[at];
    if (at === undefined || first === undefined) ordered.push(chunk);
    else ordered.splice(at, 1, { ...chunk, from: first.from, pause: first.pause }, { ...first, pause: 0 });
  }
  return ordered;
}

/** Where the object of a verb begins that was named before it. */
function objectBefore(
  ordered: readonly Chunk[],
  verb: Chunk & { is: "verb" },
  words: readonly Word[],
  { links, verbSecond }: Language,
): number | undefined {
  if (!verb.last && !verbSecond) return undefined;
  let at = ordered.length;
  while (at > 0) {
    const one = ordered[at - 1];
    if (one === undefined || !OBJECT.includes(one.is)) break;
    at -= 1;
    if (one.pause > 0) break;
  }
  // "am Anlasser schraubst du das Kabel ab": where it is, and no object.
  const isWhere = (one: Chunk | undefined, before: Chunk | undefined): boolean =>
    one?.is === "link" ||
    one?.is === "place" ||
    (one !== undefined && one.from > (before?.to ?? 0) && links.is(words[one.from - 1]));
  while (at < ordered.length && isWhere(ordered[at], ordered[at - 1])) at += 1;
  return at < ordered.length ? at : undefined;
}

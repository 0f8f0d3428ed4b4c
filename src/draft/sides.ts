// Owns what is said of two sides at once: "same on the other side", "one on each side".

import type { Chunk } from "./chunk.ts";
import type { Language } from "./language.ts";
import { isTie, type Memory } from "./memory.ts";
import { capital } from "./names.ts";
import { endClause } from "./undo.ts";

/** "Same on the other side": what was just told, again over there. */
export function mirror(m: Memory, chunk: Chunk, i: number): number {
  let taken = 0;
  let place: (Chunk & { is: "place" }) | undefined;
  for (let k = i + 1; k < i + 4 && place === undefined; k += 1) {
    const one = m.chunks[k];
    // "same again, that's the rear": what it was the same as is done, and the next words close the rear.
    if (one === undefined || one.pause >= 2 || one.is === "is" || one.is === "sign") break;
    if (one.is === "place") {
      place = one;
      taken = k - i;
    }
  }
  if (place === undefined) return 0;
  const position = place.placed.position ?? (m.here === undefined ? undefined : m.language.opposites.get(m.here.id));
  if (position === undefined) return taken;
  const here = m.here?.id;
  // "same on the right: air line only"
  if (m.words.slice(place.to, place.to + 8).some(({ text }) => m.language.set.only.has(text))) {
    endClause(m, chunk.to);
    m.here = m.position(position);
    m.stood.add(position.id);
    return taken;
  }
  const whole = m.closedJustNow;
  const group = whole ? m.told.ties.filter(({ at }) => at === here) : m.sentence.length > 0 ? m.sentence : m.lately;
  const there = m.position(position);
  const stand = m.here;
  endClause(m, chunk.to);
  for (const tie of [...group]) {
    if (tie.at === there.id) continue;
    m.here = there;
    const label = mirrored(tie.label, m.language);
    const made = m.addTie(label, tie.kind, label.toLowerCase().split(" "), m.source(chunk.from, place.to));
    if (tie.count !== undefined) made.count = tie.count;
    if (tie.hardware !== undefined) made.hardware = tie.hardware;
    if (tie.verb !== undefined) made.verb = tie.verb;
    made.undone = tie.undone;
    made.joins.push(...tie.joins);
    made.assumed.push(m.language.says.otherSide);
    made.sure = 0.75;
  }
  m.stood.add(there.id);
  m.here = whole || place.moved ? there : stand;
  endClause(m, place.to, false);
  return taken;
}

/** A name on the other side: the first word of it that has another one there. */
function mirrored(label: string, { mirror }: Language): string {
  const words = label.split(" ");
  const at = words.findIndex((word) => mirror.has(word.toLowerCase()));
  const word = words[at];
  const other = mirror.get(word?.toLowerCase() ?? "");
  if (word === undefined || other === undefined) return label;
  return words.with(at, word === word.toLowerCase() ? other : capital(other)).join(" ");
}

export function pairUp(m: Memory, chunk: Chunk & { is: "sign" }): void {
  const { refs, there, verb, skip, mention } = m.clause;
  // "plug both ends": nothing is counted by it.
  if (skip || mention) return;
  const tie = refs.findLast(isTie) ?? (verb === undefined ? m.lastTie() : undefined);
  if (tie === undefined) return;
  const before = m.chunks[m.chunks.indexOf(chunk) - 1];
  const share = before?.is === "number" && chunk.pause === 0 ? before.value : undefined;
  const one = share !== undefined;
  const per = m.language.set.eachSidePer.has(chunk.said) && !one;
  if (tie.count === undefined) tie.count = 2 * (share ?? 1);
  else if (share !== undefined && share > 1 && tie.count === share) tie.count = 2 * share;
  else if (per && tie.count > 1) tie.count *= 2;
  else tie.count = Math.max(tie.count, 2);
  if (tie.hardware === undefined && tie.count !== undefined) m.things.set(tie, tie.count);
  if (there && verb === undefined) m.told.bothSides.push({ tie, source: m.source(m.clause.from, chunk.to) });
}

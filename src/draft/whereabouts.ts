// Owns the places as they are told: where somebody goes, and where a thing is.

import { silentBefore } from "./ahead.ts";
import type { Chunk } from "./chunk.ts";
import type { PositionName } from "./language.ts";
import { isTie, type Memory } from "./memory.ts";
import { capital } from "./names.ts";
import { endClause } from "./undo.ts";

/** "the mounts, two at the front": where some of it are. */
function isShare(m: Memory, i: number): boolean {
  const [place, number, after] = m.chunks.slice(i, i + 3);
  const tie = m.lastTie();
  if (place?.is !== "place" || number?.is !== "number" || number.pause > 0 || (after?.pause ?? 3) === 0) return false;
  return place.pause === 1 && tie !== undefined && m.touched.has(tie) && (tie.count === undefined || m.shares.has(tie));
}

/** The other side of a place that has no opposite is a place of its own. */
function farSide({ words, language, here }: Memory, { from, to }: Chunk): PositionName | undefined {
  if (here === undefined) return undefined;
  const said = words.slice(from, to).map(({ text }) => text);
  const name = said.slice(said.findIndex((_, k) => language.set.otherSide.at(words, from + k) !== undefined)).join(" ");
  return { id: name.replaceAll(" ", "-"), label: capital(name) };
}

/** "look at the back of the hub. That plug …": of something small, and whoever looks stays; "at the front of the bed there's …" is a place. */
function isLookedAt(m: Memory, i: number): boolean {
  const [link, of, then] = m.chunks.slice(i + 1, i + 4);
  const isSmall = link?.is === "link" && of?.is === "phrase" && of.phrase.noun?.role !== "assembly";
  const isToldOf = then?.is === "sign" && then.sign === "there";
  return m.here !== undefined && isSmall && !isToldOf && (then?.pause ?? 3) >= 2;
}

/** "Sorry, the right": of the last thing, or of all since somebody came to the other one. */
function correctPlace(m: Memory, position: PositionName): void {
  const { id } = m.position(position);
  const wrong = m.here?.id;
  const isOpposite = wrong !== undefined && m.language.opposites.get(wrong)?.id === id;
  for (const tie of isOpposite ? m.told.ties.slice(m.arrived) : m.told.ties.slice(-1))
    if (!isOpposite || tie.at === wrong) tie.at = id;
  if (!isOpposite) return;
  m.here = position;
  m.stood.add(id);
}

/** Words between setting out and where to, at most: what somebody goes past. */
const WAY = 6;

/** "walk round the bucket to the right side": past something on the way there. */
function isOnWay({ words, language: { set } }: Memory, { from }: Chunk): boolean {
  if (!set.to.is(words[from])) return false;
  for (let k = from; k > 0 && k >= from - WAY && words[k]?.pause === 0; k -= 1)
    if (
      set.moves.at(words, k - 1) !== undefined &&
      set.placePrepositions.is(words[k]) &&
      ((words[k - 1]?.pause ?? 3) >= 1 || set.stop.is(words[k - 2]))
    )
      return true;
  return false;
}

export function takePlace(m: Memory, at: Chunk & { is: "place" }, i: number): number {
  const isGoing = at.moved || isOnWay(m, at);
  const chunk = { ...at, moved: isGoing || (at.placed.goes && !at.placed.local) };
  const { placed } = chunk;
  const other = m.here === undefined ? undefined : m.language.opposites.get(m.here.id);
  const position = placed.position ?? other ?? farSide(m, chunk);
  const clause = m.clause;
  if (isShare(m, i) || (placed.aside && !isGoing)) return 0;
  // "undo the panel, and underneath you've got …": under the panel.
  const and = m.words[chunk.from - 1];
  if (m.language.set.and.is(and) && (and?.pause ?? 3) < 2 && chunk.to - chunk.from === 1) return 0;
  // "drain it at the plug underneath": of what nobody undoes.
  const screwed = m.chunks[i - 1];
  const isBeside = screwed?.is === "phrase" && screwed.to === chunk.from && chunk.pause === 0 && !chunk.moved;
  if (
    isBeside &&
    clause.refs.length === 0 &&
    m.here !== undefined &&
    m.language.set.placesOver.is(m.words[chunk.from]) &&
    chunk.to === chunk.from + 1
  )
    return 0;
  // "two screws at the top": where on the thing they are.
  if (
    screwed?.is === "phrase" &&
    screwed.phrase.noun?.role === "fixing" &&
    chunk.pause === 0 &&
    !chunk.moved &&
    placed.position !== undefined &&
    m.language.set.atWhich.is(m.words[chunk.from])
  )
    return 0;
  const leading = clause.refs.length === 0 && clause.verb === undefined && !clause.corrects;
  // "a jack under", "a strap over the top": where the task is done.
  if (
    clause.task &&
    !chunk.moved &&
    chunk.pause === 0 &&
    chunk.to - chunk.from <= 3 &&
    ["top", "under"].includes(position?.id ?? "")
  )
    return 0;
  // "then you can see the top of the gearbox": something of it, and no way there.
  const before = m.chunks[i - 1];
  // "that's the front": where we have been.
  if (m.here === undefined && position !== undefined && before?.is === "is" && (m.chunks[i + 1]?.pause ?? 2) >= 2)
    m.haveBeen(position);
  const isSeen = before?.is === "sign" && before.sign === "there" && chunk.pause === 0;
  // "come round to the left, we're looking at the pump end of it": whoever has just come stays there.
  const isJustHere = m.here !== undefined && m.arrived === m.told.ties.length && !at.moved && placed.end === true;
  // "left side, it's the fuel filter side": another name of where we are.
  if (isJustHere && before?.is === "is") return 0;
  if (
    placed.local &&
    position !== undefined &&
    ((leading && !isSeen && !isJustHere && !isLookedAt(m, i)) || at.moved)
  ) {
    m.here = m.position(position);
    m.stood.add(position.id);
    endClause(m, chunk.to);
    return m.chunks[i + 1]?.is === "link" && m.chunks[i + 2]?.is === "phrase" ? 2 : 0;
  }
  if (placed.local || position === undefined)
    return placed.local && m.chunks[i + 1]?.is === "link" && m.chunks[i + 2]?.is === "phrase" ? 2 : 0;
  const next = m.chunks[i + 1];
  const held = clause.refs.length > 0 || (clause.verb !== undefined && !chunk.moved);
  if (clause.corrects && clause.verb === undefined && clause.refs.length === 0) {
    correctPlace(m, position);
    return 0;
  }
  // Silence all around, and something new after it: the recogniser lost the stop.
  const runsOn =
    next !== undefined &&
    next.pause === 0 &&
    ((next.is === "verb" && !next.last) || (next.is === "sign" && next.sign === "there"));
  if (
    !held ||
    chunk.moved ||
    m.here === undefined ||
    (runsOn && silentBefore(m, chunk.from)) ||
    (chunk.pause >= 1 && next?.pause === 0)
  ) {
    if (held && m.here === undefined) for (const ref of clause.refs) if (isTie(ref)) ref.at = m.position(position).id;
    if (m.here?.id !== position.id) m.arrived = m.told.ties.length;
    m.here = m.position(position);
    m.stood.add(position.id);
    // "at the forward end of the engine room": one place.
    if (next?.is === "place" && next.pause === 0 && m.language.set.of.is(m.words[next.from])) {
      endClause(m, chunk.to);
      return 1;
    }
    if (!held || chunk.moved) endClause(m, chunk.to);
    else if (runsOn || chunk.pause >= 1) endClause(m, chunk.to);
    return 0;
  }
  // "the breather on the top": where it is on the thing.
  if (position.id === "top" || (m.language.verbSecond && chunk.to - chunk.from === 1)) return 0;
  for (const ref of clause.refs) if (isTie(ref) && ref.sources.length <= 1) ref.at = m.position(position).id;
  return 0;
}

// Owns the numbers that stand by themselves: of the thing, of its hardware, of each place.

import { ACTS, isShares, isSpots } from "./ahead.ts";
import type { Chunk } from "./chunk.ts";
import { doing } from "./clause.ts";
import type { Tie } from "./item.ts";
import { isTie, type Memory } from "./memory.ts";
import { undo } from "./undo.ts";

/** So many pieces of hardware nobody counts. */
const FEW = 60;

export function takeNumber(m: Memory, value: number, i: number): number {
  const last = m.lastTie();
  const next = m.chunks[i + 1];
  if (last === undefined || m.clause.skip || m.clause.leave || value === 0) return 0;
  if (m.clause.corrects) {
    // "400 newton metres, no, 420"
    const unit = last.torque?.replace(/^\S+ /, "");
    if (unit === undefined || value < FEW) last.count = value;
    else last.torque = `${value} ${unit}`;
    return 0;
  }
  // "four bolts in each, so that makes sixteen"
  const from = m.chunks[i]?.from ?? 0;
  if (m.language.set.sums.is(m.words[from - 1]) && last.count !== undefined && value % last.count === 0) {
    last.count = value;
    return 0;
  }
  if (takeBoth(m, i)) return 0;
  // "there are four of these; undo three", "there are four of them"
  const before = m.chunks[i - 1];
  if (before?.is === "verb" && ACTS.includes(before.act)) undo(last, doing(before, m.language), 0.85);
  if (
    (before?.is === "verb" && ACTS.includes(before.act)) ||
    (m.clause.there && !m.clause.mention && m.clause.verb === undefined && next?.is === "pronoun" && next.many)
  ) {
    last.count = value;
    return 0;
  }
  // "undo the flange bolts, four each"
  if (next?.is === "each" && last.count !== undefined) {
    last.count = Math.min(last.count * value, 999);
    return 1;
  }
  // "mounts: front two, rear two"
  const which = m.chunks[i - 1];
  const isShare =
    (which?.is === "place" && which.pause === 1 && (last.count === undefined || m.shares.has(last))) ||
    (which?.is === "phrase" &&
      which.phrase.noun === undefined &&
      which.phrase.words.every((word) => m.language.contrasts.has(word)));
  if (isShare) {
    share(m, last, value);
    return 0;
  }
  // "two from up top", "one on the left and one on the right": shares of what was named, and no place of ours.
  if ((next?.is === "place" || next?.is === "link") && next.pause === 0) {
    if (last.count === undefined || m.shares.get(last) !== undefined) {
      const sum = (m.shares.get(last) ?? 0) + value;
      m.shares.set(last, sum);
      last.count = sum;
    }
    return next.is === "place" ? 1 : m.chunks[i + 2]?.is === "phrase" ? 2 : 1;
  }
  // "rear propshaft, four": its bolts.
  if (
    last.count === 1 &&
    value > 1 &&
    last.hardware === undefined &&
    !m.isPlural(last) &&
    m.clause.refs.at(-1) === last
  ) {
    last.count = value;
    return 0;
  }
  if (last.count === undefined && !(next?.is === "sign" && next.sign === "eachSide")) last.count = value;
  if (last.hardware === undefined) m.things.set(last, value);
  return 0;
}

/** "the pressure hose and the return hose, undo both": of each of the two, and no number of the last one. */
function takeBoth(m: Memory, i: number): boolean {
  const chunk = m.chunks[i];
  const before = m.chunks[i - 1];
  if (chunk === undefined || !m.language.set.all.is(m.words[chunk.from])) return false;
  const two = lastTwo(m);
  if (two.length < 2) return false;
  if (before?.is === "verb" && ACTS.includes(before.act))
    for (const tie of two) undo(tie, doing(before, m.language), 0.85);
  return true;
}

/** The last two that were named, where they are one each and of one kind. */
export function lastTwo(m: Memory): readonly Tie[] {
  const two = m.focus.filter(isTie).slice(-2);
  const [a, b] = two;
  const isOne = (tie: Tie | undefined): boolean => tie !== undefined && (tie.count ?? 1) === 1 && !m.isPlural(tie);
  return isOne(a) && isOne(b) && a?.kind === b?.kind ? two : [];
}

/** So many of it at one place, and others elsewhere. */
function share(m: Memory, tie: Tie, value: number): void {
  const sum = (m.shares.get(tie) ?? 0) + value;
  m.shares.set(tie, sum);
  m.things.set(tie, sum);
  tie.count = sum;
}

/** Whether a phrase only says how many there are of what was named before; the number is that thing's then. */
export function toldNumber(m: Memory, { phrase }: Chunk & { is: "phrase" }, last: Chunk | undefined): boolean {
  const tie = m.lastTie();
  const topic = tie !== undefined && m.touched.has(tie) ? tie : undefined;
  const { contrasts } = m.language;
  // "engine mounts, two front, two rear"
  if (phrase.noun === undefined && phrase.count !== undefined && phrase.words.every((word) => contrasts.has(word))) {
    if (topic !== undefined) share(m, topic, phrase.count);
    return true;
  }
  // "diesel hoses, supply and return"
  const [one = "", and, two = ""] = phrase.words;
  const by = contrasts.get(one);
  if (phrase.words.length === 3 && and === "and" && by !== undefined && by === contrasts.get(two)) {
    if (topic !== undefined && topic.count === undefined) {
      topic.count = 2;
      m.things.set(topic, 2);
    }
    return true;
  }
  // "belly guard, in two halves, six bolts in each half"
  if (topic !== undefined && (last?.is === "link" || last?.to === phrase.from) && isShares(m, phrase)) {
    m.things.set(topic, phrase.count ?? 1);
    return true;
  }
  // "unclip the harness at three points"
  if (!isSpots(m, phrase)) return false;
  if (topic !== undefined && (topic.count ?? 1) === 1 && phrase.count !== undefined) topic.count = phrase.count;
  return true;
}

// Owns the pronouns: what "it", "those" and "the one on the left" stand for.

import type { Chunk } from "./chunk.ts";
import type { Off, Tie } from "./item.ts";
import { isTie, type Memory } from "./memory.ts";
import { materialise } from "./thing.ts";
import { remove, removeBy, undo } from "./undo.ts";

export function takePronoun(m: Memory, chunk: Chunk & { is: "pronoun" }, i: number): void {
  const { verb } = m.clause;
  const many = (ref: Tie | Off): boolean => isTie(ref) && m.isPlural(ref);
  const fits = m.focus.filter((ref) => !chunk.many || many(ref) || !isTie(ref));
  const ref =
    (chunk.many
      ? fits.findLast(many)
      : (fits.findLast((one) => !isTie(one) && !one.removed && one === m.focus.at(-1)) ??
        m.focus.findLast((one) => !many(one)))) ?? m.focus.at(-1);
  const shared = m.told.bothSides.findLast(({ tie }) => m.focus.slice(-2).includes(tie))?.tie;
  if (chunk.which !== "" && shared !== undefined && verb !== undefined) {
    undo(shared, verb, 0.85);
    if (m.oneSide.has(shared)) m.oneSide.delete(shared);
    else m.oneSide.add(shared);
    m.clause.refs.push(shared);
    return;
  }
  // "the pressure line and the return line, crack those off"
  if (chunk.many && verb !== undefined && m.prior.length > 1 && m.prior.at(-1) === m.focus.at(-1)) {
    const ties = m.prior.filter(isTie);
    for (const one of ties.length > 0 ? ties : m.prior)
      if (isTie(one)) undo(one, verb, 0.85);
      else remove(m, one, verb.act);
    return;
  }
  if (m.latent !== undefined && !chunk.many && verb !== undefined && !m.clause.leave) {
    const part = materialise(m);
    if (part !== undefined) {
      if (isTie(part)) undo(part, verb, 0.8);
      else removeBy(m, part, verb);
      m.clause.refs.push(part);
      return;
    }
  }
  // "and that's off", "it comes off"
  if (ref === undefined) return;
  const next = m.chunks[i + 1];
  if (m.clause.leave) {
    if (isTie(ref) && !ref.undone) m.forget(ref);
    return;
  }
  if (verb === undefined) {
    m.clause.refs.push(ref);
    if (next?.is !== "verb") m.clause.there = true;
    return;
  }
  if (isTie(ref)) {
    undo(ref, verb, 0.85);
    ref.sources.push(m.source(m.clause.from, chunk.to));
  } else {
    removeBy(m, ref, verb);
    ref.sources.push(m.source(m.clause.from, chunk.to));
  }
  m.clause.refs.push(ref);
}

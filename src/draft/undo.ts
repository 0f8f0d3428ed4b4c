// Owns the undoing: what a verb makes of a connection, or of a part and what holds it, and what the end of a clause makes of what was only named.

import { clauseFrom, type Doing } from "./clause.ts";
import { kindOf } from "./connection.ts";
import type { Off, Tie, Verb } from "./item.ts";
import { isTie, type Memory } from "./memory.ts";
import { keyOf } from "./names.ts";

export function undo(tie: Tie, verb: Doing | undefined, sure: number): void {
  tie.undone = true;
  if (verb?.unplugs && tie.kind === "cable") tie.kind = "wire";
  if (verb !== undefined && (tie.verb === undefined || tie.verb === "loosen")) tie.verb = verb.act;
  tie.sure = Math.max(tie.sure, sure);
}

export function remove(m: Memory, part: Off, act: Verb): void {
  if (act === "loosen") return;
  part.removed = true;
  for (const id of part.by) {
    const tie = m.tieOf(id);
    if (tie !== undefined && !tie.undone) undo(tie, undefined, 0.75);
  }
  // "four bolts, and the starter comes out": bolts of nothing yet are its own.
  const loose = m.lastTie();
  if (part.by.length === 0 && loose !== undefined && m.isBare(loose) && m.recent(loose)) {
    belong(m, loose, part);
    undo(loose, undefined, 0.75);
  }
  if (part.by.length === 0) {
    const tie = m.addTie(part.label, "bolted joint", [part.label.toLowerCase()], part.sources.at(-1));
    tie.assumed.push(m.language.says.unheld);
    tie.sure = 0.55;
    tie.verb = act;
    tie.undone = true;
    tie.joins.push(part.label.toLowerCase());
    part.by.push(tie.id);
    m.look(part);
  }
}

/** Takes a part off by a verb: a battery that is disconnected loses its cables and stays. */
export function removeBy(m: Memory, part: Off, verb: Doing): void {
  remove(m, part, verb.act);
  const kind = verb.unplugs ? "wire" : m.language.partKinds.get(part.label.toLowerCase());
  const [tie] = m.holding(part);
  if (
    kind === undefined ||
    tie === undefined ||
    tie.hardware !== undefined ||
    (kind === "cable" && verb.act === "remove")
  )
    return;
  tie.kind = kindOf(kind);
  tie.count ??= 1;
}

/** Hardware of nothing yet turns out to hold a part. */
function belong(m: Memory, tie: Tie, part: Off): void {
  m.bare.delete(tie);
  m.rename(tie, `${part.label} ${tie.label.toLowerCase()}`);
  tie.joins.push(part.label.toLowerCase());
  m.callBy(tie, keyOf(tie.label.toLowerCase().split(" "), m.language));
  part.by.push(tie.id);
}

/** Closes the clause: what was only named in it and had no verb is taken as undone when it stands alone. */
export function endClause(m: Memory, at: number, sentence = false): void {
  const { verb, refs, there, undone, undoneOf, skip, corrects } = m.clause;
  if (!skip && verb === undefined && !corrects)
    for (const [i, ref] of refs.entries()) {
      const isUndone = undone && (i < undoneOf || undoneOf === 0);
      if (
        isTie(ref) &&
        (!there ||
          isUndone ||
          (ref.hardware !== undefined &&
            ref.count !== undefined &&
            !m.isBare(ref) &&
            !m.told.bothSides.some(({ tie }) => tie === ref))) &&
        !ref.undone
      )
        undo(ref, undefined, isUndone ? 0.85 : 0.7);
      else if (!isTie(ref) && isUndone) remove(m, ref, "remove");
    }
  if (refs.length > 0) m.prior = [...refs];
  m.clause = clauseFrom(at);
  if (sentence) {
    if (m.touched.size > 0) m.touchedBefore = m.touched;
    m.touched = new Set();
    if (m.sentence.length > 0) m.lately = m.sentence;
    m.sentence = [];
  }
}

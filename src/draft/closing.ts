// Owns the closing remarks: of which position, after how many connections, with which number.

import type { Chunk } from "./chunk.ts";
import type { Memory } from "./memory.ts";
import { endClause } from "./undo.ts";

export function closeOff(m: Memory, chunk: Chunk & { is: "sign" }, i: number): number {
  // "that's all the bolts out" names what it closes; "that's it off" closes nothing.
  const next = m.chunks[i + 1];
  const near = next !== undefined && next.pause === 0 ? next : undefined;
  if (m.language.set.thatsIt.has(chunk.said) && near !== undefined && near.is !== "place") return 0;
  endClause(m, chunk.from);
  let claimed: number | undefined;
  let at = m.here?.id;
  let taken = 0;
  let placed = false;
  for (let k = i + 1; k < i + 6; k += 1) {
    const one = m.chunks[k];
    if (one === undefined || one.pause >= 2 || (placed && one.is === "place")) break;
    if (one.is === "number") claimed = one.value;
    else if (one.is === "place") {
      // "that's all seven back here, driver's side now": the next one.
      const next = m.chunks[k + 1];
      if (one.placed.goes || at !== m.here?.id || (next?.is === "then" && next.pause === 0)) break;
      if (m.here === undefined && one.placed.position !== undefined) m.haveBeen(one.placed.position);
      at = (one.placed.position ?? m.here)?.id ?? at;
      placed = true;
    } else if (one.is === "phrase" && one.phrase.noun !== undefined && one.phrase.count !== undefined)
      claimed = undefined;
    if (one.is === "verb" || one.is === "then" || one.is === "move" || one.is === "task" || one.is === "sign") break;
    taken = k - i;
  }
  const final = chunk.sign === "final" || m.language.set.final.has(chunk.said) || at === undefined;
  const source = m.source(chunk.from, m.chunks[i + taken]?.to ?? chunk.to);
  const closing = {
    ...(at === undefined ? {} : { at }),
    after: m.told.ties.length,
    final,
    source,
    ...(claimed === undefined ? {} : { claimed }),
  };
  m.told.closings.push(closing);
  m.told.positions.find(({ id }) => id === at)?.closed.push(source);
  m.closedJustNow = true;
  endClause(m, m.chunks[i + taken]?.to ?? chunk.to);
  return taken;
}

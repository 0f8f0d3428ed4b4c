// Owns what a part that must go up with a lift hangs on: through which parts it can only be joined, and which ties could join it.

import { type Compiled, carriersOf } from "./compile.ts";
import { type Spine, spinePassed } from "./spine.ts";

/** How a part that must be up with a lift can be joined to what the lift takes hold of. */
export interface Along {
  /** Parts between the two that no chain goes round: they are in the group as well. */
  readonly passed: readonly number[];
  /** Ties of the part of which one is still made at the lift; undefined where a strap may do instead. */
  readonly ties: readonly number[] | undefined;
}

/**
 * How `part` can go up with the lift that takes hold of `held`; undefined: not at all. A part that something carries is up by carrying ties alone, one that
 * nothing carries also by a hose or a strap, through whatever is not dropped by it. Sound: ties that the plan releases only take chains away.
 *
 * @param spine how parts hang from the hook of this lift
 * @param may whether a part can be in the group of this lift
 */
export function along(
  c: Compiled,
  held: readonly number[],
  spine: Spine,
  part: number,
  may: (p: number) => boolean,
): Along | undefined {
  const light = c.uncarried[part] === 1;
  const through = light ? (p: number) => may(p) && (p === part || stays(c, held, p, may)) : may;
  const passed = light ? passedBy(held, part, through, (p) => tiesOrStraps(c, p)) : spinePassed(spine, part);
  if (passed === undefined) return undefined;
  if (held.includes(part) || (light && c.strapsAt[part]?.length !== 0)) return { passed, ties: undefined };
  const own = light ? unreleased(c, part) : carriersOf(c, part);
  return { passed, ties: own.filter((t) => byTies(c, [t]).some((q) => q !== part && through(q))) };
}

const unreleased = (c: Compiled, p: number): number[] =>
  (c.tiesOf[p] as readonly number[]).filter((t) => c.released[t] === 0);

const byTies = (c: Compiled, ties: readonly number[]): number[] => ties.flatMap((t) => c.joins[t] as readonly number[]);

function tiesOrStraps(c: Compiled, p: number): number[] {
  const straps = (c.strapsAt[p] as readonly number[]).flatMap((t) => {
    const hang = c.hangs.get(t);
    return hang === undefined ? [] : [hang.part, hang.to];
  });
  return [...byTies(c, unreleased(c, p)), ...straps];
}

/** Whether a part that is in the group of a lift can be held after it: carried up, or by something that could hold its body where it is. */
function stays(c: Compiled, held: readonly number[], p: number, may: (p: number) => boolean): boolean {
  if (c.uncarried[p] === 1) return true;
  if (chainTo(held, p, may, (q) => c.carriedTo[q] as readonly number[]) !== undefined) return true;
  const body = new Set([p]);
  for (const q of body) {
    if (c.supports.some((parts) => parts.includes(q))) return true;
    if ((c.strapsAt[q] as readonly number[]).some((t) => c.hangs.get(t)?.part === q)) return true;
    for (const t of c.tiesOf[q] as readonly number[]) {
      if (c.problem.connections[t]?.rests === true) return true;
    }
    for (const r of c.carriedTo[q] as readonly number[]) if (c.fixed[r] === 0) body.add(r);
  }
  return false;
}

/**
 * The parts between the ends of a shortest chain that no other chain goes round, in one walk outwards from what is held: when nothing reached short of the
 * furthest link touched touches one beyond it, all chains pass that link, and the walk goes on from it. Undefined: there is no chain.
 */
function passedBy(
  held: readonly number[],
  part: number,
  may: (p: number) => boolean,
  near: (p: number) => readonly number[],
): number[] | undefined {
  const chain = chainTo(held, part, may, near);
  if (chain === undefined) return undefined;
  // The chain runs from the part to what is held; links are counted the other way.
  const last = chain.length - 1;
  const linkOf = new Map(chain.map((p, i) => [p, last - i]));
  const seen = new Set(held);
  const passed: number[] = [];
  const queue = [...held];
  let walked = 0;
  let furthest = 0;
  let entered = 0;
  for (;;) {
    for (; walked < queue.length; walked++) {
      for (const q of near(queue[walked] as number)) {
        if (seen.has(q) || !may(q)) continue;
        seen.add(q);
        const link = linkOf.get(q);
        if (link === undefined) queue.push(q);
        else furthest = Math.max(furthest, link);
      }
    }
    // Touched, the part itself: what links there are short of it were gone round.
    if (furthest === last) return passed;
    entered++;
    const link = chain[last - entered] as number;
    if (entered === furthest) passed.push(link);
    seen.add(link);
    queue.push(link);
  }
}

/** A shortest chain of parts, both ends in it. */
function chainTo(
  from: readonly number[],
  to: number,
  may: (p: number) => boolean,
  near: (p: number) => readonly number[],
): readonly number[] | undefined {
  const cameFrom = new Map<number, number | undefined>(from.map((p) => [p, undefined]));
  for (const p of cameFrom.keys()) {
    if (p === to) {
      const chain: number[] = [];
      for (let q: number | undefined = p; q !== undefined; q = cameFrom.get(q)) chain.push(q);
      return chain;
    }
    for (const q of near(p)) if (!cameFrom.has(q) && may(q)) cameFrom.set(q, p);
  }
  return undefined;
}

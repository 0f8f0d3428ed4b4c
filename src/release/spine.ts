// Owns, for one lift, by which carrying ties a part can hang from what the hoist takes hold of: the lowpoints of a depth-first search
// (J. Hopcroft & R. Tarjan, "Efficient algorithms for graph manipulation", Communications of the ACM 16, 1973).

/** Parts by number; −1 where a part cannot hang from the hook at all. */
export interface Spine {
  readonly entered: Int32Array;
  readonly low: Int32Array;
  readonly parent: Int32Array;
}

/** Searches from the hook over `near`, the parts that carrying ties join to a part and that may go up. */
export function spineOf(count: number, hook: readonly number[], near: (part: number) => readonly number[]): Spine {
  const entered = new Int32Array(count).fill(-1);
  const low = new Int32Array(count).fill(-1);
  const parent = new Int32Array(count).fill(-1);
  let clock = 0;
  // Every part of the hook counts as the root: nothing cuts it off.
  for (const p of hook) {
    entered[p] = 0;
    low[p] = 0;
  }
  clock = 1;
  for (const root of hook) {
    const path: { p: number; next: readonly number[]; i: number }[] = [{ p: root, next: near(root), i: 0 }];
    while (path.length > 0) {
      const top = path[path.length - 1] as { p: number; next: readonly number[]; i: number };
      const q = top.next[top.i++];
      if (q === undefined) {
        path.pop();
        const above = path.at(-1);
        if (above !== undefined) low[above.p] = Math.min(low[above.p] as number, low[top.p] as number);
        continue;
      }
      if ((entered[q] as number) < 0) {
        parent[q] = top.p;
        entered[q] = clock;
        low[q] = clock;
        clock++;
        path.push({ p: q, next: near(q), i: 0 });
      } else if (q !== parent[top.p]) low[top.p] = Math.min(low[top.p] as number, entered[q] as number);
    }
  }
  return { entered, low, parent };
}

/** Whether part `q` can hang from the hook with part `p` out of the way. */
export function hangsWithout({ entered, low, parent }: Spine, q: number, p: number): boolean {
  if ((entered[q] as number) < 0) return false;
  if (entered[p] === 0) return true;
  let at = q;
  while (at >= 0 && parent[at] !== p) at = parent[at] as number;
  return at < 0 || (low[at] as number) < (entered[p] as number);
}

/** The parts between the hook and a part that no chain to it goes round; undefined: it cannot hang from the hook at all. */
export function spinePassed({ entered, low, parent }: Spine, part: number): number[] | undefined {
  if ((entered[part] as number) < 0) return undefined;
  const passed: number[] = [];
  for (let below = part, p = parent[part] as number; p >= 0; below = p, p = parent[p] as number)
    if ((entered[p] as number) > 0 && (low[below] as number) >= (entered[p] as number)) passed.push(p);
  return passed;
}

// Owns the order of changes by what they spare, and which of them spare anything.

import type { Improved, ImprovedChange, Ranking } from "../../plan/index.ts";

export const RANKINGS: readonly Ranking[] = ["labour", "elapsed", "p95"];

/** Less than this is no saving, minutes. */
const SEEN = 0.05;

export const sparedBy = ({ labour, elapsed, p95 }: ImprovedChange, by: Ranking): number =>
  ({ labour, elapsed, p95: p95.value })[by];

export const impossibleIn = ({ jobs }: ImprovedChange): number => jobs.filter(({ how }) => how === "impossible").length;

const does = (change: ImprovedChange): boolean =>
  RANKINGS.some((by) => Math.abs(sparedBy(change, by)) >= SEEN) || impossibleIn(change) > 0;

export interface Ranked {
  readonly changes: readonly ImprovedChange[];
  /** Tried on every job, and of no use. */
  readonly useless: number;
}

/** What spares most first; of what is alike what spares more labour. What does nothing is counted. */
export const rank = ({ changes, untried }: Improved, by: Ranking): Ranked => {
  const open = new Set(untried);
  const shown = changes.filter(does);
  return {
    changes: shown.toSorted(
      (a, b) => sparedBy(b, by) - sparedBy(a, by) || b.labour - a.labour || a.id.localeCompare(b.id),
    ),
    useless: changes.filter((one) => !does(one) && !open.has(one.id)).length,
  };
};

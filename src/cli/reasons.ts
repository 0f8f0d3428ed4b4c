// Owns what another choice costs, in words.

import type { Alternative } from "../release/index.ts";

/** What another choice costs, in words. */
export function sayAlternative({ status, labour, more, bound, adds, spares, changes }: Alternative): string {
  if (status === "infeasible") return "no plan.";
  if (labour === undefined || more === undefined) return "not known: the search was stopped.";
  const list = (word: string, ids: readonly string[]) => (ids.length > 0 ? [`${word} ${ids.join(", ")}`] : []);
  const cost = more === 0 ? "the same labour" : `${round(Math.abs(more))} person-minutes ${more > 0 ? "more" : "less"}`;
  const proof = status === "optimal" ? "" : ` (not proved least: none takes less than ${round(bound)} in all)`;
  const swapped = changes.map(({ way }) => way);
  const parts = [
    `${cost}${proof}`,
    ...list("with", adds),
    ...list("spared", spares),
    ...list("otherwise made:", swapped),
  ];
  return `${parts.join("; ")}.`;
}

function round(value: number): string {
  return String(Number(value.toFixed(1)));
}

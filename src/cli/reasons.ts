// Owns reasons and alternatives, in words and as the documents have them.

import { labelOf, type Question } from "../plan/index.ts";
import { type Alternative, breachSentence, type Reason } from "../release/index.ts";
import type { WhyDocument } from "./documents.ts";

/** An alternative as the documents have it: no bound where there is no plan. */
export function describeAlternative(alternative: Alternative): WhyDocument["ways"][number]["with"] {
  return { ...alternative, bound: Number.isFinite(alternative.bound) ? alternative.bound : null };
}

/** One link of a chain: the step, the one it is made for, and what would break without it. */
export function describeReason(question: Question, { step, breaks, for: end }: Reason): WhyDocument["chain"][number] {
  const name = (id: string) => `"${labelOf(question, id)}"`;
  const says = breaks.kind === "called" ? `${name(breaks.of)} calls for it.` : breachSentence(breaks, name);
  return { step, ...(end === undefined ? {} : { for: end }), says };
}

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

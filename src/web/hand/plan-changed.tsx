// Owns the word that the plan has changed under everyone's hands: what is new, what is not wanted any more, and why; it stays until it was seen.

import type { Brief, BriefStep } from "../../ledger/index.ts";
import { useWords } from "../words/words.ts";
import { sayStep } from "./say.ts";
import { useWork } from "./work.tsx";

const keyOf = ({ action, id }: BriefStep): string => `${action} ${id}`;

/** Steps of one brief that another has not. */
const lacking = (of: Brief, other: Brief): readonly BriefStep[] => {
  const known = new Set(other.steps.map(keyOf));
  return of.steps.filter((step) => !known.has(keyOf(step)));
};

/** Steps that both have, and that take otherwise in the one. */
const altered = (of: Brief, other: Brief): readonly BriefStep[] => {
  const known = new Map(other.steps.map((step) => [keyOf(step), step]));
  return of.steps.filter((step) => {
    const before = known.get(keyOf(step));
    return before !== undefined && (before.minutes !== step.minutes || before.position?.id !== step.position?.id);
  });
};

export const PlanChanged = () => {
  const words = useWords();
  const { book } = useWork();
  const { brief, ledger, kept } = book;
  const { before } = kept;
  if (before === undefined || before.plan === brief.plan) return null;
  const because = ledger.list("plan", "plan replaced").at(-1)?.body.because ?? "";
  const list = (title: string, steps: readonly BriefStep[]) =>
    steps.length === 0 ? null : (
      <>
        <h2>{title}</h2>
        <ul>
          {steps.map((step) => (
            <li key={keyOf(step)}>
              {sayStep(words, brief, step)}, {step.minutes} min
            </li>
          ))}
        </ul>
      </>
    );
  return (
    <section class="plan-changed" role="alert">
      <h1>{words.gates.planChanged}</h1>
      {because === "" ? null : <p>{words.gates.because(because)}</p>}
      {list(words.gates.added, lacking(brief, before))}
      {list(words.gates.altered, altered(brief, before))}
      {list(words.gates.dropped, lacking(before, brief))}
      <button type="button" class="main" onClick={() => void book.keep({ before: undefined })}>
        {words.gates.seen}
      </button>
    </section>
  );
};

// Owns what a run's file teaches, as the lines that runs are read from; any other text is such lines already.

import { Ledger } from "./ledger.ts";
import { lessonsOf } from "./lessons.ts";
import { type RunFault, readRun } from "./run-file.ts";
import type { Verifier } from "./verify.ts";

/**
 * The lines of runs in a text.
 *
 * @param isSigned the check of one signature; the library's own where it is left out.
 * @returns the faults of a run's file that is not as it was written: nothing is learnt from it
 */
export const lessonLines = (
  text: string,
  isSigned?: Verifier,
): { readonly lines: string } | { readonly faults: readonly RunFault[] } => {
  const [first = ""] = text.split("\n", 1);
  if (!first.includes('"unmoor/run/1"')) return { lines: text };
  const { head, told, faults } = readRun(text, isSigned);
  if (head === undefined || faults.length > 0) return { faults };
  const ledger = new Ledger(
    head.brief,
    told.map(({ entry }) => entry),
  );
  return {
    lines: lessonsOf(ledger)
      .map((one) => JSON.stringify(one))
      .join("\n"),
  };
};

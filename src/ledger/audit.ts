// Owns the look back: whether each gate that was passed was open at that moment by all that is known now, and whether any lift went without its gate.

import { compareEntries } from "./entry.ts";
import type { GateAnswer, GateName } from "./gate.ts";
import { isolationGate } from "./gate-isolation.ts";
import { liftGate } from "./gate-lift.ts";
import { startGate } from "./gate-start.ts";
import { Ledger } from "./ledger.ts";
import { planName } from "./plan-name.ts";
import { type Contradiction, contradiction } from "./rules.ts";

/** The ledger as it stood when an entry was written: everything before it in the one order, and corrections of that until then. */
export const ledgerBefore = (ledger: Ledger, id: string): Ledger => {
  const moment = ledger.entry(id);
  // The brief is of the plan in force now: before any replaced another, the one that the run was begun with was in force.
  const isReplaced = ledger.list("plan", "plan replaced").length > 0;
  return new Ledger(
    isReplaced ? { ...ledger.brief, plan: planName(ledger.brief.run, 1) } : ledger.brief,
    moment === undefined ? [] : ledger.all().filter((entry) => compareEntries(entry, moment) < 0),
  );
};

const answerOf = (ledger: Ledger, gate: GateName, lift: string | undefined): GateAnswer | undefined => {
  if (gate === "isolation") return isolationGate(ledger, { decides: true });
  if (gate === "start-up") return startGate(ledger, { decides: true });
  const found = ledger.brief.lifts.find(({ task }) => task === lift);
  return gate === "lift" && found !== undefined ? liftGate(ledger, found, { decides: true }) : undefined;
};

/** Gates that were passed while something was missing, and lifts that were made without passing theirs. */
export const wrongPasses = (ledger: Ledger): readonly Contradiction[] => {
  const passes = ledger.list("gates", "passed");
  const wrong = passes.flatMap(({ id, body }) => {
    const answer = answerOf(ledgerBefore(ledger, id), body.gate, body.lift);
    return answer === undefined || answer.open ? [] : [contradiction("G2", body.lift ?? body.gate, id)];
  });
  const skipped = ledger.brief.lifts.flatMap(({ task }) => {
    const { firstDone } = ledger.task(task);
    const lifted = firstDone === undefined ? undefined : ledger.entry(firstDone);
    if (lifted === undefined) return [];
    const passed = passes.some(
      (pass) => pass.body.gate === "lift" && pass.body.lift === task && compareEntries(pass, lifted) < 0,
    );
    return passed ? [] : [contradiction("G1", task, lifted.id)];
  });
  return [...wrong, ...skipped];
};

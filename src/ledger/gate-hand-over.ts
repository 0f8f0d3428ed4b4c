// Owns the hand-over gate: tests and adjustments are passed, the job's work is done, findings are closed or go over in writing.

import { wrongPasses } from "./audit.ts";
import { type GateAnswer, type GateAsked, Gathering } from "./gate.ts";
import { start } from "./gate-start.ts";
import type { Ledger } from "./ledger.ts";

export const handOverGate = (ledger: Ledger, asked: GateAsked): GateAnswer => {
  const gathering = new Gathering(ledger);
  const { brief } = ledger;
  start(gathering);
  if (!ledger.list("gates", "passed").some(({ body }) => body.gate === "start-up"))
    gathering.add("H1", "start-up", ["notRecordedPassed"], { who: gathering.with("foreman") });
  for (const { id } of brief.works) if (ledger.task(id).state !== "done") gathering.add("H2", id, ["workNotRecorded"]);
  for (const { id, back, position, skill } of brief.tasks) {
    if (!back) continue;
    const { state, reading } = ledger.task(id);
    const more = { where: position, who: gathering.able(skill) };
    if (state === "open") gathering.add("H2", id, ["testNotRecorded"], more);
    else if (state === "failed")
      gathering.add("H3", id, reading === undefined ? ["failed"] : ["readingFailed", reading], more);
  }
  for (const { found, state, entry } of ledger.findings())
    if (state === "open")
      gathering.add("H4", found.about ?? entry, ["finding", found.what, found.text], {
        who: gathering.with("foreman"),
      });
  for (const { about, key } of wrongPasses(ledger))
    if (!ledger.isSettled(key)) gathering.add("H5", about, ["toSettle", key], { who: gathering.with("foreman") });
  const tests = brief.tasks.filter(({ back }) => back).length;
  return gathering.answer("hand-over", asked, [
    ["worksLooked", brief.works.length],
    ["testsLooked", tests],
    ["findingsLooked", ledger.findings().length],
  ]);
};

// Owns the command `plan`: the whole sequence, out and back, as text or as one document.

import { writePlan, writeWhileOut } from "../plan/index.ts";
import { computeAside } from "./background.ts";
import type { Call } from "./call.ts";
import type { PlanDocument } from "./documents.ts";
import { EXIT, type Exit } from "./exit.ts";
import { ENDED, takeAsked, tellRelease } from "./release.ts";
import { runSchedule } from "./schedule.ts";
import type { Terminal } from "./terminal.ts";
import type { Answer, Asked } from "./thread.ts";

/** For one pair of hands; with a crew who of it does what when. */
export async function runPlan(call: Call, terminal: Terminal): Promise<Exit> {
  if (call.flags.has("crew")) return await runSchedule(call, terminal);
  const path = call.operands[0] ?? "";
  const asked = await takeAsked("plan", path, call, terminal);
  if (typeof asked === "number") return asked;
  const answer = await computeAside<Asked, Answer>(asked, terminal);
  const { plan, others, result } = answer;
  const json = call.flags.has("json");
  if (plan === undefined) {
    // No plan, and why: what `release` says of it is all that there is to say.
    return tellRelease(call, asked.question, answer, terminal);
  }
  if (json) {
    const document: PlanDocument = plan;
    terminal.say(JSON.stringify(document, undefined, 2));
  } else
    terminal.say(
      [writePlan(plan), ...(others ? ["", "WHILE IT IS OUT  the other jobs", writeWhileOut(others)] : [])].join("\n"),
    );
  return plan.checks.back.holds ? ENDED[result.status] : EXIT.not;
}

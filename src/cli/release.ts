// Owns the command `release`: what must come off, asked, answered and written as text or as one document.

import { describeRelease, type Question, translate } from "../plan/index.ts";
import { computeAside } from "./background.ts";
import type { Call, CallFault } from "./call.ts";
import type { ReleaseDocument } from "./documents.ts";
import { EXIT, type Exit } from "./exit.ts";
import { takeVehicle } from "./files.ts";
import { readOrder } from "./order.ts";
import { sayRelease } from "./release-text.ts";
import type { Terminal } from "./terminal.ts";
import type { Answer, Asked } from "./thread.ts";

/** How a search ends, as an exit code. */
export const ENDED = {
  optimal: EXIT.found,
  feasible: EXIT.found,
  infeasible: EXIT.not,
  unknown: EXIT.stopped,
} as const;

export async function runRelease(call: Call, terminal: Terminal): Promise<Exit> {
  const path = call.operands[0] ?? "";
  const asked = await takeAsked("release", path, call, terminal);
  if (typeof asked === "number") return asked;
  const answer = await computeAside<Asked, Answer>(asked, terminal);
  return tellRelease(call, asked.question, answer, terminal);
}

/** Says what must come off, or why there is no plan, as text or as one document; every command that needs a plan and has none says this. */
export function tellRelease(call: Call, question: Question, answer: Answer, terminal: Terminal): Exit {
  if (call.flags.has("json")) {
    const document: ReleaseDocument = describeRelease(call.operands[0] ?? "", question, answer);
    terminal.say(JSON.stringify(document, undefined, 2));
  } else terminal.say(sayRelease(question, answer, terminal));
  return ENDED[answer.result.status];
}

/** Reads the file and the order of a call; else says what is wrong and gives the exit code. */
export async function takeAsked(
  what: Asked["what"],
  path: string,
  call: Call,
  terminal: Terminal,
): Promise<Asked | Exit> {
  const taken = await takeVehicle(path, terminal, call.flags.has("json"));
  if (typeof taken === "number") return taken;
  const order = readOrder(taken.vehicle, call);
  if (!("jobs" in order)) return refuse(order, terminal);
  const question = translate(taken.vehicle, order);
  if (question.faults.length > 0) return refuse(question.faults, terminal);
  const within = call.flags.get("within")?.[0];
  const others = call.flags.has("others");
  const reasons = call.flags.has("reasons");
  const about = call.operands[1] ?? "";
  return {
    what,
    question,
    others,
    reasons,
    about,
    ...(within === undefined ? {} : { milliseconds: Number(within) * 1000 }),
  };
}

export function refuse(faults: readonly CallFault[], terminal: Terminal): Exit {
  for (const { what, mend } of faults) terminal.warn(`unmoor: ${what}. ${mend}`);
  return EXIT.call;
}

// Owns the command `release`: what must come off, asked, answered and written as text or as one document.

import { type Question, translate } from "../plan/index.ts";
import { computeAside } from "./background.ts";
import type { Call, CallFault } from "./call.ts";
import { EXIT, type Exit } from "./exit.ts";
import { takeVehicle } from "./files.ts";
import { readOrder } from "./order.ts";
import { describeRelease } from "./release-document.ts";
import { sayRelease } from "./release-text.ts";
import type { Terminal } from "./terminal.ts";
import type { ReleaseAnswer } from "./thread.ts";

/** What the computing thread is asked. */
export interface Asked {
  readonly question: Question;
  readonly milliseconds?: number;
}

export async function runRelease(call: Call, terminal: Terminal): Promise<Exit> {
  const path = call.operands[0] ?? "";
  const asked = takeAsked(path, call, terminal);
  if (typeof asked === "number") return asked;
  const { question } = asked;
  const answer = await computeAside<Asked, ReleaseAnswer>(asked, terminal);
  const text = call.flags.has("json")
    ? JSON.stringify(describeRelease(path, question, answer), undefined, 2)
    : sayRelease(question, answer, terminal);
  terminal.say(text);
  return { optimal: EXIT.found, feasible: EXIT.found, infeasible: EXIT.not, unknown: EXIT.stopped }[
    answer.result.status
  ];
}

/** Reads the file and the order of a call; else says what is wrong and gives the exit code. */
export function takeAsked(path: string, call: Call, terminal: Terminal): Asked | Exit {
  const taken = takeVehicle(path, terminal, call.flags.has("json"));
  if (typeof taken === "number") return taken;
  const order = readOrder(taken.vehicle, call);
  if (!("jobs" in order)) return refuse(order, terminal);
  const question = translate(taken.vehicle, order);
  if (question.faults.length > 0) return refuse(question.faults, terminal);
  const within = call.flags.get("within")?.[0];
  return { question, ...(within === undefined ? {} : { milliseconds: Number(within) * 1000 }) };
}

function refuse(faults: readonly CallFault[], terminal: Terminal): Exit {
  for (const { what, mend } of faults) terminal.warn(`unmoor: ${what}. ${mend}`);
  return EXIT.call;
}

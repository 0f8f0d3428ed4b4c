// Owns the command `release`: what must come off, asked, answered and written as text or as one document.

import type { Order } from "../plan/index.ts";
import type { Vehicle } from "../vehicle/index.ts";
import { computeAside } from "./background.ts";
import type { Call } from "./call.ts";
import { EXIT, type Exit } from "./exit.ts";
import { takeVehicle } from "./files.ts";
import { readOrder } from "./order.ts";
import { describeRelease } from "./release-document.ts";
import { sayRelease } from "./release-text.ts";
import type { Terminal } from "./terminal.ts";
import type { ReleaseAnswer } from "./thread.ts";

/** What the computing thread is asked. */
export interface Asked {
  readonly vehicle: Vehicle;
  readonly order: Order;
  readonly milliseconds?: number;
}

export async function runRelease(call: Call, terminal: Terminal): Promise<Exit> {
  const path = call.operands[0] ?? "";
  const json = call.flags.has("json");
  const asked = takeAsked(path, call, terminal);
  if (typeof asked === "number") return asked;
  const answer = await computeAside<Asked, ReleaseAnswer>(asked, terminal);
  if (refuseOrder(answer.question.faults, terminal)) return EXIT.call;
  terminal.say(json ? JSON.stringify(describeRelease(path, answer), undefined, 2) : sayRelease(answer, terminal));
  return { optimal: EXIT.found, feasible: EXIT.found, infeasible: EXIT.not, unknown: EXIT.stopped }[
    answer.result.status
  ];
}

/** Reads the file and the order of a call; else says what is wrong and gives the exit code. */
export function takeAsked(path: string, call: Call, terminal: Terminal): Asked | Exit {
  const taken = takeVehicle(path, terminal, call.flags.has("json"));
  if (typeof taken === "number") return taken;
  const { vehicle } = taken;
  const order = readOrder(vehicle, call);
  if (!("jobs" in order)) {
    for (const { what, mend } of order) terminal.warn(`unmoor: ${what}. ${mend}`);
    return EXIT.call;
  }
  const within = call.flags.get("within")?.[0];
  return { vehicle, order, ...(within === undefined ? {} : { milliseconds: Number(within) * 1000 }) };
}

/** Whether the order was refused; then why is said. */
export function refuseOrder(faults: ReleaseAnswer["question"]["faults"], terminal: Terminal): boolean {
  for (const { what, mend } of faults) terminal.warn(`unmoor: ${what}. ${mend}`);
  return faults.length > 0;
}

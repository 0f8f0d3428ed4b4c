// Owns the schedule of what is left of a run, for those who are there; or what is said where there is none.

import type { CrewPlan, Earlier } from "../plan/index.ts";
import type { Desk } from "../server/index.ts";
import { computeAside } from "./background.ts";
import type { Call } from "./call.ts";
import type { CrewAnswered, CrewAsked } from "./crew-thread.ts";
import { EXIT, type Exit } from "./exit.ts";
import { CREW_THREAD, searchLimits } from "./schedule.ts";
import type { Terminal } from "./terminal.ts";

/** People wait for it with tools in their hands. */
const SECONDS = 2;

/** @param told what people were told before: kept where it can be */
export async function restSchedule(
  desk: Pick<Desk, "whoNext">,
  call: Call,
  terminal: Terminal,
  told?: Earlier,
): Promise<CrewPlan | Exit> {
  const asked = await desk.whoNext(told);
  if (asked === undefined) {
    terminal.warn("unmoor: no plan leads on from here: see the open findings, unmoor run SHOP RUN.");
    return EXIT.not;
  }
  const { answer } = await computeAside<CrewAsked, CrewAnswered>(
    { what: "schedule", ...asked, ...searchLimits(call, SECONDS) },
    terminal,
    CREW_THREAD,
  );
  if (answer?.plan !== undefined) return answer.plan;
  const why = (answer?.lacks ?? []).map(({ what, mend }) => `${what}. ${mend}`).join(" ");
  terminal.warn(`unmoor: those who are there cannot do what is left. ${why}`);
  return EXIT.not;
}

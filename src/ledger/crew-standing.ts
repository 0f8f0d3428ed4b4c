// Owns how a run stands in the terms of a crew's schedule: which of its steps are done, which have begun with whom, which states are on.

import type { Earlier, Standing, WholeJob } from "../plan/index.ts";
import type { Ledger } from "./ledger.ts";

type JobStep = WholeJob["steps"][number];

/**
 * How the steps of a job stand by what is recorded. A step with an entry `begun` and no end goes on with its people; whatever was told and is not recorded is open.
 *
 * @param minute of a moment in milliseconds since 1970: minutes from the beginning of the order.
 */
export const crewStanding = (
  ledger: Ledger,
  job: WholeJob,
  minute: (at: number) => number,
  now: number,
  told?: Earlier,
): Standing => {
  const done = new Set(job.steps.filter((step) => isDone(ledger, step)).map(({ id }) => id));
  const open = job.steps.filter(({ id }) => !done.has(id));
  const begun = new Map<string, Standing["begun"][number]>();
  for (const { author, at, body } of ledger.list("hours", "begun")) {
    const step = open.find(({ id }) => id === body.at || id === `back:${body.at}`);
    if (step !== undefined) begun.set(step.id, { id: step.id, start: minute(at), people: body.people ?? [author] });
  }
  return {
    now: minute(now),
    ...(told === undefined ? {} : { told }),
    done: [...done],
    begun: [...begun.values()],
    open: open.map(({ id }) => id).filter((id) => !begun.has(id)),
    on: job.states.map(({ id }) => id).filter((id) => ledger.task(id).state === "done"),
  };
};

const isDone = (ledger: Ledger, { id, out, back, looksAt }: JobStep): boolean => {
  const hang = (task: string) => ledger.brief.hangs.find((one) => one.id === task);
  if (looksAt.length > 0) return looksAt.every((one) => ledger.joint(one.replace(/^back:/, "")).state === "proved");
  if (out !== undefined) {
    if ("release" in out) return ledger.joint(out.release).state !== "tied";
    const part = hang(id)?.part;
    return part === undefined ? ledger.task(id).done > 0 : ledger.part(part).awayTimes > 0;
  }
  if (back === undefined) return false;
  if ("refit" in back) return ["refitted", "proved"].includes(ledger.joint(back.refit).state);
  if ("perform" in back) return ledger.task(back.perform).state === "done";
  const returned = "return" in back ? back.return : id;
  const part = hang(returned)?.part;
  return part === undefined ? ledger.task(returned).undone > 0 : ledger.part(part).backTimes > 0;
};

// Owns the planning of runs anew beside the requests: one at a time in a thread of its own, so that a finding holds up nobody else.

import type { Anew, Replanned, Replanner } from "../plan-anew.ts";
import { Computing } from "./computing.ts";

export interface Replanning {
  readonly replan: Replanner;
  close(): Promise<void>;
}

/** @param thread the script of the computing thread */
export const openReplanning = (thread: URL, log: (what: string) => void): Replanning => {
  const computing = new Computing(thread);
  const open = new AbortController();
  let tail: Promise<unknown> = Promise.resolve();
  const plan = async (anew: Anew): Promise<Replanned> => {
    const ended = await computing.compute({ anew }, open.signal, () => undefined);
    if ("answer" in ended) return JSON.parse(ended.answer) as Replanned;
    if ("fault" in ended) log(ended.cause ?? ended.fault.what);
    const why = "fault" in ended ? `${ended.fault.what}. ${ended.fault.mend}` : "the server stopped while it planned";
    return { replan: { kind: "none", why, because: [] } };
  };
  return {
    replan(anew) {
      const planned = tail.then(() => plan(anew));
      tail = planned.catch(() => undefined);
      return planned;
    },
    async close() {
      open.abort();
      await computing.close();
    },
  };
};

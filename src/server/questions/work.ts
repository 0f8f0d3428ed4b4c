// Owns a question's course at a worker: computed in a thread, told how far it is, and its end kept once.

import { setTimeout as pause } from "node:timers/promises";
import type { Progress } from "../../plan/index.ts";
import { type KeptQuestion, type QuestionKeep, StoreFault } from "../../store/index.ts";
import { faultOf } from "../refusals.ts";
import type { Wanted } from "./body.ts";
import type { Computing, Ended } from "./computing.ts";

/** Times that a question is taken up: one whose worker died as often is not given to another, for it may be what they die of. */
const ATTEMPTS = 10;
/** Milliseconds between two writes of how far it is. */
const TOLD_EVERY = 500;
/** Milliseconds before a store that refuses is asked again to keep how a question ended. */
const AGAIN = 2_000;

/** Why a computation is stopped: nobody wants it any more, or its worker is to end. */
export type Why = "unwanted" | "leaving";

export interface Bench {
  readonly keep: QuestionKeep;
  readonly computing: Computing;
  /** Whose the questions are. */
  readonly worker: string;
  readonly now: () => number;
  /** What whoever keeps the server should know. */
  readonly log: (what: string, question: string) => void;
}

/** How far a question is, as it is kept. */
export interface Told {
  readonly doing: string;
  readonly best?: Omit<Progress & { readonly kind: "best" }, "kind">;
}

/** Carries out a question that was taken. Aborted with `Why` as its reason. */
export const carryOut = async (bench: Bench, question: KeptQuestion, stop: AbortController): Promise<void> => {
  const { keep, worker, now, log } = bench;
  const { digest, attempts } = question;
  const insist = async (work: () => Promise<unknown>): Promise<void> => {
    for (;;) {
      try {
        await work();
        return;
      } catch (error) {
        if (!(error instanceof StoreFault)) throw error;
        log(String(error), digest);
        if (error.code === "unknown") return;
        if (stop.signal.reason === "leaving") return;
        await pause(AGAIN);
      }
    }
  };
  if (attempts > ATTEMPTS) {
    const fault = faultOf(["diedOften", ATTEMPTS], ["seeMemory"]);
    return insist(() => keep.fail(digest, worker, fault, now()));
  }
  const ended = await compute(bench, question, stop);
  if ("answer" in ended) return insist(() => keep.answer(digest, ended.answer, now()));
  if ("fault" in ended) {
    log(ended.cause ?? ended.fault.what, digest);
    return insist(() => keep.fail(digest, worker, ended.fault, now()));
  }
  if (stop.signal.reason !== "unwanted") await insist(() => keep.giveBack(digest, worker));
};

const compute = async (
  { keep, computing, worker, log }: Bench,
  { digest, kind, body, model }: KeptQuestion,
  stop: AbortController,
): Promise<Ended> => {
  let told: Told = { doing: "reading" };
  let changed = false;
  let telling = false;
  const tell = async () => {
    if (!changed || telling) return;
    [changed, telling] = [false, true];
    try {
      if (!(await keep.tell(digest, worker, told))) stop.abort("unwanted" satisfies Why);
    } catch (error) {
      // What could not be told is told with the next.
      log(String(error), digest);
    } finally {
      telling = false;
    }
  };
  const clock = setInterval(() => void tell(), TOLD_EVERY);
  try {
    const files = await keep.files(model);
    // What is kept was checked when it was asked.
    return await computing.compute({ wanted: { kind, body } as Wanted, files }, stop.signal, (progress) => {
      if (progress.kind === "doing") told = { doing: progress.what };
      else {
        const { of, best, bound } = progress;
        told = { doing: told.doing, best: { of, best, bound: Number.isFinite(bound) ? bound : 0 } };
      }
      changed = true;
    });
  } catch (error) {
    if (!(error instanceof StoreFault)) throw error;
    log(String(error), digest);
    // What may pass by itself is tried again.
    return error.code === "unknown" ? { fault: { what: error.what, mend: error.mend } } : { stopped: true };
  } finally {
    clearInterval(clock);
  }
};

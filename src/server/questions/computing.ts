// Owns the threads that compute: one piece of work at a time each, with limits of time and memory, and no end but the thread's own where one is broken.

import { Worker } from "node:worker_threads";
import type { Progress } from "../../plan/index.ts";
import type { ModelFile, QuestionFault } from "../../store/index.ts";
import type { Anew } from "../plan-anew.ts";
import { faultOf, type Mend, type Wrong } from "../refusals.ts";
import type { Wanted } from "./body.ts";

/** What a thread computes: a question about a model, or the new plan of a run. */
export type Work = { readonly wanted: Wanted; readonly files: readonly ModelFile[] } | { readonly anew: Anew };

/** What a thread is sent. */
export interface Task {
  readonly work: Work;
  /** Its first element turns 1 when the computation is to end with what it has. */
  readonly stop: Int32Array<SharedArrayBuffer>;
}

/** What a thread sends back. The answer comes as the text that is kept: to write a large one would hold up everybody else. */
export type Message =
  | Progress
  | { readonly kind: "answer"; readonly answer: string }
  /** A plan was searched for so long, and none was found. */
  | { readonly kind: "unfound"; readonly seconds: number }
  | { readonly kind: "fault"; readonly fault: string };

/** How a computation ended: with an answer as text, with a fault of its own, or because it was told to. */
export type Ended =
  | { readonly answer: string }
  | { readonly fault: QuestionFault; readonly cause?: string }
  | { readonly stopped: true };

export interface Limits {
  /** Milliseconds to read the vehicle's files in. */
  readonly reading: number;
  /** Megabytes of memory for a thread. */
  readonly memory: number;
  /** Milliseconds without work after which a thread ends: it holds memory. */
  readonly idle: number;
}

const LIMITS: Limits = { reading: 20_000, memory: 2_048, idle: 30_000 };
/** Milliseconds for a computation to end with what it has; then its thread is ended. */
const GRACE = 30_000;
/** Milliseconds beside a search's own: for what is asked after it, each with a limit of its own. */
const BESIDE = 120_000;

/** Milliseconds that work may take in all. A curve searches for each of its points, and once more with each scarce tool doubled. */
const allowed = (work: Work): number => {
  if ("anew" in work) return BESIDE;
  const { kind, body } = work.wanted;
  if (kind === "check" || kind === "model") return GRACE;
  return body.seconds * 1000 * (kind === "curve" ? 4 * body.upTo : 1) + BESIDE;
};

/** Threads that come when they are needed and go when they are not. */
export class Computing {
  private readonly thread: URL;
  private readonly limits: Limits;
  /** Threads that wait for a question, each with the clock that ends it. */
  private readonly idle = new Map<Worker, NodeJS.Timeout>();
  private readonly busy = new Set<Worker>();
  private closed = false;

  /** @param thread the script of the computing thread, thread.ts as JavaScript */
  constructor(thread: URL, limits: Partial<Limits> = {}) {
    this.thread = thread;
    this.limits = { ...LIMITS, ...limits };
  }

  /** Does one piece of work. When `signal` says so it is stopped at once: the thread is ended with all that it had. */
  async compute(work: Work, signal: AbortSignal, report: (progress: Progress) => void): Promise<Ended> {
    if (signal.aborted || this.closed) return { stopped: true };
    const worker = this.wake();
    const stop = new Int32Array(new SharedArrayBuffer(4));
    const { reading, memory } = this.limits;
    const whole = allowed(work);
    const ended = await new Promise<Ended>((resolve) => {
      const slow = setTimeout(() => done(tooSlow(reading)), reading);
      const enough = setTimeout(() => Atomics.store(stop, 0, 1), whole);
      const last = setTimeout(() => done(tooLong(whole + GRACE)), whole + GRACE);
      const onMessage = (message: Message) => {
        if (message.kind === "answer") done({ answer: message.answer });
        else if (message.kind === "unfound") done(fault(["noPlanInTime", message.seconds], ["askOrAgain"]));
        else if (message.kind === "fault") done(broken(message.fault));
        else {
          // The first that it tells is that the files are read.
          clearTimeout(slow);
          report(message);
        }
      };
      const onError = (error: Error & { readonly code?: string }) =>
        done(error.code === "ERR_WORKER_OUT_OF_MEMORY" ? tooLarge(memory) : broken(error.stack ?? String(error)));
      const onExit = (code: number) => done(this.closed ? { stopped: true } : broken(`the thread ended with ${code}`));
      const onAbort = () => done({ stopped: true });
      const done = (how: Ended) => {
        for (const clock of [slow, enough, last]) clearTimeout(clock);
        worker.off("message", onMessage).off("error", onError).off("exit", onExit);
        signal.removeEventListener("abort", onAbort);
        resolve(how);
      };
      worker.on("message", onMessage).on("error", onError).on("exit", onExit);
      signal.addEventListener("abort", onAbort);
      worker.postMessage({ work, stop } satisfies Task);
    });
    this.busy.delete(worker);
    // Only a thread that has answered is known to wait for its next question.
    if ("answer" in ended && !this.closed) this.rest(worker);
    else await worker.terminate();
    return ended;
  }

  /** Ends every thread; what is under way ends as stopped. */
  async close(): Promise<void> {
    this.closed = true;
    for (const clock of this.idle.values()) clearTimeout(clock);
    await Promise.all([...this.idle.keys(), ...this.busy].map((worker) => worker.terminate()));
  }

  private wake(): Worker {
    const [waiting] = this.idle.keys();
    const worker = waiting ?? this.start();
    clearTimeout(this.idle.get(worker));
    this.idle.delete(worker);
    this.busy.add(worker);
    worker.ref();
    return worker;
  }

  private start(): Worker {
    const worker = new Worker(this.thread, { resourceLimits: { maxOldGenerationSizeMb: this.limits.memory } });
    const leave = () => {
      clearTimeout(this.idle.get(worker));
      this.idle.delete(worker);
      this.busy.delete(worker);
    };
    return worker.on("exit", leave).on("error", leave);
  }

  private rest(worker: Worker): void {
    this.idle.set(worker, setTimeout(() => void worker.terminate(), this.limits.idle).unref());
    // Who has nothing else to do may end though threads wait.
    worker.unref();
  }
}

const fault = (what: Wrong, mend: Mend, cause?: string): Ended => ({
  fault: faultOf(what, mend),
  ...(cause === undefined ? {} : { cause }),
});

const tooSlow = (ms: number): Ended => fault(["filesSlow", ms / 1000], ["lookForAliases"]);
const tooLong = (ms: number): Ended => fault(["tookLonger", Math.round(ms / 1000)], ["askLessOrLonger"]);
const tooLarge = (megabytes: number): Ended => fault(["needsMemory", megabytes], ["askSmaller"]);
const broken = (cause: string): Ended => fault(["faultOfUnmoor"], ["seeLog"], cause);

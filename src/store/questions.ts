// Owns the interface of kept questions: long computations with their states, and answers that are kept once for each.
//
//              take                answer
//   waiting ─────────▶ running ─────────────▶ answered
//      ▲  ▲               │ │
//      │  └───giveBack────┘ ├──fail──▶ failed ──ask──▶ waiting
//      └──────ask─── cancelled ◀──cancel── (waiting, running)
//
// An answer is taken from whoever has it while the question is waiting or running: the first stands. All else of a running question is its worker's.
import type { ModelFile } from "./store.ts";

export type QuestionState = "waiting" | "running" | "answered" | "failed" | "cancelled";

/** What a question is about: a kept version of a vehicle, or files that came with it, by their digest. */
export type QuestionModel = { readonly vehicle: string; readonly version: number } | { readonly digest: string };

/** A question as it is asked. */
export interface NewQuestion {
  /** SHA-256 of its content, hexadecimal: its name. */
  readonly digest: string;
  readonly kind: string;
  readonly model: QuestionModel;
  readonly body: unknown;
  /** Of two that wait the one with the lower rank is taken first, then the older. */
  readonly rank: number;
  readonly at: number;
  readonly by: string;
}

/** Why there is no answer. */
export interface QuestionFault {
  readonly what: string;
  readonly mend: string;
  /** The same as data, for whoever says it in another language. */
  readonly phrases?: readonly [what: readonly unknown[], mend: readonly unknown[]];
}

export interface KeptQuestion extends NewQuestion {
  readonly state: QuestionState;
  /** Counts every change. */
  readonly revision: number;
  /** How often a worker took it up since it was asked. */
  readonly attempts: number;
  /** Whose it is, or was last. */
  readonly worker: string | undefined;
  /** How far it is. */
  readonly progress: unknown;
  /** JSON, letter for letter. */
  readonly answer: string | undefined;
  readonly fault: QuestionFault | undefined;
  readonly begun: number | undefined;
  readonly ended: number | undefined;
}

/** Methods reject with a `StoreFault`, as all of the store's. */
export interface QuestionKeep {
  /**
   * Keeps a question as waiting; one that is kept is given as it is, but one that failed or was cancelled waits anew.
   * @param files of a model that is not a kept vehicle's
   * @param limit so many of one person's may wait or run; undefined is given where this would be one more
   */
  ask(question: NewQuestion, files: readonly ModelFile[] | undefined, limit: number): Promise<KeptQuestion | undefined>;
  question(digest: string): Promise<KeptQuestion | undefined>;
  /** The files of a question's model, the main one first. @throws StoreFault "unknown" */
  files(model: QuestionModel): Promise<readonly ModelFile[]>;

  /** Gives the next that waits to a worker, or the one named where it waits. */
  take(worker: string, at: number, digest?: string): Promise<KeptQuestion | undefined>;
  /** False where it is no longer this worker's: cancelled, answered by another, or taken for lost. */
  tell(digest: string, worker: string, progress: unknown): Promise<boolean>;
  /** False where there is an answer already, or nobody wants one. */
  answer(digest: string, answer: string, at: number): Promise<boolean>;
  fail(digest: string, worker: string, fault: QuestionFault, at: number): Promise<boolean>;
  /** Puts it back to wait, as if this worker had never had it. */
  giveBack(digest: string, worker: string): Promise<boolean>;
  /** What is being computed, by whom. */
  running(): Promise<readonly { readonly digest: string; readonly worker: string }[]>;
  /** Puts back what a worker had that is no more; the attempt counts. False where it is no longer that worker's. */
  abandon(digest: string, worker: string): Promise<boolean>;
  /** Gives what has waited since before a moment to the queue once more, in case that it was lost there. */
  queueAgain(before: number): Promise<void>;
  /** Puts back what the one process that takes questions up had when it ended; the attempt counts. */
  recover(): Promise<number>;
  /** False where it neither waits nor runs. */
  cancel(digest: string, at: number): Promise<boolean>;

  /** Forgets what has ended before a moment, and files that nothing refers to any longer. */
  forget(before: number): Promise<number>;

  /** Tells of questions that changed, whoever changed them; of no one by name where any may have. */
  watch(listener: (digest: string | undefined) => void): Promise<() => void>;
}

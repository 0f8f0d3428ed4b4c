// Owns the interface of questions: long computations that are asked, followed, waited for and cancelled, whoever computes them and where.

import type { KeptQuestion, ModelFile, QuestionState } from "../../store/index.ts";
import type { Wanted } from "./body.ts";

/** A vehicle that is kept, or its files, the main one first. */
export type Model =
  | { readonly vehicle: string; readonly version?: number | undefined }
  | { readonly files: readonly ModelFile[] };

export interface Questions {
  /**
   * Asks; the same question, asked by anybody at any time, is one. What failed or was cancelled is computed anew.
   * @throws Problem 404 where no such vehicle is kept, 429 where this person has too many that wait
   */
  ask(
    wanted: Wanted,
    model: Model,
    person: string,
  ): Promise<{ readonly digest: string; readonly state: QuestionState }>;
  get(digest: string): Promise<KeptQuestion | undefined>;
  /**
   * The same when it has ended, or after so many milliseconds as it is then; at once when `signal` says so.
   * @param enough when to wait no longer, instead of its end
   */
  wait(
    digest: string,
    ms: number,
    signal?: AbortSignal,
    enough?: (question: KeptQuestion) => boolean,
  ): Promise<KeptQuestion | undefined>;
  /** Ends a computation with all that it had: the answer of a question never depends on when somebody lost patience. False where there is nothing to end. */
  cancel(digest: string): Promise<boolean>;
  /** Tells of every change until the function that it gives is called. */
  watch(digest: string, listener: () => void): () => void;
  /** Ends the computing: what is under way goes back to wait. */
  stop(): Promise<void>;
}

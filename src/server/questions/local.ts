// Owns questions where one process serves the shop: threads of its own, and the table as the queue, so that they survive its end.

import { availableParallelism } from "node:os";
import type { Store } from "../../store/index.ts";
import { Computing, type Limits } from "./computing.ts";
import { QuestionDesk } from "./desk.ts";
import type { Questions } from "./questions.ts";
import { type Bench, carryOut, type Why } from "./work.ts";

/** What computes questions. */
export interface Workshop {
  readonly store: Store;
  /** The script of the computing thread. */
  readonly thread: URL;
  /** Questions computed at a time; all cores but one where it is not said. */
  readonly threads?: number;
  readonly limits?: Partial<Limits>;
  /** Milliseconds since 1970. */
  readonly now: () => number;
  /** A name that no other worker has. */
  readonly name: string;
  readonly log: (what: string, question: string) => void;
}

export const coresButOne = (): number => Math.max(1, availableParallelism() - 1);

export class LocalQuestions extends QuestionDesk implements Questions {
  private readonly bench: Bench;
  private readonly threads: number;
  private readonly running = new Map<string, { readonly stop: AbortController; readonly end: Promise<void> }>();
  private taking: Promise<void> | undefined;
  private again = false;
  private leaving = false;

  private constructor(shop: Workshop) {
    super(shop.store, shop.now);
    this.threads = shop.threads ?? coresButOne();
    this.bench = {
      keep: shop.store.questions,
      computing: new Computing(shop.thread, shop.limits),
      worker: shop.name,
      now: shop.now,
      log: shop.log,
    };
  }

  /** Takes up what waited, or was under way, when the process before this one ended. @throws StoreFault */
  static async open(shop: Workshop): Promise<LocalQuestions> {
    const questions = new LocalQuestions(shop);
    await questions.open();
    await shop.store.questions.recover();
    questions.takeMore();
    return questions;
  }

  async stop(): Promise<void> {
    this.leaving = true;
    this.shut();
    await this.taking;
    for (const { stop } of this.running.values()) stop.abort("leaving" satisfies Why);
    await Promise.all([...this.running.values()].map(({ end }) => end));
    await this.bench.computing.close();
  }

  protected override changed(digest: string | undefined): void {
    for (const running of digest === undefined ? this.running.keys() : [digest]) void this.look(running);
    this.takeMore();
  }

  /** Whether what is under way is still wanted. */
  private async look(digest: string): Promise<void> {
    const running = this.running.get(digest);
    if (running === undefined) return;
    const question = await this.get(digest).catch(() => undefined);
    if (question !== undefined && !(question.state === "running" && question.worker === this.bench.worker))
      running.stop.abort("unwanted" satisfies Why);
  }

  /** Takes what waits as long as a thread is free; asked for while it does so, it looks once more. */
  private takeMore(): void {
    this.again = true;
    this.taking ??= this.take().finally(() => {
      this.taking = undefined;
    });
  }

  private async take(): Promise<void> {
    const { keep, worker, now, log } = this.bench;
    while (this.again && !this.leaving) {
      this.again = false;
      try {
        while (this.running.size < this.threads && !this.leaving) {
          const question = await keep.take(worker, now());
          if (question === undefined) break;
          const { digest } = question;
          const stop = new AbortController();
          const end = carryOut(this.bench, question, stop)
            .catch((error: unknown) => log(String(error), digest))
            .finally(() => {
              this.running.delete(digest);
              this.takeMore();
            });
          this.running.set(digest, { stop, end });
        }
      } catch (error) {
        // Asked again at the next change, or by whoever asks.
        log(String(error), "");
      }
    }
  }
}

// Owns questions where one process serves the shop: threads of its own, and the table as the queue, so that they survive its end.

import { availableParallelism } from "node:os";
import type { Store } from "../../store/index.ts";
import { Computing, type Limits } from "./computing.ts";
import { QuestionDesk } from "./desk.ts";
import { Hands } from "./hands.ts";
import type { Questions } from "./questions.ts";

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
  private readonly hands: Hands;
  private readonly threads: number;
  private taking: Promise<void> | undefined;
  private again = false;
  private leaving = false;

  private constructor(shop: Workshop) {
    super(shop.store, shop.now);
    this.threads = shop.threads ?? coresButOne();
    const { store, thread, limits, name: worker, now, log } = shop;
    this.hands = new Hands({ keep: store.questions, computing: new Computing(thread, limits), worker, now, log });
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
    await this.hands.leave();
  }

  protected override changed(digest: string | undefined): void {
    this.hands.look(digest);
    this.takeMore();
  }

  /** Takes what waits as long as a thread is free; asked for while it does so, it looks once more. */
  private takeMore(): void {
    this.again = true;
    this.taking ??= this.take().finally(() => {
      this.taking = undefined;
    });
  }

  private async take(): Promise<void> {
    const { keep, worker, now, log } = this.hands.bench;
    while (this.again && !this.leaving) {
      this.again = false;
      try {
        while (this.hands.count < this.threads && !this.leaving) {
          const question = await keep.take(worker, now());
          if (question === undefined) break;
          void this.hands.carry(question).then(() => this.takeMore());
        }
      } catch (error) {
        // Asked again at the next change, or by whoever asks.
        log(String(error), "");
      }
    }
  }
}

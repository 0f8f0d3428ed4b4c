// Owns how work meets a database that fails: its errors become faults, and what may pass is tried again.
import { StoreFault } from "./store.ts";
import type { Database } from "./tables.ts";

/** How one database differs from the other. */
export interface Ways {
  readonly place: string;
  /** Whether rows must be held by name; where one writer at a time is the rule they need not be. */
  readonly hold: boolean;
  /** A handle that sees one moment, while others write. */
  snapshot<T>(use: (db: Database) => AsyncGenerator<T>): AsyncGenerator<T>;
  /** Within the transaction that writes them: tells everybody who watches, once it is durable, of the runs that hold new entries. */
  announce(tx: Database, runs: readonly string[]): Promise<void>;
  watch(listener: (run: string | undefined) => void): Promise<() => void>;
  readonly questions: QuestionWays;
  /** What the driver says is damaged. */
  examine(): Promise<readonly string[]>;
  /** A driver's error as a fault; what it does not know comes back as it is. */
  read(error: unknown): unknown;
  /** Whether a fault may pass by itself, so many milliseconds after the first try. */
  again(fault: StoreFault, since: number): boolean;
  close(): Promise<void>;
}

/** How questions reach their workers, and how who waits for them hears of it. */
export interface QuestionWays {
  /** Within the transaction that has it wait: gives it to the queue that workers take from, where the table itself is not the queue. */
  enqueue(tx: Database, digest: string, rank: number): Promise<void>;
  /** Within the transaction that cancels it. */
  dequeue(tx: Database, digest: string): Promise<void>;
  announce(tx: Database, digests: readonly string[]): Promise<void>;
  watch(listener: (digest: string | undefined) => void): Promise<() => void>;
}

/** Does work that can be done twice: when its answer was lost it may have been done, and is found so. */
export async function guard<T>(ways: Pick<Ways, "read" | "again">, work: () => Promise<T>): Promise<T> {
  const start = performance.now();
  for (let wait = 50; ; wait = Math.min(wait * 2, 2_000)) {
    try {
      return await work();
    } catch (error) {
      const fault = ways.read(error);
      if (!(fault instanceof StoreFault && ways.again(fault, performance.now() - start + wait))) throw fault;
      await new Promise((resolve) => setTimeout(resolve, wait));
    }
  }
}

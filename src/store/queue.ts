// Owns the group commit: appends that come while one is being written go together into the next, so that fifty writers share the cost of one.
import type { NewEntry } from "./store.ts";

/** One call of `append`, waiting. */
export interface Append {
  readonly run: string;
  readonly entries: readonly NewEntry[];
  /** The last position its writer had seen; refused where there is more by now. */
  readonly behind: number | undefined;
}

/** What became of one: where its entries are, or why it was refused alone. */
export type Settled = { readonly positions: readonly number[] } | { readonly fault: Error };

/** Most entries in one transaction: more would make the first of them wait for no gain. */
const MOST = 2_000;

/**
 * Gives the function that appends. `write` puts all it is given into one transaction and resolves when they are durable; when it rejects, nothing of
 * them was acknowledged and every one of the group is rejected with its reason.
 */
export function makeQueue(write: (group: readonly Append[]) => Promise<readonly Settled[]>) {
  interface Waiting extends Append {
    readonly done: (positions: readonly number[]) => void;
    readonly failed: (fault: unknown) => void;
  }
  let waiting: Waiting[] = [];
  let writing: Promise<void> | undefined;

  const next = (): Waiting[] => {
    let entries = 0;
    let count = 0;
    for (; count < waiting.length; count++) {
      entries += waiting[count]?.entries.length ?? 0;
      if (count > 0 && entries > MOST) break;
    }
    const group = waiting.slice(0, count);
    waiting = waiting.slice(count);
    return group;
  };

  const flush = async (): Promise<void> => {
    // One turn of the event loop, so that those who came in the same one are taken along.
    await new Promise((resolve) => setImmediate(resolve));
    while (waiting.length > 0) {
      const group = next();
      try {
        const settled = await write(group);
        group.forEach((one, i) => {
          const outcome = settled[i];
          if (outcome !== undefined && "positions" in outcome) one.done(outcome.positions);
          else one.failed(outcome?.fault);
        });
      } catch (fault) {
        for (const one of group) one.failed(fault);
      }
    }
    writing = undefined;
  };

  return {
    append(run: string, entries: readonly NewEntry[], behind?: number): Promise<readonly number[]> {
      return new Promise((done, failed) => {
        waiting.push({ run, entries, behind, done, failed });
        writing ??= flush();
      });
    },
    /** Resolves when nothing waits any more. */
    async drained(): Promise<void> {
      while (writing !== undefined) await writing;
    },
  };
}

// Owns how a search is watched: when it is to finish, and what is known of the least cost where it is ended at once.

export interface Watch {
  /** Counts branchings. */
  nodes: number;
  /** True: finish by following the better half only. What is found then is an answer with a bound, not a proof. */
  readonly stop: () => boolean;
  /** Share of a cost that is not worth looking for. */
  readonly gap: number;
  /** Called every few milliseconds, with the least cost that is known of what is under way; it throws `Halted` with it to end everything at once. */
  readonly tick?: Tick;
}

export type Tick = (bound?: number) => void;

/** Thrown by a watch whose time is up beyond what following the better half may take. */
export class Halted extends Error {
  /** No assignment of what was under way costs less. */
  readonly bound: number;

  constructor(bound = Number.NEGATIVE_INFINITY) {
    super();
    this.bound = bound;
  }
}

/** What `work` gives, or what is known without it when it is halted; undefined: nothing, and the halt goes on. */
export function unlessHalted<T>(work: () => T, known: (halted: Halted) => T | undefined): T {
  try {
    return work();
  } catch (error) {
    const left = error instanceof Halted ? known(error) : undefined;
    if (left === undefined) throw error;
    return left;
  }
}

/** Work on a part of what is under way: where it is halted, the rest of it costs at least so much more. */
export function beside<T>(cost: number, work: () => T): T {
  return unlessHalted(work, (halted) => {
    throw new Halted(halted.bound + cost);
  });
}

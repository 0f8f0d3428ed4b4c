// Owns the desks of one process: one for each run that is asked for, kept up with what others write, and who waits for news of it.

import type { Verifier } from "../../ledger/index.ts";
import type { Store } from "../../store/index.ts";
import { RunDesk, type World } from "../desk/index.ts";

/** Desks kept open: a run of the demo's carrier takes about 5 MB with all its entries. */
const MOST = 64;

interface Kept {
  readonly opening: Promise<RunDesk>;
  desk: RunDesk | undefined;
  /** A catch-up is under way, and whether more came meanwhile. */
  catching: boolean;
  again: boolean;
}

export class Desks {
  private readonly store: Store;
  private readonly world: World;
  private readonly isSigned: Verifier;
  private readonly kept = new Map<string, Kept>();
  private readonly waiting = new Map<string, Set<() => void>>();
  private readonly hearers = new Set<(run: string) => void>();
  private unwatch: (() => void) | undefined;

  constructor(store: Store, world: World, isSigned: Verifier) {
    this.store = store;
    this.world = world;
    this.isSigned = isSigned;
  }

  /** Begins to hear of what is written, by whomever. */
  async start(): Promise<void> {
    this.unwatch = await this.store.watch((run) => {
      for (const id of run === undefined ? [...this.kept.keys()] : [run]) this.follow(id);
    });
  }

  stop(): void {
    this.unwatch?.();
    for (const id of [...this.waiting.keys()]) this.wake(id);
  }

  /** The desk of a run. @throws StoreFault "unknown" */
  async at(id: string): Promise<RunDesk> {
    const there = this.kept.get(id);
    if (there !== undefined) {
      // The one asked for last stands last, so that the first is the one to let go.
      this.kept.delete(id);
      this.kept.set(id, there);
      return there.opening;
    }
    const opening = RunDesk.open(this.store, id, this.world, this.isSigned);
    const kept: Kept = { opening, desk: undefined, catching: false, again: false };
    this.kept.set(id, kept);
    try {
      kept.desk = await opening;
      kept.desk.onMore = () => this.wake(id);
      // What was written while it was read.
      await kept.desk.catchUp();
    } catch (error) {
      this.kept.delete(id);
      throw error;
    }
    this.letGo();
    return kept.desk;
  }

  /** The site of a run; undefined where there is no such run. */
  async siteOf(id: string): Promise<string | undefined> {
    // It never changes: where the run is known here nobody has to be asked.
    return (this.kept.get(id)?.desk?.run ?? (await this.store.run(id)))?.site;
  }

  /** Resolves with the next news of a run, or after so many milliseconds, or when it is aborted. */
  news(id: string, milliseconds: number, signal: AbortSignal): Promise<void> {
    return new Promise((resolve) => {
      const waiting = this.waiting.get(id) ?? new Set();
      this.waiting.set(id, waiting);
      const wake = () => {
        clearTimeout(timer);
        signal.removeEventListener("abort", wake);
        waiting.delete(wake);
        if (waiting.size === 0) this.waiting.delete(id);
        resolve();
      };
      const timer = setTimeout(wake, milliseconds);
      signal.addEventListener("abort", wake);
      waiting.add(wake);
    });
  }

  /** Tells which run has news, of all runs, until the function that it gives is called. */
  hear(hearer: (run: string) => void): () => void {
    this.hearers.add(hearer);
    return () => this.hearers.delete(hearer);
  }

  private wake(id: string): void {
    for (const hearer of [...this.hearers]) hearer(id);
    for (const wake of [...(this.waiting.get(id) ?? [])]) wake();
  }

  private follow(id: string): void {
    const kept = this.kept.get(id);
    if (kept?.desk === undefined) {
      // Nobody works on it here; whoever looks at all runs wants to know all the same.
      for (const hearer of [...this.hearers]) hearer(id);
      return;
    }
    if (kept.catching) {
      kept.again = true;
      return;
    }
    kept.catching = true;
    void this.catchUp(id, kept, kept.desk);
  }

  private async catchUp(id: string, kept: Kept, desk: RunDesk): Promise<void> {
    try {
      do {
        kept.again = false;
        await desk.catchUp();
      } while (kept.again);
    } catch {
      // The store is away; what it holds is read when it tells of news again, or when somebody enters something.
      this.kept.delete(id);
    } finally {
      kept.catching = false;
    }
  }

  /** Runs that somebody waits at stay. */
  private letGo(): void {
    for (const id of this.kept.keys()) {
      if (this.kept.size <= MOST) return;
      if (!this.waiting.has(id)) this.kept.delete(id);
    }
  }
}

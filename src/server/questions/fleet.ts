// Owns questions where any number of processes share one database: the queue's library gives each to one of them, and what a dead one had goes to another.

import { setTimeout as pause } from "node:timers/promises";
import { Logger, type Runner, run, runMigrations, type Task } from "graphile-worker";
import pg from "pg";
import { openPresence, type Presence, QUEUE_TASK, StoreFault } from "../../store/index.ts";
import { Computing } from "./computing.ts";
import { QuestionDesk } from "./desk.ts";
import { Hands } from "./hands.ts";
import { coresButOne, type Workshop } from "./local.ts";
import type { Questions } from "./questions.ts";

/** Milliseconds between two looks for what a dead worker had. */
const LOOK = 2_000;
/** Looks in a row at which a worker must be missing: one that has only lost its connection is back by then. */
const MISSING = 3;
/** Milliseconds after which the library looks by itself whether it has missed that something waits. */
const POLL = 2_000;
/** Milliseconds before the library is started again where it gave up: the database is away. */
const AGAIN = 1_000;
/** Milliseconds that a question may wait before it is given to the queue once more: a job can be lost where the database was, between two of its statements. */
const OVERDUE = 60_000;

export class FleetQuestions extends QuestionDesk implements Questions {
  private readonly hands: Hands;
  private readonly shop: Workshop;
  private readonly database: string;
  private readonly threads: number;
  private readonly leaving = new AbortController();
  /** By worker for how many looks it has been missing. */
  private readonly missing = new Map<string, number>();
  private presence: Presence | undefined;
  private serving: Promise<unknown> = Promise.resolve();

  private constructor(shop: Workshop, database: string) {
    super(shop.store, shop.now);
    this.shop = shop;
    this.database = database;
    this.threads = shop.threads ?? coresButOne();
    const { store, thread, limits, name: worker, now, log } = shop;
    this.hands = new Hands({ keep: store.questions, computing: new Computing(thread, limits), worker, now, log });
  }

  /** With no threads it asks and follows, and leaves the computing to others. @throws StoreFault */
  static async open(shop: Workshop, database: string): Promise<FleetQuestions> {
    const questions = new FleetQuestions(shop, database);
    await runMigrations({ connectionString: database, logger: questions.logger() });
    questions.presence = await openPresence(database, shop.name);
    await questions.open();
    questions.serving = Promise.all([questions.work(), questions.lookAround()]);
    return questions;
  }

  async stop(): Promise<void> {
    this.leaving.abort();
    this.shut();
    await this.hands.leave();
    await this.serving;
    await this.presence?.close();
  }

  protected override changed(digest: string | undefined): void {
    this.hands.look(digest);
  }

  /** Takes jobs from the queue, and goes on where the library gave up because the database was away. */
  private async work(): Promise<void> {
    while (this.threads > 0 && !this.leaving.signal.aborted) {
      const pgPool = this.pool();
      try {
        const runner = await run({
          pgPool,
          concurrency: this.threads,
          noHandleSignals: true,
          pollInterval: POLL,
          logger: this.logger(),
          taskList: { [QUEUE_TASK]: this.task },
        });
        await this.until(runner);
      } catch (error) {
        this.shop.log(String(error), "");
      }
      // Not waited for: what the library still holds of it may never come back.
      void pgPool.end().catch(() => undefined);
      await pause(AGAIN, undefined, { signal: this.leaving.signal }).catch(() => undefined);
    }
  }

  /** The library stops listening to a pool of its own before the pool has ended: a database that goes away just then would end the process. */
  private pool(): pg.Pool {
    const pool = new pg.Pool({ connectionString: this.database });
    const tell = ({ message }: Error) => this.shop.log(message, "");
    pool.on("error", tell);
    pool.on("connect", (client) => client.on("error", tell));
    return pool;
  }

  private async until(runner: Runner): Promise<void> {
    const stop = () => void runner.stop().catch(() => undefined);
    if (this.leaving.signal.aborted) stop();
    this.leaving.signal.addEventListener("abort", stop);
    try {
      await runner.promise;
    } finally {
      this.leaving.signal.removeEventListener("abort", stop);
    }
  }

  /** One job. Whatever it finds of the question counts, not the job: one may come twice, or for what has ended. */
  private readonly task: Task = async (payload) => {
    const { digest } = payload as { readonly digest: string };
    const { keep, worker, now, log } = this.hands.bench;
    while (!this.leaving.signal.aborted) {
      try {
        const question = await keep.question(digest);
        if (question === undefined || question.state !== "waiting") return;
        const taken = await keep.take(worker, now(), digest);
        if (taken?.worker !== worker) return;
        await this.hands.carry(taken);
        return;
      } catch (error) {
        // The queue would have it wait for longer with each try; the database is back sooner.
        if (!(error instanceof StoreFault)) throw error;
        log(String(error), digest);
        await pause(AGAIN, undefined, { signal: this.leaving.signal }).catch(() => undefined);
      }
    }
  };

  /** Looks again and again for questions whose worker is no more, and for those that the queue has lost. */
  private async lookAround(): Promise<void> {
    for (let looks = 1; !this.leaving.signal.aborted; looks++) {
      try {
        await this.seekMissing();
        if (looks % Math.ceil(OVERDUE / LOOK) === 0) await this.store.questions.queueAgain(this.now() - OVERDUE);
      } catch (error) {
        // Nobody is missed while the database is away.
        this.missing.clear();
        if (!(error instanceof StoreFault)) this.shop.log(String(error), "");
      }
      await pause(LOOK, undefined, { signal: this.leaving.signal }).catch(() => undefined);
    }
  }

  private async seekMissing(): Promise<void> {
    const running = await this.store.questions.running();
    const workers = new Set(running.map(({ worker }) => worker));
    const there = await this.presence?.areThere([...workers]);
    for (const worker of new Set([...workers, ...this.missing.keys()])) {
      if (workers.has(worker) && there?.has(worker) === false)
        this.missing.set(worker, (this.missing.get(worker) ?? 0) + 1);
      else this.missing.delete(worker);
    }
    for (const { digest, worker } of running)
      if ((this.missing.get(worker) ?? 0) >= MISSING) await this.store.questions.abandon(digest, worker);
  }

  /** Only what is wrong is worth a line. */
  private logger(): Logger {
    return new Logger(() => (level, message) => {
      if (level === "error") this.shop.log(message, "");
    });
  }
}

// Owns a worker: it computes the questions of a shop whose servers share a database, and serves nobody.

import { randomBytes } from "node:crypto";
import { v7 } from "uuid";
import { openStore } from "../store/index.ts";
import type { Log } from "./http/observe.ts";
import { openQuestions } from "./questions/index.ts";

export interface WorkOptions {
  /** postgres://… */
  readonly database: string;
  /** The script of the computing thread. */
  readonly thread: URL;
  /** Questions computed at a time; all cores but one where it is not said. */
  readonly threads?: number;
  readonly log: Log;
}

export interface Working {
  /** What is under way goes back to wait for another. */
  stop(): Promise<void>;
}

/** Milliseconds for which it waits for a database that is away, before it says so. */
const PATIENCE = 5_000;

/** @throws StoreFault */
export const work = async ({ database, log, ...how }: WorkOptions): Promise<Working> => {
  const store = await openStore(database, PATIENCE);
  try {
    const now = () => Date.now();
    const questions = await openQuestions({
      ...how,
      store,
      database,
      now,
      name: v7({ random: randomBytes(16) }),
      log: (what, question) => log({ at: new Date(now()).toISOString(), question, fault: what }),
    });
    return {
      async stop() {
        await questions.stop();
        await store.close();
      },
    };
  } catch (error) {
    await store.close();
    throw error;
  }
};

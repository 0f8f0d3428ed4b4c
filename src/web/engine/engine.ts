// Owns the page's side of the engine: threads that are started when first asked, and ended when nobody waits any more for what they compute.

import type { AskedOf, Files, FromThread, Kind, SaidOf, ToThread } from "./asked.ts";

/** The address of the engine's script, put in by the build. */
declare const ENGINE: string;

/** Kinds that share a thread: what is asked after one another goes there, and nothing waits behind a long one. */
const LANES: Readonly<Record<Kind, string>> = {
  read: "read",
  release: "plan",
  why: "plan",
  others: "beside",
  edge: "beside",
  crew: "crew",
  curve: "curve",
  lift: "lift",
  trial: "lift",
  finish: "long",
  // Minutes on a slow machine: nothing waits behind it.
  improve: "improve",
  ways: "long",
  learn: "beside",
};

interface Waiting {
  readonly id: number;
  readonly model: number;
  readonly kind: Kind;
  readonly body: unknown;
  readonly resolve: (said: unknown) => void;
  readonly reject: (why: Error) => void;
  readonly tell: (said: unknown) => void;
}

const numbers = new WeakMap<Files, number>();
let models = 0;
/** The same files have the same number for as long as somebody holds them. */
export const numberOf = (files: Files): number => {
  const kept = numbers.get(files);
  if (kept !== undefined) return kept;
  models += 1;
  numbers.set(files, models);
  return models;
};

/** Models that a thread may have forgotten by then are sent once more. */
const REMEMBERED = 3;

class Lane {
  private thread: Worker | undefined;
  private readonly waiting: Waiting[] = [];
  private sent: number[] = [];

  ask(one: Waiting, files: Files): void {
    this.thread ??= this.start();
    if (!this.sent.includes(one.model)) {
      this.thread.postMessage({ is: "model", model: one.model, files } satisfies ToThread);
      this.sent = [...this.sent.slice(1 - REMEMBERED), one.model];
    }
    this.waiting.push(one);
    const { id, model, kind, body } = one;
    this.thread.postMessage({ is: "ask", id, model, kind, body } satisfies ToThread);
  }

  /** Nobody waits for this one any more: what the thread would still do for it is ended with the thread, unless others wait there. */
  leave(id: number): void {
    const index = this.waiting.findIndex((one) => one.id === id);
    if (index < 0) return;
    this.waiting.splice(index, 1);
    if (this.waiting.length > 0) return;
    this.thread?.terminate();
    this.thread = undefined;
    this.sent = [];
  }

  private start(): Worker {
    const thread = new Worker(ENGINE, { type: "module", name: "engine" });
    thread.addEventListener("message", ({ data }: MessageEvent<FromThread>) => {
      const index = this.waiting.findIndex((one) => one.id === data.id);
      const one = this.waiting[index];
      if (one === undefined) return;
      if (data.is === "progress") {
        one.tell(data.said);
        return;
      }
      this.waiting.splice(index, 1);
      if (data.is === "said") one.resolve(data.said);
      else one.reject(new Error(data.why));
    });
    thread.addEventListener("error", (event) => {
      event.preventDefault();
      for (const one of this.waiting.splice(0)) one.reject(new Error(event.message || "the engine did not start"));
      thread.terminate();
      this.thread = undefined;
      this.sent = [];
    });
    return thread;
  }
}

const lanes = new Map<string, Lane>();
let asked = 0;

/**
 * Asks the engine. Rejects where the program itself is at fault, and with the signal's reason where nobody waits any more.
 * @param tell hears of what is found on the way, in the kind's own form
 */
export const ask = <K extends Kind>(
  kind: K,
  files: Files,
  body: AskedOf[K],
  signal?: AbortSignal,
  tell: (said: SaidOf[K]) => void = () => undefined,
): Promise<SaidOf[K]> => {
  const name = LANES[kind];
  const lane = lanes.get(name) ?? new Lane();
  lanes.set(name, lane);
  asked += 1;
  const id = asked;
  return new Promise((resolve, reject) => {
    if (signal?.aborted === true) {
      reject(signal.reason);
      return;
    }
    signal?.addEventListener("abort", () => {
      lane.leave(id);
      reject(signal.reason);
    });
    lane.ask(
      {
        id,
        model: numberOf(files),
        kind,
        body,
        resolve: resolve as (said: unknown) => void,
        reject,
        tell: tell as (said: unknown) => void,
      },
      files,
    );
  });
};

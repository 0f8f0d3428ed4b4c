// Owns the page's side of the engine: threads that are started when first asked, and ended when nobody waits any more for what they compute.

import { unreached } from "../shop/calls.ts";
import type { AskedOf, Files, FromThread, Kind, SaidOf, ToThread } from "./asked.ts";

/** The scripts of the engine's threads, each with what its kinds need and no more. */
type Script = "plan" | "crew" | "lift" | "times" | "draft";
/** Their addresses, put in by the build. */
declare const ENGINE: Readonly<Record<Script, string>>;

/** Kinds that share a thread: what is asked after one another goes there, and nothing waits behind a long one. */
const LANES = {
  read: "read",
  stakes: "stakes",
  release: "plan",
  why: "plan",
  others: "beside",
  edge: "beside",
  crew: "crew",
  curve: "curve",
  rest: "rest",
  lift: "lift",
  trial: "lift",
  finish: "finish",
  when: "finish",
  ways: "finish",
  figures: "figures",
  // Minutes on a slow machine: nothing waits behind it.
  improve: "improve",
  learn: "learn",
  draft: "draft",
  remarks: "remarks",
} as const satisfies Readonly<Record<Kind, string>>;

type LaneName = (typeof LANES)[Kind];

const SCRIPTS: Readonly<Record<LaneName, Script>> = {
  read: "plan",
  stakes: "plan",
  plan: "plan",
  beside: "plan",
  crew: "crew",
  curve: "crew",
  rest: "crew",
  lift: "lift",
  finish: "times",
  figures: "times",
  improve: "times",
  learn: "times",
  draft: "draft",
  remarks: "draft",
};

/** Lanes whose questions are over before another thread would have started: what nobody waits for any more is let finish there. */
const SHORT: ReadonlySet<LaneName> = new Set(["read", "remarks"]);

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

/**
 * Kinds whose next question comes while the last is still searched for, and is to be answered within the second: a second thread has worked out meanwhile what all such questions
 * begin with, by this little one, and stands by for the one that is ended.
 */
const READIED: Partial<{ readonly [K in Kind]: (body: AskedOf[K]) => AskedOf[K] }> = {
  crew: (body) => ({ ...body, seconds: 0 }),
};

const readied = (kind: Kind, body: unknown): unknown =>
  (READIED[kind] as ((body: unknown) => unknown) | undefined)?.(body);

/** A thread with the models that it has been sent. */
class Thread {
  readonly worker: Worker;
  private sent: readonly number[] = [];

  constructor(script: Script) {
    this.worker = new Worker(ENGINE[script], { type: "module", name: script });
  }

  ask({ id, model, kind, body }: Pick<Waiting, "id" | "model" | "kind" | "body">, files: Files): void {
    if (!this.sent.includes(model)) {
      this.worker.postMessage({ is: "model", model, files } satisfies ToThread);
      this.sent = [...this.sent.slice(1 - REMEMBERED), model];
    }
    this.worker.postMessage({ is: "ask", id, model, kind, body } satisfies ToThread);
  }
}

class Lane {
  private readonly script: Script;
  private readonly isShort: boolean;
  private thread: Thread | undefined;
  /** Stands by. */
  private spare: Thread | undefined;
  private readonly waiting: Waiting[] = [];

  constructor(name: LaneName) {
    this.script = SCRIPTS[name];
    this.isShort = SHORT.has(name);
  }

  ask(one: Waiting, files: Files): void {
    this.thread ??= this.start();
    this.waiting.push({ ...one, tell: this.readying(one, files) });
    this.thread.ask(one, files);
  }

  /** Nobody waits for this one any more: what the thread would still do for it is ended with the thread, unless others wait there. */
  leave(id: number): void {
    const index = this.waiting.findIndex((one) => one.id === id);
    if (index < 0) return;
    this.waiting.splice(index, 1);
    if (this.waiting.length > 0 || this.isShort) return;
    this.thread?.worker.terminate();
    this.thread = this.spare;
    this.spare = undefined;
  }

  /** Once the first of it is told, the thread that stands by is readied. */
  private readying({ model, kind, body, tell }: Waiting, files: Files): Waiting["tell"] {
    const little = readied(kind, body);
    if (little === undefined) return tell;
    return (said) => {
      tell(said);
      if (this.spare !== undefined) return;
      this.spare = this.start();
      // Nobody waits for the answer to number 0.
      this.spare.ask({ id: 0, model, kind, body: little }, files);
    };
  }

  private start(): Thread {
    const thread = new Thread(this.script);
    thread.worker.addEventListener("message", ({ data }: MessageEvent<FromThread>) => {
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
    thread.worker.addEventListener("error", (event) => {
      event.preventDefault();
      thread.worker.terminate();
      if (thread === this.spare) this.spare = undefined;
      if (thread !== this.thread) return;
      this.thread = undefined;
      // A script that did not come has no message: then it is the server that is away.
      for (const one of this.waiting.splice(0))
        one.reject(event.message ? new Error(event.message) : unreached(undefined));
    });
    return thread;
  }
}

/** Fetches the threads' scripts before they are wanted: the browser keeps them, and a thread can start while the server is away. */
export const fetchScripts = (): void => {
  for (const script of Object.values(ENGINE)) fetch(script, { priority: "low" }).catch(() => undefined);
};

const lanes = new Map<LaneName, Lane>();
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
  const name: LaneName = LANES[kind];
  const lane = lanes.get(name) ?? new Lane(name);
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

// Owns what asking is, whoever computes: names, the limit of each person, waiting and watching on the store.

import { digestOf, type KeptQuestion, type NewQuestion, type QuestionState, type Store } from "../../store/index.ts";
import { notFound, Problem } from "../http/problem.ts";
import type { Wanted } from "./body.ts";
import { nameOf, rankOf } from "./question.ts";
import type { Model, Questions } from "./questions.ts";

/** Questions of one person that may wait or run. */
const MOST = 20;

const ENDED: ReadonlySet<QuestionState> = new Set(["answered", "failed", "cancelled"]);

export const hasEnded = ({ state }: KeptQuestion): boolean => ENDED.has(state);

/** Who asks and follows. Computing is left to what extends it. */
export class QuestionDesk implements Omit<Questions, "stop"> {
  protected readonly store: Store;
  protected readonly now: () => number;
  private readonly most: number;
  private readonly listeners = new Map<string, Set<() => void>>();
  private unwatch: (() => void) | undefined;

  constructor(store: Store, now: () => number, most = MOST) {
    this.store = store;
    this.now = now;
    this.most = most;
  }

  /** Begins to hear of changes. */
  protected async open(): Promise<void> {
    this.unwatch = await this.store.questions.watch((digest) => {
      const heard = digest === undefined ? [...this.listeners.values()] : [this.listeners.get(digest) ?? []];
      for (const listeners of heard) for (const listener of listeners) listener();
      this.changed(digest);
    });
  }

  protected shut(): void {
    this.unwatch?.();
  }

  /** What the desk itself does at a change; of no one by name where any may have changed. */
  protected changed(_digest: string | undefined): void {
    // Nothing, where nobody computes.
  }

  async ask(wanted: Wanted, model: Model, person: string): Promise<{ digest: string; state: QuestionState }> {
    const { files, digest: named, kept } = await this.modelOf(model);
    const question: NewQuestion = {
      digest: nameOf(wanted, named),
      kind: wanted.kind,
      model: kept,
      body: wanted.body,
      rank: rankOf(wanted),
      at: this.now(),
      by: person,
    };
    const there = await this.store.questions.ask(question, files, this.most);
    if (there === undefined)
      throw new Problem(429, "too-many-questions", ["manyQuestions", this.most], ["waitOrCancel"], { after: 10 });
    return { digest: there.digest, state: there.state };
  }

  get(digest: string): Promise<KeptQuestion | undefined> {
    return this.store.questions.question(digest);
  }

  async wait(
    digest: string,
    ms: number,
    signal?: AbortSignal,
    enough: (question: KeptQuestion) => boolean = hasEnded,
  ): Promise<KeptQuestion | undefined> {
    let wake: () => void = () => undefined;
    let over = signal?.aborted === true;
    // Heard from before it is read, so that no change falls in between.
    let change = new Promise<void>((resolve) => {
      wake = resolve;
    });
    const off = this.watch(digest, () => wake());
    const end = () => {
      over = true;
      wake();
    };
    const clock = setTimeout(end, ms);
    signal?.addEventListener("abort", end);
    try {
      for (;;) {
        const question = await this.get(digest);
        if (question === undefined || enough(question) || over) return question;
        await change;
        change = new Promise((resolve) => {
          wake = resolve;
        });
      }
    } finally {
      off();
      clearTimeout(clock);
      signal?.removeEventListener("abort", end);
    }
  }

  cancel(digest: string): Promise<boolean> {
    return this.store.questions.cancel(digest, this.now());
  }

  watch(digest: string, listener: () => void): () => void {
    const listeners = this.listeners.get(digest) ?? new Set();
    this.listeners.set(digest, listeners.add(listener));
    return () => {
      listeners.delete(listener);
      if (listeners.size === 0 && this.listeners.get(digest) === listeners) this.listeners.delete(digest);
    };
  }

  private async modelOf(model: Model) {
    if ("files" in model) {
      const digest = digestOf(model.files);
      return { files: model.files, digest, kept: { digest } };
    }
    const found = await this.store.vehicle(model.vehicle, model.version);
    if (found === undefined)
      throw notFound(
        model.version === undefined ? ["noVehicle", model.vehicle] : ["noVehicleVersion", model.vehicle, model.version],
        ["keepOrSend"],
      );
    const { vehicle, version, digest } = found;
    return { files: undefined, digest, kept: { vehicle, version } };
  }
}

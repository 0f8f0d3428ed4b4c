// Owns what one process has under way: each question that it computes, whether it is still wanted, and the end of them all.

import type { KeptQuestion } from "../../store/index.ts";
import { type Bench, carryOut, type Why } from "./work.ts";

export class Hands {
  readonly bench: Bench;
  private readonly running = new Map<string, { readonly stop: AbortController; readonly end: Promise<void> }>();

  constructor(bench: Bench) {
    this.bench = bench;
  }

  get count(): number {
    return this.running.size;
  }

  /** Carries out a question that was taken. Never rejects: what goes wrong is the question's, or is logged. */
  carry(question: KeptQuestion): Promise<void> {
    const { digest } = question;
    const stop = new AbortController();
    const end = carryOut(this.bench, question, stop)
      .catch((error: unknown) => this.bench.log(String(error), digest))
      .finally(() => this.running.delete(digest));
    this.running.set(digest, { stop, end });
    return end;
  }

  /** Stops what is under way and no longer wanted. @param digest all where it is undefined */
  look(digest: string | undefined): void {
    for (const one of digest === undefined ? this.running.keys() : [digest]) void this.lookAt(one);
  }

  /** What is under way goes back to wait, and nothing computes any more. */
  async leave(): Promise<void> {
    for (const { stop } of this.running.values()) stop.abort("leaving" satisfies Why);
    await Promise.all([...this.running.values()].map(({ end }) => end));
    await this.bench.computing.close();
  }

  private async lookAt(digest: string): Promise<void> {
    const running = this.running.get(digest);
    if (running === undefined) return;
    const { keep, worker } = this.bench;
    const question = await keep.question(digest).catch(() => undefined);
    if (question !== undefined && !(question.state === "running" && question.worker === worker))
      running.stop.abort("unwanted" satisfies Why);
  }
}

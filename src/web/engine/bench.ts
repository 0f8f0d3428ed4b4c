// Owns what a thread of the engine has worked out and may be asked again: the reading of a model, the question of an order, its answer.

import {
  type Order,
  type Question,
  type ReleaseAnswered,
  solveRelease,
  translate,
  type WholeJob,
  wholeJob,
} from "../../plan/index.ts";
import { type Reading, readVehicleWhole, type Vehicle } from "../../vehicle/index.ts";
import type { Files } from "./asked.ts";

/** Milliseconds after which a search for what must come off ends with what it has. */
const PATIENCE = 20_000;
/** Orders of one model that are kept. */
const KEPT = 30;

/** The whole job of an order, as its crew needs it. */
export interface Jobbed {
  readonly question: Question;
  readonly job?: WholeJob;
  /** There is a plan of what comes off; without a job it keeps no order on the way back. */
  readonly wayOut: boolean;
}

export interface Answered {
  readonly question: Question;
  readonly answer?: ReleaseAnswered;
  readonly ms: number;
}

/** One model with everything that was asked of it. */
export class Bench {
  readonly files: Files;
  private reading: Promise<Reading> | undefined;
  private readonly answers = new Map<string, Answered>();
  private readonly jobs = new Map<string, Jobbed>();

  constructor(files: Files) {
    this.files = files;
  }

  /** @throws when the file names others that are not there: that is a fault in the reading, never thrown. */
  read(): Promise<Reading> {
    const texts = new Map(this.files.map(({ path, text }) => [path, text]));
    this.reading ??= readVehicleWhole(
      this.files[0]?.path ?? "",
      (path) => texts.get(path) ?? { missing: "it is none of the files given" },
    );
    return this.reading;
  }

  /** @throws Error where the model has faults: nobody asks then. */
  async vehicle(): Promise<Vehicle> {
    const { vehicle } = await this.read();
    if (vehicle === undefined) throw new Error("this file has faults, and nothing is computed from it");
    return vehicle;
  }

  /** The order as a question, with its answer where the order has no faults. */
  async release(order: Order): Promise<Answered> {
    const key = JSON.stringify(order);
    const kept = this.answers.get(key);
    if (kept !== undefined) return kept;
    const began = performance.now();
    const question = translate(await this.vehicle(), order);
    const answer =
      question.faults.length > 0
        ? undefined
        : solveRelease(
            { what: "plan", question, others: false, reasons: false, about: "", milliseconds: PATIENCE },
            patient(),
          );
    const answered = { question, ...(answer === undefined ? {} : { answer }), ms: performance.now() - began };
    keep(this.answers, key, answered);
    return answered;
  }

  /** The order as a whole job, out and back; nothing of the plan's words is made for it. */
  async job(order: Order): Promise<Jobbed> {
    const key = JSON.stringify(order);
    const kept = this.jobs.get(key);
    if (kept !== undefined) return kept;
    const question = translate(await this.vehicle(), order);
    const plan =
      question.faults.length > 0
        ? undefined
        : solveRelease(
            { what: "release", question, others: false, reasons: false, about: "", milliseconds: PATIENCE },
            patient(),
          ).result.plan;
    const job = plan === undefined ? undefined : wholeJob(question, plan);
    const jobbed = { question, wayOut: plan !== undefined, ...(job === undefined ? {} : { job }) };
    keep(this.jobs, key, jobbed);
    return jobbed;
  }
}

const keep = <T>(kept: Map<string, T>, key: string, value: T): void => {
  if (kept.size >= KEPT) kept.delete(kept.keys().next().value ?? "");
  kept.set(key, value);
};

/** Watches over a computation that is ended by ending its thread. */
export const patient = () => ({ now: () => performance.now(), stop: () => false, report: () => undefined });

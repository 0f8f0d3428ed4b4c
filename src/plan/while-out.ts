// Owns what else to do while it is out: for every other job of the vehicle, what it costs now and what it costs by itself.

import { type Limits, type Result, solve } from "../release/index.ts";
import type { Order } from "./order.ts";
import { type Question, translate } from "./question.ts";

/** One other job. Labour is person-minutes of release and refit; the job's own work comes on top in either case. */
export interface WhileOut {
  readonly job: string;
  readonly label: string;
  /** What it adds to the order as it is; absent when the two cannot be done in one plan, or none was found in time. */
  readonly now?: number;
  /** What it takes by itself; absent likewise. */
  readonly alone?: number;
  /** What doing it now saves against doing it another day. */
  readonly saved?: number;
  /** Whether every answer it was worked out from is proved least. */
  readonly proved: boolean;
  /** Connections and tasks that it adds to the order's. */
  readonly adds: readonly string[];
}

const usedBy = ({ plan }: Result): readonly string[] =>
  plan === undefined ? [] : [...plan.releases.map((one) => one.id), ...plan.tasks];

/**
 * What every other job of the vehicle costs now, against by itself; what saves most first.
 *
 * @param result the answer to the question as it is.
 * @param limits for each of the two further answers that a job takes.
 */
export const whileItIsOut = (question: Question, result: Result, limits: Limits = {}): readonly WhileOut[] => {
  const { vehicle, order } = question;
  const own = new Set(usedBy(result));
  const answer = (asked: Order) => solve(translate(vehicle, asked).problem, limits);
  return vehicle.jobs
    .filter((job) => !order.jobs.includes(job.id))
    .map(({ id, label }): WhileOut => {
      const both = answer({ ...order, jobs: [...order.jobs, id] });
      // Another day nothing is released yet, and nobody has said what is to stay.
      const single = answer({ ...order, jobs: [id], keep: [], take: [], released: [] });
      const before = result.plan?.labour;
      const now = both.plan === undefined || before === undefined ? undefined : both.plan.labour - before;
      const alone = single.plan?.labour;
      return {
        job: id,
        label,
        ...(now === undefined ? {} : { now }),
        ...(alone === undefined ? {} : { alone }),
        ...(now === undefined || alone === undefined ? {} : { saved: alone - now }),
        proved: [result, both, single].every((one) => one.status === "optimal" || one.status === "infeasible"),
        adds: usedBy(both).filter((one) => !own.has(one) && !one.startsWith(`${id}/`)),
      };
    })
    .toSorted((a, b) => (b.saved ?? Number.NEGATIVE_INFINITY) - (a.saved ?? Number.NEGATIVE_INFINITY));
};

/** The other jobs as text, one a line. */
export const writeWhileOut = (jobs: readonly WhileOut[]): string =>
  jobs
    .map(({ label, now, alone, saved, adds, proved }) => {
      const figures =
        now === undefined || alone === undefined || saved === undefined
          ? "no plan with both"
          : `${round(now)} person-minutes now, ${round(alone)} by itself, ${round(saved)} saved${proved ? "" : " (not proved least)"}`;
      return `${label}: ${figures}${adds.length === 0 ? "" : `; adds ${adds.join(", ")}`}`;
    })
    .join("\n");

const round = (value: number): string => String(Number(value.toFixed(1)));

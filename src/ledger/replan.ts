// Owns the plan for what is left: the whole question solved again from where the run stands, what changed against what people were told, and why.

import { type Conflict, conflictOf, makePlan, type Order, type Plan, type PlanStep, translate } from "../plan/index.ts";
import { checkPlan, type Limits, solve } from "../release/index.ts";
import type { Vehicle } from "../vehicle/index.ts";
import { amend } from "./amend.ts";
import type { Brief } from "./brief.ts";
import type { Ledger } from "./ledger.ts";
import { progressOf } from "./progress.ts";

/** A step that is now wanted and was not, or the other way round. */
export interface StepChange {
  readonly action: PlanStep["action"];
  readonly id: string;
  readonly label: string;
  readonly minutes: number;
}

export type Replan =
  | {
      readonly kind: "plan";
      readonly plan: Plan;
      readonly status: "optimal" | "feasible";
      /** Person-minutes of the steps that are not done. */
      readonly left: number;
      readonly before: number;
      readonly added: readonly StepChange[];
      readonly dropped: readonly StepChange[];
      /** Steps that are left and are done another way, or take another time. */
      readonly altered: readonly StepChange[];
      readonly because: readonly { readonly finding: string; readonly says: string }[];
    }
  | {
      readonly kind: "none";
      readonly why: string;
      readonly conflict?: Conflict;
      readonly because: readonly { readonly finding: string; readonly says: string }[];
    };

type Left = StepChange & { readonly people: number; readonly key: string };

/** The steps of a plan that are not done by the ledger's word. Last looks are left out: they follow from the order of the others. */
const leftOf = (brief: Brief, ledger: Ledger): readonly Left[] => {
  const seen = new Map<string, number>();
  return progressOf(ledger.under(brief))
    .steps.map((step) => {
      const name = `${step.action} ${step.id}`;
      seen.set(name, (seen.get(name) ?? 0) + 1);
      return { ...step, key: `${name} ${seen.get(name)}` };
    })
    .filter(({ done, action }) => !done && action !== "verify");
};

const change = ({ action, id, label, minutes }: Left): StepChange => ({ action, id, label, minutes });

/**
 * The plan for the rest of a run. What is done stays done; connections that are apart stay in the plan for their way back.
 *
 * @param brief makes the brief of a plan, as the run's own was made.
 */
export const replanRun = (
  vehicle: Vehicle,
  order: Order,
  ledger: Ledger,
  brief: (plan: Plan) => Brief,
  limits: Limits = {},
): Replan => {
  const amended = amend(vehicle, order, ledger);
  const { because } = amended;
  const question = translate(amended.vehicle, amended.order);
  if (question.faults.length > 0)
    return { kind: "none", why: question.faults.map(({ what, mend }) => `${what}. ${mend}`).join(" "), because };
  const result = solve(question.problem, limits);
  if (result.plan === undefined) {
    const conflict = result.status === "infeasible" ? conflictOf(question, limits) : undefined;
    const why = result.status === "infeasible" ? "no plan leads on from here" : "no plan was found in time";
    return { kind: "none", why, ...(conflict === undefined ? {} : { conflict }), because };
  }
  const { verdict, mismatched } = checkPlan(question.problem, result.plan);
  if (!verdict.legal || mismatched.length > 0)
    throw new Error(`the checker refuses the plan for what is left: ${JSON.stringify(verdict.faults)}`);
  const plan = makePlan(question, result);
  if (plan === undefined) return { kind: "none", why: "no plan was found in time", because };
  const old = leftOf(ledger.brief, ledger);
  const now = leftOf(brief(plan), ledger);
  const before = new Map(old.map((step) => [step.key, step]));
  const after = new Map(now.map((step) => [step.key, step]));
  const labour = (steps: readonly Left[]) => steps.reduce((sum, step) => sum + step.minutes * step.people, 0);
  return {
    kind: "plan",
    plan,
    status: plan.status,
    left: labour(now),
    before: labour(old),
    added: now.filter(({ key }) => !before.has(key)).map(change),
    dropped: old.filter(({ key }) => !after.has(key)).map(change),
    altered: now
      .filter((step) => {
        const was = before.get(step.key);
        return was !== undefined && (was.minutes !== step.minutes || was.people !== step.people);
      })
      .map(change),
    because,
  };
};

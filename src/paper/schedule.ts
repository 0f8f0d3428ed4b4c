// Owns which step of a schedule a step of the plan is: when it is to be done, and by whom.

import type { CrewPlan, Plan, PlanStep } from "../plan/index.ts";

export const PHASES = ["out", "work", "back"] as const;
type Phase = (typeof PHASES)[number];

export interface Told {
  /** Minutes after the schedule begins. */
  readonly start: number;
  readonly people: readonly string[];
}

/** What a step of the plan is called in a schedule: phase, action and id; the same step twice in the order of both. */
const keyOf = (phase: Phase, action: string, id: string): string => `${phase} ${action} ${id}`;
const changeKey = (action: string, id: string): string => `${action} ${id}`;

/** The id of the thing in the id of a schedule's step: "back:coolant-return", "renew-seal/work-1". */
const plainId = (id: string): string => id.replace(/^(?:back:|look:)+/, "").replace(/\/work-\d+$/, "");

/** When each step of the plan is to be done by the schedule, and by whom. */
export function scheduled(plan: Plan, crew: CrewPlan | undefined): ReadonlyMap<PlanStep, Told> {
  const queues = new Map<string, Told[]>();
  const tell = (key: string, one: Told): void => {
    queues.set(key, [...(queues.get(key) ?? []), one]);
  };
  for (const { id, phase, action, start, people } of crew?.steps ?? [])
    if (action !== "wait") tell(keyOf(phase, action, plainId(id)), { start, people });
  // States of the vehicle are changes, not steps: how often they are turned is the schedule's own, and no phase's.
  for (const { state, to, start, people } of crew?.changes ?? [])
    tell(changeKey(to ? "do" : "undo", state), { start, people });
  const told = new Map<PlanStep, Told>();
  for (const phase of PHASES)
    for (const step of plan[phase].flatMap(({ steps }) => steps)) {
      const { action, id } = step;
      const found = (queues.get(keyOf(phase, action, id)) ?? queues.get(changeKey(action, id)))?.shift();
      if (found !== undefined) told.set(step, found);
    }
  return told;
}

/** The steps of the plan that a step of a schedule is. */
export function plannedAs(plan: Plan): (step: CrewPlan["steps"][number]) => readonly PlanStep[] {
  const planned = new Map<string, PlanStep[]>();
  for (const phase of PHASES)
    for (const step of plan[phase].flatMap(({ steps }) => steps)) {
      const key = keyOf(phase, step.action, step.id);
      planned.set(key, [...(planned.get(key) ?? []), step]);
    }
  return ({ phase, action, id }) => planned.get(keyOf(phase, action, plainId(id))) ?? [];
}

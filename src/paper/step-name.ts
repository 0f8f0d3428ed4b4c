// Owns what a step is called on paper: the file's words, and in the pack's language those that the plan adds to them.

import type { PlanStep } from "../plan/index.ts";
import type { Hang, Part, Task, Vehicle } from "../vehicle/index.ts";
import type { Words } from "./said.ts";

/** The name of each step of this vehicle's plans, a last look apart. */
export function stepNames(vehicle: Vehicle, words: Words): (step: PlanStep) => string {
  const { cards } = words;
  const parts = new Map(vehicle.parts.map(({ id, label }) => [id, label]));
  const hangs = new Map(
    vehicle.parts.flatMap((part) => part.hang.map((hang) => [hang.id, { part, hang }] as const)),
  ) as ReadonlyMap<string, { readonly part: Part; readonly hang: Hang }>;
  const tasks = new Map(vehicle.tasks.map((task) => [task.id, task]));
  return (step) => {
    const { action, id, label } = step;
    const hung = hangs.get(id);
    if (hung !== undefined) {
      const to = parts.get(hung.hang.to) ?? hung.hang.to;
      return action === "return" ? cards.untied(label, hung.part.label, to) : cards.tied(label, hung.part.label, to);
    }
    const task = tasks.get(id);
    return `${cards.actions[action]}${task !== undefined && isUnnamed(task, action) ? cards.reversed(label, task.label) : label}`;
  };
}

/** Whether the file has no words of its own for this way back of a task. */
const isUnnamed = ({ undo, back }: Task, action: PlanStep["action"]): boolean =>
  (action === "undo" && undo?.label === undefined) || (action === "return" && back === undefined);

// Owns what holds each step of a schedule: why it begins then and not sooner, in words.

import { linksOf, type Schedule } from "../crew/index.ts";
import { byOf, type ChainLink, kindOf } from "./crew-plan.ts";
import type { CrewQuestion } from "./crew-question.ts";

/** Why a step, or a change of a state, begins then. */
export interface Held {
  /** Of the step as the schedule has it, or of the state. */
  readonly id: string;
  readonly start: number;
  /** `beginning`: nothing does; it could begin sooner without helping anything. */
  readonly because: ChainLink["because"];
  /** Who or what holds it, in words. */
  readonly by?: string;
  /** The step or state that had to be over first. */
  readonly after?: string;
}

/** Of each step and change of a legal schedule: what holds it. */
export const heldIn = (question: CrewQuestion, schedule: Schedule): readonly Held[] =>
  linksOf(question.problem, schedule).map(({ task, start, because }): Held => {
    const kind = kindOf(because);
    const by = byOf(question, because);
    const after = "task" in because && kind !== "pin" ? because.task : undefined;
    return {
      id: task,
      start,
      because: kind,
      ...(by === undefined ? {} : { by }),
      ...(after === undefined ? {} : { after }),
    };
  });

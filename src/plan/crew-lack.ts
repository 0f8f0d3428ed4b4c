// Owns the words for why a crew cannot do a job: what, where, and what would mend it.

import type { Lack } from "../crew/index.ts";
import { PIN, titleOf } from "./crew-plan.ts";
import type { CrewQuestion } from "./crew-question.ts";
import { stockLabel } from "./crew-tools.ts";
import { labelOf } from "./labels.ts";

/** What keeps a crew from the job. `at` is the id of the step, person, position or state. */
export interface CrewLack {
  readonly at: string;
  readonly what: string;
  readonly mend: string;
}

const RULES: Readonly<Record<string, string>> = {
  C2: "shifts and breaks",
  C3: "skills",
  C4: "one step at a time for each person",
  C5: "the ways from place to place",
  C6: "the room at the positions",
  C7: "positions that must be empty",
  C8: "tools and systems in their number",
  C9: "what comes after what, and how long",
  C10: "the states of the vehicle",
  C11: "when the states may be changed",
  C12: "what must not go on at the same time",
  C13: "the second person who verifies",
};

/** The sentence of each lack. */
export const sayCrewLacks = (question: CrewQuestion, lacks: readonly Lack[]): readonly CrewLack[] => {
  const call = (id: string): string => {
    const owner = question.waitings.get(id) ?? id;
    const step = question.steps.get(owner);
    if (step !== undefined) return `"${titleOf(step.says)}" (${id})`;
    const state = question.job.states.find((one) => one.id === id);
    if (state !== undefined) return `"${state.set.label}" (${id})`;
    const person = question.crew.people.find((one) => one.id === id);
    return person?.label ?? `"${labelOf(question.job.question, id)}" (${id})`;
  };
  const list = (ids: readonly string[]) => ids.map(call).join(", ");
  const people = (count: number) => `${count} ${count === 1 ? "person" : "people"}`;
  return lacks.map((lack): CrewLack => {
    switch (lack.what) {
      case "no such skill":
        return {
          at: lack.at,
          what: `${call(lack.at)} takes ${people(lack.count)} with the skill ${lack.skill}, and the crew has ${lack.have === 0 ? "nobody" : people(lack.have)}`,
          mend: `Give somebody the skill ${lack.skill} in the crew file, or add somebody who has it.`,
        };
      case "too few people":
        return {
          at: lack.at,
          what: `${call(lack.at)} takes ${people(lack.count)}, and there ${lack.have === 1 ? "is" : "are"} ${lack.have}`,
          mend: `Have ${people(lack.count)} there, at least for this step.`,
        };
      case "position too small":
        return {
          at: lack.at,
          what: `${call(lack.at)} takes ${people(lack.count)} at ${labelOf(question.job.question, lack.position)}, where there is room for ${lack.room}`,
          mend: "Raise people at the position in the vehicle file, or have the step done by fewer or elsewhere.",
        };
      case "stock too small":
        return {
          at: lack.at,
          what: `${call(lack.at)} takes ${lack.count} × ${stockLabel(lack.stock)}, and there ${lack.have === 1 ? "is" : "are"} ${lack.have}`,
          mend: "Count it under tools in the crew file, if there are more.",
        };
      case "no verifier":
        return {
          at: lack.at,
          what: `${call(lack.at)} is for somebody who did not do ${list(lack.of)}, and nobody is left`,
          mend: "Add a second person to the crew, at least for the last looks.",
        };
      case "no spell long enough":
        return {
          at: lack.at,
          what: `${call(lack.at)} takes ${lack.minutes} min in one go, and its people are never there together so long`,
          mend: "Lengthen a shift or move a break; what may be interrupted says pauses: true in the vehicle file.",
        };
      case "circle":
        return {
          at: lack.tasks[0] ?? "",
          what: `these wait for one another: ${list(lack.tasks)}`,
          mend: "Take one of the needs, or of what comes after what, away in the vehicle file.",
        };
      case "contradiction": {
        const tasks = lack.tasks.filter((id) => !id.startsWith(PIN));
        if (tasks.length < lack.tasks.length)
          return {
            at: tasks.at(-1) ?? "",
            what: `what comes before what is pinned takes longer than until then: ${list(tasks)}`,
            mend: "Pin it later, or let go of the pin.",
          };
        return {
          at: lack.tasks[0] ?? "",
          what: `these cannot all be had: ${[...lack.rules.map((rule) => RULES[rule] ?? rule)].join("; ")}${lack.tasks.length === 0 ? "" : `; at ${list(lack.tasks)}`}`,
          mend: "Give one of them up: another person, a longer shift, one more of a tool.",
        };
      }
      case "too few skilled":
        return {
          at: lack.at,
          what: `${call(lack.at)} takes ${people(lack.count)} with the skills ${lack.skills.join(", ")} at once, and ${lack.have} can fill these seats`,
          mend: "Give a further person one of the skills in the crew file.",
        };
      case "empties its own position":
        return {
          at: lack.at,
          what: `${call(lack.at)} is done at ${labelOf(question.job.question, lack.position)} and wants nobody there`,
          mend: "Have it done from another position in the vehicle file, or take the position from its empties.",
        };
      case "on and off":
        return {
          at: lack.at,
          what: `${call(lack.at)} wants ${call(lack.state)} and the opposite`,
          mend: "Look at what it and its position need and are without in the vehicle file.",
        };
      default:
        // What only a question badly made can have: it says which rule of the question, for whoever mends it.
        return {
          at: lack.at,
          what: `${call(lack.at)}: ${lack.what}`,
          mend: "Look at what the vehicle file and the crew file say of it.",
        };
    }
  });
};

// Owns planning as the routes want it: checks and plans asked as questions, and waited for a while.

import type { Plan } from "../../plan/index.ts";
import type { KeptQuestion, QuestionFault } from "../../store/index.ts";
import type { Fault, Vehicle } from "../../vehicle/index.ts";
import { type Model, type Questions, wantedOf } from "../questions/index.ts";
import { type Mend, saidFirst, type Wrong } from "../refusals.ts";
import type { Planning } from "./office.ts";
import { notFound, Problem } from "./problem.ts";

/** Milliseconds that a request waits for a check, which it cannot do without, and for a plan, which it can ask for again. */
const CHECK = 20_000;
const PLAN = 8_000;

interface AskingFault {
  readonly at: string;
  readonly what: string;
  readonly mend: string;
}

/** An answer as far as this module looks into it. */
type Answer =
  | { readonly kind: "check"; readonly document: { readonly warnings: readonly Fault[] } }
  | {
      readonly kind: "faults";
      readonly document: { readonly faults: readonly (Fault & { readonly sentence: string })[] };
    }
  | { readonly kind: "plan"; readonly document: Plan }
  | { readonly kind: "model"; readonly document: Vehicle }
  | {
      readonly kind: "release";
      readonly document: { readonly conflict?: { readonly rules: readonly string[] } };
    }
  | { readonly kind: "refused"; readonly document: { readonly faults: readonly AskingFault[] } };

/** What there was to say instead of an answer of the kind that was asked for. */
type Refused = Extract<Awaited<ReturnType<Planning["plan"]>>, { refused: unknown }>;

/** @param stopping aborted when the server is to stop: nobody is kept waiting then */
export const planningOf = (questions: Questions, stopping?: AbortSignal): Planning => {
  const ask = async (
    wanted: ReturnType<typeof wantedOf>,
    model: Model,
    person: string,
    ms: number,
  ): Promise<KeptQuestion> => {
    const { digest } = await questions.ask(wanted, model, person);
    const question = await questions.wait(digest, ms, stopping);
    if (question === undefined) throw notFound(["questionGone"], ["askAgain"]);
    return question;
  };

  return {
    async check(files, person) {
      const question = await ask(wantedOf("check", {}), { files }, person, CHECK);
      const answer = answerOf(question);
      if (answer?.kind === "faults") return { faults: answer.document.faults, warnings: [] };
      if (answer?.kind === "check") return { faults: [], warnings: answer.document.warnings };
      if (question.fault !== undefined) throw new Problem(400, "unreadable", ...phrasesOf(question.fault));
      throw new Problem(503, "busy", ["notReadYet"], ["sendAgain"], { after: 5 });
    },

    async plan(model, order, person) {
      const question = await ask(wantedOf("plan", { order }), model, person, PLAN);
      const answer = answerOf(question);
      if (answer?.kind === "plan") {
        // Asked only now: most who ask for a plan that cannot be have no use for the vehicle.
        const read = await ask(wantedOf("model", {}), model, person, PLAN);
        const vehicle = answerOf(read);
        if (vehicle?.kind === "model") return { plan: answer.document, vehicle: vehicle.document };
        return without(read, vehicle);
      }
      return without(question, answer);
    },
  };
};

/** A fault of a store's has no phrases of its own, nor has one that an earlier version kept. */
const phrasesOf = ({ what, mend, phrases }: QuestionFault): readonly [Wrong, Mend] =>
  (phrases as readonly [Wrong, Mend] | undefined) ?? [
    ["notComputed", what],
    ["asItSays", mend],
  ];

const answerOf = ({ answer }: KeptQuestion): Answer | undefined =>
  answer === undefined ? undefined : (JSON.parse(answer) as Answer);

const without = (
  { digest, state, fault }: KeptQuestion,
  answer: Answer | undefined,
): Refused | { readonly waiting: string; readonly state: string } => {
  if (answer !== undefined) return { refused: whyNot(answer) };
  if (fault !== undefined) {
    const [what, mend] = phrasesOf(fault);
    return { refused: { what, mend } };
  }
  if (state === "cancelled") return { refused: { what: ["planningCancelled"], mend: ["orderAgain"] } };
  return { waiting: digest, state };
};

const whyNot = (answer: Answer): Refused["refused"] => {
  switch (answer.kind) {
    case "release": {
      const rules = answer.document.conflict?.rules ?? [];
      return {
        what: ["noLegalPlan"],
        mend: rules.length === 0 ? ["changeOrder"] : ["cannotAllHold", rules.join(" ")],
        more: { release: answer.document },
      };
    }
    case "refused":
      return {
        what: ["orderFaults", answer.document.faults.map(({ at, what }) => `${at}: ${what}`).join("; ")],
        mend: ["asItSays", answer.document.faults.map(({ mend }) => mend).join(" ")],
        more: { faults: answer.document.faults },
      };
    case "faults":
      return {
        what: ["vehicleFaults"],
        mend: ["asItSays", saidFirst(answer.document.faults.map(({ sentence }) => sentence))],
        more: { faults: answer.document.faults },
      };
    case "check":
    case "plan":
    case "model":
      throw new Error(`a ${answer.kind} where another was asked for`);
  }
};

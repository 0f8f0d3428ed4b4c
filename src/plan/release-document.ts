// Owns the document of what must come off, the same from the command line and from a server: unmoor/release/1.

import { type Alternative, breachSentence, type Reason } from "../release/index.ts";
import { accessOf } from "./access.ts";
import { labelOf } from "./labels.ts";
import { sayLack } from "./lack.ts";
import type { Question } from "./question.ts";
import type { ReleaseAnswered } from "./solve-release.ts";

/** The rules that the checker holds an order to, in the order of docs/release.md. */
export const RULES = [
  "R1 Once",
  "R2 Needs",
  "R3 Without",
  "R4 Lift",
  "R5 Carrying",
  "R6 Hung aside",
  "R7 End",
] as const;

/** An alternative as the documents have it: no bound where there is no plan. */
export const describeAlternative = (alternative: Alternative) => ({
  ...alternative,
  bound: Number.isFinite(alternative.bound) ? alternative.bound : null,
});

/** One link of a chain: the step, the one it is made for, and what would break without it. */
export const describeReason = (question: Question, { step, breaks, for: end }: Reason) => {
  const name = (id: string) => `"${labelOf(question, id)}"`;
  const says = breaks.kind === "called" ? `${name(breaks.of)} calls for it.` : breachSentence(breaks, name);
  return { step, ...(end === undefined ? {} : { for: end }), says };
};

/** What must come off, or why there is no plan; its shape is in schema/release.schema.json. */
export const describeRelease = (
  file: string,
  question: Question,
  { result, verdict, others, conflict, reasons, edge }: ReleaseAnswered,
) => {
  const { order, problem, removed, assumed } = question;
  const { plan, status, bound, ms } = result;
  const wayOf = new Map(problem.connections.flatMap(({ ways }) => ways.map((way) => [way.id, way] as const)));
  return {
    format: "unmoor/release/1" as const,
    file,
    asked: describeOrder(order),
    status,
    labour: plan?.labour ?? null,
    bound: Number.isFinite(bound) ? bound : null,
    releases: (plan?.releases ?? []).map(({ id, way }) => {
      const { position, labour } = wayOf.get(way) ?? { position: undefined, labour: 0 };
      return { id, way, label: labelOf(question, id), ...(position === undefined ? {} : { position }), labour };
    }),
    tasks: plan?.tasks ?? [],
    lifted: [...new Set(verdict?.lifts.flatMap(({ parts }) => parts))],
    lifts: (verdict?.lifts ?? []).map(({ task, parts, mass }) => {
      const limit = question.lifts.get(task);
      return {
        task,
        parts,
        mass,
        withoutMass: question.vehicle.parts
          .filter((part) => parts.includes(part.id) && part.mass === undefined)
          .map((part) => part.id),
        limit: limit !== undefined && Number.isFinite(limit.limit) ? limit.limit : null,
        ...(limit?.hoist === undefined ? {} : { hoist: limit.hoist.id }),
        ...(limit?.hoist?.reach === undefined ? {} : { reach: limit.hoist.reach }),
      };
    }),
    setAside: verdict?.setAside ?? [],
    hung: verdict?.hung ?? [],
    order: plan?.order ?? [],
    ...(plan === undefined ? {} : { access: accessOf(question, plan) }),
    ...(verdict === undefined ? {} : { proof: describeProof(question, verdict, plan?.order.length ?? 0) }),
    removed: removed.map(({ id, of, phase, why }) => ({ id, of, phase, why: sayLack(why) })),
    assumed,
    ...(conflict === undefined
      ? {}
      : { conflict: { rules: conflict.rules.map(({ says }) => says), smallest: conflict.smallest } }),
    ...(others === undefined ? {} : { others }),
    ...(reasons === undefined
      ? {}
      : {
          reasons: Object.fromEntries(
            [...reasons].map(([id, chain]) => [id, chain.map((reason) => describeReason(question, reason))]),
          ),
        }),
    ...(edge === undefined
      ? {}
      : { edge: edge.map((one) => ({ ...one, otherwise: describeAlternative(one.otherwise) })) }),
    milliseconds: ms,
  };
};

/** The order as the documents have it. */
export const describeOrder = ({ jobs, keep, take, released, hoist, people, withoutTools }: Question["order"]) => ({
  jobs,
  keep,
  take,
  released,
  ...(hoist === undefined ? {} : { hoist }),
  ...(people === undefined ? {} : { people: typeof people === "number" ? people : people.map(({ id }) => id) }),
  ...(withoutTools === undefined ? {} : { withoutTools }),
});

const describeProof = ({ problem }: Question, verdict: NonNullable<ReleaseAnswered["verdict"]>, steps: number) => {
  const searched = problem.connections.length - problem.released.length - verdict.released.length;
  return {
    legal: true as const,
    steps,
    rules: RULES,
    free: verdict.lifts.map(({ task, parts }) => ({ lift: task, group: parts, searched, free: true as const })),
    rested: verdict.rested.map(({ parts, on, inside }) => ({ parts, on, inside })),
  };
};

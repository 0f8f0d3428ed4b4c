// Owns the document that `release --json` writes.

import { accessOf, labelOf, type Question, sayLack } from "../plan/index.ts";
import type { ReleaseDocument } from "./documents.ts";
import { describeAlternative, describeReason } from "./reasons.ts";
import type { Answer } from "./thread.ts";

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

export function describeRelease(
  file: string,
  question: Question,
  { result, verdict, others, conflict, reasons, edge }: Answer,
): ReleaseDocument {
  const { order, problem, removed, assumed } = question;
  const { plan, status, bound, ms } = result;
  const wayOf = new Map(problem.connections.flatMap(({ ways }) => ways.map((way) => [way.id, way] as const)));
  return {
    format: "unmoor/release/1",
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
}

/** The order as the documents have it. */
export function describeOrder({
  jobs,
  keep,
  take,
  released,
  hoist,
  people,
  withoutTools,
}: Question["order"]): ReleaseDocument["asked"] {
  return {
    jobs,
    keep,
    take,
    released,
    ...(hoist === undefined ? {} : { hoist }),
    ...(people === undefined ? {} : { people: typeof people === "number" ? people : people.map(({ id }) => id) }),
    ...(withoutTools === undefined ? {} : { withoutTools }),
  };
}

function describeProof(
  { problem }: Question,
  verdict: NonNullable<Answer["verdict"]>,
  steps: number,
): NonNullable<ReleaseDocument["proof"]> {
  const searched = problem.connections.length - problem.released.length - verdict.released.length;
  return {
    legal: true,
    steps,
    rules: RULES,
    free: verdict.lifts.map(({ task, parts }) => ({ lift: task, group: parts, searched, free: true })),
    rested: verdict.rested.map(({ parts, on, inside }) => ({ parts, on, inside })),
  };
}

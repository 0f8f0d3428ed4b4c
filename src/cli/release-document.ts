// Owns the document that `release --json` writes.

import type { Lack, Question } from "../plan/index.ts";
import type { ReleaseDocument } from "./documents.ts";
import type { ReleaseAnswer } from "./thread.ts";

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

export function describeRelease(file: string, question: Question, { result, verdict }: ReleaseAnswer): ReleaseDocument {
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
    tasks: [...(plan?.tasks ?? [])],
    lifted: [...new Set(verdict?.lifts.flatMap(({ parts }) => parts))],
    lifts: (verdict?.lifts ?? []).map(({ task, parts, mass }) => {
      const limit = question.lifts.get(task);
      return {
        task,
        parts: [...parts],
        mass,
        limit: limit !== undefined && Number.isFinite(limit.limit) ? limit.limit : null,
        ...(limit?.hoist === undefined ? {} : { hoist: limit.hoist.id }),
        ...(limit?.hoist?.reach === undefined ? {} : { reach: limit.hoist.reach }),
      };
    }),
    setAside: [...(verdict?.setAside ?? [])],
    hung: (verdict?.hung ?? []).map((hang) => ({ ...hang })),
    order: (plan?.order ?? []).map((step) => ({ ...step })),
    ...(verdict === undefined ? {} : { proof: describeProof(question, verdict, plan?.order.length ?? 0) }),
    removed: removed.map(({ id, of, phase, why }) => ({ id, of, phase, why: sayLack(why) })),
    assumed: assumed.map(({ id, what }) => ({ id, what })),
    milliseconds: ms,
  };
}

function describeOrder({
  jobs,
  keep,
  take,
  released,
  hoist,
  people,
  tools,
}: Question["order"]): ReleaseDocument["asked"] {
  return {
    jobs: [...jobs],
    keep: [...keep],
    take: [...take],
    released: [...released],
    ...(hoist === undefined ? {} : { hoist }),
    ...(people === undefined ? {} : { people: typeof people === "number" ? people : people.map(({ id }) => id) }),
    ...(tools === undefined ? {} : { tools: [...tools] }),
  };
}

function describeProof(
  { problem }: Question,
  verdict: NonNullable<ReleaseAnswer["verdict"]>,
  steps: number,
): NonNullable<ReleaseDocument["proof"]> {
  const searched = problem.connections.length - problem.released.length - verdict.released.length;
  return {
    legal: true,
    steps,
    rules: [...RULES],
    free: verdict.lifts.map(({ task, parts }) => ({ lift: task, group: [...parts], searched, free: true })),
    rested: verdict.rested.map(({ parts, on, inside }) => ({ parts: [...parts], on: [...on], inside })),
  };
}

/** What an order lacks for a step, in words. */
export function sayLack(lack: Lack): string {
  switch (lack.lack) {
    case "tool":
      return `no ${lack.tool}`;
    case "skill":
      return `nobody with the skill ${lack.skill}`;
    case "people":
      return `${lack.wanted} people wanted, ${lack.have} there`;
    case "reach": {
      const spans = lack.hoists.map(({ id, from, to }) => `${id} ${from} m to ${to} m`).join(", ");
      return `no hoist has a figure at ${lack.reach} m (${spans})`;
    }
  }
}

/** What a person calls the thing with this id: a part, a connection, a way of it, a task, a hang, a job's work. */
export function labelOf({ vehicle, sources }: Question, id: string): string {
  const source = sources.get(id);
  if (source?.kind === "way")
    return source.way.label ? `${source.connection.label}, ${source.way.label}` : source.connection.label;
  if (source?.kind === "task") return source.task.label;
  if (source?.kind === "work") return source.work.label;
  if (source?.kind === "goal") return source.job.label;
  if (source?.kind === "hang") {
    const to = vehicle.parts.find((part) => part.id === source.hang.to)?.label ?? source.hang.to;
    return `${source.part.label} hung aside on ${to}`;
  }
  return [...vehicle.parts, ...vehicle.connections].find((one) => one.id === id)?.label ?? id;
}

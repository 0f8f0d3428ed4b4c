// Owns what `release` says on a terminal: the answer and its bound, the cut, the releases by position, and the proof.

import type { Question } from "../plan/index.ts";
import { drawCut } from "./drawing.ts";
import { labelOf, RULES, sayLack } from "./release-document.ts";
import type { Terminal } from "./terminal.ts";
import type { ReleaseAnswer } from "./thread.ts";

export function sayRelease(question: Question, answer: ReleaseAnswer, terminal: Terminal): string {
  const { result, verdict } = answer;
  const { plan } = result;
  const head = [sayOrder(question, terminal), saySentence(answer, terminal)];
  if (plan === undefined || verdict === undefined) return [...head, ...sayRemoved(question)].join("\n");
  const lifted = verdict.lifts.flatMap(({ parts }) => parts);
  const cut = {
    already: question.problem.released,
    released: plan.releases.map(({ id }) => id),
    lifted,
    setAside: verdict.setAside,
    hung: verdict.hung.map(({ part }) => part),
  };
  return [
    ...head,
    ...sayLifts(question, answer),
    "",
    drawCut(question.vehicle, cut, terminal.ink, terminal.width),
    "",
    ...sayReleases(question, answer, terminal),
    "",
    ...sayTasks(question, answer, terminal),
    "",
    ...sayProof(question, answer, terminal),
    ...sayRemoved(question),
    ...sayAssumed(question),
    "",
    "A planning and calculation aid: the maker's instructions, local codes and a competent person come first.",
  ].join("\n");
}

function sayOrder({ vehicle, order }: Question, { ink }: Terminal): string {
  const jobs = order.jobs.map((id) => vehicle.jobs.find((job) => job.id === id)?.label ?? id);
  const out = order.take.map((id) => `${vehicle.parts.find((part) => part.id === id)?.label ?? id} out`);
  return (
    ink.strong(`${vehicle.name}: ${[...jobs, ...out].join("; ")}`) +
    (vehicle.note ? `\n${ink.faint(vehicle.note)}` : "")
  );
}

function saySentence({ result: { status, plan, bound } }: ReleaseAnswer, { ink }: Terminal): string {
  const labour = plan === undefined ? "" : minutes(plan.labour);
  switch (status) {
    case "optimal":
      return `${ink.good("Optimal")}: ${labour} of labour, release and refit together; proved that no legal plan takes less.`;
    case "feasible": {
      const gap = plan === undefined || plan.labour === 0 ? 0 : ((plan.labour - bound) / plan.labour) * 100;
      return `${ink.doubt("Feasible")}: ${labour} of labour, release and refit together; none takes less than ${minutes(bound)} (gap ${gap.toFixed(1)} %). The search was stopped.`;
    }
    case "infeasible":
      return `${ink.bad("Infeasible")}: no legal plan does this with what the order has.`;
    case "unknown":
      return `${ink.doubt("No answer yet")}: the search was stopped before it had one; none takes less than ${minutes(bound)}.`;
  }
}

function sayLifts(question: Question, { verdict }: ReleaseAnswer): string[] {
  return (verdict?.lifts ?? []).map(({ task, parts, mass }) => {
    const limit = question.lifts.get(task);
    const allowed =
      limit === undefined || !Number.isFinite(limit.limit)
        ? "the file gives no limit"
        : `limit ${limit.limit.toFixed(0)} kg${limit.hoist ? ` (${labelHoist(question, limit.hoist.id)}${limit.hoist.reach === undefined ? "" : ` at ${limit.hoist.reach} m`})` : ""}`;
    return `${labelOf(question, task)}: ${parts.length} parts, at most ${mass.toFixed(0)} kg by their tolerances; ${allowed}.`;
  });
}

function labelHoist({ vehicle }: Question, id: string): string {
  return vehicle.hoists.find((hoist) => hoist.id === id)?.label ?? id;
}

function sayReleases(question: Question, { result: { plan } }: ReleaseAnswer, { ink }: Terminal): string[] {
  const wayOf = new Map(question.problem.connections.flatMap(({ ways }) => ways.map((way) => [way.id, way] as const)));
  const releases = (plan?.releases ?? []).map(({ id, way }) => {
    const { position, labour } = wayOf.get(way) ?? { position: undefined, labour: 0 };
    return { id, text: labelOf(question, way), position, labour };
  });
  const total = releases.reduce((sum, { labour }) => sum + labour, 0);
  const lines = [ink.strong(`Releases: ${releases.length}, ${minutes(total)} with their refit`)];
  for (const position of [...question.vehicle.positions.map(({ id }) => id), undefined]) {
    const here = releases.filter((release) => release.position === position);
    if (here.length === 0) continue;
    const label = position === undefined ? "Anywhere" : (question.positions.get(position)?.label ?? position);
    lines.push(`  ${label}: ${here.length}, ${minutes(here.reduce((sum, { labour }) => sum + labour, 0))}`);
    for (const { id, text, labour } of here)
      lines.push(`    ${number(labour).padStart(5)} min  ${text} ${ink.faint(`(${id})`)}`);
  }
  return lines;
}

function sayTasks(question: Question, { result: { plan } }: ReleaseAnswer, { ink }: Terminal): string[] {
  const labourOf = new Map(question.problem.tasks.map((task) => [task.id, task.labour]));
  const times = (id: string) =>
    plan?.order.filter((step) => ("do" in step && step.do === id) || ("undo" in step && step.undo === id)).length ?? 0;
  const tasks = plan?.tasks ?? [];
  return [
    ink.strong(`Tasks: ${tasks.length}, with their return`),
    ...tasks.map((id) => {
      const labour = (labourOf.get(id) ?? 0) * Math.max(1, times(id));
      return `    ${number(labour).padStart(5)} min  ${labelOf(question, id)} ${ink.faint(`(${id})`)}${times(id) > 1 ? `, set or undone ${times(id)} times on the way out` : ""}`;
    }),
  ];
}

function sayProof(question: Question, { result: { plan }, verdict }: ReleaseAnswer, { ink }: Terminal): string[] {
  const left = question.problem.connections.length - question.problem.released.length - (plan?.releases.length ?? 0);
  return [
    ink.strong("Proof"),
    `  The checker, which shares no code with the solver, replayed ${plan?.order.length ?? 0} steps; at every one these rules`,
    `  of docs/release.md held: ${RULES.join(", ")}.`,
    ...(verdict?.lifts ?? []).map(
      ({ task, parts }) =>
        `  Freedom at "${labelOf(question, task)}": from its ${parts.length} parts a search over the ${left} connections left made at the end reaches nothing fixed.`,
    ),
    ...(verdict?.rested ?? []).map(({ parts, on, inside }) => {
      const names = (ids: readonly string[]) => ids.map((id) => labelOf(question, id)).join(", ");
      return `  Rests for a while: ${names(parts)} on ${names(on)}; centre of mass ${(inside * 1000).toFixed(0)} mm inside (margin ${(question.problem.margin * 1000).toFixed(0)} mm).`;
    }),
  ];
}

function sayRemoved(question: Question): string[] {
  if (question.removed.length === 0) return [];
  const lines = question.removed.map(({ id, why }) => `  ${labelOf(question, id)} (${id}): ${sayLack(why)}`);
  return ["", "Left out, because the order lacks something for it:", ...lines];
}

function sayAssumed(question: Question): string[] {
  if (question.assumed.length === 0) return [];
  const kinds = new Map<string, string[]>();
  for (const { id, what } of question.assumed) kinds.set(what, [...(kinds.get(what) ?? []), id]);
  return [
    "",
    "Assumed where the file gives no figure:",
    ...[...kinds].map(
      ([what, ids]) =>
        `  ${what}: ${ids.length <= 6 ? ids.join(", ") : `${ids.slice(0, 5).join(", ")} and ${ids.length - 5} more`}`,
    ),
  ];
}

function minutes(value: number): string {
  return `${number(value)} min`;
}

function number(value: number): string {
  return Number.isInteger(value) ? String(value) : value.toFixed(1);
}

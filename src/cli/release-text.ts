// Owns what `release` says on a terminal: the answer and its bound, the cut, the releases by position, and the proof.

import { accessOf, labelOf, type Question, RULES, sayLack, writeWhileOut } from "../plan/index.ts";
import { drawCut } from "./drawing.ts";
import { sayAlternative } from "./reasons.ts";
import { type Terminal, wrap } from "./terminal.ts";
import type { Answer } from "./thread.ts";

export function sayRelease(question: Question, answer: Answer, terminal: Terminal): string {
  const { result, verdict } = answer;
  const { plan } = result;
  const head = [sayOrder(question, terminal), saySentence(answer, terminal)];
  if (plan === undefined || verdict === undefined)
    return [...head, ...sayConflict(answer, terminal), ...sayRemoved(question, terminal)].join("\n");
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
    ...sayLifts(question, answer, terminal),
    "",
    drawCut(question.vehicle, cut, terminal.ink, terminal.width),
    "",
    ...sayReleases(question, answer, terminal),
    "",
    ...sayTasks(question, answer, terminal),
    "",
    ...sayAccess(question, answer, terminal),
    ...sayProof(question, answer, terminal),
    ...sayReasons(question, answer, terminal),
    ...sayOthers(answer, terminal),
    ...sayRemoved(question, terminal),
    ...sayAssumed(question, terminal),
    "",
    "A planning and calculation aid: the maker's instructions, local codes and a competent person come first.",
  ].join("\n");
}

function sayOrder({ vehicle, order }: Question, { ink }: Terminal): string {
  const jobs = order.jobs.map((id) => vehicle.jobs.find((job) => job.id === id)?.label ?? id);
  const out = order.take.map((id) => `${vehicle.parts.find((part) => part.id === id)?.label ?? id} to go up`);
  return (
    ink.strong(`${vehicle.name}: ${[...jobs, ...out].join("; ")}`) +
    (vehicle.note ? `\n${ink.faint(vehicle.note)}` : "")
  );
}

function saySentence({ result: { status, plan, bound } }: Answer, { ink }: Terminal): string {
  const labour = plan === undefined ? "" : people(plan.labour);
  switch (status) {
    case "optimal":
      return `${ink.good("Optimal")}: ${labour} of labour, release and refit together; proved: no legal plan takes less.`;
    case "feasible": {
      const gap = plan === undefined || plan.labour === 0 ? 0 : ((plan.labour - bound) / plan.labour) * 100;
      return `${ink.doubt("Feasible")}: ${labour} of labour, release and refit together; none takes less than ${people(bound)} (gap ${gap.toFixed(1)} %). The search was stopped.`;
    }
    case "infeasible":
      return `${ink.bad("Infeasible")}: no legal plan does this with what the order has.`;
    case "unknown":
      return `${ink.doubt("No answer yet")}: the search was stopped before it had one; none takes less than ${people(bound)}.`;
  }
}

function sayConflict({ conflict }: Answer, { width }: Terminal): string[] {
  if (conflict === undefined) return [];
  const rules = conflict.rules.flatMap(({ says }) => wrap(`- ${says}`, width, "  "));
  const spared = conflict.smallest
    ? "without any one of them there is a plan"
    : "perhaps one or another could be spared";
  return ["", `These cannot all hold; ${spared}:`, ...rules];
}

function sayLifts(question: Question, { verdict }: Answer, { width }: Terminal): string[] {
  return (verdict?.lifts ?? []).flatMap(({ task, parts, mass }) => {
    const limit = question.lifts.get(task);
    const { hoist, eyes, beam } = limit ?? {};
    const figures = [
      ...(hoist
        ? [
            `${labelHoist(question, hoist.id)} ${number(hoist.limit)} kg${hoist.reach === undefined ? "" : ` at ${hoist.reach} m`}${hoist.tackle === undefined ? "" : `, ${number(hoist.tackle)} kg of tackle taken off`}${beam === undefined ? "" : `, ${number(beam.mass)} kg of beam taken off`}`,
          ]
        : []),
      ...(beam?.limit === undefined ? [] : [`below the beam ${beam.id} ${number(beam.limit)} kg`]),
      ...(eyes ? [`eyes ${number(eyes.limit)} kg`] : []),
    ];
    const allowed = figures.length === 0 ? "the file gives no limit" : `limit the least of: ${figures.join(", ")}`;
    const weightless = question.vehicle.parts.filter((part) => parts.includes(part.id) && part.mass === undefined);
    const names = weightless.map(({ label }) => label).join(", ");
    const weighs =
      weightless.length === 0
        ? `at most ${number(mass)} kg by their tolerances`
        : `weight not known: ${names} without a mass in the file, the others at most ${number(mass)} kg`;
    return wrap(`${labelOf(question, task)}: ${count(parts.length, "part")}, ${weighs}; ${allowed}.`, width);
  });
}

function labelHoist({ vehicle }: Question, id: string): string {
  return vehicle.hoists.find((hoist) => hoist.id === id)?.label ?? id;
}

function sayReleases(question: Question, { result: { plan } }: Answer, { ink }: Terminal): string[] {
  const wayOf = new Map(question.problem.connections.flatMap(({ ways }) => ways.map((way) => [way.id, way] as const)));
  const releases = (plan?.releases ?? []).map(({ id, way }) => {
    const { position, labour } = wayOf.get(way) ?? { position: undefined, labour: 0 };
    return { id, text: labelOf(question, way), position, labour };
  });
  const total = releases.reduce((sum, { labour }) => sum + labour, 0);
  const lines = [ink.strong(`Releases: ${releases.length}, ${people(total)} with their refit`)];
  for (const position of [...question.vehicle.positions.map(({ id }) => id), undefined]) {
    const here = releases.filter((release) => release.position === position);
    if (here.length === 0) continue;
    const label = position === undefined ? "Anywhere" : (question.positions.get(position)?.label ?? position);
    lines.push(`  ${label}: ${here.length}, ${number(here.reduce((sum, { labour }) => sum + labour, 0))}`);
    for (const { id, text, labour } of here)
      lines.push(`    ${number(labour).padStart(6)}  ${text} ${ink.faint(`(${id})`)}`);
  }
  return lines;
}

function sayTasks(question: Question, { result: { plan } }: Answer, { ink }: Terminal): string[] {
  const labourOf = new Map(question.problem.tasks.map((task) => [task.id, task.labour]));
  const times = (id: string) =>
    plan?.order.filter((step) => ("do" in step && step.do === id) || ("undo" in step && step.undo === id)).length ?? 0;
  // The jobs' own work is no labour of getting there.
  const tasks = (plan?.tasks ?? [])
    .filter((id) => ["task", "hang"].includes(question.sources.get(id)?.kind ?? ""))
    .map((id) => ({ id, labour: (labourOf.get(id) ?? 0) * Math.max(1, times(id)) }));
  const total = tasks.reduce((sum, { labour }) => sum + labour, 0);
  return [
    ink.strong(`Tasks: ${tasks.length}, ${people(total)} with their return`),
    ...tasks.map(({ id, labour }) => {
      const turned = times(id) > 1 ? `, set or undone ${times(id)} times on the way out` : "";
      return `    ${number(labour).padStart(6)}  ${labelOf(question, id)} ${ink.faint(`(${id})`)}${turned}`;
    }),
  ];
}

function sayAccess(question: Question, { result: { plan } }: Answer, { ink, width }: Terminal): string[] {
  const { dearest, blocksMost } = plan === undefined ? {} : accessOf(question, plan);
  const named = (id: string) => `${labelOf(question, id)} (${id})`;
  const sentences = [
    ...(dearest
      ? [`Dearest: ${named(dearest.id)}; for it alone ${people(dearest.labour)} go into ${dearest.steps.join(", ")}.`]
      : []),
    ...(blocksMost
      ? [
          `Holds up most: ${named(blocksMost.id)}; ${count(blocksMost.blocked.length, "step")} after it, directly or through one another.`,
        ]
      : []),
  ];
  return sentences.length === 0
    ? []
    : [ink.strong("Access"), ...sentences.flatMap((text) => wrap(text, width, "  ")), ""];
}

function sayProof(question: Question, { result: { plan }, verdict }: Answer, { ink, width }: Terminal): string[] {
  const left = question.problem.connections.length - question.problem.released.length - (plan?.releases.length ?? 0);
  const names = (ids: readonly string[]) => ids.map((id) => labelOf(question, id)).join(", ");
  const millimetres = (metres: number) => `${(metres * 1000).toFixed(0)} mm`;
  const sentences = [
    `The checker, which shares no code with the solver, replayed ${count(plan?.order.length ?? 0, "step")}; at every one the rules of docs/release.md held: ${RULES.join(", ")}.`,
    ...(verdict?.lifts ?? []).map(
      ({ task, parts }) =>
        `Freedom at "${labelOf(question, task)}": from its ${count(parts.length, "part")} a search over the connections then made reached nothing fixed; ${left} stay made to the end.`,
    ),
    ...(verdict?.rested ?? []).map(
      ({ parts, on, inside }) =>
        `Rests for a while: ${names(parts)} on ${names(on)}; centre of mass ${millimetres(inside)} inside, ${millimetres(question.problem.margin)} asked for.`,
    ),
  ];
  return [ink.strong("Proof"), ...sentences.flatMap((text) => wrap(text, width, "  "))];
}

function sayReasons(question: Question, { reasons, edge }: Answer, { ink, width }: Terminal): string[] {
  const chains = [...(reasons ?? [])].map(([id, chain]) => {
    const ends = chain.flatMap((reason) => reason.for ?? "the order itself");
    return `${id}: ${ends.length > 0 ? `for ${ends.join(", for ")}` : "takes no labour, and nothing breaks without it"}`;
  });
  const sides = (edge ?? []).map(({ part, goes, otherwise }) => {
    const name = labelOf(question, part);
    return `${name} ${goes ? "goes up; left behind" : "stays; taken along"}: ${sayAlternative(otherwise)}`;
  });
  const section = (title: string, lines: readonly string[]) =>
    lines.length === 0 ? [] : ["", ink.strong(title), ...lines.flatMap((line) => wrap(line, width, "  "))];
  return [...section("Reasons: each step is made", chains), ...section("At the edge of what goes up", sides)];
}

function sayOthers({ others }: Answer, { ink, width }: Terminal): string[] {
  if (others === undefined || others.length === 0) return [];
  const lines = writeWhileOut(others).split("\n");
  return ["", ink.strong("While it is out: the other jobs"), ...lines.flatMap((line) => wrap(line, width, "  "))];
}

function sayRemoved(question: Question, { width }: Terminal): string[] {
  if (question.removed.length === 0) return [];
  const lines = question.removed.map(({ id, why }) => `${labelOf(question, id)} (${id}): ${sayLack(why)}`);
  return [
    "",
    "Left out, because the order lacks something for it:",
    ...lines.flatMap((line) => wrap(line, width, "  ")),
  ];
}

/** So many ids are named of each kind of figure; the rest is a number. */
const NAMED = 5;

function sayAssumed(question: Question, { width }: Terminal): string[] {
  if (question.assumed.length === 0) return [];
  const kinds = new Map<string, string[]>();
  for (const { id, what } of question.assumed) kinds.set(what, [...(kinds.get(what) ?? []), id]);
  const lines = [...kinds].map(([what, ids]) => {
    const more = ids.length > NAMED ? ` and ${ids.length - NAMED} more` : "";
    return `${what}: ${ids.slice(0, NAMED).join(", ")}${more}`;
  });
  return ["", "Assumed where the file gives no figure:", ...lines.flatMap((line) => wrap(line, width, "  "))];
}

/** Labour: minutes times people. */
function people(value: number): string {
  return `${number(value)} person-minutes`;
}

function count(n: number, word: string): string {
  return `${n} ${word}${n === 1 ? "" : "s"}`;
}

function number(value: number): string {
  return String(Number(value.toFixed(1)));
}

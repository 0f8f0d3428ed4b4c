// Owns why no plan can be: a smallest set of the order's and the file's rules that cannot all hold, in the file's words.
//
// Each rule can be waived by itself, and waiving one never makes a plan impossible, so a set is in conflict when no plan keeps it with all others
// waived. Such a set from which none can be spared is found by halving (U. Junker, QuickXplain, AAAI 2004; from memory): k rules out of n take
// about 2k·log2(n/k) answers of the solver. What is first in the list is kept rather than what comes later.

import { type Limits, type Problem, solve } from "../release/index.ts";
import type { Need, Vehicle, Work } from "../vehicle/index.ts";
import { labelOf } from "./labels.ts";
import { meansOf, type Order, type Person, toolsOf } from "./order.ts";
import { type Question, translate } from "./question.ts";

/** One rule that a plan must keep and that could be waived. */
export type Rule =
  | { readonly kind: "keep" | "take"; readonly id: string }
  | { readonly kind: "tool" | "skill"; readonly name: string }
  | { readonly kind: "people"; readonly have: number }
  /** No hoist has a figure at the reach of this lift. */
  | { readonly kind: "reach"; readonly id: string }
  /** Kilograms. */
  | { readonly kind: "limit"; readonly id: string; readonly limit: number }
  /** The file gives no way to release this connection. */
  | { readonly kind: "made"; readonly id: string }
  /** Something must carry this part at every moment. */
  | { readonly kind: "carried"; readonly id: string }
  /** What this hang leaves on must be long enough. */
  | { readonly kind: "taut"; readonly id: string }
  /** The states that this step is done without, and what it needs: id of a way, a task, a hang or a job's work. */
  | { readonly kind: "without" | "needs"; readonly id: string };

export interface Conflict {
  readonly rules: readonly { readonly rule: Rule; readonly says: string }[];
  /** Whether it is known that none can be spared; not so where an answer did not come in time. */
  readonly smallest: boolean;
}

const worksOf = ({ connections, tasks, parts, jobs }: Vehicle): readonly Work[] => [
  ...connections.flatMap(({ ways }) => ways),
  ...tasks,
  ...parts.flatMap(({ hang }) => hang),
  ...jobs.flatMap(({ work }) => work),
];

const skillsOf = (vehicle: Vehicle): readonly string[] => [
  ...worksOf(vehicle).flatMap(({ skill }) => skill ?? []),
  ...vehicle.connections.flatMap(({ refit, ways }) =>
    [refit, ...ways.flatMap((way) => way.refit ?? [])].flatMap(({ skill }) => skill ?? []),
  ),
];

/** More people than any step of the file asks for. */
const everybody = (vehicle: Vehicle): number =>
  Math.max(
    1,
    ...worksOf(vehicle).map(({ people }) => people),
    ...vehicle.tasks.flatMap(({ undo, back }) => [undo?.people ?? 0, back?.people ?? 0]),
    ...vehicle.parts.flatMap(({ hang }) => hang.map(({ undo }) => undo?.people ?? 0)),
    ...vehicle.connections.flatMap(({ refit, ways }) =>
      [refit, ...ways.flatMap((way) => way.refit ?? [])].map(({ people }) => people ?? 0),
    ),
  );

/** Every rule of an order on a vehicle: what the foreman can change first, what the file says of its steps last. */
export const rulesOf = (question: Question): readonly Rule[] => {
  const { vehicle, order, problem, lifts } = question;
  const { people, skills, tools, missing } = meansOf(vehicle, order);
  const lacking = [...new Set(toolsOf(vehicle))].filter((tool) => missing.has(tool) || tools?.has(tool) === false);
  const unskilled = skills === undefined ? [] : [...new Set(skillsOf(vehicle))].filter((skill) => !skills.has(skill));
  const outOfReach = question.removed.flatMap(({ id, why }) => (why.lack === "reach" ? [id] : []));
  const steps = [...problem.connections.flatMap(({ ways }) => ways), ...problem.tasks.filter(({ back }) => !back)];
  return [
    ...order.keep.map((id): Rule => ({ kind: "keep", id })),
    ...order.take.map((id): Rule => ({ kind: "take", id })),
    ...lacking.map((name): Rule => ({ kind: "tool", name })),
    ...unskilled.map((name): Rule => ({ kind: "skill", name })),
    ...(people !== undefined && people < everybody(vehicle) ? [{ kind: "people", have: people } as const] : []),
    ...outOfReach.map((id): Rule => ({ kind: "reach", id })),
    ...[...lifts].flatMap(([id, { limit }]): Rule[] => (Number.isFinite(limit) ? [{ kind: "limit", id, limit }] : [])),
    ...vehicle.connections.flatMap(({ id, ways }): Rule[] => (ways.length === 0 ? [{ kind: "made", id }] : [])),
    ...problem.parts.flatMap(({ id, fixed }): Rule[] => (fixed ? [] : [{ kind: "carried", id }])),
    ...problem.tasks.flatMap(({ id, hang }): Rule[] =>
      hang !== undefined && hang.taut.length > 0 ? [{ kind: "taut", id }] : [],
    ),
    ...steps.flatMap(({ id, without }): Rule[] => (without.length > 0 ? [{ kind: "without", id }] : [])),
    ...steps.flatMap(({ id, needs }): Rule[] => (needs.length > 0 ? [{ kind: "needs", id }] : [])),
  ];
};

/** Who is there when these skills, or the number of people, are no matter. */
const peopleFor = (
  { vehicle, order }: Question,
  waivedSkills: readonly string[],
  anyNumber: boolean,
): Order["people"] => {
  if (typeof order.people === "number") return anyNumber ? everybody(vehicle) : order.people;
  const persons = order.people ?? (vehicle.shop.people.length > 0 ? vehicle.shop.people : undefined);
  if (persons === undefined) return undefined;
  const [first, ...others] = persons;
  const skilled: readonly Person[] =
    first === undefined ? [] : [{ ...first, skills: [...first.skills, ...waivedSkills] }, ...others];
  const more = anyNumber ? Math.max(0, everybody(vehicle) - skilled.length) : 0;
  return [
    ...skilled,
    ...Array.from({ length: more }, (_, index) => ({ id: `more-${index + 1}`, skills: waivedSkills })),
  ];
};

/** The question with some of its rules waived. */
export const waive = (question: Question, waived: readonly Rule[]): Problem => {
  const { vehicle, order } = question;
  const ids = (kind: Rule["kind"]) =>
    new Set(waived.flatMap((rule) => (rule.kind === kind && "id" in rule ? [rule.id] : [])));
  const names = (kind: Rule["kind"]) =>
    new Set(waived.flatMap((rule) => (rule.kind === kind && "name" in rule ? [rule.name] : [])));
  const [keep, take, reach, tools, skills] = [ids("keep"), ids("take"), ids("reach"), names("tool"), names("skill")];
  const people = peopleFor(
    question,
    [...skills],
    waived.some(({ kind }) => kind === "people"),
  );
  const means = meansOf(vehicle, order);
  const asked: Order = {
    ...order,
    keep: order.keep.filter((id) => !keep.has(id)),
    take: order.take.filter((id) => !take.has(id)),
    ...(people === undefined ? {} : { people }),
    ...(means.tools === undefined ? {} : { tools: [...means.tools, ...tools] }),
    withoutTools: [...means.missing].filter((tool) => !tools.has(tool)),
  };
  const near = vehicle.tasks.map(({ reach: _, ...task }) => task);
  const tasks = vehicle.tasks.map((task, index) => (reach.has(task.id) ? (near[index] ?? task) : task));
  const { problem } = translate({ ...vehicle, tasks }, asked);

  const [limit, made, carried, taut, without, needs] = [
    ids("limit"),
    ids("made"),
    ids("carried"),
    ids("taut"),
    ids("without"),
    ids("needs"),
  ];
  const freed = <T extends Problem["tasks"][number] | Problem["connections"][number]["ways"][number]>(step: T): T => ({
    ...step,
    ...(needs.has(step.id) ? { needs: [] } : {}),
    ...(without.has(step.id) ? { without: [] } : {}),
  });
  const nothing = { labour: 0, needs: [], without: [], entails: [] };
  return {
    ...problem,
    connections: problem.connections.map((one) => ({
      ...one,
      ways: made.has(one.id) ? [{ ...nothing, id: `${one.id}/waived` }] : one.ways.map(freed),
    })),
    tasks: [
      ...problem.tasks.map((task) => ({
        ...freed(task),
        ...(task.lift !== undefined && limit.has(task.id)
          ? { lift: { ...task.lift, limit: Number.POSITIVE_INFINITY } }
          : {}),
        ...(task.hang !== undefined && taut.has(task.id) ? { hang: { ...task.hang, taut: [] } } : {}),
      })),
      { ...nothing, id: "carried/waived", toggle: false, back: false, must: false, supports: [...carried] },
    ],
  };
};

const listed = (words: readonly string[], last: string): string => words.join(`, ${last} `);

/** A need of the file in words. */
const sayNeed = (question: Question, need: Need): string => {
  const name = (id: string) => labelOf(question, id);
  if ("all" in need)
    return listed(
      need.all.map((one) => sayNeed(question, one)),
      "and",
    );
  if ("any" in need)
    return `either ${listed(
      need.any.map((one) => sayNeed(question, one)),
      "or",
    )}`;
  if ("apart" in need) return `${name(need.apart[0])} apart from ${name(need.apart[1])}`;
  if ("out" in need) return `${name(need.out)} out`;
  if ("clear" in need) return `${name(need.clear)} off or hung aside`;
  if (question.vehicle.connections.some(({ id }) => id === need.id)) return `"${name(need.id)}" (${need.id}) released`;
  return question.vehicle.parts.some(({ id }) => id === need.id)
    ? `${name(need.id)} off`
    : `"${name(need.id)}" (${need.id}) done`;
};

const sayNeeds = (question: Question, id: string): string => {
  const source = question.sources.get(id);
  if (source === undefined) return "";
  const work =
    source.kind === "way"
      ? source.way
      : source.kind === "task"
        ? source.task
        : source.kind === "hang"
          ? source.hang
          : source.kind === "work"
            ? source.work
            : undefined;
  const own = [...("job" in source ? source.job.needs : []), ...(work?.needs ?? [])].map((need) =>
    sayNeed(question, need),
  );
  const position = work?.at === undefined ? undefined : question.positions.get(work.at);
  const there = (position?.needs ?? [])
    .map((need) => sayNeed(question, need))
    .filter((need) => !own.includes(need))
    .map((need) => `${need} (for the position "${position?.label}")`);
  const swapped = "job" in source && source.job.swap.length > 0 ? ["the old assembly out"] : [];
  const said = [...own, ...there, ...swapped];
  return said.length > 0
    ? said.join("; ")
    : `what comes first: ${question.vehicle.first.map((one) => labelOf(question, one)).join(", ")}`;
};

const sayRule = (question: Question, rule: Rule): string => {
  const name = (id: string) => `"${labelOf(question, id)}" (${id})`;
  switch (rule.kind) {
    case "keep":
      return `${name(rule.id)} may not go up with a lift, says the order`;
    case "take":
      return `${name(rule.id)} must go up with a lift, says the order`;
    case "tool":
      return `there is no ${rule.name}`;
    case "skill":
      return `nobody has the skill ${rule.name}`;
    case "people":
      return `there ${rule.have === 1 ? "is 1 person" : `are ${rule.have} people`}`;
    case "reach":
      return `no hoist has a figure at the reach of ${name(rule.id)}`;
    case "limit":
      return `${name(rule.id)} may lift at most ${Number(rule.limit.toFixed(1))} kg`;
    case "made":
      return `${name(rule.id)} is never released: the file gives it no way`;
    case "carried":
      return `${name(rule.id)} must be carried, rest or be light enough for two hands at every moment`;
    case "taut":
      return `what stays on at ${name(rule.id)} is too short for the move`;
    case "without":
      return `${name(rule.id)} is done without ${withoutOf(question, rule.id)}`;
    case "needs":
      return `${name(rule.id)} needs ${sayNeeds(question, rule.id)}`;
  }
};

const withoutOf = (question: Question, id: string): string => {
  const { connections, tasks } = question.problem;
  const step = [...connections.flatMap(({ ways }) => ways), ...tasks].find((one) => one.id === id);
  return (step?.without ?? []).map((one) => `"${labelOf(question, one)}" (${one})`).join(", ");
};

/**
 * Why there is no plan for a question that has none: rules that cannot all hold, none of which can be spared. Undefined where even with every rule
 * waived there is no plan.
 *
 * @param limits for each answer of the solver on the way.
 */
export const conflictOf = (question: Question, limits: Limits = {}): Conflict | undefined => {
  const rules = rulesOf(question);
  let smallest = true;
  const clash = (kept: readonly Rule[]): boolean => {
    const held = new Set(kept);
    const { status } = solve(
      waive(
        question,
        rules.filter((rule) => !held.has(rule)),
      ),
      limits,
    );
    if (status === "unknown") smallest = false;
    return status === "infeasible";
  };
  const spare = (kept: readonly Rule[], grown: boolean, rest: readonly Rule[]): readonly Rule[] => {
    if (grown && clash(kept)) return [];
    if (rest.length <= 1) return rest;
    const half = Math.ceil(rest.length / 2);
    const [first, second] = [rest.slice(0, half), rest.slice(half)];
    const later = spare([...kept, ...first], true, second);
    const sooner = spare([...kept, ...later], later.length > 0, first);
    return [...sooner, ...later];
  };
  if (clash([])) return undefined;
  return { rules: spare([], false, rules).map((rule) => ({ rule, says: sayRule(question, rule) })), smallest };
};

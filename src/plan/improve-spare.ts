// Owns what a change that spares tasks does to the plan as it is, and whether it may be asked among other changes.
//
// The proof. Let a change spare a task t, so that nothing needs it any longer and the plan without it costs δ less. Take the question as it is, but for the needs of t, which are dropped: a plan of the
// changed vehicle becomes a plan of it by doing t first, for at most the labour of t and of the tasks that t calls for. Where that is δ and the least of this question is the old plan's
// labour, no plan of the changed vehicle is below the old labour less δ, and the old plan without t costs that. The question drops needs only, so it goes among others by the second proof.

import { check, type Need, type Problem, type Step } from "../release/index.ts";
import type { Vehicle } from "../vehicle/index.ts";
import { questionOf, type Reckoned } from "./improve-base.ts";
import { type Change, changeVehicle } from "./improve-change.ts";

/** What becomes of the plan as it is: person-minutes less, and its works as many times what they were. */
export interface Spared {
  readonly here: number;
  readonly factors: ReadonlyMap<string, number>;
}

const EPS = 1e-6;

/** Works that are no longer made, as times what they were. */
export const timeless = (ids: Iterable<string>): ReadonlyMap<string, number> =>
  new Map(
    [...ids].flatMap((id) => [id, `back:${id}`, `wait:${id}`, `${id} goes on`].map((work) => [work, 0] as const)),
  );

/** Minutes of tasks and of all that they call for. */
const mostOf = (problem: Problem, ids: ReadonlySet<string>): number => {
  const called = new Set<string>(ids);
  for (const id of called)
    for (const one of problem.tasks.find((task) => task.id === id)?.entails ?? []) called.add(one);
  return problem.tasks.reduce((sum, { id, labour }) => (called.has(id) ? sum + labour : sum), 0);
};

/** The parts of a need once these tasks count as done, each as one word: they must all hold. */
const wordsOf = (need: Need, done: ReadonlySet<string>): readonly string[] => {
  if ("all" in need) return need.all.flatMap((one) => wordsOf(one, done));
  if ("any" in need) {
    const branches = need.any.map((one) => wordsOf(one, done));
    return branches.some((words) => words.length === 0) ? [] : [JSON.stringify(branches)];
  }
  return "done" in need && done.has(need.done) ? [] : [JSON.stringify(need)];
};

/** Whether each step asks for no more in the one question, these tasks done, than it does in the other. */
const asksNoMore = (one: Problem, other: Problem, done: ReadonlySet<string>): boolean => {
  const worksOf = (problem: Problem) => [...problem.tasks, ...problem.connections.flatMap(({ ways }) => ways)];
  const theirs = new Map(worksOf(other).map((work) => [work.id, work]));
  return worksOf(one).every(({ id, needs, without, labour }) => {
    const their = theirs.get(id);
    if (done.has(id)) return true;
    if (their === undefined || their.labour < labour - EPS) return false;
    const words = new Set(wordsOf({ all: their.needs }, done));
    const off = new Set(their.without);
    return wordsOf({ all: needs }, done).every((word) => words.has(word)) && without.every((toggle) => off.has(toggle));
  });
};

/** Undefined where the proof does not reach: the change is more than spared tasks, a state or a lift is among them, or what they call for is called for by others too. */
export const sparedOf = (
  vehicle: Vehicle,
  job: string,
  people: number,
  { question, plan }: Reckoned,
  change: Change,
): (Spared & { readonly freed: readonly string[] }) | undefined => {
  if (change.steps.length + change.ways.length > 0) return undefined;
  const { problem } = question;
  const gone = new Set(change.spare.filter((id) => plan.tasks.includes(id)));
  const plain = ({ toggle, must, supports, lift, back }: Problem["tasks"][number]) =>
    !toggle && !must && !back && supports.length === 0 && lift === undefined;
  if (!problem.tasks.every((task) => !gone.has(task.id) || plain(task))) return undefined;
  const changed = questionOf(changeVehicle(vehicle, [change]), job, people).problem;
  const isKept = (step: Step) => !("do" in step && gone.has(step.do));
  const left = check(changed, plan.order.filter(isKept));
  const here = plan.labour - left.labour;
  if (!left.legal || mostOf(problem, gone) > here + EPS || !asksNoMore(problem, changed, gone)) return undefined;
  const kept = new Set(left.tasks);
  return { here, factors: timeless(plan.tasks.filter((id) => !kept.has(id))), freed: [...gone] };
};

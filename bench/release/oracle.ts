// Owns the least labour by a mixed-integer model that is mended until its answer can be carried out: exact where it says so.
//
// The model with times (milp.ts, order "all") is a relaxation. Its answer is put in order and replayed (arrange.ts). What cannot be carried out is
// forbidden by rows that every legal plan keeps (a body that nothing holds, a part up that hangs on nothing), or, as a last resort, as that very choice, once a
// full search has shown what it costs at least. When the cheapest plan found costs no more than the model's optimum, it is the least.

import type { Highs } from "highs";
import { check } from "../../src/release/check.ts";
import type { Problem } from "../../src/release/problem.ts";
import type { Step } from "../../src/release/result.ts";
import { arrangeAtLeast, arrangeByTime, type Timed } from "./arrange.ts";
import { add, constant, not, type Sum, solveLp, times } from "./lp.ts";
import { Milp } from "./milp.ts";
import { isLight } from "./moment.ts";

export interface Finding {
  /** exact: `labour` is the least. infeasible: no plan. bound: out of rounds or seconds; `bound` holds, `labour` is of the best plan met. */
  readonly status: "exact" | "infeasible" | "bound";
  readonly labour?: number;
  readonly order?: readonly Step[];
  /** Minutes: no legal plan costs less. */
  readonly bound: number;
  readonly rounds: number;
}

const CLOSE = 1e-5;
/** Moments that the search for the cheapest order of one choice may look at. */
const MOMENTS = 20_000;

/** @param limits rounds of solving, and seconds in all */
export function askOracle(
  highs: Highs,
  problem: Problem,
  limits: { readonly rounds: number; readonly seconds: number },
): Finding {
  const milp = new Milp(problem, "all");
  const end = performance.now() + limits.seconds * 1000;
  const rowed = new Set<string>();
  let bound = 0;
  let best: { labour: number; order: readonly Step[] } | undefined;
  const finish = (status: Finding["status"], rounds: number): Finding => ({ status, bound, rounds, ...best });
  for (let round = 1; round <= limits.rounds; round += 1) {
    const seconds = (end - performance.now()) / 1000;
    if (seconds <= 0) return finish("bound", round - 1);
    const answer = solveLp(highs, milp.lp, seconds);
    bound = Math.max(bound, answer.bound);
    if (best && bound >= best.labour - CLOSE) return { ...finish("exact", round), bound: best.labour };
    if (answer.status === "infeasible") return finish("infeasible", round);
    if (answer.status !== "optimal") return finish("bound", round);
    const value = (sum: Sum): number =>
      sum.terms.reduce((total, [factor, index]) => total + factor * (answer.values[index] ?? 0), sum.constant);
    const isChosen = (sum: Sum): boolean => value(sum) > 0.5;

    const steps = readSteps(milp, value);
    const arranged = arrangeByTime(problem, steps);
    const offer = (order: readonly Step[]): boolean => {
      const verdict = check(problem, order);
      if (verdict.legal && (!best || verdict.labour < best.labour)) best = { labour: verdict.labour, order };
      return verdict.legal;
    };
    if ("order" in arranged && offer(arranged.order) && best && best.labour <= bound + CLOSE) {
      return { ...finish("exact", round), bound: best.labour };
    }
    let mended = 0;
    for (const parts of "drops" in arranged ? arranged.drops : []) mended += holdBody(milp, parts, rowed) ? 1 : 0;
    for (const [lift, up] of milp.up)
      mended += tieGroup(
        milp,
        lift,
        new Set([...up].filter(([, sum]) => isChosen(sum)).map(([id]) => id)),
        isChosen,
        rowed,
      );
    if (mended > 0) continue;
    // Nothing local to mend: what do exactly these releases and tasks cost, in whatever order?
    const choice = steps.map(({ step }) => step).filter((step) => !isToggle(problem, step));
    const search = arrangeAtLeast(problem, choice, MOMENTS);
    if (search === "given up") return finish("bound", round);
    if (search !== "none") offer(search.order);
    forbid(milp, choice);
  }
  return finish("bound", limits.rounds);
}

function isToggle(problem: Problem, step: Step): boolean {
  return "undo" in step || ("do" in step && problem.tasks.some((task) => task.id === step.do && task.toggle));
}

function readSteps(milp: Milp, value: (sum: Sum) => number): Timed[] {
  const { problem } = milp;
  const steps: Timed[] = [];
  const isChosen = (sum: Sum): boolean => value(sum) > 0.5;
  const timeOf = (id: string): number => value(milp.timeOf.get(id) ?? constant(0));
  for (const c of problem.connections) {
    if (problem.released.includes(c.id)) continue;
    for (const way of c.ways)
      if (isChosen(milp.choice(way.id))) steps.push({ step: { release: c.id, way: way.id }, time: timeOf(c.id) });
  }
  for (const task of problem.tasks) {
    if (task.back) continue;
    const spells = milp.spells.get(task.id);
    if (!spells && isChosen(milp.choice(task.id))) steps.push({ step: { do: task.id }, time: timeOf(task.id) });
    for (const { set, undone, from, to } of spells ?? []) {
      if (from && isChosen(set)) steps.push({ step: { do: task.id }, time: value(from) });
      if (to && isChosen(undone)) steps.push({ step: { undo: task.id }, time: value(to) });
    }
  }
  return steps;
}

/**
 * Row: once every carrying tie between these parts and the others is released, one of them is supported, up, strapped to another and light enough for
 * it, or light and off; and that from before the last of those ties was released. Left out (the row would be wrong) where released mounts might bear the body.
 */
function holdBody(milp: Milp, parts: readonly string[], rowed: Set<string>): boolean {
  const { lp, problem } = milp;
  const key = `hold ${[...parts].sort().join(" ")}`;
  const body = new Set(parts);
  const boundary = problem.connections.filter(
    (c) => c.joins.some((id) => body.has(id)) && c.joins.some((id) => !body.has(id)),
  );
  if (rowed.has(key) || boundary.some((c) => c.rests)) return false;
  rowed.add(key);
  const edge = boundary.filter((c) => c.carrying && !problem.released.includes(c.id));
  const inside = problem.connections.filter((c) => c.carrying && c.joins.every((id) => body.has(id)));
  const last = edge.map((c) => ({ c, is: lp.binary() }));
  const holders: Sum[] = [];
  /** A column for one thing that may hold the body, in force before the last tie of the edge. */
  const hold = (possible: Sum, sooner: readonly string[]): Sum => {
    const holder = lp.binary();
    lp.atMost(holder, possible);
    for (const { c, is } of last) {
      for (const id of sooner)
        if (id !== c.id)
          milp.precede(milp.timeOf.get(id) as Sum, milp.timeOf.get(c.id) as Sum, add(holder, is, constant(-1)));
    }
    holders.push(holder);
    return holder;
  };
  for (const task of problem.tasks) {
    if (task.back) continue;
    // A toggle's support may come and go: only that it is set at all is asked for, the replay sees to the rest.
    if (task.supports.some((id) => body.has(id))) hold(milp.choice(task.id), task.toggle ? [] : [task.id]);
    if (
      task.hang &&
      body.has(task.hang.part) &&
      !body.has(task.hang.to) &&
      isLight(problem, new Set([task.hang.part]))
    ) {
      const strap = hold(milp.choice(task.id), [task.id]);
      // Too heavy as one body: a strap may hold a piece of it, once something inside is released.
      if (!isLight(problem, body)) lp.atMost(strap, add(constant(0), ...inside.map((c) => milp.isReleased(c.id))));
    }
    const up = milp.up.get(task.id);
    if (up) hold(add(constant(0), ...parts.map((id) => up.get(id) ?? constant(0))), [task.id]);
  }
  for (const part of problem.parts) {
    if (!body.has(part.id) || part.mass > problem.handLimit) continue;
    const ties = milp.ties.get(part.id) ?? [];
    const aside = hold(
      constant(1),
      ties.map((c) => c.id).filter((id) => !problem.released.includes(id)),
    );
    for (const c of ties) lp.atMost(aside, milp.isReleased(c.id));
    // In no hang by then; one that is made later has it, or goes to it, as its own rows say.
    for (const task of problem.tasks) {
      const time = milp.timeOf.get(task.id);
      if (!time || (task.hang?.part !== part.id && task.hang?.to !== part.id)) continue;
      for (const { c, is } of last)
        milp.precede(milp.timeOf.get(c.id) as Sum, time, add(aside, is, milp.choice(task.id), constant(-2)));
    }
  }
  lp.atMost(constant(1), add(constant(0), ...edge.map((c) => not(milp.isReleased(c.id))), ...holders));
  // Where all of the edge is released, one of it is the last.
  if (last.length > 0) lp.atMost(constant(1), add(...last.map(({ is }) => is)));
  for (const { c, is } of last)
    for (const other of last)
      if (other.c !== c)
        milp.precede(
          milp.timeOf.get(other.c.id) as Sum,
          milp.timeOf.get(c.id) as Sum,
          add(is, ...edge.map((each) => milp.isReleased(each.id)), constant(-edge.length)),
        );
  return true;
}

/** Rows for parts that the model takes up though nothing ties them to what the hoist holds: one of the ties around them must stay. */
function tieGroup(
  milp: Milp,
  lift: string,
  up: ReadonlySet<string>,
  isChosen: (sum: Sum) => boolean,
  rowed: Set<string>,
): number {
  const { problem, lp } = milp;
  const task = milp.tasks.get(lift);
  const before = milp.before.get(lift);
  if (!task?.lift || !before) return 0;
  const tied = new Set(task.lift.parts);
  const hangs = problem.tasks.flatMap((each) =>
    each.hang && !each.back ? [{ id: each.id, joins: [each.hang.part, each.hang.to] }] : [],
  );
  for (let size = -1; size !== tied.size; ) {
    size = tied.size;
    for (const c of problem.connections) {
      if (!isChosen(before.get(c.id) ?? constant(0)) && c.joins.some((id) => tied.has(id)))
        for (const id of c.joins) tied.add(id);
    }
    for (const hang of hangs)
      if (isChosen(milp.choice(hang.id)) && hang.joins.some((id) => tied.has(id)))
        for (const id of hang.joins) tied.add(id);
  }
  const loose = [...up].filter((id) => !tied.has(id));
  const key = `tie ${lift} ${loose.sort().join(" ")}`;
  if (loose.length === 0 || rowed.has(key)) return 0;
  rowed.add(key);
  const group = new Set(loose);
  const crosses = (joins: readonly string[]): boolean =>
    joins.some((id) => group.has(id)) && joins.some((id) => !group.has(id));
  const ties = problem.connections.filter((c) => crosses(c.joins)).map((c) => not(before.get(c.id) ?? constant(0)));
  const straps = hangs.filter((hang) => crosses(hang.joins)).map((hang) => milp.choice(hang.id));
  for (const id of loose) lp.atMost(milp.up.get(lift)?.get(id) ?? constant(0), add(constant(0), ...ties, ...straps));
  return 1;
}

/** Row: not exactly these ways and tasks, whatever the toggles. */
function forbid(milp: Milp, choice: readonly Step[]): void {
  const chosen = new Set(choice.map((step) => ("release" in step ? step.way : "do" in step ? step.do : "")));
  const changed: Sum[] = [];
  for (const [id, sum] of milp.chosen) {
    const task = milp.tasks.get(id);
    if (task?.toggle || task?.back) continue;
    changed.push(chosen.has(id) ? not(sum) : times(1, sum));
  }
  milp.lp.atMost(constant(1), add(constant(0), ...changed));
}

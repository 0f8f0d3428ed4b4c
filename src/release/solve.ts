// Owns the recipe: clauses, their cheapest assignment, an order for it, and again with what was learnt where there is none.

import { compile, sideAtom } from "./compile.ts";
import { cutChanges, cutChoice, cutFallen, cutLeft, cutLoops, cutUnheld } from "./cuts.ts";
import { decode, encode } from "./encode.ts";
import { minimise } from "./minimise.ts";
import { sequence } from "./order.ts";
import { outcomeOf } from "./outcome.ts";
import type { Problem } from "./problem.ts";
import type { Limits, Plan, Result, Step } from "./result.ts";
import { wire } from "./wiring.ts";

/** The least-labour plan out, with its bound. Throws `IllPosed` for a malformed problem; "no plan" is an answer. */
export function solve(problem: Problem, limits: Limits = {}): Result {
  const now = limits.now ?? (() => 0);
  const begun = now();
  const c = compile(problem);
  const wiring = wire(c, sideAtom(c, c.contexts.length, 0));
  const e = encode(c, wiring);
  const stop = (): boolean =>
    (limits.stop?.() ?? false) || now() - begun > (limits.milliseconds ?? Number.POSITIVE_INFINITY);
  const watch = { nodes: 0, stop };
  let rounds = 0;
  let bound = 0;
  let ceiling = Number.POSITIVE_INFINITY;
  let best: Plan | undefined;
  const answer = (status: Result["status"]): Result => ({
    status,
    ...(best === undefined ? {} : { plan: best }),
    bound: status === "infeasible" ? Number.POSITIVE_INFINITY : bound,
    ms: now() - begun,
    rounds,
    nodes: watch.nodes,
  });
  for (;;) {
    rounds++;
    const least = minimise(e.network, watch);
    if (least.values === undefined) {
      if (least.bound === Number.POSITIVE_INFINITY && ceiling === Number.POSITIVE_INFINITY) {
        if (best !== undefined) bound = best.labour;
        return answer(best === undefined ? "infeasible" : "optimal");
      }
      return answer(best === undefined ? "unknown" : "feasible");
    }
    bound = Math.min(ceiling, e.minutes(least.bound));
    const choice = decode(c, e, least.values);
    const found = sequence(c, wiring, choice);
    if (found.kind === "unfounded") cutLoops(c, e, choice, found.atoms);
    else if (found.kind === "fallen") cutFallen(c, e, choice, found);
    else if (found.kind === "unheld") for (const body of found.bodies) cutUnheld(c, e, body);
    else if (found.kind === "left") cutLeft(c, e, found);
    else if (found.kind === "stuck") {
      // Not known to have no order: what is cut off here is not ruled out, so that the bound stays where it is.
      if (!found.complete) ceiling = Math.min(ceiling, bound);
      cutChoice(c, e, choice, undefined);
    } else {
      const plan = planOf(c, choice, found.events);
      if (best === undefined || plan.labour < best.labour) {
        best = plan;
        limits.onBest?.(plan.labour, bound);
      }
      if (best.labour <= bound + 1e-9) return answer("optimal");
      let cut = false;
      problem.tasks.forEach((t, i) => {
        if (
          t.toggle &&
          choice.steps[c.wayCount + i] === 1 &&
          cutChanges(c, wiring, e, choice, i, e.paidChanges(i, least.values as Uint8Array))
        )
          cut = true;
      });
      if (!cut) cutChoice(c, e, choice, plan.labour - bound);
    }
    if (stop()) return answer(best === undefined ? "unknown" : "feasible");
  }
}

function planOf(c: ReturnType<typeof compile>, choice: ReturnType<typeof decode>, events: readonly number[]): Plan {
  const { problem } = c;
  const order: Step[] = [];
  const releases: { id: string; way: string }[] = [];
  const tasks: string[] = [];
  let labour = 0;
  const called = new Set<number>();
  const call = (entails: readonly number[]): void => {
    for (const t of entails) {
      if (called.has(t)) continue;
      called.add(t);
      labour += c.steps[c.wayCount + t]?.labour ?? 0;
      call(c.steps[c.wayCount + t]?.entails ?? []);
    }
  };
  for (const event of events) {
    if (event < 0) {
      const task = problem.tasks[-1 - event];
      if (task === undefined) continue;
      labour += task.labour;
      order.push({ undo: task.id });
      continue;
    }
    const step = c.steps[event];
    if (step === undefined) continue;
    labour += step.labour;
    call(step.entails);
    if (event < c.wayCount) {
      const id = problem.connections[c.connectionOf[event] as number]?.id ?? "";
      order.push({ release: id, way: step.id });
      releases.push({ id, way: step.id });
    } else {
      order.push({ do: step.id });
      if (!tasks.includes(step.id)) tasks.push(step.id);
    }
  }
  for (const t of called) tasks.push(problem.tasks[t]?.id ?? "");
  return { order, releases, tasks, ...outcomeOf(problem, order), labour };
}

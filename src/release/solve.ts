// Owns the recipe: clauses, their cheapest assignment, an order for it, and again with what was learnt where there is none.

import { type Choice, decode } from "./choice.ts";
import { type Compiled, compile, sideAtom } from "./compile.ts";
import { cutChanges, cutChoice, cutFallen, cutLeft, cutLoops, cutTied, cutUnheld } from "./cuts.ts";
import { type Encoding, encode } from "./encode.ts";
import { minimise } from "./minimise.ts";
import { type Assignment, Nearby } from "./nearby.ts";
import { bestOrder, type Sequenced, sequence } from "./order.ts";
import { outcomeOf } from "./outcome.ts";
import type { Problem } from "./problem.ts";
import type { Limits, Plan, Result, Step } from "./result.ts";
import type { Event } from "./sequencer.ts";
import { States } from "./states.ts";
import { Halted, unlessHalted, type Watch } from "./watch.ts";
import { type Wiring, wire } from "./wiring.ts";

/** Times the question is put once more after the time is up, while there is no plan at all to show. */
const LAST_ROUNDS = 24;
/** Milliseconds after the time is up in which what was begun may still come to an answer. */
const GRACE = 80;
/** The round from which the states of a question that has few are looked through as well, and how many of them in each round: as long as a round takes, or so. */
const ALONGSIDE = 4;
const STATES = 1000;
const MOST_STATES = 300_000;
/** Variables from which on a question is great: what was learnt of it is tried nearby before all of it is asked again, once for every so many variables. */
const GREAT = 2000;
const PER_TRY = 600;
const MOST_TRIES = 20;

/**
 * The least-labour plan out, with its bound; "none" and "not known" are answers too.
 *
 * @param limits without them the search goes on to the proof; `milliseconds` counts by `now`, and without `now` time never passes
 * @throws IllPosed when the problem names what is not there, or has a negative labour or mass
 */
export function solve(problem: Problem, limits: Limits = {}): Result {
  const now = limits.now ?? (() => 0);
  const begun = now();
  const c = compile(problem);
  const stop = (): boolean =>
    (limits.stop?.() ?? false) || now() - begun > (limits.milliseconds ?? Number.POSITIVE_INFINITY);
  let stopped: number | undefined;
  const tick = (known?: number): void => {
    if (!stop()) return;
    stopped ??= Math.min(now(), begun + (limits.milliseconds ?? Number.POSITIVE_INFINITY));
    if (now() - stopped > GRACE) throw new Halted(known);
  };
  const watch: Watch = { nodes: 0, stop, gap: limits.gap ?? 0, ...(limits.now === undefined ? {} : { tick }) };
  let rounds = 0;
  let late = 0;
  let bound = 0;
  // Where a choice was cut off without a proof that it cannot be carried out, no bound beyond it is claimed.
  let ceiling = Number.POSITIVE_INFINITY;
  let best: Plan | undefined;
  const mostStates = limits.states ?? MOST_STATES;
  const answer = (status: Result["status"]): Result => ({
    status,
    ...(best === undefined ? {} : { plan: best }),
    bound: status === "infeasible" ? Number.POSITIVE_INFINITY : bound,
    ms: now() - begun,
    rounds,
    nodes: watch.nodes,
  });
  const good = (): boolean => best !== undefined && best.labour - bound <= (limits.gap ?? 0) * best.labour + 1e-9;
  const close = (): Result =>
    answer(best === undefined ? "unknown" : best.labour <= bound + 1e-9 ? "optimal" : "feasible");

  const offer = (plan: Plan): void => {
    if (best !== undefined && plan.labour >= best.labour) return;
    best = plan;
    limits.onBest?.(plan.labour, bound);
  };

  /**
   * Offers the plan of an assignment, or learns why it has none. What cannot be ordered, without a proof that it cannot, is set aside only where it is the cheapest of all.
   * False: there is nothing more to learn of it.
   */
  const study = (wiring: Wiring, e: Encoding, { values, cost }: Assignment, isLeast: boolean): boolean => {
    const choice = decode(c, e, values);
    const ordered = sequence(c, wiring, choice, watch.tick);
    if (ordered.kind !== "order") {
      if (ordered.kind === "stuck" && !ordered.complete && !isLeast) return false;
      if (!learn(c, e, choice, ordered)) ceiling = Math.min(ceiling, bound);
      return true;
    }
    const first = planOf(c, ordered.events);
    offer(first);
    // Where it costs no more than the choice pays, only another choice may be better.
    if (good() || (!isLeast && first.labour <= e.minutes(cost) + 1e-9)) return false;
    const changed = problem.tasks.filter(
      (t, i) => t.toggle && choice.steps[c.wayCount + i] === 1 && cutChanges(c, e, choice, i, e.paidChanges(i, values)),
    );
    if (changed.length > 0) return true;
    // States that stand in one another's way cost more than each alone: all that is known is what this very choice costs.
    const events = bestOrder(c, wiring, choice, watch.tick);
    const plan = events === undefined ? undefined : planOf(c, events);
    if (plan !== undefined) offer(plan);
    else if (!isLeast) return false;
    else ceiling = Math.min(ceiling, bound);
    if (!good()) cutChoice(c, e, choice, plan === undefined ? undefined : Math.max(0, plan.labour - e.minutes(cost)));
    return false;
  };

  const search = (): Result => {
    watch.tick?.();
    const wiring = wire(c, sideAtom(c, c.contexts.length, 0));
    const e = encode(c, wiring, watch.tick);
    const near = new Nearby(e.network);
    let states: States | undefined;
    for (;;) {
      rounds++;
      if (rounds === ALONGSIDE && mostStates > 0) states = States.of(c, e);
      const known = best === undefined ? Number.POSITIVE_INFINITY : costOf(e, best);
      const found = states?.search(STATES, known, watch.tick);
      if (found?.kind === "order") offer(planOf(c, found.events));
      if (found?.kind === "none" && best === undefined) return answer("infeasible");
      if (found !== undefined) {
        const proved = found.kind === "open" ? e.minutes(found.cost) : Number.POSITIVE_INFINITY;
        bound = Math.max(bound, Math.min(proved, best?.labour ?? Number.POSITIVE_INFINITY));
        if (good()) return close();
        if (states !== undefined && states.size > mostStates) states = undefined;
      }
      const had = best === undefined ? Number.POSITIVE_INFINITY : costOf(e, best);
      const least = minimise(e.network, watch, had);
      // Costs are whole numbers: what is above one less than what is had leaves nothing below it.
      const proved = least.bound > had - 0.5 ? Number.POSITIVE_INFINITY : e.minutes(least.bound);
      bound = Math.max(bound, Math.min(ceiling, best?.labour ?? Number.POSITIVE_INFINITY, proved));
      if (good()) return close();
      if (least.values === undefined) {
        if (least.bound < Number.POSITIVE_INFINITY || ceiling < Number.POSITIVE_INFINITY) return close();
        return answer("infeasible");
      }
      let at: Assignment = { values: least.values, cost: least.cost };
      // All of what is tried nearby is as much to ask as the whole question, not more: what is mended there step by step may be far from the best.
      const most = Math.min(MOST_TRIES, Math.floor(e.network.cost.length / PER_TRY));
      for (let tries = 0; ; tries++) {
        const from = e.network.starts.length - 1;
        const isLearnt = study(wiring, e, at, tries === 0);
        if (good()) return close();
        // Of a great question what was learnt is first tried nearby, for all of it is long to ask again.
        if (!isLearnt || tries === most || e.network.cost.length < GREAT || stop()) break;
        const next = near.mend(at, from, watch);
        if (next === undefined) break;
        at = next;
      }
      if (stop() && (best !== undefined || ++late > LAST_ROUNDS)) return close();
    }
  };
  return unlessHalted(search, close);
}

/** Cuts off a choice that cannot be carried out. False: it could not be ordered, but that is no proof. */
function learn(c: Compiled, e: Encoding, choice: Choice, found: Exclude<Sequenced, { kind: "order" }>): boolean {
  switch (found.kind) {
    case "tied":
      cutTied(c, e, found.chains);
      return true;
    case "unfounded":
      cutLoops(c, e, choice, found.atoms);
      return true;
    case "fallen":
      cutFallen(c, e, choice, found);
      return true;
    case "unheld":
      for (const body of found.bodies) cutUnheld(c, e, body);
      return true;
    case "left":
      cutLeft(c, e, found);
      return true;
    case "stuck":
      cutChoice(c, e, choice, undefined);
      return found.complete;
  }
}

const costOf = (e: Encoding, { labour, releases }: Plan): number => e.price(labour) + releases.length;

function planOf(c: Compiled, events: readonly Event[]): Plan {
  const { problem, steps, wayCount } = c;
  const order: Step[] = [];
  const releases: { id: string; way: string }[] = [];
  const tasks = new Set<string>();
  const called = new Set<number>();
  let labour = 0;
  const call = (entails: readonly number[]): void => {
    for (const t of entails) {
      const back = steps[wayCount + t];
      if (back === undefined || called.has(t)) continue;
      called.add(t);
      labour += back.labour;
      call(back.entails);
    }
  };
  problem.tasks.forEach((t, i) => {
    if (t.must && t.back) call([i]);
  });
  for (const event of events) {
    const step = steps[event < 0 ? wayCount - 1 - event : event];
    if (step === undefined) continue;
    labour += step.labour;
    if (event < 0) {
      order.push({ undo: step.id });
      continue;
    }
    call(step.entails);
    const id = problem.connections[c.connectionOf[event] ?? -1]?.id;
    if (id === undefined) {
      order.push({ do: step.id });
      tasks.add(step.id);
    } else {
      order.push({ release: id, way: step.id });
      releases.push({ id, way: step.id });
    }
  }
  for (const t of called) tasks.add(problem.tasks[t]?.id ?? "");
  return { order, releases, tasks: [...tasks], ...outcomeOf(problem, order), labour };
}

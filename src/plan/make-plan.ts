// Owns the making of a plan from an answer: steps at one position put together and numbered, last looks between them, what goes in paired with what comes out, lifts and checks.

import type { Result } from "../release/index.ts";
import { type Back, wayBack } from "./back.ts";
import { labelOf } from "./labels.ts";
import { sayLack } from "./lack.ts";
import { lastLooks } from "./last-look.ts";
import { liftsInShort } from "./lift-short.ts";
import { meansOf } from "./order.ts";
import type { Plan, PlannedLift, PlanStep, TemporaryThing, Visit } from "./plan.ts";
import type { Question } from "./question.ts";
import { type Sequence, sequence } from "./sequence.ts";
import { type Draft, draftBack, draftOut, plain } from "./steps.ts";

const sum = (list: readonly number[]): number => list.reduce((total, one) => total + one, 0);

/** Whether a state of the vehicle is turned with nobody at a position: the position needs it to be as it was, or may not be used while it is on. */
const clears = (question: Question, action: PlanStep["action"], id: string, position: string | undefined): boolean => {
  const place = position === undefined ? undefined : question.places.get(position);
  if (place === undefined) return false;
  return action === "do"
    ? place.without.includes(id)
    : action === "undo" && JSON.stringify(place.needs).includes(JSON.stringify({ done: id }));
};

/** Numbers the steps and puts those at one position together; what has no position is done where people are, or on their way to the next. */
const visitsOf = (question: Question, drafts: readonly Draft[], from: number): readonly Visit[] => {
  const runs: { position: string | undefined; steps: PlanStep[] }[] = [];
  for (const [index, { position, ...step }] of drafts.entries()) {
    const run = runs.at(-1);
    const numbered = { ...step, number: from + index };
    const elsewhere =
      position === undefined
        ? clears(question, step.action, step.id, run?.position)
        : run?.position !== undefined && position !== run.position;
    if (run === undefined || elsewhere) runs.push({ position, steps: [numbered] });
    else {
      run.position ??= position;
      run.steps.push(numbered);
    }
  }
  return runs.map(({ position, steps }) => ({
    ...(position === undefined ? {} : { position }),
    label: position === undefined ? "Anywhere" : labelOf(question, position),
    minutes: sum(steps.map((step) => step.minutes)),
    tools: [...new Set(steps.flatMap((step) => step.tools))],
    steps,
  }));
};

/** The steps of the way back with the last looks between them. */
const withLooks = (question: Question, { order }: Sequence, back: Back, drafts: readonly Draft[]): readonly Draft[] => {
  const looks = new Map(lastLooks(question, order, back.steps).map((look) => [look.before, look]));
  const hidden = new Set(question.vehicle.connections.filter((one) => one.hidden).map((one) => one.id));
  return drafts.flatMap((draft, index): readonly Draft[] => {
    const look = looks.get(index);
    if (look === undefined) return [draft];
    const verify = look.verify.map((id) => {
      const source = question.sources.get(id);
      const check = source?.kind === "work" ? source.work.check : undefined;
      return { id, label: check ?? labelOf(question, id), hidden: hidden.has(id) };
    });
    const hold: Draft = {
      ...plain({
        action: "verify",
        id: draft.id,
        label: "Last look",
        minutes: 0,
        people: 1,
        position: draft.position,
      }),
      verify,
      closes: draft.label,
    };
    return [hold, draft];
  });
};

/** Pairs what goes in with what takes it out: the next step about the same thing. */
const pairTemporary = (steps: readonly PlanStep[]): readonly TemporaryThing[] =>
  steps.flatMap((step) =>
    step.putIn.map(({ item, count }) => {
      const out = steps.find(
        (later) => later.number > step.number && later.id === step.id && later.takeOut.some((one) => one.item === item),
      );
      return { item, count, in: step.number, ...(out === undefined ? {} : { out: out.number }) };
    }),
  );

const liftsOf = (question: Question, { verdict }: Sequence): readonly PlannedLift[] =>
  verdict.lifts.map(({ task, parts, mass }) => {
    const limit = question.lifts.get(task);
    const listed = question.vehicle.parts.filter((part) => parts.includes(part.id));
    return {
      task,
      label: labelOf(question, task),
      parts: listed.map(({ id, label, mass: own }) => ({ id, label, mass: own?.high ?? null })),
      mass,
      withoutMass: listed.filter((part) => part.mass === undefined).map((part) => part.id),
      limit: limit !== undefined && Number.isFinite(limit.limit) ? limit.limit : null,
      ...(limit?.hoist === undefined ? {} : { hoist: { ...limit.hoist, label: labelOf(question, limit.hoist.id) } }),
      ...(limit?.eyes === undefined ? {} : { eyes: limit.eyes }),
      ...(limit?.beam === undefined ? {} : { beam: limit.beam }),
    };
  });

/**
 * The whole plan for an answer: the order for one pair of hands out and of the work, the way back, what is verified when, and every check of it.
 * Undefined when the result has no plan.
 */
export const makePlan = (question: Question, result: Result): Plan | undefined => {
  const { plan, status, bound } = result;
  if (plan === undefined || (status !== "optimal" && status !== "feasible")) return undefined;
  const { vehicle, order, problem } = question;
  const out = sequence(question, plan);
  const back = wayBack(question, out.order, out.verdict);
  const lifts = out.verdict.lifts;

  const drafts = draftOut(question, out.order, lifts);
  // What is still released between two works belongs to the work; the way back begins with the first refit.
  const firstWork = drafts.findIndex((draft) => draft.action === "work");
  const begin = firstWork < 0 ? drafts.length : firstWork;
  const [outDrafts, workDrafts] = [drafts.slice(0, begin), drafts.slice(begin)];
  const backDrafts = withLooks(question, out, back, draftBack(question, out.order, lifts, back.steps));
  const outVisits = visitsOf(question, outDrafts, 1);
  const workVisits = visitsOf(question, workDrafts, 1 + outDrafts.length);
  const backVisits = visitsOf(question, backDrafts, 1 + drafts.length);
  const steps = [...outVisits, ...workVisits, ...backVisits].flatMap((visit) => visit.steps);

  const persons = typeof order.people === "number" ? [] : (order.people ?? vehicle.shop.people);
  const { people } = meansOf(vehicle, order);
  const released = new Set([...problem.released, ...out.verdict.released.map((one) => one.id)]);
  const named = [
    ...vehicle.parts,
    ...vehicle.connections,
    ...vehicle.tasks,
    ...vehicle.jobs,
    ...vehicle.hoists,
    ...(vehicle.obstacles ?? []),
  ];
  const made: Plan = {
    format: "unmoor/plan/1",
    vehicle: vehicle.name,
    ...(vehicle.note === undefined ? {} : { note: vehicle.note }),
    jobs: order.jobs.map((id) => ({ id, label: labelOf(question, id) })),
    crew: { ...(people === undefined ? {} : { people }), names: persons.map((person) => person.label ?? person.id) },
    status,
    figures: {
      labour: out.verdict.labour,
      bound,
      work: sum(drafts.map((draft) => (draft.action === "work" ? draft.minutes * draft.people : 0))),
      beyond: back.beyond,
      waiting: sum(steps.map((step) => step.wait ?? 0)),
    },
    lifts: liftsOf(question, out),
    setAside: out.verdict.setAside,
    hung: out.verdict.hung.map(({ part, to }) => ({ part, to })),
    releasedBefore: problem.released,
    swaps: question.swaps,
    checks: {
      out: {
        legal: out.verdict.legal,
        steps: out.order.length,
        searched: problem.connections.filter((one) => !released.has(one.id)).length,
        late: out.late,
      },
      back: { holds: back.faults.length === 0, steps: back.steps.length, faults: back.faults },
      rested: out.verdict.rested.map(({ parts, on, inside }) => ({ parts, on, inside })),
    },
    moves: { out: out.visits, outFewest: out.fewest(), back: back.visits, backFewest: back.fewest() },
    out: outVisits,
    work: workVisits,
    back: backVisits,
    temporary: pairTemporary(steps),
    fresh: steps.flatMap((step) => step.fresh.map((item) => ({ item, step: step.number }))),
    removed: question.removed.map(({ id, why }) => ({ id, label: labelOf(question, id), why: sayLack(why) })),
    assumed: question.assumed,
    labels: Object.fromEntries(named.map(({ id, label }) => [id, label])),
  };
  const hanging = liftsInShort(vehicle, made, order.hoist);
  return { ...made, lifts: made.lifts.map((lift, i) => ({ ...lift, hanging: hanging[i]! })) };
};

// Owns the verdict on a crew's schedule as a course of releases and refits: its steps one after the other, by when they begin and by when they end, put to the release
// room's checker and to the check of the way back. Who, where and when is for the crew room's own checker.

import type { Schedule } from "../crew/index.ts";
import { check, faultSentence, type Problem, type Step } from "../release/index.ts";
import { checkBack } from "./back-check.ts";
import type { BackStep } from "./back-step.ts";
import type { CrewQuestion } from "./crew-question.ts";

interface Event {
  readonly start: number;
  readonly end: number;
  /** Its place in the order for one pair of hands: what takes no time and meets at one minute is in this order. */
  readonly place: number;
  readonly out?: Step;
  readonly back?: BackStep;
  readonly toggle?: { readonly id: string; readonly on: boolean };
  /** Begun before the question: what was done was done, and only what comes of it is looked at. */
  readonly past: boolean;
}

/** A step as a checker replays it. */
interface Shown<S> {
  readonly step: S;
  readonly past: boolean;
  /** Of a step that really came sooner: the states that then were on. */
  readonly on?: ReadonlySet<string>;
}

const eventsOf = ({ steps, job, problem, past }: CrewQuestion, schedule: Schedule): readonly Event[] => {
  const place = new Map(job.steps.map((step, index) => [step.id, index]));
  const over = new Set(problem.tasks.flatMap((task) => (task.begun === undefined ? [] : [task.id])));
  return [
    ...schedule.tasks.flatMap(({ task, start, end }): readonly Event[] => {
      const step = steps.get(task);
      if (step === undefined || (step.out === undefined && step.back === undefined)) return [];
      return [
        {
          start,
          end,
          place: place.get(task) ?? 0,
          past: over.has(task),
          ...(step.out === undefined ? {} : { out: step.out }),
          ...(step.back === undefined ? {} : { back: step.back }),
        },
      ];
    }),
    ...[
      ...past.map((one) => ({ ...one, over: true })),
      ...schedule.changes.map((one) => ({ ...one, over: false })),
    ].map(({ state, to, start, end, over: gone }) => ({
      start,
      end,
      place: -1,
      past: gone,
      toggle: { id: state, on: to },
    })),
  ];
};

const byStart = (a: Event, b: Event): number => a.start - b.start || a.end - b.end || a.place - b.place;
const byEnd = (a: Event, b: Event): number => a.end - b.end || a.start - b.start || a.place - b.place;

const turned = (on: ReadonlySet<string>, { toggle }: Event): ReadonlySet<string> => {
  if (toggle === undefined) return on;
  const now = new Set(on);
  if (toggle.on) now.add(toggle.id);
  else now.delete(toggle.id);
  return now;
};

const turning = ({ toggle }: Event): readonly ({ readonly do: string } | { readonly undo: string })[] =>
  toggle === undefined ? [] : [toggle.on ? { do: toggle.id } : { undo: toggle.id }];

/** The steps out as a checker replays them, and the states that it has on at their end. */
interface Out {
  readonly steps: readonly Shown<Step>[];
  readonly on: ReadonlySet<string>;
}

const lastOut = (events: readonly Event[]): number => events.findLastIndex((event) => event.out !== undefined);

/**
 * The steps out as if nothing came back before the last of them. Once something has come back, what supports is left on: what it no longer need hold then, it still holds here.
 */
const outOf = (events: readonly Event[], supports: ReadonlySet<string>): Out => {
  const steps: Shown<Step>[] = [];
  let shown: ReadonlySet<string> = new Set<string>();
  let on: ReadonlySet<string> = new Set<string>();
  let returned = false;
  for (const event of events.slice(0, lastOut(events) + 1)) {
    const { out, back, toggle, past } = event;
    on = turned(on, event);
    returned ||= back !== undefined;
    if (out !== undefined) steps.push({ step: out, past, ...(returned ? { on } : {}) });
    if (toggle === undefined || shown.has(toggle.id) === toggle.on) continue;
    if (returned && !toggle.on && supports.has(toggle.id)) continue;
    for (const step of turning(event)) steps.push({ step, past });
    shown = turned(shown, event);
  }
  return { steps, on: shown };
};

/**
 * The steps back as if all of them came after the last step out. For one that came sooner the states are turned to what they then were; what supports something is left on,
 * for what it holds here was then held by what was still to go.
 */
const backOf = (
  events: readonly Event[],
  supports: ReadonlySet<string>,
  begins: ReadonlySet<string>,
): readonly Shown<BackStep>[] => {
  const last = lastOut(events);
  const steps: Shown<BackStep>[] = [];
  let shown = begins;
  const bring = (on: ReadonlySet<string>, past: boolean, stays: ReadonlySet<string>) => {
    const gone = [...shown].filter((id) => !on.has(id) && !stays.has(id));
    const come = [...on].filter((id) => !shown.has(id));
    for (const id of gone) steps.push({ step: { undo: id }, past });
    for (const id of come) steps.push({ step: { do: id }, past });
    shown = new Set([...shown, ...come].filter((id) => !gone.includes(id)));
  };
  let on: ReadonlySet<string> = new Set<string>();
  for (const event of events.slice(0, last + 1)) {
    on = turned(on, event);
    if (event.back === undefined) continue;
    bring(on, event.past, supports);
    steps.push({ step: event.back, past: event.past, on });
  }
  bring(on, events[last]?.past === true, new Set());
  for (const event of events.slice(last + 1))
    for (const step of event.back === undefined ? turning(event) : [event.back]) steps.push({ step, past: event.past });
  return steps;
};

/** The problem with nothing asked but that everything stays held and every lift is allowed. */
const bare = (problem: Problem): Problem => ({
  ...problem,
  connections: problem.connections.map((one) => ({
    ...one,
    ways: one.ways.map((way) => ({ ...way, needs: [], without: [], entails: [] })),
  })),
  tasks: problem.tasks.map((task) => ({ ...task, needs: [], without: [], entails: [], must: false })),
  take: [],
});

const homeOf = (step: BackStep): string | undefined =>
  "refit" in step ? step.refit : "return" in step ? step.return : undefined;

const idOf = (step: Step): string => ("release" in step ? step.release : "do" in step ? step.do : step.undo);

/**
 * While some things come back and others still go, each moment is as if what came back had never been away: so it is put to the checker, which must find nothing that drops
 * at the last step, and no need of the step that comes next unmet.
 */
const mixedFaults = (question: CrewQuestion["job"]["question"], events: readonly Event[]): readonly string[] => {
  const faults: string[] = [];
  const last = lastOut(events);
  let order: Step[] = [];
  let returned = false;
  for (const [index, { out, back, toggle, past }] of events.entries()) {
    if (index > last) break;
    if (out !== undefined) order.push(out);
    else if (toggle !== undefined) order.push(toggle.on ? { do: toggle.id } : { undo: toggle.id });
    const home = back === undefined ? undefined : homeOf(back);
    if (home !== undefined) {
      order = order.filter((step) => idOf(step) !== home);
      returned = true;
    }
    if (!returned || past || order.length === 0) continue;
    const at = order.length - 1;
    const asked = out === undefined ? bare(question.problem) : question.problem;
    faults.push(
      ...check(asked, order)
        .faults.filter((fault) => fault.step === at)
        .map((fault) => faultSentence(fault)),
    );
  }
  return faults;
};

/**
 * What the release room's checker and the check of the way back find in a schedule; empty when every order that it allows is legal so far as these two tell: the one in which
 * steps begin, and the one in which they end.
 */
export const replaySchedule = (question: CrewQuestion, schedule: Schedule): readonly string[] => {
  const { question: asked } = question.job;
  const events = eventsOf(question, schedule);
  const supports = new Set(asked.problem.tasks.filter((task) => task.supports.length > 0).map((task) => task.id));
  return [byStart, byEnd].flatMap((compare) => {
    const inOrder = events.toSorted(compare);
    const out = outOf(inOrder, supports);
    const back = backOf(inOrder, supports, out.on);
    const order = out.steps.map((one) => one.step);
    const faults = check(asked.problem, order).faults.filter(({ step, what }) => {
      const shown = step === "end" ? undefined : out.steps[step];
      if (shown?.past === true) return false;
      return what.kind !== "on" || shown?.on === undefined || shown.on.has(what.task);
    });
    const backFaults = checkBack(
      asked,
      order,
      back.map((one) => one.step),
    ).filter((fault) => {
      const shown = "step" in fault ? back[fault.step] : undefined;
      if (shown?.past === true) return false;
      // A support that was left on for the sake of what was still to go was not in the way then.
      return fault.rule !== "B2" || fault.what !== "in the way" || shown?.on === undefined || shown.on.has(fault.task);
    });
    return [
      ...faults.map((fault) => faultSentence(fault)),
      ...backFaults.map((fault) => JSON.stringify(fault)),
      ...mixedFaults(asked, inOrder),
    ];
  });
};

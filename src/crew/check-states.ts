// Owns what the checker asks of states: C10 that they are changed in turn and are as each work wants them, C11 what comes before and after a change.

import { before, type Laid, type Scene } from "./check-fault.ts";
import type { State } from "./problem.ts";

/** A time in which a state stays as it is: from the end of one change to the beginning of the next. */
interface Phase {
  readonly on: boolean;
  readonly from: number;
  readonly until: number;
}

/** The changes of a state in the order in which the schedule lists them, which is that of time. */
const changesOf = ({ id }: State, works: readonly Laid[]): readonly Laid[] =>
  works.filter(({ name }) => "state" in name && name.state === id);

const checkTurns = (state: State, changes: readonly Laid[], { fault }: Scene): readonly Phase[] => {
  const phases: Phase[] = [];
  let on = state.on;
  let from = Number.NEGATIVE_INFINITY;
  for (const { name, start, end } of changes) {
    if (before(start, from)) fault("C10", start, { kind: "changing", of: name, due: from });
    if ("to" in name && name.to === on) fault("C10", start, { kind: "turned", of: name });
    phases.push({ on, from, until: start });
    on = "to" in name ? name.to : on;
    from = end;
  }
  phases.push({ on, from, until: Number.POSITIVE_INFINITY });
  if (state.end !== undefined && on !== state.end) fault("C10", from, { kind: "left", state: state.id, on });
  return phases;
};

/** C10. */
export const checkStates = (scene: Scene): void => {
  const { problem, works, fault } = scene;
  for (const state of problem.states) {
    const phases = checkTurns(state, changesOf(state, works), scene);
    const wants = (laid: Laid): readonly boolean[] => [
      ...(laid.work.on.includes(state.id) ? [true] : []),
      ...(laid.work.off.includes(state.id) ? [false] : []),
    ];
    for (const laid of works)
      for (const on of wants(laid))
        if (
          !phases.some((phase) => phase.on === on && !before(laid.start, phase.from) && !before(phase.until, laid.end))
        )
          fault("C10", laid.start, { kind: "unlike", of: laid.name, state: state.id, on });
  }
};

/** C11. */
export const checkChanges = ({ problem, works, fault }: Scene): void => {
  const tasks = new Map(works.flatMap((laid) => (laid.task === undefined ? [] : [[laid.task.id, laid] as const])));
  for (const state of problem.states)
    for (const { name, start, end } of changesOf(state, works)) {
      const change = "to" in name && name.to ? state.set : state.clear;
      for (const id of change.after) {
        const due = tasks.get(id)?.end;
        if (due !== undefined && before(start, due))
          fault("C11", start, { kind: "change soon", of: name, task: id, due });
      }
      for (const id of change.before) {
        const due = tasks.get(id)?.start;
        if (due !== undefined && before(due, end)) fault("C11", end, { kind: "change late", of: name, task: id, due });
      }
    }
};

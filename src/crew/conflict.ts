// Owns naming what cannot be together: of a question without an answer, few tasks and kinds of rule that already have none.

import type { Problem, State, Task, Work } from "./problem.ts";
import type { Lack } from "./result.ts";

/** The question with each task and each change of state rewritten. */
const each = (problem: Problem, rewrite: <W extends Work>(work: W) => W): Problem => ({
  ...problem,
  tasks: problem.tasks.map(rewrite),
  states: problem.states.map((state): State => ({ ...state, set: rewrite(state.set), clear: rewrite(state.clear) })),
});

const withTasks = (problem: Problem, rewrite: (task: Task) => Task): Problem => ({
  ...problem,
  tasks: problem.tasks.map(rewrite),
});

/** What waits for work that pauses need no longer follow soon: without breaks that work ends sooner, and who followed it in time may then be too late. */
const patient = (problem: Problem): Problem => {
  const pausing = new Set(problem.tasks.flatMap((task) => (task.pauses ? [task.id] : [])));
  return withTasks(problem, (task) => ({
    ...task,
    after: task.after.map(({ most, ...after }) =>
      most === undefined || pausing.has(after.task) ? after : { ...after, most },
    ),
  }));
};

/** Kinds of rule, each with the question without it. With fewer rules there are more schedules, never fewer. */
const WITHOUT: Readonly<Record<string, (problem: Problem) => Problem>> = {
  people: (problem) =>
    withTasks({ ...each(patient(problem), (work) => ({ ...work, crew: [], pauses: false })), people: [] }, (task) => ({
      ...task,
      notBy: [],
      ...(task.begun === undefined ? {} : { begun: { ...task.begun, people: [] } }),
    })),
  skills: (problem) => each(problem, (work) => ({ ...work, crew: work.crew.map(({ count }) => ({ count })) })),
  shifts: (problem) => ({ ...patient(problem), people: problem.people.map(({ shifts: _, ...person }) => person) }),
  verifiers: (problem) => withTasks(problem, (task) => ({ ...task, notBy: [] })),
  stocks: (problem) => ({ ...each(problem, (work) => ({ ...work, uses: [] })), holds: [] }),
  holds: (problem) => ({ ...problem, holds: [] }),
  ways: ({ moves: _, ...problem }) => problem,
  room: (problem) => ({
    ...problem,
    positions: problem.positions.map((position) => ({ ...position, room: problem.people.length + 1 })),
  }),
  "empty positions": (problem) => each(problem, (work) => ({ ...work, empties: [] })),
  states: (problem) => ({ ...each(problem, (work) => ({ ...work, on: [], off: [] })), states: [] }),
  apart: (problem) => ({ ...problem, apart: [] }),
  "at most": (problem) =>
    withTasks(problem, (task) => ({ ...task, after: task.after.map(({ most: _, ...after }) => after) })),
};

/** The question without one task and all that names it. What came after it comes after nothing in its stead. */
const withoutTask = (problem: Problem, id: string): Problem => {
  const kept = (ids: readonly string[]): readonly string[] => ids.filter((one) => one !== id);
  return {
    ...problem,
    tasks: problem.tasks
      .filter((task) => task.id !== id)
      .map((task) => ({ ...task, after: task.after.filter((one) => one.task !== id), notBy: kept(task.notBy) })),
    states: problem.states.map((state) => ({
      ...state,
      set: { ...state.set, after: kept(state.set.after), before: kept(state.set.before) },
      clear: { ...state.clear, after: kept(state.clear.after), before: kept(state.clear.before) },
    })),
    holds: problem.holds.filter(({ from, until }) => from !== id && until !== id),
    apart: problem.apart.filter((pair) => !pair.includes(id)),
  };
};

/**
 * What is left of a question without an answer when all is dropped that can be and still leaves none: kinds of rule first, then tasks, each tried once. `impossible` says whether
 * it is sure that there is none; what it is not sure of stays in, so the set holds a contradiction but need not be the smallest.
 */
export const contradictionIn = (problem: Problem, impossible: (problem: Problem) => boolean): Lack => {
  let left = problem;
  const rules: string[] = [];
  for (const [rule, without] of Object.entries(WITHOUT)) {
    const fewer = without(left);
    if (impossible(fewer)) left = fewer;
    else rules.push(rule);
  }
  for (const { id } of problem.tasks) {
    const fewer = withoutTask(left, id);
    if (impossible(fewer)) left = fewer;
  }
  return { what: "contradiction", tasks: left.tasks.map((task) => task.id), rules };
};

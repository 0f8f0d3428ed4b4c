// Owns the crew's schedule as a document: plain data that says who does what, when and where, how the vehicle stands, how good it is and what makes it as long as it is.

import type { Link, Result, Schedule, Task, Work } from "../crew/index.ts";
import type { CrewQuestion } from "./crew-question.ts";
import { stockLabel } from "./crew-tools.ts";
import { labelOf } from "./labels.ts";
import type { Draft } from "./steps.ts";

/** A step of the schedule; minutes from the beginning of the order. */
export interface CrewStep {
  /** As `--done` and `--begun` take it. */
  readonly id: string;
  readonly phase: "out" | "work" | "back";
  readonly action: Draft["action"] | "wait";
  readonly label: string;
  /** Id of the position. */
  readonly position?: string;
  readonly start: number;
  /** When its people leave. */
  readonly free: number;
  /** When it is over: draining, cooling and the like go on alone. */
  readonly end: number;
  readonly people: readonly string[];
  readonly skill?: string;
  readonly tools: readonly string[];
  /** Over before `now`: only when it was over is sure. */
  readonly done?: true;
}

/** A change of a state of the vehicle. */
export interface CrewChange {
  readonly state: string;
  readonly to: boolean;
  readonly label: string;
  readonly position?: string;
  readonly start: number;
  readonly end: number;
  readonly people: readonly string[];
}

/** A run of the chain that makes the schedule as long as it is, by what holds it up. */
export interface ChainLink {
  /** A pin: somebody wants it to begin no sooner (`crew-pin.ts`). */
  readonly because: Link["because"]["kind"] | "pin";
  /** Who or what holds it up, in words: a person, a tool, a position, a state. */
  readonly by?: string;
  readonly from: number;
  readonly until: number;
  readonly steps: readonly {
    readonly id: string;
    readonly label: string;
    readonly start: number;
    readonly end: number;
  }[];
}

/** How much of the elapsed time something scarce is taken to its last. */
export interface Busy {
  readonly kind: "person" | "tool" | "system" | "position";
  readonly id: string;
  readonly label: string;
  readonly minutes: number;
  /** Of a person the minutes at work; of the others the minutes in which no more of it is to be had. */
  readonly share: number;
}

export interface CrewPlan {
  readonly format: "unmoor/crew-plan/1";
  readonly vehicle: string;
  readonly note?: string;
  readonly jobs: readonly { readonly id: string; readonly label: string }[];
  readonly crew: {
    readonly note?: string;
    /** Minutes after midnight of minute 0. */
    readonly begins?: number;
    readonly people: readonly { readonly id: string; readonly label: string; readonly skills: readonly string[] }[];
  };
  readonly status: "optimal" | "feasible";
  /** Minutes from `now` to the end. */
  readonly elapsed: number;
  /** No legal schedule of this crew takes less. */
  readonly bound: number;
  readonly boundBy: string;
  /** Share of the elapsed time that the bound leaves open. */
  readonly gap: number;
  readonly labour: number;
  readonly moves: number;
  readonly retold: number;
  readonly now: number;
  readonly steps: readonly CrewStep[];
  readonly changes: readonly CrewChange[];
  readonly chain: readonly ChainLink[];
  readonly busy: readonly Busy[];
  readonly positions: readonly { readonly id: string; readonly label: string; readonly room: number }[];
  readonly states: readonly { readonly id: string; readonly label: string }[];
  /** Of each person the spells away within the schedule. */
  readonly away: readonly { readonly person: string; readonly from: number; readonly until: number }[];
  readonly assumed: readonly string[];
  readonly checks: { readonly steps: number; readonly changes: number };
}

const VERBS: Partial<Record<Draft["action"], string>> = {
  release: "Release: ",
  loosen: "Loosen: ",
  refit: "Refit: ",
  tighten: "Tighten: ",
};

/** What a step is called where it stands alone. */
export const titleOf = ({ action, label, closes, verify }: Draft): string =>
  action === "verify"
    ? `Last look at ${(verify ?? []).map((one) => one.label).join("; ")}, before: ${closes ?? label}`
    : `${VERBS[action] ?? ""}${label}`;

const shown = (question: CrewQuestion, schedule: Schedule): readonly CrewStep[] => {
  const over = new Set(
    question.problem.tasks.flatMap((task) => (task.begun !== undefined && task.minutes === 0 ? [task.id] : [])),
  );
  return schedule.tasks.flatMap(({ task, start, free, end, people }): readonly CrewStep[] => {
    const owner = question.waitings.get(task);
    const step = question.steps.get(owner ?? task);
    if (step === undefined) return [];
    const { says, phase } = step;
    // A job without work of its own is nothing that anybody does.
    if (says.people === 0 && owner === undefined) return [];
    const done = over.has(task) ? ({ done: true } as const) : {};
    if (owner !== undefined)
      return [{ id: task, phase, action: "wait", label: titleOf(says), start, free, end, people, tools: [], ...done }];
    return [
      {
        id: task,
        phase,
        action: says.action,
        label: titleOf(says),
        ...(says.position === undefined ? {} : { position: says.position }),
        start,
        free,
        end,
        people,
        ...(says.skill === undefined ? {} : { skill: says.skill }),
        tools: says.tools,
        ...done,
      },
    ];
  });
};

const changesOf = ({ job, problem, past }: CrewQuestion, schedule: Schedule): readonly CrewChange[] =>
  [...past, ...schedule.changes].flatMap(({ state, to, start, end, people }): readonly CrewChange[] => {
    const found = job.states.find((one) => one.id === state);
    const asked = problem.states.find((one) => one.id === state);
    if (found === undefined || asked === undefined) return [];
    const { label, position } = to ? found.set : found.clear;
    return [{ state, to, label, ...(position === undefined ? {} : { position }), start, end, people }];
  });

/** Before the ids of what only pins put into a problem: no step of the job. */
export const PIN = "pin:";

/** What kind of thing holds a work up. */
export const kindOf = (because: Link["because"]): ChainLink["because"] =>
  because.kind === "after" && because.task.startsWith(PIN) ? "pin" : because.kind;

/** What holds a link up, in words. */
export const byOf = (question: CrewQuestion, because: Link["because"]): string | undefined => {
  if (!("id" in because)) return undefined;
  const { kind, id } = because;
  if (kind === "person" || kind === "shift")
    return question.crew.people.find((person) => person.id === id)?.label ?? id;
  if (kind === "stock") return stockLabel(id);
  if (kind === "state") return question.job.states.find((state) => state.id === id)?.set.label ?? id;
  return labelOf(question.job.question, id);
};

/** What the work of a link is called. */
const linkLabel = (question: CrewQuestion, schedule: Schedule, { task, start }: Link): string => {
  const owner = question.waitings.get(task);
  const step = question.steps.get(owner ?? task);
  if (step !== undefined) return owner === undefined ? titleOf(step.says) : `${titleOf(step.says)}, on its own`;
  const change = schedule.changes.find((one) => one.state === task && one.start === start);
  const state = question.job.states.find((one) => one.id === task);
  return (change?.to === false ? state?.clear.label : state?.set.label) ?? task;
};

/** The chain in runs of links that the same thing holds up. */
const runsOf = (question: CrewQuestion, schedule: Schedule, chain: readonly Link[]): readonly ChainLink[] => {
  const runs: ChainLink[] = [];
  for (const link of chain) {
    if (link.task.startsWith(PIN)) continue;
    const own = kindOf(link.because);
    const kind = own === "beginning" ? "after" : own;
    const by = byOf(question, link.because);
    const step = { id: link.task, label: linkLabel(question, schedule, link), start: link.start, end: link.end };
    const last = runs.at(-1);
    if (last !== undefined && last.because === kind && last.by === by)
      runs[runs.length - 1] = { ...last, until: link.end, steps: [...last.steps, step] };
    else
      runs.push({
        because: kind,
        ...(by === undefined ? {} : { by }),
        from: link.start,
        until: link.end,
        steps: [step],
      });
  }
  return runs;
};

interface Taken {
  readonly from: number;
  readonly until: number;
  readonly count: number;
}

/** Minutes in which no more than nothing is left of a count. */
const fullFor = (taken: readonly Taken[], count: number): number => {
  const edges = [...new Set(taken.flatMap(({ from, until }) => [from, until]))].sort((a, b) => a - b);
  return edges.slice(1).reduce((sum, until, index) => {
    const from = edges[index] ?? until;
    const used = taken.reduce((all, one) => all + (one.from <= from && one.until >= until ? one.count : 0), 0);
    return used >= count ? sum + until - from : sum;
  }, 0);
};

const busyOf = (question: CrewQuestion, schedule: Schedule, elapsed: number): readonly Busy[] => {
  const { problem, crew } = question;
  const tasks = new Map(problem.tasks.map((task) => [task.id, task]));
  const states = new Map(problem.states.map((state) => [state.id, state]));
  const works: readonly {
    readonly work: Work | Task;
    readonly start: number;
    readonly free: number;
    readonly end: number;
    readonly people: readonly string[];
  }[] = [
    ...schedule.tasks.flatMap((placed) => {
      const work = tasks.get(placed.task);
      return work === undefined ? [] : [{ work, ...placed }];
    }),
    ...schedule.changes.flatMap((placed) => {
      const state = states.get(placed.state);
      return state === undefined ? [] : [{ work: placed.to ? state.set : state.clear, ...placed }];
    }),
  ];
  const busy = (kind: Busy["kind"], id: string, label: string, minutes: number): Busy => ({
    kind,
    id,
    label,
    minutes,
    share: elapsed > 0 ? minutes / elapsed : 0,
  });
  const people = crew.people.map(({ id, label }) =>
    busy(
      "person",
      id,
      label,
      works.filter((one) => one.people.includes(id)).reduce((sum, one) => sum + one.work.minutes, 0),
    ),
  );
  const stocks = problem.stocks
    .filter(({ id }) => !id.startsWith("keep:"))
    .map(({ id, count }) => {
      const taken = works.flatMap(({ work, start, end }): readonly Taken[] =>
        work.uses.filter((one) => one.stock === id).map((one) => ({ from: start, until: end, count: one.count })),
      );
      return busy(
        id.startsWith("system:") ? "system" : "tool",
        id.slice(id.indexOf(":") + 1),
        stockLabel(id),
        fullFor(taken, count),
      );
    });
  const positions = problem.positions.map(({ id, room }) => {
    const taken = works.flatMap(({ work, start, free, people: there }): readonly Taken[] =>
      work.position === id ? [{ from: start, until: free, count: there.length }] : [],
    );
    return busy("position", id, labelOf(question.job.question, id), fullFor(taken, room));
  });
  return [
    ...people,
    ...[...stocks, ...positions].filter((one) => one.minutes > 0).sort((a, b) => b.minutes - a.minutes),
  ];
};

/** Spells in which a person of the crew is away before all is over. */
const awayOf = ({ problem }: CrewQuestion, until: number): CrewPlan["away"] =>
  problem.people.flatMap(({ id, shifts }) => {
    if (shifts === undefined) return [];
    const gaps: { from: number; until: number }[] = [];
    let reached = problem.now ?? 0;
    for (const spell of shifts) {
      if (spell.from > reached && reached < until) gaps.push({ from: reached, until: Math.min(spell.from, until) });
      reached = Math.max(reached, spell.until);
    }
    return gaps.map((gap) => ({ person: id, ...gap }));
  });

/** What the bound comes from: the search names positions and stocks by their ids. */
const boundName = ({ job, problem }: CrewQuestion, by: string): string => {
  if (problem.stocks.some((stock) => stock.id === by)) return stockLabel(by);
  return problem.positions.some((position) => position.id === by) ? labelOf(job.question, by) : by;
};

/** The schedule of a result as a document; undefined when it has none. */
export const makeCrewPlan = (question: CrewQuestion, result: Result): CrewPlan | undefined => {
  const { schedule, figures, status } = result;
  if (schedule === undefined || figures === undefined || (status !== "optimal" && status !== "feasible"))
    return undefined;
  const { vehicle, order } = question.job.question;
  const now = question.problem.now ?? 0;
  const steps = shown(question, schedule);
  const changes = changesOf(question, schedule);
  return {
    format: "unmoor/crew-plan/1",
    vehicle: vehicle.name,
    ...(vehicle.note === undefined ? {} : { note: vehicle.note }),
    jobs: order.jobs.map((id) => ({ id, label: labelOf(question.job.question, id) })),
    crew: {
      ...(question.crew.note === undefined ? {} : { note: question.crew.note }),
      ...(question.crew.begins === undefined ? {} : { begins: question.crew.begins }),
      people: question.crew.people.map(({ id, label, skills }) => ({ id, label, skills })),
    },
    status,
    elapsed: figures.elapsed,
    bound: result.bound,
    boundBy: boundName(question, result.boundBy),
    gap: figures.elapsed > 0 ? Math.max(0, figures.elapsed - result.bound) / figures.elapsed : 0,
    labour: figures.labour,
    moves: figures.moves,
    retold: figures.retold,
    now,
    steps: steps.toSorted((a, b) => a.start - b.start || a.end - b.end),
    changes: changes.toSorted((a, b) => a.start - b.start),
    chain: runsOf(question, schedule, result.chain),
    busy: busyOf(question, schedule, figures.elapsed),
    positions: question.problem.positions.map(({ id, room }) => ({
      id,
      label: labelOf(question.job.question, id),
      room,
    })),
    states: question.job.states.map(({ id, set }) => ({ id, label: set.label })),
    away: awayOf(question, now + figures.elapsed),
    assumed: question.assumed,
    checks: { steps: schedule.tasks.length, changes: schedule.changes.length },
  };
};

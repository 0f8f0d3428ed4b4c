// Owns a change of the design: what becomes quicker, shorter to get at or needless in the vehicle, and who or what there is one more of; and the vehicle so changed.

import { type Minutes, minutes } from "../quantity/index.ts";
import type { Connection, Need, Refit, Task, Vehicle, Way } from "../vehicle/index.ts";
import { type Crew, crewOf } from "./crew.ts";
import { refitOf } from "./refit.ts";

/** What the change is of, in the words of the trade; `yours`: from the user's file. */
export type Rule =
  | "quick coupling"
  | "access hatch"
  | "captive bolts"
  | "breaks at the edge"
  | "one person more"
  | "one tool more"
  | "special tool"
  | "nothing to drain"
  | "yours";

/** Of a connection (all its ways), one way or a task. */
export interface StepChange {
  readonly of: string;
  /** Minutes to release or do it, and to refit or undo it; absent: as they were. */
  readonly off?: number;
  readonly on?: number;
  /** Both as many times what they were. */
  readonly times?: number;
  /** Ids that it needs no longer. */
  readonly drop?: readonly string[];
}

/** One more way to release a connection, with no needs but its position's. */
export interface NewWay {
  readonly of: string;
  readonly label: string;
  readonly at?: string;
  readonly off: number;
  readonly on: number;
}

export interface Change {
  readonly id: string;
  readonly label: string;
  readonly rule: Rule;
  /** What in the file made it worth trying, and where its figures come from. */
  readonly why: string;
  readonly steps: readonly StepChange[];
  readonly ways: readonly NewWay[];
  /** Tasks that nothing needs any longer. */
  readonly spare: readonly string[];
  /** So many people more. */
  readonly people: number;
  /** One more of each of these. */
  readonly tools: readonly string[];
  /** Once for each vehicle, in the money of the rate. */
  readonly cost?: number;
}

/** A change of nothing yet. */
export const changeOf = (id: string, label: string, rule: Rule, why: string): Change => ({
  id,
  label,
  rule,
  why,
  steps: [],
  ways: [],
  spare: [],
  people: 0,
  tools: [],
});

const ALWAYS: Need = { all: [] };

/** A need that asks for none of these any longer. */
const without = (need: Need, ids: ReadonlySet<string>): Need => {
  if ("all" in need) return { all: need.all.map((one) => without(one, ids)) };
  if ("any" in need) return { any: need.any.map((one) => without(one, ids)) };
  return "id" in need && ids.has(need.id) ? ALWAYS : need;
};

const dropped = (needs: readonly Need[], ids: ReadonlySet<string>): readonly Need[] =>
  ids.size === 0 ? needs : needs.map((need) => without(need, ids));

const NO_REFIT: Refit = { after: [], tools: [], fresh: [], then: [] };

/** A guess is no nearer than a tenth of a minute, and the search is quicker with round minutes than with endless fractions. */
const tenths = (value: number): number => Math.round(value * 10) / 10;

const time = (old: number, given: number | undefined, times = 1): Minutes =>
  minutes(given ?? (times === 1 ? old : Math.max(0.1, tenths(old * times))));

const wayAfter = (connection: Connection, way: Way, { off, on, times, drop = [] }: StepChange): Way => {
  const retimed = on !== undefined || times !== undefined;
  const refit = refitOf(connection, way);
  return {
    ...way,
    time: time(way.time, off, times),
    needs: dropped(way.needs, new Set(drop)),
    ...(retimed || refit.assumed.includes("time")
      ? { refit: { ...(way.refit ?? NO_REFIT), time: time(refit.time, on, times) } }
      : {}),
  };
};

const taskAfter = (task: Task, { off, on, times, drop = [] }: StepChange): Task => ({
  ...task,
  time: time(task.time, off, times),
  needs: dropped(task.needs, new Set(drop)),
  ...(task.undo === undefined ? {} : { undo: { ...task.undo, time: time(task.undo.time, on, times) } }),
  ...(task.back === undefined ? {} : { back: { ...task.back, time: time(task.back.time, on, times) } }),
});

const added = (connection: Connection, { label, at, off, on }: NewWay): Connection => ({
  ...connection,
  ways: [
    ...connection.ways,
    {
      id: `${connection.id}/${connection.ways.length + 1}`,
      label,
      ...(at === undefined ? {} : { at }),
      time: minutes(off),
      people: 1,
      needs: [],
      without: [],
      tools: [],
      loosen: false,
      refit: { ...NO_REFIT, time: minutes(on), people: 1 },
    },
  ],
});

const stepOf = (id: string, step: StepChange) => step.of === id;

const changed = (vehicle: Vehicle, { steps, ways, spare }: Change): Vehicle => {
  const gone = new Set(spare);
  const work = <W extends { readonly needs: readonly Need[] }>(one: W): W => ({
    ...one,
    needs: dropped(one.needs, gone),
  });
  const connections = vehicle.connections.map((connection) => {
    const retimed = connection.ways.map((way) =>
      steps
        .filter((step) => stepOf(way.id, step) || stepOf(connection.id, step))
        .reduce((after, step) => wayAfter(connection, after, step), work(way)),
    );
    return ways
      .filter(({ of }) => of === connection.id)
      .reduce<Connection>((after, way) => added(after, way), { ...connection, ways: retimed });
  });
  return {
    ...vehicle,
    connections,
    positions: vehicle.positions.map(work),
    tasks: vehicle.tasks.map((task) =>
      steps.filter((step) => stepOf(task.id, step)).reduce((after, step) => taskAfter(after, step), work(task)),
    ),
    parts: vehicle.parts.map((part) => ({ ...part, hang: part.hang.map(work) })),
    jobs: vehicle.jobs.map((job) => ({ ...work(job), work: job.work.map(work) })),
  };
};

/** The vehicle with these changes, one after the other. */
export const changeVehicle = (vehicle: Vehicle, changes: readonly Change[]): Vehicle =>
  changes.reduce(changed, vehicle);

/** The crew with what the changes add: people as able as a crew that is a number has them, and one more of each tool. */
export const changeCrew = (crew: Crew, changes: readonly Change[]): Crew => {
  const people = changes.reduce((sum, one) => sum + one.people, 0);
  const tools = new Map(crew.tools);
  for (const tool of changes.flatMap((one) => one.tools)) tools.set(tool, (tools.get(tool) ?? 1) + 1);
  return { ...crew, people: people === 0 ? crew.people : crewOf(crew.people.length + people).people, tools };
};

/** Whether it may change who is there or what there is, and not the vehicle. */
export const isOfCrew = ({ people, tools }: Change): boolean => people > 0 || tools.length > 0;

/** Whether it changes only how long releases, refits and tasks take that are no states of the vehicle and no lifts. */
export const isTimeOnly = ({ tasks }: Vehicle, change: Change): boolean =>
  !isOfCrew(change) &&
  change.ways.length === 0 &&
  change.spare.length === 0 &&
  change.steps.every(({ of, drop = [] }) => {
    const task = tasks.find(({ id }) => id === of);
    return (
      drop.length === 0 &&
      (task === undefined || (task.undo === undefined && task.lifts.length === 0 && task.supports.length === 0))
    );
  });

/** Minutes and people of each release and refit, of each task and its return, by what runs know it by: the way or the task, `back:` before it. */
export const timesOf = (vehicle: Vehicle): ReadonlyMap<string, { readonly minutes: number; readonly people: number }> =>
  new Map([
    ...vehicle.connections.flatMap((connection) =>
      connection.ways.flatMap((way) => {
        const refit = refitOf(connection, way);
        return [
          [way.id, { minutes: way.time, people: way.people }],
          [`back:${way.id}`, { minutes: refit.time, people: refit.people }],
        ] as const;
      }),
    ),
    ...vehicle.tasks.flatMap((task) => [
      [task.id, { minutes: task.time, people: task.people }] as const,
      ...(task.back === undefined
        ? []
        : [[`back:${task.id}`, { minutes: task.back.time, people: task.back.people }] as const]),
    ]),
  ]);

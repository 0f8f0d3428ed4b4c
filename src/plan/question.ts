// Owns the translation of an order on a vehicle into the question of what must come off: ids and minutes out, and from every id of the
// question the way back to the file. What is left out of the question, and every figure that the file does not give, is listed.

import type {
  Need as AskedNeed,
  Part as AskedPart,
  Task as AskedTask,
  Way as AskedWay,
  Problem,
} from "../release/index.ts";
import type {
  Connection,
  Hang,
  Job,
  JobWork,
  Need,
  Part,
  Position,
  Task,
  Vehicle,
  Way,
  Work,
} from "../vehicle/index.ts";
import { indexWords } from "../vehicle/index.ts";
import { firstNeeds, precedence } from "./first.ts";
import { type LiftLimit, liftLimit, type OutOfReach } from "./lift.ts";
import { askNeed, calledBack, type Lookup, lookupOf, NEVER, tautAt } from "./needs.ts";
import { faultsOf, type Means, meansOf, type Order, type OrderFault } from "./order.ts";
import { refitOf } from "./refit.ts";

/** What an order lacks for a step. */
export type Lack =
  | { readonly lack: "tool"; readonly tool: string }
  | { readonly lack: "skill"; readonly skill: string }
  | { readonly lack: "people"; readonly wanted: number; readonly have: number }
  | ({ readonly lack: "reach" } & OutOfReach);

/** A way, a task or a hang that this order cannot make, so that the question does not offer it. */
export interface Removed {
  readonly id: string;
  /** The connection of a way, the part of a hang, the job of a work, else the task itself. */
  readonly of: string;
  /** Whether it is the step itself that cannot be made or its return. */
  readonly phase: "out" | "back";
  readonly why: Lack;
}

/** A figure that the file does not give and the question takes from somewhere else. */
export interface Assumed {
  readonly id: string;
  readonly what: "refit time" | "refit people" | "return" | "hang return" | "no mass" | "no hoist" | "no reach";
}

/** Where a step of the question comes from in the file. */
export type Source =
  | { readonly kind: "way"; readonly connection: Connection; readonly way: Way }
  | { readonly kind: "task"; readonly task: Task }
  | { readonly kind: "hang"; readonly part: Part; readonly hang: Hang }
  | { readonly kind: "work"; readonly job: Job; readonly work: JobWork; readonly index: number }
  /** A job without work, or a part that must come out: nothing is done, only its needs must have held. */
  | { readonly kind: "goal"; readonly job: Job };

/** What is carried over from the old assembly to the new one in a swap. */
export interface Swap {
  readonly job: string;
  readonly parts: readonly string[];
  /** The connections released from the old and made on the new. */
  readonly connections: readonly string[];
  /** The parts that do not come with the new assembly and hang on the old: tied to it, and no part of the vehicle without it. */
  readonly carriedOver: readonly string[];
}

/** What being at a position asks for: its needs, and the states of the vehicle that it is without. */
export interface Place {
  readonly needs: readonly AskedNeed[];
  readonly without: readonly string[];
}

export interface Question {
  readonly vehicle: Vehicle;
  readonly order: Order;
  /** What is wrong with the order; the problem is then made without it and is not to be solved. */
  readonly faults: readonly OrderFault[];
  readonly problem: Problem;
  /** By id of a way, a task, a hang or a job's work (`<job>/work-<n>`; `<job>/done` for a job without work). */
  readonly sources: ReadonlyMap<string, Source>;
  /** The needs of each step and of its position, without what `first` adds. */
  readonly access: ReadonlyMap<string, readonly AskedNeed[]>;
  readonly positions: ReadonlyMap<string, Position>;
  /** What being at a position asks for, by its id. */
  readonly places: ReadonlyMap<string, Place>;
  readonly removed: readonly Removed[];
  readonly assumed: readonly Assumed[];
  /** By id of the task. */
  readonly lifts: ReadonlyMap<string, LiftLimit>;
  readonly swaps: readonly Swap[];
}

/** The labour in minutes of a task's return, and how often it is assumed. A toggle's is that of its `undo`. */
const returnOf = (task: Task): { readonly labour: number; readonly assumed: boolean } => {
  if (task.undo !== undefined) return { labour: task.undo.people * task.undo.time, assumed: false };
  if (task.back !== undefined) return { labour: task.back.people * task.back.time, assumed: false };
  const mirrored = task.phase === "out" && (task.lifts.length > 0 || task.supports.length > 0);
  return mirrored ? { labour: task.people * task.time, assumed: true } : { labour: 0, assumed: false };
};

/** The parts that ties of these join to a start, over parts that are not `barred`. */
const reach = (
  ties: readonly Connection[],
  start: readonly string[],
  barred: ReadonlySet<string>,
): ReadonlySet<string> => {
  const reached = new Set(start);
  for (let before = -1; before < reached.size; ) {
    before = reached.size;
    for (const { joins } of ties) {
      if (!joins.some((id) => reached.has(id) && !barred.has(id))) continue;
      for (const id of joins) if (!barred.has(id)) reached.add(id);
    }
  }
  return reached;
};

/**
 * Of the parts tied to what comes with a new assembly, those that hang on it: it carries them and the vehicle does not, or nothing else
 * ties them to the vehicle at all. A pump on the old engine is carried over; a radiator on feet of its own is only parted from it.
 */
const hangsOn = (vehicle: Vehicle, look: Lookup, comes: ReadonlySet<string>, tied: Iterable<string>) => {
  const carrying = vehicle.connections.filter((one) => one.carrying);
  const borne = reach(carrying, look.fixed, comes);
  const held = reach(vehicle.connections, look.fixed, comes);
  const bolted = new Set(carrying.filter((one) => one.joins.some((id) => comes.has(id))).flatMap((one) => one.joins));
  return [...tied].filter((id) => !held.has(id) || (!borne.has(id) && bolted.has(id)));
};

/** What comes with the new assembly is out, and everything else that is tied to it is released from the old. */
const swapOf = (
  vehicle: Vehicle,
  look: Lookup,
  job: Job,
): { readonly needs: readonly AskedNeed[]; readonly swap?: Swap } => {
  if (job.swap.length === 0) return { needs: [] };
  const comes = new Set(job.swap);
  const crossing = vehicle.connections.filter(
    (one) => one.joins.some((id) => comes.has(id)) && one.joins.some((id) => !comes.has(id)),
  );
  const others = new Set(
    crossing.flatMap((one) => one.joins).filter((id) => !comes.has(id) && look.parts.get(id)?.fixed !== true),
  );
  return {
    needs: [
      ...crossing.map((one) => ({ released: one.id })),
      ...job.swap.map((id): AskedNeed => ({ apart: [[id], look.fixed] })),
    ],
    swap: {
      job: job.id,
      parts: job.swap,
      connections: crossing.map((one) => one.id),
      carriedOver: hangsOn(vehicle, look, comes, others),
    },
  };
};

type Demand = Pick<Work, "people" | "tools" | "skill">;

const lackOf = (means: Means, demand: Demand): Lack | undefined => {
  const { people, skills, tools, missing } = means;
  if (people !== undefined && demand.people > people) return { lack: "people", wanted: demand.people, have: people };
  if (skills !== undefined && demand.skill !== undefined && !skills.has(demand.skill))
    return { lack: "skill", skill: demand.skill };
  const tool = demand.tools.find((one) => missing.has(one) || (tools !== undefined && !tools.has(one)));
  return tool === undefined ? undefined : { lack: "tool", tool };
};

/** What is done once more on the way back, as far as it asks for people, tools and skill. */
const returnDemand = (source: Source): Demand | undefined => {
  if (source.kind === "way") return refitOf(source.connection, source.way);
  if (source.kind === "hang") return { people: source.hang.undo?.people ?? source.hang.people, tools: [] };
  if (source.kind !== "task") return undefined;
  const back = source.task.undo ?? source.task.back;
  return back === undefined ? undefined : { people: back.people, tools: [] };
};

const workOf = (source: Source): Work | undefined => {
  if (source.kind === "way") return source.way;
  if (source.kind === "task") return source.task;
  if (source.kind === "hang") return source.hang;
  return source.kind === "work" ? source.work : undefined;
};

/** What a step belongs to: the connection of a way, the part of a hang, the job of a work or a goal, else the task itself. */
export const ownerOf = (source: Source): string => {
  if (source.kind === "way") return source.connection.id;
  if (source.kind === "task") return source.task.id;
  return source.kind === "hang" ? source.part.id : source.job.id;
};

/** Every step that the file knows and these jobs may call for, by its id in the question. */
const sourcesOf = (vehicle: Vehicle, jobs: readonly Job[]): Map<string, Source> => {
  const sources = new Map<string, Source>();
  for (const connection of vehicle.connections) {
    for (const way of connection.ways) sources.set(way.id, { kind: "way", connection, way });
  }
  for (const task of vehicle.tasks) sources.set(task.id, { kind: "task", task });
  for (const part of vehicle.parts) {
    for (const hang of part.hang) sources.set(hang.id, { kind: "hang", part, hang });
  }
  for (const job of jobs) {
    for (const [index, work] of job.work.entries())
      sources.set(`${job.id}/work-${index + 1}`, { kind: "work", job, work, index });
    if (job.work.length === 0) sources.set(`${job.id}/done`, { kind: "goal", job });
  }
  return sources;
};

/** The tasks of the way back that a step calls for: its refit does, or its needs name them. */
const calledBy = (look: Lookup, source: Source): readonly string[] => {
  const asked = [...("job" in source ? source.job.needs : []), ...(workOf(source)?.needs ?? [])];
  const calls = source.kind === "way" ? refitOf(source.connection, source.way).calls : [];
  return [...new Set([...calls.filter((id) => look.backTasks.has(id)), ...calledBack(look, asked)])];
};

/** What this order cannot make, and the limits of the lifts that it can. */
const leaveOut = (vehicle: Vehicle, order: Order, look: Lookup, sources: ReadonlyMap<string, Source>) => {
  const means = meansOf(vehicle, order);
  const hoist = vehicle.hoists.some((one) => one.id === order.hoist) ? order.hoist : undefined;
  const removed: Removed[] = [];
  const lifts = new Map<string, LiftLimit>();
  for (const [id, source] of sources) {
    const of = ownerOf(source);
    const work = workOf(source);
    const out = work === undefined ? undefined : lackOf(means, work);
    const again = returnDemand(source);
    const back = again === undefined ? undefined : lackOf(means, again);
    if (out !== undefined) removed.push({ id, of, phase: "out", why: out });
    else if (back !== undefined) removed.push({ id, of, phase: "back", why: back });
    else if (source.kind === "task" && source.task.lifts.length > 0) {
      const limit = liftLimit(vehicle, source.task, hoist);
      if ("hoists" in limit) removed.push({ id, of, phase: "out", why: { lack: "reach", ...limit } });
      else lifts.set(id, limit);
    }
  }
  // What calls for a task of the way back that cannot be done here cannot be made either.
  const lost = new Map(removed.map((one) => [one.id, one.why]));
  for (let grown = -1; grown < lost.size; ) {
    grown = lost.size;
    for (const [id, source] of sources) {
      const why = lost.has(id) ? undefined : calledBy(look, source).flatMap((called) => lost.get(called) ?? [])[0];
      if (why === undefined) continue;
      lost.set(id, why);
      lifts.delete(id);
      removed.push({ id, of: ownerOf(source), phase: "back", why });
    }
  }
  return { removed, lifts };
};

/** A step as the file gives it: its labour with its return, and everything it asks for at its position. */
interface Draft {
  readonly id: string;
  readonly source: Source;
  readonly labour: number;
  readonly position?: string;
  readonly needs: readonly AskedNeed[];
  readonly without: readonly string[];
  readonly entails: readonly string[];
}

/** Minutes of a step with its return, people times time. */
export const labourOf = (source: Source): number => {
  if (source.kind === "way") {
    const refit = refitOf(source.connection, source.way);
    return source.way.people * source.way.time + refit.people * refit.time;
  }
  if (source.kind === "task") return source.task.people * source.task.time + returnOf(source.task).labour;
  if (source.kind === "hang") {
    const { hang } = source;
    const undo = hang.undo ?? hang;
    return hang.people * hang.time + undo.people * undo.time;
  }
  return 0;
};

/** What being at each position asks for. Nobody may be at one that a state of the vehicle empties while that state lasts. */
const placesOf = (vehicle: Vehicle, look: Lookup, leftOut: ReadonlySet<string>): ReadonlyMap<string, Place> =>
  new Map(
    vehicle.positions.map(({ id, needs, without }) => {
      const emptiedBy = vehicle.tasks.filter((task) => task.undo !== undefined && task.empties.includes(id));
      const off = [...without, ...emptiedBy.map((task) => task.id)].filter(
        (one) => look.tasks.has(one) && !leftOut.has(one),
      );
      return [id, { needs: needs.map((need) => askNeed(look, need, leftOut)), without: off }];
    }),
  );

const draftsOf = (
  vehicle: Vehicle,
  look: Lookup,
  sources: ReadonlyMap<string, Source>,
  places: ReadonlyMap<string, Place>,
  leftOut: ReadonlySet<string>,
): { readonly drafts: readonly Draft[]; readonly swaps: readonly Swap[] } => {
  const swaps = new Map(
    [...sources.values()].flatMap((source) =>
      "job" in source ? [[source.job.id, swapOf(vehicle, look, source.job)] as const] : [],
    ),
  );
  const isCalled = (need: Need) => "id" in need && look.backTasks.has(need.id);

  const draft = (id: string, source: Source): Draft => {
    const work = workOf(source);
    const at = work?.at;
    const place = at === undefined ? undefined : places.get(at);
    const job = "job" in source ? source.job : undefined;
    const asked = [...(job?.needs ?? []), ...(work?.needs ?? [])];
    const without = (work?.without ?? []).filter((one) => look.tasks.has(one) && !leftOut.has(one));
    return {
      id,
      source,
      labour: labourOf(source),
      ...(at === undefined ? {} : { position: at }),
      needs: [
        ...asked.filter((need) => !isCalled(need)).map((need) => askNeed(look, need, leftOut)),
        ...(place?.needs ?? []),
        ...(job === undefined ? [] : (swaps.get(job.id)?.needs ?? [])),
        ...(source.kind === "work" && source.index > 0 ? [{ done: `${source.job.id}/work-${source.index}` }] : []),
        ...(job !== undefined && leftOut.has(id) ? [NEVER] : []),
      ],
      without: [...new Set([...without, ...(place?.without ?? [])])].filter((one) => one !== id),
      entails: calledBy(look, source),
    };
  };
  return {
    drafts: [...sources]
      .filter(([id, source]) => "job" in source || !leftOut.has(id))
      .map(([id, source]) => draft(id, source)),
    swaps: [...swaps.values()].flatMap((one) => one.swap ?? []),
  };
};

const taskOf = (
  look: Lookup,
  draft: Draft,
  needs: readonly AskedNeed[],
  lifts: ReadonlyMap<string, LiftLimit>,
): AskedTask => {
  const { id, source, labour, position, without, entails } = draft;
  const task = source.kind === "task" ? source.task : undefined;
  const limit = lifts.get(id);
  return {
    id,
    labour,
    ...(position === undefined ? {} : { position }),
    needs,
    without,
    entails,
    toggle: task?.undo !== undefined,
    back: task?.phase === "back",
    must: "job" in source,
    supports: task?.supports ?? [],
    ...(source.kind === "hang"
      ? { hang: { part: source.part.id, to: source.hang.to, taut: tautAt(look, source.part.id, source.hang.moves) } }
      : {}),
    ...(task === undefined || limit === undefined ? {} : { lift: { parts: task.lifts, limit: limit.limit } }),
  };
};

const partOf = (part: Part): AskedPart => ({
  id: part.id,
  fixed: part.fixed,
  mass: part.mass?.high ?? 0,
  ...(part.centre === undefined ? {} : { centre: part.centre }),
});

/** Every figure that the question takes from somewhere else than the file. */
const assumedOf = (
  vehicle: Vehicle,
  drafts: readonly Draft[],
  lifts: ReadonlyMap<string, LiftLimit>,
): readonly Assumed[] => [
  ...drafts.flatMap(({ id, source }): Assumed[] => {
    if (source.kind === "way")
      return refitOf(source.connection, source.way).assumed.map((what) => ({ id, what: `refit ${what}` }));
    if (source.kind === "hang") return source.hang.undo === undefined ? [{ id, what: "hang return" }] : [];
    if (source.kind !== "task") return [];
    const lift = lifts.get(id);
    return [
      ...(returnOf(source.task).assumed ? [{ id, what: "return" } as const] : []),
      ...(lift !== undefined && lift.hoist === undefined ? [{ id, what: "no hoist" } as const] : []),
      ...(lift?.hoist !== undefined && lift.hoist.reach === undefined ? [{ id, what: "no reach" } as const] : []),
    ];
  }),
  ...vehicle.parts
    .filter((part) => !part.fixed && part.mass === undefined)
    .map((part): Assumed => ({ id: part.id, what: "no mass" })),
];

/**
 * A step that calls for a task of the way back must leave open what that task needs, or it could not be done on the way back. What may itself have
 * to wait for the step cannot be asked for before it, and is left to the way back to find open.
 */
const leaveOpen = (
  drafts: readonly Draft[],
  look: Lookup,
  comesBefore: ReturnType<typeof precedence>,
): readonly Draft[] => {
  const byId = new Map(drafts.map((draft) => [draft.id, draft]));
  const releases = (need: AskedNeed): readonly string[] => {
    if ("released" in need) return [need.released];
    return "all" in need ? need.all.flatMap(releases) : [];
  };
  return drafts.map((draft) => {
    if (look.backTasks.has(draft.id) || draft.entails.length === 0) return draft;
    const own = ownerOf(draft.source);
    const open = draft.entails
      .flatMap((id) => (byId.get(id)?.needs ?? []).flatMap(releases))
      .filter((released) => !comesBefore(released, new Set()).has(own));
    return open.length === 0 ? draft : { ...draft, needs: [...draft.needs, ...open.map((released) => ({ released }))] };
  });
};

/** A draft as its order matters. */
const orderedOf = ({ id, source, needs }: Draft) => ({
  id,
  needs,
  ...(source.kind === "way" ? { of: source.connection.id } : {}),
});

/**
 * The question of what must come off for this order.
 *
 * Labour is people × minutes, release and refit together; a refit figure that the file leaves out is that of the release. What an order lacks
 * the tools, the skill, the people or the reach for is left out of the question and listed in `removed`; a need for it never holds.
 */
export const translate = (vehicle: Vehicle, order: Order): Question => {
  const look = lookupOf(vehicle);
  const faults = faultsOf(vehicle, order, (name, known) => indexWords(known)(name));
  const jobs = vehicle.jobs.filter((job) => order.jobs.includes(job.id));
  const sources = sourcesOf(vehicle, jobs);
  const { removed, lifts } = leaveOut(vehicle, order, look, sources);
  const leftOut = new Set(removed.map((one) => one.id));
  const places = placesOf(vehicle, look, leftOut);
  const { drafts: asGiven, swaps } = draftsOf(vehicle, look, sources, places, leftOut);
  const tied = (part: string) => look.joined.get(part) ?? [];
  const out = (list: readonly Draft[]) => list.filter((draft) => !look.backTasks.has(draft.id)).map(orderedOf);
  const drafts = leaveOpen(asGiven, look, precedence(out(asGiven), tied));
  const steps = out(drafts);
  const wayIds = new Set(vehicle.connections.flatMap((connection) => connection.ways.map((way) => way.id)));
  const before = firstNeeds(
    steps,
    vehicle.first,
    (entry) => askNeed(look, { id: entry }, leftOut),
    precedence(steps, tied),
  );
  const needsOf = (draft: Draft) => [...draft.needs, ...(before.get(draft.id) ?? [])];
  const ways = new Map<string, AskedWay[]>();
  for (const draft of drafts) {
    if (draft.source.kind !== "way") continue;
    const { id, labour, position, without, entails } = draft;
    const way = {
      id,
      labour,
      ...(position === undefined ? {} : { position }),
      needs: needsOf(draft),
      without,
      entails,
    };
    ways.set(draft.source.connection.id, [...(ways.get(draft.source.connection.id) ?? []), way]);
  }
  const known = (ids: readonly string[]) => ids.filter((id) => look.parts.has(id));
  return {
    vehicle,
    order,
    faults,
    problem: {
      parts: vehicle.parts.map(partOf),
      connections: vehicle.connections.map(({ id, joins, carrying, rests, at }) => ({
        id,
        joins,
        carrying,
        rests,
        ...(at === undefined ? {} : { at }),
        ways: ways.get(id) ?? [],
      })),
      tasks: drafts.filter((draft) => !wayIds.has(draft.id)).map((draft) => taskOf(look, draft, needsOf(draft), lifts)),
      handLimit: vehicle.limits.hand,
      margin: vehicle.limits.margin,
      keep: known(order.keep),
      take: known(order.take),
      released: order.released.filter((id) => look.connections.has(id)),
    },
    sources,
    access: new Map(asGiven.map((draft) => [draft.id, draft.needs])),
    positions: new Map(vehicle.positions.map((position) => [position.id, position])),
    places,
    removed,
    assumed: assumedOf(vehicle, drafts, lifts),
    lifts,
    swaps,
  };
};

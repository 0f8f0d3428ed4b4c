// Owns the brief: what fold and gates must know of vehicle, plan and people, as plain data small enough for a tablet. A run is pinned to it.

import {
  CELL_ERROR,
  jointOf,
  type Plan,
  type PlannedLift,
  type PlanStep,
  statedLimits,
  type TorqueLimits,
} from "../plan/index.ts";
import { newtonMetres, writeQuantity } from "../quantity/index.ts";
import type { Connection, Task, Vehicle, Way } from "../vehicle/index.ts";

/** Who may do what. */
export const ROLES = ["mechanic", "verifier", "lift approver", "foreman", "storeman", "instructor", "reader"] as const;
export type Role = (typeof ROLES)[number];

export interface BriefPerson {
  readonly id: string;
  readonly label: string;
  readonly roles: readonly Role[];
  readonly skills: readonly string[];
}

/** Where somebody works. */
export interface Where {
  readonly id: string;
  readonly label: string;
}

/** Newton-metres at each fastener, running torque in them; a proposal opens no gate. */
export interface BriefTorque {
  readonly aim: number;
  readonly written: string;
  readonly proposal: boolean;
  /** What a reading of it may be, where the file says. */
  readonly limits?: TorqueLimits;
}

export interface BriefJoint {
  readonly id: string;
  readonly label: string;
  readonly joins: readonly string[];
  readonly position?: Where;
  /** Planned to be released or loosened; "loosen": nothing is taken away. */
  readonly planned?: "release" | "loosen";
  /** The way that the plan goes. */
  readonly way?: string;
  /** Released before the run began. */
  readonly before: boolean;
  /** Cannot be seen from where people stand. */
  readonly hidden: boolean;
  readonly skill?: string;
  readonly torque?: BriefTorque;
  /** Two people read its torque without seeing each other's figure. */
  readonly critical: boolean;
  readonly locks: boolean;
  readonly matchMark?: string;
  readonly plugs: number;
  /** Hardware that must be counted in as it was counted out. */
  readonly hardware: readonly { readonly item: string; readonly count: number }[];
  /** What must be new. */
  readonly fresh: readonly string[];
}

export interface BriefTask {
  readonly id: string;
  readonly label: string;
  readonly position?: Where;
  readonly skill?: string;
  /** In the plan: done on the way out, undone or returned on the way back, done on the way back. */
  readonly out: boolean;
  readonly returned: boolean;
  readonly back: boolean;
  /** It is a state of the vehicle that is set and undone. */
  readonly toggles: boolean;
  readonly drains: readonly string[];
  readonly isolates: readonly string[];
  readonly lifts: readonly string[];
}

/** A part that the plan straps out of the way. */
export interface BriefHang {
  readonly id: string;
  readonly part: string;
  readonly to: string;
}

export interface BriefLift {
  readonly task: string;
  readonly label: string;
  readonly position?: Where;
  /** The parts that go up. */
  readonly parts: readonly string[];
  /** What ties them to anything else as the vehicle file has it: the cut. */
  readonly cut: readonly string[];
  readonly empties: readonly Where[];
  /** Newtons on the hook with the load free, least and most; absent where the plan could not reckon them. */
  readonly band?: { readonly low: number; readonly high: number };
}

/** Things that are looked at before something closes over them. */
export interface BriefLook {
  /** Id of the connection or task whose return closes over them. */
  readonly closes: string;
  readonly label: string;
  readonly verify: readonly string[];
}

export interface Brief {
  readonly format: "unmoor/brief/1";
  readonly run: string;
  readonly order: string;
  readonly plan: string;
  readonly vehicle: string;
  readonly version: number;
  readonly jobs: readonly string[];
  readonly people: readonly BriefPerson[];
  /** Before anything else, in this order; back last, in reverse. */
  readonly first: readonly string[];
  /** Every energy that the plan isolates, with what isolates it. */
  readonly energies: readonly { readonly energy: string; readonly by: string }[];
  readonly joints: readonly BriefJoint[];
  readonly tasks: readonly BriefTask[];
  readonly hangs: readonly BriefHang[];
  /** The job's own work, in order. */
  readonly works: readonly { readonly id: string; readonly label: string }[];
  readonly lifts: readonly BriefLift[];
  readonly looks: readonly BriefLook[];
  readonly parts: readonly { readonly id: string; readonly label: string; readonly fixed: boolean }[];
  readonly positions: readonly Where[];
  /** The steps of the plan in their order, as people were told. */
  readonly steps: readonly BriefStep[];
}

export interface BriefStep {
  readonly number: number;
  readonly action: PlanStep["action"];
  readonly id: string;
  readonly label: string;
  readonly phase: "out" | "work" | "back";
  readonly position?: Where;
  readonly minutes: number;
  readonly people: number;
  readonly skill?: string;
  readonly tools: readonly string[];
  /** Temporary things besides what closes openings. */
  readonly putIn: readonly Item[];
  readonly takeOut: readonly Item[];
  /** Parts that are off with it and lie by themselves, and parts that are fetched for it. */
  readonly setAside: readonly string[];
  readonly fetch: readonly string[];
  /** Of a last look. */
  readonly verify: readonly string[];
}

export interface Item {
  readonly item: string;
  readonly count: number;
}

/** Devices that lock, by the words of the trade for them. */
const LOCKS = /split pin|cotter|lock ?wire|tab washer|locking tab|locking plate/i;

const GRAVITY = 9.80665;

export interface BriefAsked {
  readonly run: string;
  readonly order: string;
  readonly plan: string;
  readonly version: number;
  readonly people: readonly BriefPerson[];
}

const given = <K extends string, V>(key: K, value: V | undefined): { readonly [key in K]?: V } =>
  (value === undefined ? {} : { [key]: value }) as { readonly [key in K]?: V };

/** The brief of a run on a plan of this vehicle. */
export const briefOf = (vehicle: Vehicle, plan: Plan, asked: BriefAsked): Brief => {
  const positions = new Map(vehicle.positions.map(({ id, label }): [string, Where] => [id, { id, label }]));
  const where = (id: string | undefined) => (id === undefined ? undefined : positions.get(id));
  const steps = stepsOf(vehicle, plan, where);
  const planned = new Set(steps.map(({ id }) => id));
  const energies = [...vehicle.connections, ...vehicle.tasks].flatMap(({ id, isolates }) =>
    planned.has(id) ? isolates.map((energy) => ({ energy, by: id })) : [],
  );
  const all = [...plan.out, ...plan.work, ...plan.back].flatMap((visit) => visit.steps);
  return {
    format: "unmoor/brief/1",
    ...asked,
    vehicle: vehicle.name,
    jobs: plan.jobs.map(({ id }) => id),
    first: vehicle.first.filter((id) => planned.has(id)),
    energies: energies.filter(({ energy }, i) => energies.findIndex((one) => one.energy === energy) === i),
    joints: vehicle.connections.map((connection) => jointBrief(vehicle, connection, plan, all, where)),
    tasks: vehicle.tasks.map((task) => taskBrief(task, all, where)),
    hangs: vehicle.parts.flatMap(({ id: part, hang }) =>
      hang.flatMap(({ id, to }) => (planned.has(id) ? [{ id, part, to }] : [])),
    ),
    works: steps.filter(({ action }) => action === "work").map(({ id, label }) => ({ id, label })),
    lifts: plan.lifts.map((lift) => liftBrief(vehicle, lift, where)),
    looks: all.flatMap((step) =>
      step.action === "verify" && step.verify !== undefined
        ? [{ closes: step.id, label: step.closes ?? step.id, verify: step.verify.map(({ id }) => id) }]
        : [],
    ),
    parts: vehicle.parts.map(({ id, label, fixed }) => ({ id, label, fixed })),
    positions: [...positions.values()],
    steps,
  };
};

type At = (id: string | undefined) => Where | undefined;

const stepsOf = (vehicle: Vehicle, plan: Plan, where: At): readonly BriefStep[] => {
  // A plan calls the works of a job by the job; they are done one after the other.
  const works = new Map<string, number>();
  const named = (action: PlanStep["action"], id: string) => {
    if (action !== "work") return id;
    works.set(id, (works.get(id) ?? 0) + 1);
    return `${id}/work-${works.get(id)}`;
  };
  return (["out", "work", "back"] as const).flatMap((phase) =>
    plan[phase].flatMap(({ position, steps }) =>
      steps.map(
        ({ number, action, id, label, minutes, people, skill, tools, ...step }): BriefStep => ({
          number,
          action,
          id: named(action, id),
          label,
          phase,
          ...given("position", where(position)),
          minutes,
          people,
          ...given("skill", skill),
          tools,
          putIn: besidesPlugs(vehicle, id, step.putIn),
          takeOut: besidesPlugs(vehicle, id, step.takeOut),
          setAside: step.setAside,
          fetch: step.fetch,
          verify: (step.verify ?? []).map((one) => one.id),
        }),
      ),
    ),
  );
};

const besidesPlugs = (vehicle: Vehicle, id: string, items: readonly Item[]): readonly Item[] => {
  const plugs = vehicle.connections.find((one) => one.id === id)?.plug ?? [];
  return items.filter(({ item }) => !plugs.some((plug) => plug.item === item));
};

const jointBrief = (
  vehicle: Vehicle,
  connection: Connection,
  plan: Plan,
  steps: readonly PlanStep[],
  where: At,
): BriefJoint => {
  const own = steps.filter(({ id }) => id === connection.id);
  const out = own.find(({ action }) => action === "release" || action === "loosen");
  const back = own.find(({ action }) => action === "refit" || action === "tighten");
  const way = connection.ways.find(({ id }) => id === out?.way) ?? connection.ways[0];
  const skill = back?.skill ?? out?.skill;
  return {
    id: connection.id,
    label: connection.label,
    joins: connection.joins,
    ...given("position", where(way?.at)),
    ...(out === undefined ? {} : { planned: out.action === "loosen" ? ("loosen" as const) : ("release" as const) }),
    ...given("way", out?.way),
    before: plan.releasedBefore.includes(connection.id),
    hidden: connection.hidden,
    ...given("skill", skill),
    ...given("torque", torqueBrief(vehicle, connection, way, back)),
    critical: connection.refit.critical ?? (connection.carrying && back?.torque !== undefined),
    locks: connection.hardware.some(({ item }) => LOCKS.test(item)),
    ...given("matchMark", connection.mark),
    plugs: connection.plug.reduce((sum, { count }) => sum + count, 0),
    hardware: (out?.hardware ?? []).map(({ item, count }) => ({ item, count })),
    fresh: back?.fresh ?? [],
  };
};

/** What its refit is tightened to: as the file says, or a proposal that no gate takes for a torque. */
const torqueBrief = (
  vehicle: Vehicle,
  connection: Connection,
  way: Way | undefined,
  back: PlanStep | undefined,
): BriefJoint["torque"] => {
  const planned = back?.tightening?.torque ?? back?.torque;
  const found =
    planned === undefined ? unplanned(vehicle, connection, way) : { aim: planned, limits: back?.torqueLimits };
  if (found === undefined) return undefined;
  const { aim, limits } = found;
  return {
    aim,
    written: writeQuantity(newtonMetres(aim), "torque", "N·m", 1),
    proposal: back?.tightening?.proposal === true,
    ...given("limits", limits),
  };
};

/** Of a joint that the plan leaves alone; it may have to come off all the same. */
const unplanned = (
  vehicle: Vehicle,
  connection: Connection,
  way: Way | undefined,
): { readonly aim: number; readonly limits: TorqueLimits | undefined } | undefined => {
  const reading = jointOf(vehicle, connection, way);
  if (!("joint" in reading) || reading.refit.torque === undefined) return undefined;
  const { torque, running = 0 } = reading.refit;
  return { aim: torque.nominal + running, limits: statedLimits(torque, running) };
};

const taskBrief = (task: Task, steps: readonly PlanStep[], where: At): BriefTask => {
  const acts = new Set(steps.filter(({ id }) => id === task.id).map(({ action }) => action));
  return {
    id: task.id,
    label: task.label,
    ...given("position", where(task.at)),
    ...given("skill", task.skill),
    out: acts.has("do"),
    returned: acts.has("undo") || acts.has("return"),
    back: acts.has("perform"),
    toggles: task.undo !== undefined,
    drains: task.drains,
    isolates: task.isolates,
    lifts: task.lifts,
  };
};

const liftBrief = (vehicle: Vehicle, lift: PlannedLift, where: At): BriefLift => {
  const task = vehicle.tasks.find(({ id }) => id === lift.task);
  const group = new Set(lift.parts.map(({ id }) => id));
  const crosses = ({ joins }: Connection) => joins.some((id) => group.has(id)) && joins.some((id) => !group.has(id));
  return {
    task: lift.task,
    label: lift.label,
    ...given("position", where(task?.at)),
    parts: [...group],
    cut: vehicle.connections.filter(crosses).map(({ id }) => id),
    empties: (task?.empties ?? []).flatMap((id) => where(id) ?? []),
    ...given("band", bandOf(vehicle, lift)),
  };
};

/** Newtons on the cell with nothing holding on: the parts at the ends of their tolerances, what hangs on the hook besides, and the cell's own error. */
const bandOf = (vehicle: Vehicle, lift: PlannedLift): BriefLift["band"] => {
  if (lift.withoutMass.length > 0) return undefined;
  const tackle = vehicle.hoists.find(({ id }) => id === lift.hoist?.id)?.tackle ?? 0;
  const masses = vehicle.parts.flatMap((part) =>
    part.mass !== undefined && lift.parts.some(({ id }) => id === part.id) ? [part.mass] : [],
  );
  const sum = (end: "low" | "high") =>
    masses.reduce((total, mass) => total + mass[end], tackle + (lift.beam?.mass ?? 0)) * GRAVITY;
  return { low: sum("low") * (1 - CELL_ERROR), high: sum("high") * (1 + CELL_ERROR) };
};

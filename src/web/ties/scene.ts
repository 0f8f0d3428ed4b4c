// Owns what the tie chart is about: the assembly of a plan, every connection that concerns it, and how each stands after so many steps.

import type { Plan, PlanStep } from "../../plan/index.ts";
import { ties } from "../../release/index.ts";
import type { Connection, Kind, Vehicle } from "../../vehicle/index.ts";

/** What of a plan comes free: a lifted group, or a part that is set aside by hand. */
export interface Assembly {
  readonly id: string;
  readonly label: string;
  readonly parts: readonly string[];
  readonly isLift: boolean;
}

/** Everything of a plan that comes free, lifts first; what the job is about before what is only in its way. */
export const assembliesOf = (vehicle: Vehicle, plan: Plan): readonly Assembly[] => {
  const label = (id: string) => plan.labels[id] ?? id;
  const lifted = new Set(plan.lifts.flatMap(({ parts }) => parts.map(({ id }) => id)));
  const wanted = new Set(
    vehicle.jobs.filter(({ id }) => plan.jobs.some((job) => job.id === id)).flatMap((job) => mentioned(job.needs)),
  );
  const aside = plan.setAside.filter((id) => !lifted.has(id));
  return [
    ...plan.lifts.map(({ task, parts }) => ({
      id: task,
      label: parts.map((part) => part.label).join(", "),
      parts: parts.map(({ id }) => id),
      isLift: true,
    })),
    ...[...aside.filter((id) => wanted.has(id)), ...aside.filter((id) => !wanted.has(id))].map((id) => ({
      id,
      label: label(id),
      parts: [id],
      isLift: false,
    })),
  ];
};

const mentioned = (needs: unknown): readonly string[] =>
  [...JSON.stringify(needs).matchAll(/"([^"]+)"/g)].map(([, id]) => id ?? "");

/**
 * How a connection stands: it holds the assembly (`tied`); it is made and holds something, but not the assembly any more (`slack`);
 * it is undone (`loose`), looked at by a second person (`verified`), found faulty; it goes up within the assembly (`inside`).
 */
export type Standing = "tied" | "slack" | "loose" | "verified" | "faulty" | "inside";

export interface Tie {
  readonly id: string;
  readonly label: string;
  readonly kind: Kind;
  readonly joins: readonly string[];
  /** Whether it lies in the cut between the assembly and all else; the others are undone for the way there. */
  readonly isCut: boolean;
  /** Where it is worked on; empty where the file says nothing. */
  readonly position: string;
  /** The number of its step; absent where the plan leaves it alone. */
  readonly step?: number;
  readonly at?: readonly [number, number, number];
  readonly hidden: boolean;
}

export interface Scene {
  readonly assembly: Assembly;
  readonly ties: readonly Tie[];
  /** Every step of the plan in its order, out, work and back. */
  readonly steps: readonly PlanStep[];
  readonly positions: readonly { readonly id: string; readonly label: string }[];
}

const isRelease = ({ action }: PlanStep): boolean => action === "release" || action === "loosen";
const isRefit = ({ action }: PlanStep): boolean => action === "refit" || action === "tighten";

/** The ties of an assembly: its whole cut, what is within it, and what else the plan undoes. */
export const sceneOf = (vehicle: Vehicle, plan: Plan, assembly: Assembly): Scene => {
  const group = new Set(assembly.parts);
  const visits = [...plan.out, ...plan.work, ...plan.back];
  const steps = visits.flatMap((visit) => visit.steps);
  const step = new Map(steps.filter(isRelease).map((one) => [one.id, one.number] as const));
  const where = new Map(
    visits.flatMap(({ position, steps: own }) => own.filter(isRelease).map(({ id }) => [id, position ?? ""] as const)),
  );
  const before = new Set(plan.releasedBefore);
  const drawn = vehicle.connections.flatMap((connection): Tie[] => {
    const { id, label, kind, joins, at, hidden } = connection;
    const inside = joins.some((part) => group.has(part));
    const isCut = inside && joins.some((part) => !group.has(part));
    if (!(inside || step.has(id) || before.has(id))) return [];
    const number = step.get(id);
    return [
      {
        id,
        label,
        kind,
        joins,
        isCut,
        position: where.get(id) ?? connection.ways[0]?.at ?? "",
        ...(number === undefined ? {} : { step: number }),
        ...(at === undefined ? {} : { at }),
        hidden,
      },
    ];
  });
  const used = new Set(drawn.map(({ position }) => position));
  return {
    assembly,
    ties: drawn,
    steps,
    positions: vehicle.positions.filter(({ id }) => used.has(id)).map(({ id, label }) => ({ id, label })),
  };
};

/** Connections that are undone when so many steps are done; those that were before the plan began are too. */
export const releasedAfter = (scene: Scene, plan: Pick<Plan, "releasedBefore">, count: number): ReadonlySet<string> => {
  const released = new Set(plan.releasedBefore);
  for (const one of scene.steps.slice(0, count)) {
    if (isRelease(one)) released.add(one.id);
    if (isRefit(one)) released.delete(one.id);
  }
  return released;
};

/** The steps after which the assembly is in the air, and set down again where it was. */
export const aloftBetween = (scene: Scene): readonly [number, number] | undefined => {
  const up = scene.steps.findIndex(({ action, id }) => action === "do" && id === scene.assembly.id);
  if (up < 0) return undefined;
  const down = scene.steps.findIndex(
    ({ action, id }, index) => index > up && id === scene.assembly.id && (action === "return" || action === "undo"),
  );
  return [up + 1, down < 0 ? scene.steps.length : down + 1];
};

export interface Held {
  readonly standing: ReadonlyMap<string, Standing>;
  /** How many still hold the assembly. */
  readonly count: number;
  /** From the assembly to something fixed, parts and connections in turn; empty where nothing is left. */
  readonly chain: readonly string[];
  readonly free: boolean;
}

/**
 * How everything stands with these undone. What is made holds the assembly where something fixed can be reached from its far end without going through the
 * assembly; the search for a chain is the release room's own.
 */
export const heldBy = (
  vehicle: Vehicle,
  scene: Scene,
  released: ReadonlySet<string>,
  verified: ReadonlySet<string> = new Set(),
  faulty: ReadonlySet<string> = new Set(),
): Held => {
  const group = new Set(scene.assembly.parts);
  const firm = firmParts(vehicle, group, released);
  const standing = new Map(
    scene.ties.map((tie): readonly [string, Standing] => {
      if (faulty.has(tie.id)) return [tie.id, "faulty"];
      if (released.has(tie.id)) return [tie.id, verified.has(tie.id) ? "verified" : "loose"];
      if (tie.joins.every((part) => group.has(part))) return [tie.id, "inside"];
      return [tie.id, tie.isCut && tie.joins.some((part) => firm.has(part)) ? "tied" : "slack"];
    }),
  );
  const { chain, free } = ties(vehicle, released, scene.assembly.parts);
  const holding = scene.ties.filter(
    ({ id, isCut, joins }) => isCut && !released.has(id) && joins.some((part) => firm.has(part)),
  );
  return { standing, count: holding.length, chain, free };
};

/** Parts that something fixed still holds, the assembly left out of it. */
const firmParts = (
  vehicle: Vehicle,
  group: ReadonlySet<string>,
  released: ReadonlySet<string>,
): ReadonlySet<string> => {
  const made = new Map<string, Connection[]>();
  for (const one of vehicle.connections)
    if (!released.has(one.id))
      for (const part of one.joins) {
        const own = made.get(part);
        // Thousands may be at one part: what is known of it is added to, and not copied each time.
        if (own === undefined) made.set(part, [one]);
        else own.push(one);
      }
  const firm = new Set(vehicle.parts.filter(({ fixed }) => fixed).map(({ id }) => id));
  for (const part of firm)
    for (const { joins } of made.get(part) ?? []) for (const other of joins) if (!group.has(other)) firm.add(other);
  return firm;
};

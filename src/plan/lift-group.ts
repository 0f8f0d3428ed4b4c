// Owns what of a plan belongs to one of its lifts: the steps before it, the ties cut for it, what stands in its way, what its load stood on.

import type { Box, Foot, Remark, StayingTie, Stretch } from "../rigging/index.ts";
import type { Connection, Vehicle } from "../vehicle/index.ts";
import type { Group } from "./lift-rig.ts";
import type { Plan, PlanStep } from "./plan.ts";
import { deepInside } from "./polygon.ts";

/** Metres straight up where the file gives a lift no path. */
const UP = 0.5;
export const STRAIGHT_UP: readonly Stretch[] = [{ move: [0, 0, UP], label: "straight up" }];

/** The steps out and of the work, in order. */
export const stepsOf = (plan: Pick<Plan, "out" | "work">): readonly PlanStep[] =>
  [...plan.out, ...plan.work].flatMap(({ steps }) => steps);

/** Connections that the plan releases, or that were released before it, up to a step and with it. */
function releasedUntil(plan: Pick<Plan, "out" | "work" | "releasedBefore">, number: number): ReadonlySet<string> {
  return new Set([
    ...plan.releasedBefore,
    ...stepsOf(plan).flatMap((step) =>
      step.number <= number && (step.action === "release" || step.action === "loosen") ? [step.id] : [],
    ),
  ]);
}

/** The connections between a lifted group and all else: the cut that sets it free. */
export const cutOf = (vehicle: Vehicle, parts: readonly string[]): readonly Connection[] => {
  const group = new Set(parts);
  return vehicle.connections.filter(
    ({ joins }) => joins.some((id) => group.has(id)) && joins.some((id) => !group.has(id)),
  );
};

/** Each tie of the cut, as if it had been forgotten: its two ends lie together and may be parted by its slack. */
export const tiesOf = (cut: readonly Connection[]): readonly StayingTie[] =>
  cut.flatMap(({ id, at, slack }) => (at === undefined ? [] : [{ id, on: at, to: at, length: slack }]));

/** What the load stands on before the lift: the mounts of the cut that bear from below, where they do without the others, else all that carry. */
export function feetOf(cut: readonly Connection[], [x, y]: readonly [number, number, number]): readonly Foot[] {
  const placed = (list: readonly Connection[]): readonly Foot[] =>
    list.flatMap(({ at }) => (at === undefined ? [] : [{ at }]));
  const rests = placed(cut.filter(({ rests: bears }) => bears));
  const polygon = rests.map(({ at }) => [at[0], at[1]] as const);
  return deepInside([x, y], polygon) > 0 ? rests : placed(cut.filter(({ carrying }) => carrying));
}

/** What stands in a load's way: the file's obstacles, and every part with an outline that neither goes up nor is out of the way by then. */
export const obstaclesOf = (vehicle: Vehicle, { parts, off }: Group): readonly Box[] => [
  ...(vehicle.obstacles ?? []),
  ...vehicle.parts
    .filter(({ id }) => !parts.includes(id) && !off.includes(id))
    .flatMap(({ id, outline = [] }) =>
      outline.map(({ low, high }, i): Box => ({ id: i === 0 ? id : `${id}/${i + 1}`, low, high })),
    ),
];

/** The lifted groups of a plan. */
export const groupsOf = (vehicle: Vehicle, plan: Plan): readonly Group[] =>
  plan.lifts.map(({ task, parts }) => {
    const lift = stepsOf(plan).find(({ action, id }) => action === "do" && id === task);
    const released = releasedUntil(plan, lift?.number ?? Number.POSITIVE_INFINITY);
    const up = new Set(parts.map(({ id }) => id));
    const tied = new Set(vehicle.connections.flatMap(({ id, joins }) => (released.has(id) ? [] : joins)));
    const hung = new Set(plan.hung.map(({ part }) => part));
    return {
      task,
      parts: [...up],
      off: vehicle.parts
        .filter(({ id, fixed }) => !fixed && !up.has(id) && (!tied.has(id) || hung.has(id)))
        .map(({ id }) => id),
    };
  });

const degrees = (radians: number): number => (radians * 180) / Math.PI;

/** The way a lift goes, by its task; straight up where the file says none, which is said. */
export function pathOf(
  vehicle: Vehicle,
  task: string,
): { readonly path: readonly Stretch[]; readonly assumed: readonly Remark[] } {
  const path = vehicle.tasks.find(({ id }) => id === task)?.path;
  if (path === undefined || path.length === 0)
    return {
      path: STRAIGHT_UP,
      assumed: [{ is: "straight up", length: UP }],
    };
  return {
    path: path.map(({ move, pitch, roll, label }, i) => ({
      move,
      label: label ?? `stretch ${i + 1}`,
      ...(pitch === undefined && roll === undefined
        ? {}
        : { to: { pitch: degrees(pitch ?? 0), roll: degrees(roll ?? 0) } }),
    })),
    assumed: [],
  };
}

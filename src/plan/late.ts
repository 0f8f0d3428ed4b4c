// Owns the doubt about what is released at the vehicle though the lift has taken it away.
//
// A connection between parts that went up together is on the stand with them, and a way to it at the vehicle is then no way. A position is at
// the vehicle when the question releases something from a fixed part there; a way that itself, or whose position, needs the lift is meant for after it.

import type { Need, Plan, Problem, Step } from "../release/index.ts";
import { idOf } from "./arrange.ts";
import type { Question } from "./question.ts";

const names = (need: Need, task: string): boolean => {
  if ("done" in need) return need.done === task;
  if ("all" in need) return need.all.some((one) => names(one, task));
  return "any" in need && need.any.some((one) => names(one, task));
};

const positionsAtVehicle = ({ parts, connections }: Problem): ReadonlySet<string> => {
  const fixed = new Set(parts.filter((part) => part.fixed).map((part) => part.id));
  return new Set(
    connections.flatMap(({ joins, ways }) =>
      joins.some((part) => fixed.has(part)) ? ways.flatMap(({ position }) => position ?? []) : [],
    ),
  );
};

/** The connections that an order releases at the vehicle after a lift took the parts that they join, in its order. */
export const releasedLate = (
  { problem, access }: Pick<Question, "problem" | "access">,
  order: readonly Step[],
  lifts: Plan["lifts"],
): readonly string[] => {
  const here = positionsAtVehicle(problem);
  const connections = new Map(problem.connections.map((one) => [one.id, one]));
  const late = lifts.flatMap(({ task, parts }) => {
    const group = new Set(parts);
    const lift = order.findIndex((step) => idOf(step) === task);
    return order.slice(lift + 1).filter((step) => {
      const connection = "release" in step ? connections.get(step.release) : undefined;
      const way = connection?.ways.find(({ id }) => "release" in step && id === step.way);
      return (
        way?.position !== undefined &&
        here.has(way.position) &&
        connection?.joins.every((part) => group.has(part)) === true &&
        !(access.get(way.id) ?? []).some((need) => names(need, task))
      );
    });
  });
  return [...new Set(late)].map(idOf);
};

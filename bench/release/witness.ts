// Owns the proof that a generated machine can be taken apart: one legal plan, dear but sure, made by construction and not by search.

import type { Connection, Need, Problem, Task } from "../../src/release/problem.ts";
import type { Step } from "../../src/release/result.ts";
import { LIFT } from "./draft.ts";

/** Where a part ends in the sure plan: up with the cores, on the vehicle, or on the bench by itself. */
export type Fate = "up" | "stays" | "aside";

/**
 * What becomes of each part when everything light that only a core bears is set aside, and nothing that the vehicle bears is touched.
 *
 * @param cores the heavy parts that go up together
 */
export function drawFates(
  problem: Pick<Problem, "parts" | "connections" | "handLimit">,
  cores: ReadonlySet<string>,
): Map<string, Fate> {
  const borne = new Map<string, string[]>();
  for (const connection of problem.connections.filter((c) => c.carrying)) {
    for (const id of connection.joins) borne.set(id, [...(borne.get(id) ?? []), ...connection.joins]);
  }
  const reach = (from: readonly string[], closed: ReadonlySet<string>): Set<string> => {
    const seen = new Set(from);
    const open = [...from];
    for (let id = open.pop(); id !== undefined; id = open.pop()) {
      for (const next of borne.get(id) ?? []) {
        if (seen.has(next) || closed.has(next)) continue;
        seen.add(next);
        open.push(next);
      }
    }
    return seen;
  };
  const byVehicle = reach(
    problem.parts.filter((part) => part.fixed).map((part) => part.id),
    cores,
  );
  const byCores = reach([...cores], byVehicle);
  // What nothing bears (a cover, a harness) stays if it is tied to the vehicle at all, else it goes with the core it is on.
  const atVehicle = new Set(
    problem.connections.filter((c) => c.joins.some((id) => byVehicle.has(id))).flatMap((c) => c.joins),
  );
  const fate = (id: string, mass: number): Fate => {
    if (cores.has(id)) return "up";
    if (byVehicle.has(id)) return "stays";
    if (byCores.has(id)) return mass <= problem.handLimit ? "aside" : "up";
    return atVehicle.has(id) ? "stays" : "up";
  };
  return new Map(problem.parts.map((part) => [part.id, fate(part.id, part.mass)]));
}

/** A legal plan out of a generated machine: the first way of each connection, toggles set and undone whenever a step asks for it. */
export function proveFeasible(problem: Problem, cores: ReadonlySet<string>): Step[] {
  const fates = drawFates(problem, cores);
  const connections = new Map(problem.connections.map((c) => [c.id, c]));
  const tasks = new Map(problem.tasks.map((task) => [task.id, task]));
  const made = new Set(problem.released);
  const tied = new Map<string, Connection[]>(problem.parts.map((each) => [each.id, []]));
  for (const c of problem.connections) for (const id of c.joins) tied.get(id)?.push(c);
  const on = new Set<string>();
  const order: Step[] = [];
  // A part's own mount is drawn before anything else of it. Where the part is set aside its mount waits for all the rest, so that it
  // comes off by hand in that step.
  const before = new Map<string, string[]>();
  for (const [part, fate] of fates) {
    const own = tied.get(part) ?? [];
    const last = own.find((c) => c.carrying);
    if (fate === "aside" && last)
      before.set(last.id, [...(before.get(last.id) ?? []), ...own.map((c) => c.id).filter((id) => id !== last.id)]);
  }

  const meet = (need: Need): void => {
    if ("released" in need) release(need.released);
    else if ("done" in need) perform(need.done);
    else if ("all" in need) need.all.toReversed().forEach(meet);
    else if ("any" in need) need.any.slice(0, 1).forEach(meet);
    else part(need.apart);
  };
  const toggles = (needs: readonly Need[], without: readonly string[]): void => {
    for (const id of without) if (on.delete(id)) order.push({ undo: id });
    for (const need of needs) if ("done" in need && tasks.get(need.done)?.toggle) perform(need.done);
  };
  const release = (id: string): void => {
    const connection = connections.get(id);
    const way = connection?.ways[0];
    if (made.has(id) || way === undefined) return;
    made.add(id);
    for (const other of before.get(id) ?? []) release(other);
    way.needs.forEach(meet);
    toggles(way.needs, way.without);
    order.push({ release: id, way: way.id });
  };
  const perform = (id: string): void => {
    const task = tasks.get(id) as Task;
    if (task.toggle ? on.has(id) : made.has(id)) return;
    if (task.toggle) on.add(id);
    else made.add(id);
    task.needs.forEach(meet);
    toggles(task.needs, task.without);
    if (task.lift && id !== LIFT) throw new Error(`the sure plan has no use for ${id}`);
    order.push({ do: id });
  };
  /** Everything between two groups that are already up: whatever is tied to the first alone goes with it. */
  const part = ([one, other]: readonly [readonly string[], readonly string[]]): void => {
    const side = new Set<string>(one);
    const open = [...one];
    for (let id = open.pop(); id !== undefined; id = open.pop()) {
      for (const c of tied.get(id) ?? []) {
        if (!c.carrying || made.has(c.id)) continue;
        for (const next of c.joins) {
          if (side.has(next) || cores.has(next) || fates.get(next) !== "up") continue;
          side.add(next);
          open.push(next);
        }
      }
    }
    for (const c of problem.connections) {
      const mixed = c.joins.some((id) => side.has(id)) && c.joins.some((id) => !side.has(id));
      if (mixed && !made.has(c.id)) release(c.id);
    }
    if (side.has(other[0] as string)) throw new Error("the two groups to part are one");
  };

  perform("sling");
  for (const c of problem.connections) {
    const ends = new Set(c.joins.map((id) => fates.get(id)));
    if (ends.size > 1 || ends.has("aside")) release(c.id);
  }
  perform(LIFT);
  for (const task of problem.tasks) if (task.must) perform(task.id);
  return order;
}

// Owns the warnings: what a vehicle file may say and most likely does not mean. Each has a test and a paragraph in
// docs/vehicle-file.md; each says where, what, and what would mend it.

import { writeQuantity } from "../quantity/index.ts";
import { type Cause, explain, findCauses } from "./conflict.ts";
import type { Desk } from "./desk.ts";
import { doubtFastening } from "./fastened-rules.ts";
import { deriveHoldings, type Graph, type Holdings, type Line } from "./hold.ts";
import type { Connection, Need, Part, Refit, Vehicle } from "./model.ts";
import { namedIn } from "./rules.ts";

/** Kinds that are tightened to a figure. */
const TIGHTENED: readonly Connection["kind"][] = ["mount", "bolted joint", "flange"];
/** What must not lie open: dirt goes in, the rest runs out. A fluid is one of these when its name has the word. */
const CLOSED = ["fuel", "diesel", "petrol", "oil", "air", "hydraulic", "coolant"];
/** Rests that can hold a part by themselves: fewer points have no area to stand on. */
const STANDING = 3;

export function checkDoubts(vehicle: Vehicle, desk: Desk): void {
  const holdings = deriveHoldings(vehicle, desk);
  doubtHolding(vehicle, desk);
  doubtHangs(vehicle, desk);
  doubtMasses(vehicle, desk);
  doubtConnections(vehicle, desk);
  doubtFastening(vehicle, desk);
  doubtFluids(vehicle, desk, holdings);
  doubtEnergy(vehicle, desk, holdings);
  doubtTasks(vehicle, desk);
  doubtNeeds(vehicle, desk, holdings);
}

/** Parts that chains of the connections join, without passing through a fixed part: part id → the name of its body. */
function bodies(vehicle: Vehicle, joins: (connection: Connection) => boolean): (part: string) => string {
  const up = new Map<string, string>();
  const fixed = new Set(vehicle.parts.filter((part) => part.fixed).map((part) => part.id));
  const find = (part: string): string => {
    let root = part;
    for (let next = up.get(root); next !== undefined; next = up.get(root)) root = next;
    for (let each = part; each !== root; ) {
      const next = up.get(each) ?? root;
      up.set(each, root);
      each = next;
    }
    return root;
  };
  for (const connection of vehicle.connections) {
    if (!joins(connection)) continue;
    const free = connection.joins.filter((part) => !fixed.has(part));
    for (const part of free.slice(1)) {
      const [a, b] = [find(free[0]!), find(part)];
      if (a !== b) up.set(a, b);
    }
  }
  return find;
}

const isHeavy = (part: Part, vehicle: Vehicle): boolean =>
  !part.fixed && part.mass !== undefined && part.mass.high > vehicle.limits.hand;

/**
 * Heavy parts that nothing holds, or that nothing will hold once their last mount goes. The second is said only where
 * no plan can do it: no task supports or lifts anything in the body that carrying connections make of it, no part of
 * it can be hung aside, and it stands on fewer than three rests.
 */
function doubtHolding(vehicle: Vehicle, desk: Desk): void {
  const carried = bodies(vehicle, (connection) => connection.carrying);
  const fixed = new Set(vehicle.parts.filter((part) => part.fixed).map((part) => part.id));
  const supported = new Set(vehicle.tasks.flatMap((task) => task.supports.map(carried)));
  const lifted = new Set(vehicle.tasks.flatMap((task) => task.lifts.map(carried)));
  const hung = new Set(vehicle.parts.filter((part) => part.hang.length > 0).map((part) => carried(part.id)));
  const anchored = new Set<string>();
  const rests = new Map<string, number>();
  const released = new Map<string, Connection>();
  for (const connection of vehicle.connections) {
    if (!connection.carrying) continue;
    const holds = connection.joins.some((part) => fixed.has(part));
    for (const body of new Set(connection.joins.filter((part) => !fixed.has(part)).map(carried))) {
      if (!holds) continue;
      anchored.add(body);
      if (connection.rests) rests.set(body, (rests.get(body) ?? 0) + 1);
      if (connection.ways.length > 0 && !released.has(body)) released.set(body, connection);
    }
  }
  for (const part of vehicle.parts) {
    if (!isHeavy(part, vehicle)) continue;
    const body = carried(part.id);
    const mass = writeQuantity(part.mass!.high, "mass", "kg", 1);
    const hand = writeQuantity(vehicle.limits.hand, "mass", "kg", 1);
    const values = { part: part.id, mass: part.mass!.high, hand: vehicle.limits.hand };
    if (!anchored.has(body))
      desk.warn(
        "heavy-unheld",
        desk.nodeOf(part),
        `${part.id} may weigh ${mass}, and no carrying connection holds it to anything fixed.`,
        "Describe the mount, bracket or flange that bears it, or write carrying: true at what does.",
        values,
      );
    else if (
      released.has(body) &&
      !supported.has(body) &&
      !hung.has(body) &&
      !lifted.has(body) &&
      (rests.get(body) ?? 0) < STANDING
    )
      desk.warn(
        "heavy-unsupported",
        desk.nodeOf(part),
        `${part.id} may weigh ${mass}, more than the ${hand} that hands may take, and no task takes its weight before its last mount goes.`,
        `Add a task with supports: [${part.id}] or lifts: [${part.id}], or a hang.`,
        values,
        [desk.nodeOf(released.get(body)!)],
      );
  }
}

/** Hangs that come too late: their needs release all that carries the part, so that it would have dropped before it is tied up. */
function doubtHangs(vehicle: Vehicle, desk: Desk): void {
  const carried = bodies(vehicle, (connection) => connection.carrying);
  const held = new Set(vehicle.tasks.flatMap((task) => [...task.supports, ...task.lifts].map(carried)));
  for (const part of vehicle.parts) {
    const carriers = vehicle.connections.filter(({ carrying, joins }) => carrying && joins.includes(part.id));
    if (carriers.length === 0 || carriers.some(({ rests }) => rests) || held.has(carried(part.id))) continue;
    for (const hang of part.hang) {
      const needed = new Set(hang.needs.flatMap(outright));
      if (!carriers.every(({ id }) => needed.has(id))) continue;
      const ids = carriers.map(({ id }) => id);
      desk.warn(
        "hang-too-late",
        desk.nodeOf(hang, "needs"),
        `${hang.id} ties ${part.id} up only when nothing carries it any longer: it needs ${ids.join(" and ")} released.`,
        "Take that need away: it is tied up first, and hangs there once what carries it is off.",
        { part: part.id, hang: hang.id, needs: ids },
      );
    }
  }
}

/** The ids that a need names outright, whatever else holds. */
const outright = (need: Need): readonly string[] =>
  "all" in need ? need.all.flatMap(outright) : "id" in need ? [need.id] : [];

/** Parts without a mass that may go up with a lift: what hangs on the hook would weigh more than is reckoned. */
function doubtMasses(vehicle: Vehicle, desk: Desk): void {
  const tied = bodies(vehicle, () => true);
  const lift = new Map<string, string>();
  for (const task of vehicle.tasks) for (const part of task.lifts) lift.set(tied(part), task.id);
  for (const part of vehicle.parts) {
    const task = lift.get(tied(part.id));
    if (part.fixed || part.mass !== undefined || task === undefined) continue;
    desk.warn(
      "no-mass",
      desk.nodeOf(part),
      `${part.id} has no mass and may go up with ${task}; it is reckoned as nothing.`,
      "Write its mass, with its doubt if it is a guess: mass: 12 kg ± 30 %.",
      { part: part.id, task },
    );
  }
}

const isTightened = (refit: Refit | undefined): boolean =>
  refit !== undefined && (refit.torque !== undefined || refit.preload !== undefined);

/** What a connection itself leaves unsaid: its torque, what closes it. */
function doubtConnections(vehicle: Vehicle, desk: Desk): void {
  for (const connection of vehicle.connections) {
    const { id, kind, ways, refit, holds, plug } = connection;
    if (
      TIGHTENED.includes(kind) &&
      ways.length > 0 &&
      !isTightened(refit) &&
      !ways.every((way) => isTightened(way.refit))
    )
      desk.warn(
        "no-torque",
        desk.nodeOf(connection),
        `${id} is a ${kind}, and its refit has no torque.`,
        "Write it from the maker's instructions: refit: { torque: 48 N·m }. What is reckoned from the class instead stays a proposal.",
        { connection: id, kind },
      );
    if (
      holds !== undefined &&
      plug.length === 0 &&
      ways.some((way) => !way.loosen) &&
      CLOSED.some((word) => holds.fluid.toLowerCase().includes(word))
    )
      desk.warn(
        "no-plug",
        desk.nodeOf(connection, "holds"),
        `${id} is opened to ${holds.fluid}, and nothing closes it meanwhile.`,
        "Write what does, once an end: plug: [plug 16 mm, cap 16 mm].",
        { connection: id, fluid: holds.fluid },
      );
  }
}

/** Fluids that run out undrained, and drains that mix. */
function doubtFluids(vehicle: Vehicle, desk: Desk, holdings: Holdings): void {
  const { graph, tasks, steps } = holdings;
  const drains = new Map<string, number[]>();
  for (const task of vehicle.tasks) {
    const fluids = [...new Set(task.drains)];
    for (const fluid of fluids) {
      const node = tasks.get(task.id)!;
      const list = drains.get(fluid);
      if (list === undefined) drains.set(fluid, [node]);
      else list.push(node);
    }
    if (fluids.length > 1)
      desk.warn(
        "mixed-drain",
        desk.nodeOf(task, "drains"),
        `${task.id} drains ${fluids.join(" and ")} as one.`,
        "Give each fluid a task of its own: mixed, neither can go back in.",
        { task: task.id, fluids },
      );
  }
  const drained = new Map<string, ReadonlySet<number>>();
  for (const [fluid, sources] of drains) drained.set(fluid, graph.spread(sources));
  const first = firstNodes(vehicle, holdings);
  for (const connection of vehicle.connections) {
    const fluid = connection.holds?.fluid;
    if (fluid === undefined || connection.catch !== undefined) continue;
    const dry = drained.get(fluid);
    if (dry !== undefined && first.some((node) => dry.has(node))) continue;
    const wet = connection.ways.find((way) => !dry?.has(steps.get(way.id)!));
    if (wet === undefined) continue;
    desk.warn(
      "no-drain",
      desk.nodeOf(wet),
      `${connection.id} holds ${fluid}, and nothing drains it before it is opened.`,
      `Name a task with drains: [${fluid}] among its needs, or say what to catch: catch: 0.4 L ${fluid}.`,
      { connection: connection.id, fluid },
    );
  }
}

/** The steps of `first`: before everything else, so what they do is done for all. */
const firstNodes = (vehicle: Vehicle, { connections, tasks }: Holdings): readonly number[] =>
  vehicle.first.map((id) => (connections.get(id) ?? tasks.get(id))!);

/** Cables that are live when they are taken off. */
function doubtEnergy(vehicle: Vehicle, desk: Desk, holdings: Holdings): void {
  const { graph, connections, tasks, steps } = holdings;
  const sources = new Map<string, number[]>();
  const off = (energy: string, node: number): void => {
    const list = sources.get(energy);
    if (list === undefined) sources.set(energy, [node]);
    else list.push(node);
  };
  for (const connection of vehicle.connections)
    for (const energy of connection.isolates) off(energy, connections.get(connection.id)!);
  for (const task of vehicle.tasks) for (const energy of task.isolates) off(energy, tasks.get(task.id)!);
  const isolated = new Map([...sources].map(([energy, nodes]) => [energy, graph.spread(nodes)] as const));
  const first = firstNodes(vehicle, holdings);
  for (const connection of vehicle.connections) {
    const { live } = connection;
    if (live === undefined || connection.isolates.includes(live)) continue;
    const dead = isolated.get(live);
    if (dead !== undefined && first.some((node) => dead.has(node))) continue;
    const way = connection.ways.find((each) => !dead?.has(steps.get(each.id)!));
    if (way === undefined) continue;
    desk.warn(
      "no-isolation",
      desk.nodeOf(way),
      `${connection.id} is live with ${live}, and nothing isolates that before it is released.`,
      `Name what isolates it (isolates: [${live}]) among its needs, or under first.`,
      { connection: connection.id, live },
    );
  }
}

/** Tasks that no step, refit, position or job asks for, and that the plan has no use for of itself. */
function doubtTasks(vehicle: Vehicle, desk: Desk): void {
  const named = new Set<string>(vehicle.first);
  const note = (by: string, ids: Iterable<string>): void => {
    for (const id of ids) if (id !== by) named.add(id);
  };
  const needed = (by: string, needs: Parameters<typeof namedIn>[0]): void => {
    for (const { id } of namedIn(needs)) if (id !== by) named.add(id);
  };
  for (const position of vehicle.positions) needed(position.id, position.needs);
  for (const part of vehicle.parts) for (const hang of part.hang) needed(part.id, hang.needs);
  for (const connection of vehicle.connections) {
    note(connection.id, connection.refit.then);
    for (const way of connection.ways) {
      needed(connection.id, way.needs);
      if (way.refit !== undefined) note(connection.id, way.refit.then);
    }
  }
  for (const task of vehicle.tasks) needed(task.id, task.needs);
  for (const job of vehicle.jobs) {
    needed(job.id, job.needs);
    for (const work of job.work) needed(job.id, work.needs);
  }
  for (const task of vehicle.tasks) {
    // A plan takes up supports and lifts of itself, where carrying or the hook asks for them.
    if (named.has(task.id) || task.supports.length > 0 || task.lifts.length > 0) continue;
    desk.warn(
      "task-unneeded",
      desk.nodeOf(task),
      `nothing needs ${task.id}, so no plan will do it.`,
      task.phase === "back"
        ? `Call for it from the refit that it belongs to: then: [${task.id}].`
        : `Name it among the needs of what it comes before, or under first.`,
      { task: task.id },
    );
  }
}

/** Sentences shown of a conflict; the places of all are in `others`. */
const SHOWN = 6;

const tell = (lines: readonly Line[]): string => {
  const said = lines.map((line) => line.says);
  if (said.length === 1) return said[0]!;
  const shown = said.slice(0, SHOWN);
  const more = said.length - shown.length;
  return more > 0
    ? `${shown.join(", ")}, and ${more} more`
    : `${shown.slice(0, -1).join(", ")} and ${shown[shown.length - 1]}`;
};

/** Needs that can never hold, each cause once with the lines that conflict; and positions that nobody can reach. */
function doubtNeeds(vehicle: Vehicle, desk: Desk, { graph, positions }: Holdings): void {
  const told = new Set<number>();
  for (const position of vehicle.positions) {
    const node = positions.get(position.id)!;
    if (graph.holds[node] === 1) continue;
    const cause = explain(graph, node);
    for (const each of cause.nodes) told.add(each);
    desk.warn(
      "position-unreachable",
      desk.nodeOf(position),
      `nobody can get to ${position.id}: ${tell(cause.lines)}.`,
      "Take one of these needs away, or give it another way with any.",
      { position: position.id, conflict: cause.lines.map((line) => line.says) },
      cause.lines.map((line) => line.node),
    );
  }
  for (const cause of findCauses(graph)) {
    const lines = inFull(graph, cause);
    const [at] = lines;
    if (at === undefined || cause.nodes.some((node) => told.has(node))) continue;
    desk.warn(
      "need-never-holds",
      at.node,
      `this can never hold: ${tell(lines)}.`,
      "Take one of these needs away, or give it another way with any.",
      { conflict: lines.map((line) => line.says) },
      lines.map((line) => line.node),
    );
  }
}

/** A cause of one node is what a need names: the need's own line belongs to it. Nothing, if no need names it. */
function inFull(graph: Graph, cause: Cause): readonly Line[] {
  const [node] = cause.nodes;
  if (node === undefined || cause.nodes.length > 1) return cause.lines;
  const need = graph.namedBy(node);
  return need === undefined ? [] : [need, ...cause.lines];
}

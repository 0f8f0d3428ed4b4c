// Owns what can ever hold: the file's steps and needs as one graph of AND and OR, and the least set of its nodes that
// follows. What does not follow can never be done, in whatever order. Carrying and lifting are not in it: a plan
// answers for those.

import type { Desk } from "./desk.ts";
import type { Connection, Need, Position, Task, Vehicle, Work } from "./model.ts";
import type { Node } from "./source.ts";

/**
 * `all` holds when every child does, `any` when one does, `never` never. `cut` is a need for parts to be apart: it
 * holds when the connections that can be released leave no chain between them; its children are filled in afterwards,
 * when it does not hold, with the connections of a shortest chain that is left: any of them would have to go.
 */
export type Form = "all" | "any" | "never" | "cut";

/** A line of the file that a node stands for, and what it says. */
export interface Line {
  readonly node: Node;
  readonly says: string;
}

interface Cut {
  readonly at: number;
  readonly from: readonly string[];
  readonly to: readonly string[];
}

export class Graph {
  readonly forms: Form[] = [];
  readonly children: number[][] = [];
  readonly lines: (Line | undefined)[] = [];
  /** 1: holds. */
  holds = new Uint8Array(0);
  #parents: number[][] = [];

  add(form: Form, children: readonly number[], line?: Line): number {
    this.forms.push(form);
    this.children.push([...children]);
    this.lines.push(line);
    return this.forms.length - 1;
  }

  /** To be called once every child is known. */
  close(): void {
    this.#parents = this.forms.map(() => []);
    this.children.forEach((children, i) => {
      for (const child of children) this.#parents[child]!.push(i);
    });
    this.holds = new Uint8Array(this.forms.length);
  }

  /** The first line that asks for this node, itself or by way of nodes that stand for no line. */
  namedBy(node: number): Line | undefined {
    const seen = new Set([node]);
    let least: number | undefined;
    const queue = [node];
    for (let each = queue.pop(); each !== undefined; each = queue.pop())
      for (const parent of this.#parents[each]!) {
        if (this.lines[parent] !== undefined) least = Math.min(least ?? parent, parent);
        else if (!seen.has(parent)) {
          seen.add(parent);
          queue.push(parent);
        }
      }
    return least === undefined ? undefined : this.lines[least];
  }

  /** The nodes that follow from nothing. Each arc is looked at once. */
  derive(): void {
    const missing = this.children.map((children) => children.length);
    const queue: number[] = [];
    this.#missing = missing;
    this.forms.forEach((form, i) => {
      if (form === "all" && missing[i] === 0) queue.push(i);
    });
    this.grant(queue);
  }
  #missing: number[] = [];

  /** Lets these nodes hold, and whatever follows from them. */
  grant(queue: number[]): void {
    for (let node = queue.pop(); node !== undefined; node = queue.pop()) {
      if (this.holds[node] === 1) continue;
      this.holds[node] = 1;
      for (const parent of this.#parents[node]!) {
        const form = this.forms[parent];
        if (form === "any") queue.push(parent);
        else if (form === "all") {
          this.#missing[parent]! -= 1;
          if (this.#missing[parent] === 0) queue.push(parent);
        }
      }
    }
  }

  /**
   * The nodes that cannot come to hold without one of the sources: of an `all` with one such child, of an `any` with
   * nothing but such children. Costs the arcs of what it reaches.
   */
  spread(sources: Iterable<number>): ReadonlySet<number> {
    const marked = new Set<number>();
    const left = new Map<number, number>();
    const queue = [...sources];
    for (let node = queue.pop(); node !== undefined; node = queue.pop()) {
      if (marked.has(node)) continue;
      marked.add(node);
      for (const parent of this.#parents[node]!) {
        const form = this.forms[parent];
        if (form === "all") queue.push(parent);
        else if (form === "any") {
          const rest = (left.get(parent) ?? this.children[parent]!.length) - 1;
          left.set(parent, rest);
          if (rest === 0) queue.push(parent);
        }
      }
    }
    return marked;
  }
}

/** The graph of a vehicle, with the node of each thing in it. */
export interface Holdings {
  readonly graph: Graph;
  readonly connections: ReadonlyMap<string, number>;
  readonly tasks: ReadonlyMap<string, number>;
  readonly positions: ReadonlyMap<string, number>;
  /** Of every way, hang, task, job and position: the node of the step, for asking whether it can be made. */
  readonly steps: ReadonlyMap<string, number>;
}

/** Builds the graph of a vehicle whose ids are all resolved, and derives it. */
export function deriveHoldings(vehicle: Vehicle, desk: Desk): Holdings {
  const graph = new Graph();
  const connections = new Map<string, number>();
  const tasks = new Map<string, number>();
  const positions = new Map<string, number>();
  const steps = new Map<string, number>();
  const off = new Map<string, number>();
  const clear = new Map<string, number>();
  const refits = new Map<string, number>();
  const returns = new Map<string, number>();
  const on = new Map<string, number>();
  const cuts: Cut[] = [];
  const tasksById = new Map(vehicle.tasks.map((task) => [task.id, task] as const));
  const positionsById = new Map(vehicle.positions.map((position) => [position.id, position] as const));
  const fixed = vehicle.parts.filter((part) => part.fixed).map((part) => part.id);
  const tied = new Map<string, Connection[]>(vehicle.parts.map((part) => [part.id, []]));
  for (const connection of vehicle.connections)
    for (const part of new Set(connection.joins)) tied.get(part)?.push(connection);

  // First a node for each thing that can be named, then what each needs.
  for (const connection of vehicle.connections) {
    connections.set(
      connection.id,
      connection.ways.length === 0
        ? graph.add("never", [], {
            node: desk.nodeOf(connection, "release"),
            says: `${connection.id} is never released`,
          })
        : graph.add("any", []),
    );
    refits.set(connection.id, graph.add("all", []));
  }
  for (const task of vehicle.tasks) {
    tasks.set(task.id, graph.add("all", []));
    returns.set(task.id, graph.add("all", []));
  }
  for (const position of vehicle.positions) positions.set(position.id, graph.add("all", []));
  for (const part of vehicle.parts) clear.set(part.id, graph.add("any", []));

  const offOf = (part: string): number => {
    let node = off.get(part);
    if (node === undefined) {
      node = graph.add(
        "all",
        (tied.get(part) ?? []).map((connection) => connections.get(connection.id)!),
      );
      off.set(part, node);
    }
    return node;
  };

  /** `barred` are the tasks that must not be done meanwhile, each with the line that says so. */
  const needNode = (need: Need, owner: string, barred: ReadonlyMap<string, Line>): number => {
    const line = (says: string): Line => ({ node: desk.nodeOf(need), says: `${owner} needs ${says}` });
    if ("id" in need) {
      const bar = barred.get(need.id);
      const target =
        bar !== undefined
          ? graph.add("never", [], bar)
          : (connections.get(need.id) ?? tasks.get(need.id) ?? offOf(need.id));
      return graph.add("all", [target], line(need.id));
    }
    if ("all" in need)
      return graph.add(
        "all",
        need.all.map((each) => needNode(each, owner, barred)),
      );
    if ("any" in need)
      return graph.add(
        "any",
        need.any.map((each) => needNode(each, owner, barred)),
      );
    if ("clear" in need) return graph.add("all", [clear.get(need.clear)!], line(`${need.clear} clear`));
    const cut = (from: readonly string[], to: readonly string[], says: string): number => {
      const at = graph.add("cut", []);
      cuts.push({ at, from, to });
      return graph.add("all", [at], line(says));
    };
    return "out" in need
      ? cut([need.out], fixed, `${need.out} out`)
      : cut([need.apart[0]], [need.apart[1]], `${need.apart[0]} and ${need.apart[1]} apart`);
  };

  const bars = (owner: string, made: Work | Position): ReadonlyMap<string, Line> =>
    new Map(made.without.map((id) => [id, { node: desk.nodeOf(made, "without"), says: `${owner} is without ${id}` }]));

  /** What the position asks, and again in the terms of a step that bars tasks itself. */
  const positionNode = (step: Work, owner: string, barred: ReadonlyMap<string, Line>): readonly number[] => {
    const position = step.at === undefined ? undefined : positionsById.get(step.at);
    if (position === undefined) return [];
    const line: Line = { node: desk.nodeOf(step, "at"), says: `${owner} is done at ${position.id}` };
    const again = barred.size === 0 ? [] : position.needs.map((need) => needNode(need, position.id, barred));
    return [graph.add("all", [positions.get(position.id)!, ...again], line)];
  };

  const stepChildren = (step: Work, owner: string): number[] => {
    const own = bars(owner, step);
    const position = step.at === undefined ? undefined : positionsById.get(step.at);
    // Where the position bars a task, the step's own needs must do without it too.
    const barred =
      position === undefined || position.without.length === 0 ? own : new Map([...bars(position.id, position), ...own]);
    return [...step.needs.map((need) => needNode(need, owner, barred)), ...positionNode(step, owner, own)];
  };

  const fill = (node: number, children: readonly number[]): void => {
    for (const child of children) graph.children[node]!.push(child);
  };

  for (const position of vehicle.positions) {
    const node = positions.get(position.id)!;
    fill(
      node,
      position.needs.map((need) => needNode(need, position.id, bars(position.id, position))),
    );
    steps.set(position.id, node);
  }
  for (const connection of vehicle.connections)
    for (const way of connection.ways) {
      const node = graph.add("all", stepChildren(way, connection.ways.length === 1 ? connection.id : way.id));
      fill(connections.get(connection.id)!, [node]);
      steps.set(way.id, node);
    }
  for (const task of vehicle.tasks) {
    const node = tasks.get(task.id)!;
    if (task.phase === "out") fill(node, stepChildren(task, task.id));
    steps.set(task.id, node);
  }
  for (const part of vehicle.parts) {
    const hangs = part.hang.map((hang) => {
      const node = graph.add("all", stepChildren(hang, hang.id));
      steps.set(hang.id, node);
      return node;
    });
    fill(clear.get(part.id)!, [offOf(part.id), ...hangs]);
  }
  for (const job of vehicle.jobs) {
    const own = job.needs.map((need) => needNode(need, job.id, new Map()));
    const node = graph.add("all", [...own, ...job.work.flatMap((work) => stepChildren(work, job.id))]);
    steps.set(job.id, node);
  }

  // The way back: what comes after what. A part is on when its every connection is made again.
  const returnNode = (id: string, made: object, key: string, owner: string): number => {
    const line: Line = { node: desk.nodeOf(made, key), says: `${owner} comes back after ${id}` };
    let target = refits.get(id) ?? returns.get(id) ?? on.get(id);
    if (target === undefined) {
      target = graph.add(
        "all",
        (tied.get(id) ?? []).map((connection) => refits.get(connection.id)!),
      );
      on.set(id, target);
    }
    return graph.add("all", [target], line);
  };
  const returnsOf = (task: Task): readonly number[] => {
    if (task.phase === "back") {
      const needed = task.needs.flatMap((need) => [...backNeeds(need)]);
      return [
        ...task.after.map((id) => returnNode(id, task, "after", task.id)),
        ...needed.map((id) => returnNode(id, task, "needs", task.id)),
      ];
    }
    const { back } = task;
    return back === undefined ? [] : back.after.map((id) => returnNode(id, back, "after", `the return of ${task.id}`));
  };
  /** Of the needs of a task of the way back only other such tasks bind its place there. */
  function* backNeeds(need: Need): Generator<string> {
    if ("id" in need) {
      if (tasksById.get(need.id)?.phase === "back") yield need.id;
    } else if ("all" in need) for (const each of need.all) yield* backNeeds(each);
  }
  for (const connection of vehicle.connections) {
    const { refit } = connection;
    fill(
      refits.get(connection.id)!,
      refit.after.map((id) => returnNode(id, refit, "after", connection.id)),
    );
    steps.set(`the refit of ${connection.id}`, refits.get(connection.id)!);
  }
  for (const task of vehicle.tasks) {
    fill(returns.get(task.id)!, returnsOf(task));
    steps.set(`the return of ${task.id}`, returns.get(task.id)!);
  }

  graph.close();
  graph.derive();
  settleCuts(vehicle, graph, cuts, connections);
  return { graph, connections, tasks, positions, steps };
}

/**
 * Lets the needs for parts to be apart hold where they can: a round joins what stays tied when everything that can be
 * released is, and a round in which another need comes to hold may release more. What is left gets its shortest chain.
 */
function settleCuts(
  vehicle: Vehicle,
  graph: Graph,
  cuts: readonly Cut[],
  connections: ReadonlyMap<string, number>,
): void {
  const stays = (connection: Connection): boolean => graph.holds[connections.get(connection.id)!] !== 1;
  let pending = cuts;
  while (pending.length > 0) {
    const group = new Map<string, string>();
    const find = (part: string): string => {
      let root = part;
      for (let up = group.get(root); up !== undefined; up = group.get(root)) root = up;
      for (let each = part; each !== root; ) {
        const up = group.get(each) ?? root;
        group.set(each, root);
        each = up;
      }
      return root;
    };
    for (const connection of vehicle.connections)
      if (stays(connection))
        for (const part of connection.joins.slice(1)) {
          const [a, b] = [find(connection.joins[0]!), find(part)];
          if (a !== b) group.set(a, b);
        }
    const parted = pending.filter((cut) => {
      const ends = new Set(cut.to.map(find));
      return !cut.from.some((part) => ends.has(find(part)));
    });
    if (parted.length === 0) break;
    graph.grant(parted.map((cut) => cut.at));
    const done = new Set(parted);
    pending = pending.filter((cut) => !done.has(cut));
  }
  if (pending.length === 0) return;
  const ties = new Map<string, Connection[]>();
  for (const connection of vehicle.connections)
    if (stays(connection))
      for (const part of connection.joins) {
        const list = ties.get(part);
        if (list === undefined) ties.set(part, [connection]);
        else list.push(connection);
      }
  // Needs for the same parts share a chain: a file that asks a thousand times for one part searches once.
  const chains = new Map<string, readonly string[]>();
  for (const cut of pending) {
    const name = `${cut.from.join(" ")}|${cut.to.join(" ")}`;
    let chain = chains.get(name);
    if (chain === undefined) {
      chain = shortestChain(cut, ties);
      chains.set(name, chain);
    }
    graph.children[cut.at] = chain.map((id) => connections.get(id)!);
  }
}

/** The connections of a shortest chain from one set of parts to another; none when they share a part. */
function shortestChain(cut: Cut, ties: ReadonlyMap<string, readonly Connection[]>): readonly string[] {
  const ends = new Set(cut.to);
  const from = new Map<string, { readonly part: string; readonly by: string } | undefined>(
    cut.from.map((part) => [part, undefined]),
  );
  const used = new Set<Connection>();
  const queue = [...cut.from];
  for (let i = 0; i < queue.length; i++) {
    const part = queue[i]!;
    if (ends.has(part)) {
      const chain: string[] = [];
      for (let step = from.get(part); step !== undefined; step = from.get(step.part)) chain.push(step.by);
      return chain.reverse();
    }
    for (const connection of ties.get(part) ?? []) {
      if (used.has(connection)) continue;
      used.add(connection);
      for (const next of connection.joins)
        if (!from.has(next)) {
          from.set(next, { part, by: connection.id });
          queue.push(next);
        }
    }
  }
  return [];
}

// Owns the search for what still ties parts to the vehicle: free, or the shortest chain that holds them.

/** As much of a problem as the search needs; any `Problem` is one. */
export interface TieGraph {
  readonly parts: readonly { readonly id: string; readonly fixed: boolean }[];
  readonly connections: readonly { readonly id: string; readonly joins: readonly string[] }[];
}

/** What joins the parts that move to a fixed one. */
export interface Tie {
  readonly id: string;
  /** Its parts that go with the group, and its fixed parts. */
  readonly parts: readonly string[];
  readonly fixed: readonly string[];
}

export interface Freedom {
  readonly free: boolean;
  /** The group: what unreleased connections join to the parts, short of any fixed part; in the order of the graph. */
  readonly group: readonly string[];
  /** Ids of parts and connections in turn, from one of the parts to a fixed part by the fewest connections; empty when free. */
  readonly chain: readonly string[];
  /** Every unreleased connection that joins the group to a fixed part, nearest first. */
  readonly ties: readonly Tie[];
}

/**
 * What still ties `from` to a fixed part when the connections `released` are released. `hangs` in force tie as
 * connections do. Parts unknown to the graph are passed over; a fixed part in `from` is its own chain of one.
 * Linear in the size of the graph.
 */
export function ties(
  graph: TieGraph,
  released: Iterable<string>,
  from: readonly string[],
  hangs: readonly { readonly id: string; readonly joins: readonly string[] }[] = [],
): Freedom {
  const gone = new Set(released);
  const fixed = new Set(graph.parts.filter((part) => part.fixed).map((part) => part.id));
  const tiesOf = new Map<string, { readonly id: string; readonly joins: readonly string[] }[]>();
  for (const { id } of graph.parts) tiesOf.set(id, []);
  for (const tie of [...graph.connections, ...hangs])
    if (!gone.has(tie.id)) for (const part of new Set(tie.joins)) tiesOf.get(part)?.push(tie);

  // Breadth first, so the first fixed part met ends a shortest chain; fixed parts are met and never passed through.
  const cameBy = new Map<string, { readonly part: string; readonly tie: string } | undefined>();
  for (const part of from) if (tiesOf.has(part)) cameBy.set(part, undefined);
  const held = new Map<string, Tie>();
  let end: string | undefined;
  for (const part of cameBy.keys()) {
    if (fixed.has(part)) {
      end ??= part;
      continue;
    }
    for (const tie of tiesOf.get(part) ?? []) {
      for (const other of tie.joins)
        if (tiesOf.has(other) && !cameBy.has(other)) cameBy.set(other, { part, tie: tie.id });
      const ends = tie.joins.filter((other) => fixed.has(other));
      if (ends.length > 0 && !held.has(tie.id))
        held.set(tie.id, { id: tie.id, parts: tie.joins.filter((other) => !fixed.has(other)), fixed: ends });
    }
  }

  const back: string[] = [];
  for (let part = end; part !== undefined; ) {
    const step = cameBy.get(part);
    back.push(part, ...(step ? [step.tie] : []));
    part = step?.part;
  }
  return {
    free: end === undefined,
    group: graph.parts.filter((part) => !part.fixed && cameBy.has(part.id)).map((part) => part.id),
    chain: back.reverse(),
    ties: [...held.values()],
  };
}

/** The chain for a reader: "engine – coolant hose – vehicle"; `name` turns an id into what the reader calls it. */
export function chainSentence(freedom: Freedom, name: (id: string) => string = (id) => id): string {
  if (freedom.free) return "No unreleased connection ties it to anything fixed.";
  return `Still tied: ${freedom.chain.map(name).join(" – ")}.`;
}

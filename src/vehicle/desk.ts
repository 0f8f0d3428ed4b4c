// Owns what is kept while a file is read: the faults so far, the ids, who names whom, and where each thing stands.

import { compareFaults, type Fault, type Place } from "./fault.ts";
import { type Fields, type Node, placeOf, type Text } from "./source.ts";

/** The kinds of thing that have an id, in the words of the file. */
export type Thing = "position" | "part" | "connection" | "task" | "job" | "eye" | "hoist" | "person";

export interface Known {
  readonly thing: Thing;
  readonly node: Text;
}

/** An id that is named somewhere, to be looked up once all are known. */
export interface Mention {
  readonly id: string;
  readonly node: Node;
  /** Who names it: "bell-bolts". */
  readonly owner: string;
  /** The key it is named under. */
  readonly key: string;
  readonly wanted: readonly Thing[];
}

export type Values = Fault["values"];

export class Desk {
  readonly faults: Fault[] = [];
  readonly warnings: Fault[] = [];
  readonly ids = new Map<string, Known>();
  readonly mentions: Mention[] = [];
  /** The node that an object of the model was read from. */
  readonly #origin = new Map<object, Node>();
  /** Whose entry is being read, for the sentences: "bell-bolts". */
  owner = "";

  fault(rule: string, node: Node, what: string, mend: string, values: Values = {}, others: readonly Node[] = []): void {
    this.faults.push({ rule, at: placeOf(node), what, mend, values, others: others.map(placeOf) });
  }

  warn(rule: string, node: Node, what: string, mend: string, values: Values = {}, others: readonly Node[] = []): void {
    this.warnings.push({ rule, at: placeOf(node), what, mend, values, others: others.map(placeOf) });
  }

  remember(made: object, node: Node): void {
    this.#origin.set(made, node);
  }

  /** The node of a thing of the model, or of one key of it; the thing's own where the key is not written. */
  nodeOf(made: object, key?: string): Node {
    const node = this.#origin.get(made);
    if (node === undefined) throw new Error("nodeOf: the object was not read from a file");
    return key === undefined ? node : (entryOf(node, key)?.value ?? node);
  }

  placeOf(made: object): Place {
    return placeOf(this.nodeOf(made));
  }

  /** The faults and warnings in the order of the file. */
  sort(main: string): void {
    this.faults.sort(compareFaults(main));
    this.warnings.sort(compareFaults(main));
  }
}

export const entryOf = (node: Node, key: string): Fields["entries"][number] | undefined =>
  node.kind === "map" ? node.entries.find((entry) => entry.key.text === key) : undefined;

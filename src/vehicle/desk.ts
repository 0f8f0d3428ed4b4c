// Owns what is kept while a file is read: the faults so far, the ids, who names whom, and where each thing stands.

import { compareFaults, type Fault, type FaultRule, type Place, type WarningRule, writePlace } from "./fault.ts";
import { type Fields, type Node, placeOf, type Text } from "./source.ts";

/** The kinds of thing that have an id, in the words of the file. */
export type Thing =
  | "position"
  | "part"
  | "connection"
  | "task"
  | "job"
  | "eye"
  | "hoist"
  | "leg"
  | "hook"
  | "beam"
  | "beam point"
  | "obstacle"
  | "person"
  | "change";

/** "a part", "an eye", "a connection, a part or a task". */
export const aThing = (...things: readonly Thing[]): string =>
  things
    .map(
      (thing, i) =>
        `${i === 0 ? "" : i === things.length - 1 ? " or " : ", "}${/^[aeiou]/.test(thing) ? "an" : "a"} ${thing}`,
    )
    .join("");

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

/** Faults told of one file. Who has ten thousand has one that was made ten thousand times. */
const FAULT_LIMIT = 10_000;

/** A value that is still to be asked, written "?". */
export interface Waiting {
  readonly node: Node;
  /** Whose it is: "bell-bolts". */
  readonly owner: string;
  readonly key: string;
  readonly means: string;
}

export class Desk {
  /** Values written "?", where the file may have such. */
  waiting: Waiting[] | undefined;
  faults: Fault[] = [];
  warnings: Fault[] = [];
  readonly ids = new Map<string, Known>();
  readonly mentions: Mention[] = [];
  /** Ids that a file omits of those read before it, and where it says so. */
  omitted: ReadonlyMap<string, Text> = new Map();
  /** The node that an object of the model was read from. */
  readonly #origin = new Map<object, Node>();
  /** Keys of a thing in which there was a fault: what was read of them is not what was meant. */
  readonly #misread = new Map<object, ReadonlySet<string>>();
  /** Faults so far, told or not. */
  count = 0;
  /** Whose entry is being read, for the sentences: "bell-bolts". */
  owner = "";

  fault(
    rule: FaultRule,
    node: Node,
    what: string,
    mend: string,
    values: Values = {},
    others: readonly Node[] = [],
  ): void {
    this.count += 1;
    if (this.faults.length > FAULT_LIMIT) return;
    if (this.faults.length === FAULT_LIMIT)
      this.faults.push({
        rule: "too-many-faults",
        at: placeOf(node),
        what: `there are more than ${FAULT_LIMIT} faults; from here on they are not told.`,
        mend: "Mend the first ones: the rest are often the same again.",
        values: { limit: FAULT_LIMIT },
        others: [],
      });
    else this.faults.push({ rule, at: placeOf(node), what, mend, values, others: others.map(placeOf) });
  }

  warn(
    rule: WarningRule,
    node: Node,
    what: string,
    mend: string,
    values: Values = {},
    others: readonly Node[] = [],
  ): void {
    this.warnings.push({ rule, at: placeOf(node), what, mend, values, others: others.map(placeOf) });
  }

  /** `misread`: the keys in which there was a fault. */
  remember(made: object, node: Node, misread?: ReadonlySet<string>): void {
    this.#origin.set(made, node);
    if (misread !== undefined) this.#misread.set(made, misread);
  }

  /** Was there a fault in this key, so that no other rule should find fault with what it came to? */
  isMisread(made: object, key: string): boolean {
    return this.#misread.get(made)?.has(key) ?? false;
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

  /** Puts faults and warnings in the order of the file, each once: what an alias repeats is one mistake. */
  sort(main: string): void {
    const order = (all: readonly Fault[]): Fault[] => {
      const seen = new Set<string>();
      return all
        .filter((fault) => {
          const name = `${fault.rule}\n${writePlace(fault.at)}\n${fault.what}`;
          const known = seen.has(name);
          seen.add(name);
          return !known;
        })
        .sort(compareFaults(main));
    };
    this.faults = order(this.faults);
    this.warnings = order(this.warnings);
  }
}

const entryOf = (node: Node, key: string): Fields["entries"][number] | undefined =>
  node.kind === "map" ? node.entries.find((entry) => entry.key.text === key) : undefined;

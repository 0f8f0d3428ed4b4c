// Owns how the trees of several files become one: what is put side by side, whose word is last, and what a later file omits of the earlier ones.

import type { Fault } from "./fault.ts";
import { indexWords } from "./nearest.ts";
import { type Entry, type Fields, isEmpty, placeOf, type Text } from "./source.ts";

/** Maps from ids: what two files say is put side by side, and an id in both is found to be there twice. */
const BY_ID: ReadonlySet<string> = new Set([
  "positions",
  "parts",
  "connections",
  "tasks",
  "jobs",
  "eyes",
  "hoists",
  "legs",
  "hooks",
  "beams",
  "obstacles",
  "people",
]);
/** Maps of settings: put together key by key, and the file that is read later has the last word. */
const BY_KEY: ReadonlySet<string> = new Set(["vehicle", "limits", "lifting", "shop"]);

export interface Merged {
  /** Its place is that of the last tree, the main file; absent when there is no tree. */
  readonly root?: Fields;
  /** Ids omitted, by id: where that is said. */
  readonly omitted: ReadonlyMap<string, Text>;
  /** Of ids omitted that no earlier file has. */
  readonly faults: readonly Fault[];
}

/** What a file lists under a key, as far as it is written as text; with anything else the form of the file finds fault. */
export function wordsUnder(root: Fields, name: string): readonly Text[] {
  const value = root.entries.find((entry) => entry.key.text === name)?.value;
  const items = value === undefined || isEmpty(value) ? [] : value.kind === "list" ? value.items : [value];
  return items.filter((item) => item.kind === "text");
}

/** The trees as one, in the order they were read: each may omit what those before it say of an id, and has the last word on settings. */
export function mergeTrees(trees: readonly Fields[]): Merged {
  const faults: Fault[] = [];
  const omitted = new Map<string, Text>();
  let root: Fields | undefined;
  for (const tree of trees) {
    const omits = wordsUnder(tree, "omits");
    if (omits.length > 0) {
      const known = new Set(root === undefined ? [] : idsOf(root));
      for (const word of omits) {
        if (known.has(word.text)) omitted.set(word.text, word);
        else faults.push(omitsNothing(word, known));
      }
      if (root !== undefined) root = leaveOut(root, new Set(omits.map((word) => word.text)));
    }
    root = root === undefined ? tree : mergeTwo(root, tree);
  }
  return { ...(root === undefined ? {} : { root }), omitted, faults };
}

function omitsNothing(word: Text, known: ReadonlySet<string>): Fault {
  const near = indexWords(known)(word.text);
  return {
    rule: "omits-nothing",
    at: placeOf(word),
    what: `"${word.text}" is omitted, and no file that is read before this one has it.`,
    mend: near === undefined ? "Take it away here, or include the file that has it." : `Nearest: ${near}.`,
    values: { id: word.text, ...(near === undefined ? {} : { nearest: near }) },
    others: [],
  };
}

const idsOf = (tree: Fields): readonly string[] =>
  tree.entries.flatMap(({ key, value }) => {
    if (value.kind !== "map") return [];
    if (BY_ID.has(key.text)) return value.entries.map((entry) => entry.key.text);
    return BY_KEY.has(key.text) ? idsOf(value) : [];
  });

/** The tree without the things of these ids. */
const leaveOut = (tree: Fields, ids: ReadonlySet<string>): Fields => ({
  ...tree,
  entries: tree.entries.map(({ key, value }) => {
    if (value.kind !== "map") return { key, value };
    if (BY_KEY.has(key.text)) return { key, value: leaveOut(value, ids) };
    if (!BY_ID.has(key.text)) return { key, value };
    return { key, value: { ...value, entries: value.entries.filter((entry) => !ids.has(entry.key.text)) } };
  }),
});

function mergeTwo(before: Fields, now: Fields): Fields {
  const settled = entriesOf(before);
  // What the earlier ones omit is done with, and no word of the later one.
  settled.delete("omits");
  // A key twice in one file is that file's own fault and is kept to be found; between files it is a merge.
  for (const [name, entries] of entriesOf(now)) {
    const old = settled.get(name)?.[0];
    const own = entries[0]!;
    const both = old?.value.kind === "map" && own.value.kind === "map" ? [old.value, own.value] : undefined;
    if (both === undefined) settled.set(name, entries);
    else if (BY_ID.has(name)) {
      const together = { ...both[1]!, entries: both.flatMap((one) => one.entries) };
      settled.set(name, [{ key: own.key, value: together }, ...entries.slice(1)]);
    } else if (BY_KEY.has(name))
      settled.set(name, [{ key: own.key, value: mergeTwo(both[0]!, both[1]!) }, ...entries.slice(1)]);
    else settled.set(name, entries);
  }
  return { ...now, entries: [...settled.values()].flat() };
}

const entriesOf = (tree: Fields): Map<string, Entry[]> => {
  const entries = new Map<string, Entry[]>();
  for (const entry of tree.entries) {
    const list = entries.get(entry.key.text);
    if (list === undefined) entries.set(entry.key.text, [entry]);
    else list.push(entry);
  }
  return entries;
};

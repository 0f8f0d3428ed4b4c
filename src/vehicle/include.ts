// Owns includes: which other files a vehicle file is made of, and their trees put together as one.

import type { Fault, FaultRule } from "./fault.ts";
import { FORMAT } from "./file.ts";
import {
  type Entry,
  type Fields,
  isEmpty,
  type Node,
  parseSource,
  placeOf,
  type SecondOpinion,
  type Source,
  type Text,
} from "./source.ts";

/** The text of a file, or why there is none: "no such file". */
export type Load = (path: string) => string | { readonly missing: string };

/** Files that one vehicle may be made of. */
const FILE_COUNT = 100;

export interface Assembly {
  /** The tree of all files that could be read; of all files, when there are no faults. */
  readonly root?: Node;
  readonly faults: readonly Fault[];
  /** Every file that was read, the main one first. */
  readonly files: readonly string[];
}

/** Maps from ids: what two files say is put side by side, and an id in both is found to be there twice. */
const BY_ID: ReadonlySet<string> = new Set([
  "positions",
  "parts",
  "connections",
  "tasks",
  "jobs",
  "eyes",
  "hoists",
  "people",
]);
/** Maps of settings: put together key by key, and the file that includes has the last word. */
const BY_KEY: ReadonlySet<string> = new Set(["vehicle", "limits", "lifting", "shop"]);

/**
 * Reads the main file and what it includes, each file once, however many include it. Paths are those of the file that
 * includes, with `/` between folders; one that leads outside the folder of the main file is refused. (Links on the
 * disk are the loader's business: it alone can see where they lead.)
 */
export function assembleFiles(main: string, load: Load, opinion?: SecondOpinion): Assembly {
  const faults: Fault[] = [];
  const files: string[] = [];
  const done = new Set<string>();
  const folder = folderOf(main);

  const visit = (path: string, above: readonly string[], by: Text | undefined): readonly Fields[] => {
    if (done.has(path)) return [];
    const refuse = (rule: FaultRule, what: string, mend: string): readonly Fields[] => {
      const at = by === undefined ? { file: main, line: 1, column: 1 } : placeOf(by);
      faults.push({ rule, at, what, mend, values: { path }, others: [] });
      return [];
    };
    if (files.length >= FILE_COUNT)
      return refuse("too-many-files", `more than ${FILE_COUNT} files are included.`, "Put some of them together.");
    done.add(path);
    const text = load(path);
    if (typeof text !== "string")
      return refuse(
        "no-file",
        `${path} cannot be read: ${text.missing}.`,
        by === undefined ? "Check the path." : "Check the path; it is taken from the folder of the file that includes.",
      );
    files.push(path);
    const source: Source = { file: path, text };
    const parsed = parseSource(source, opinion);
    if ("faults" in parsed) {
      faults.push(...parsed.faults);
      return [];
    }
    const { root } = parsed;
    if (root.kind !== "map") {
      faults.push({
        rule: isEmpty(root) ? "empty" : "wrong-form",
        at: placeOf(root),
        what: isEmpty(root) ? `${path} is empty.` : `${path} is no map of keys.`,
        mend: `Begin with format: ${FORMAT}, vehicle and parts.`,
        values: { path },
        others: [],
      });
      return [];
    }
    if (by !== undefined) faults.push(...findStrange(root));
    const trees: Fields[] = [];
    const chain = [...above, path];
    for (const wanted of includesOf(root)) {
      const found = resolvePath(folderOf(path), wanted.text);
      const at = placeOf(wanted);
      if (found === undefined || !found.startsWith(folder))
        faults.push({
          rule: "include-outside",
          at,
          what: `${wanted.text} leads out of the folder of ${main}.`,
          mend: "Keep what is included beside the main file or below it, and name it by a path without a leading slash.",
          values: { path: wanted.text },
          others: [],
        });
      else if (chain.includes(found))
        faults.push({
          rule: "include-cycle",
          at,
          what: `${chain.slice(chain.indexOf(found)).join(" includes ")} includes ${found} again.`,
          mend: "Take one of the includes away.",
          values: { path: found, chain },
          others: [],
        });
      else trees.push(...visit(found, chain, wanted));
    }
    return [...trees, root];
  };

  const trees = visit(main, [], undefined);
  const [first, ...more] = trees;
  const root = first === undefined ? undefined : mergeTrees(first, more);
  return { ...(root === undefined ? {} : { root }), faults, files };
}

/** What an included file says that is lost when it is merged, and would be lost with its faults: format and include. */
function findStrange(root: Fields): readonly Fault[] {
  const faults: Fault[] = [];
  for (const { key, value } of root.entries) {
    if (key.text === "format" && (value.kind !== "text" || value.text !== FORMAT))
      faults.push({
        rule: "unknown-word",
        at: placeOf(value),
        what: "format is none that is known here.",
        mend: `Write format: ${FORMAT}, or leave it to the file that includes.`,
        values: { key: "format" },
        others: [],
      });
    const items = value.kind === "list" ? value.items : [value];
    if (key.text === "include" && items.some((item) => item.kind !== "text"))
      faults.push({
        rule: "wrong-form",
        at: placeOf(value),
        what: "include is no path and no list of paths.",
        mend: "Write include: axles.yaml, or include: [axles.yaml, cab.yaml].",
        values: { key: "include" },
        others: [],
      });
  }
  return faults;
}

/** What a file includes, as far as it is written as text; anything else the form of the file finds fault with. */
function includesOf(root: Fields): readonly Text[] {
  const value = root.entries.find((entry) => entry.key.text === "include")?.value;
  const items = value === undefined || isEmpty(value) ? [] : value.kind === "list" ? value.items : [value];
  return items.filter((item) => item.kind === "text");
}

/** The trees as one, the last having the last word. The place of the whole is that of the last, the main file. */
function mergeTrees(first: Fields, more: readonly Fields[]): Fields {
  const last = more.at(-1);
  if (last === undefined) return first;
  // A key twice in one file is that file's own fault and is kept to be found; between files it is a merge.
  const settled = new Map<string, Entry[]>();
  for (const tree of [first, ...more]) {
    const own = new Map<string, Entry[]>();
    for (const entry of tree.entries) {
      const list = own.get(entry.key.text);
      if (list === undefined) own.set(entry.key.text, [entry]);
      else list.push(entry);
    }
    for (const [name, entries] of own) {
      const before = settled.get(name)?.[0];
      const now = entries[0]!;
      if (before === undefined || before.value.kind !== "map" || now.value.kind !== "map") settled.set(name, entries);
      else if (BY_ID.has(name))
        settled.set(name, [
          { key: now.key, value: { ...now.value, entries: [...before.value.entries, ...now.value.entries] } },
          ...entries.slice(1),
        ]);
      else if (BY_KEY.has(name))
        settled.set(name, [{ key: now.key, value: mergeTrees(before.value, [now.value]) }, ...entries.slice(1)]);
      else settled.set(name, entries);
    }
  }
  return { ...last, entries: [...settled.values()].flat() };
}

function folderOf(path: string): string {
  const end = path.lastIndexOf("/");
  return end === -1 ? "" : path.slice(0, end + 1);
}

/** A relative path from a folder, its `.` and `..` worked out; undefined where it is no relative path. */
function resolvePath(folder: string, path: string): string | undefined {
  if (path === "" || path.startsWith("/") || path.includes("\\") || /^[a-z][a-z0-9+.-]*:/iu.test(path))
    return undefined;
  const steps: string[] = [];
  for (const step of path.split("/")) {
    if (step === "" || step === ".") continue;
    if (step !== "..") steps.push(step);
    else if (steps.length > 0 && steps.at(-1) !== "..") steps.pop();
    else steps.push("..");
  }
  // What is left of .. climbs the folder itself, as it was given.
  let base = folder;
  while (steps[0] === "..") {
    const up = base.replace(/[^/]+\/$/u, "");
    if (up === base) return undefined;
    base = up;
    steps.shift();
  }
  return base + steps.join("/");
}

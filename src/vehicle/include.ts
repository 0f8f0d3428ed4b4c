// Owns includes: which other files a vehicle file is made of, and in which order they are read.

import type { Fault, FaultRule } from "./fault.ts";
import { FORMAT } from "./file.ts";
import { mergeTrees, wordsUnder } from "./merge.ts";
import {
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
  /** Ids that a file omits, by id: where it says so. */
  readonly omitted: ReadonlyMap<string, Text>;
}

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
    for (const wanted of wordsUnder(root, "include")) {
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
  const merged = mergeTrees(trees);
  // A file that could not be read may be the one that has what is omitted.
  if (faults.length === 0) faults.push(...merged.faults);
  return { ...(merged.root === undefined ? {} : { root: merged.root }), faults, files, omitted: merged.omitted };
}

const LISTED: ReadonlyMap<string, { readonly no: string; readonly example: string }> = new Map([
  [
    "include",
    { no: "no path and no list of paths", example: "include: axles.yaml, or include: [axles.yaml, cab.yaml]" },
  ],
  ["omits", { no: "no id and no list of ids", example: "omits: engine, or omits: [engine, cooler]" }],
]);

/** What an included file says that is lost when it is merged, and would be lost with its faults: format, include and omits. */
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
    const listed = LISTED.get(key.text);
    if (listed !== undefined && items.some((item) => item.kind !== "text"))
      faults.push({
        rule: "wrong-form",
        at: placeOf(value),
        what: `${key.text} is ${listed.no}.`,
        mend: `Write ${listed.example}.`,
        values: { key: key.text },
        others: [],
      });
  }
  return faults;
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

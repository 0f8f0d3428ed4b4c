// Owns the ids and the words that a file uses already, also while it has faults: what may be named again where an id or such a word is expected.

import type { Files } from "../engine/asked.ts";

export interface KnownId {
  readonly id: string;
  readonly thing: string;
  readonly label?: string;
  readonly file: string;
  /** From 1. */
  readonly line: number;
}

export interface Known {
  readonly ids: readonly KnownId[];
  /** Words by the key they stand under: tools, skills, fluids. */
  readonly words: ReadonlyMap<string, ReadonlySet<string>>;
}

const SECTIONS: Readonly<Record<string, string>> = {
  positions: "position",
  parts: "part",
  connections: "connection",
  tasks: "task",
  jobs: "job",
  eyes: "eye",
  hoists: "hoist",
  legs: "leg",
  hooks: "hook",
  beams: "beam",
};

/** Keys whose values are words that come again and again. */
const REPEATED = ["tools", "skill", "skills", "fluid", "drains", "live", "isolates", "item", "pattern", "new", "class"];
const WORDS = new RegExp(`(?:^|[\\s{,])(${REPEATED.join("|")}):\\s*(\\[[^\\]]*\\]|"[^"]*"|[^,{}\\[\\]#]+)`, "g");

const ID = /^([\p{L}\p{N}][\p{L}\p{N}._-]*)\s*:/u;
const LABEL = /\blabel:\s*("([^"]*)"|'([^']*)'|[^,{}#]+)/;

/** A tool stands as it is written, but never its quotes. */
const wordsOf = (value: string): readonly string[] =>
  value
    .replace(/^\[|\]$/g, "")
    .split(",")
    .map((one) => one.trim().replace(/^["']|["']$/g, ""))
    .filter((one) => one !== "");

const inFile = (file: string, text: string, ids: KnownId[], words: Map<string, Set<string>>): void => {
  let thing: string | undefined;
  let indent = 0;
  let listed: string | undefined;
  for (const [n, line] of text.split("\n").entries()) {
    const at = line.length - line.trimStart().length;
    const rest = line.slice(at);
    if (rest === "" || rest.startsWith("#")) continue;
    const id = ID.exec(rest)?.[1];
    const section = id === undefined ? undefined : SECTIONS[id];
    if (section !== undefined && (at === 0 || (thing !== "position" && at <= 2 && isLifting(id ?? "")))) {
      thing = section;
      indent = -1;
    } else if (at === 0) thing = undefined;
    else if (thing !== undefined) {
      if (indent < 0) indent = at;
      const label = LABEL.exec(rest);
      const said = label === null ? undefined : (label[2] ?? label[3] ?? label[1])?.trim();
      const last = ids.at(-1);
      if (at === indent && id !== undefined)
        ids.push({ id, thing, file, line: n + 1, ...(said === undefined ? {} : { label: said }) });
      else if (said !== undefined && rest.startsWith("label:") && last?.file === file && last.label === undefined)
        ids[ids.length - 1] = { ...last, label: said };
    }
    const item = /^-\s+([^:{}[\]#]+)$/.exec(rest)?.[1];
    if (item !== undefined && listed !== undefined) add(words, listed, wordsOf(item));
    else listed = rest.endsWith(":") && REPEATED.includes(rest.slice(0, -1)) ? rest.slice(0, -1) : undefined;
    for (const [, key = "", value = ""] of rest.matchAll(WORDS)) add(words, key, wordsOf(value));
  }
};

/** Sections within `lifting`. */
const isLifting = (key: string): boolean => ["eyes", "hoists", "legs", "hooks", "beams"].includes(key);

/** Keys under which the same words stand. */
const SAME: Readonly<Record<string, string>> = { skills: "skill", drains: "fluid", isolates: "live" };

const add = (words: Map<string, Set<string>>, key: string, said: readonly string[]): void => {
  const under = SAME[key] ?? key;
  const found = words.get(under) ?? new Set();
  words.set(under, found);
  for (const one of said) found.add(one);
};

/** What the files use. */
export const knownIn = (files: Files): Known => {
  const ids: KnownId[] = [];
  const words = new Map<string, Set<string>>();
  for (const { path, text } of files) inFile(path, text, ids, words);
  return { ids, words };
};

export const wordsFor = ({ words }: Known, key: string): readonly string[] => [...(words.get(SAME[key] ?? key) ?? [])];

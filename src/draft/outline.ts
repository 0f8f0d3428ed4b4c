// Owns the outline of a vehicle file's text: its sections, the things in them, and which lines and comments belong to each. It goes by lines, so that a file of
// thousands of things is laid open in milliseconds and nothing of it is written anew.

/** A thing of a section, by its lines, numbered from 0. */
export interface Item {
  readonly id: string;
  readonly section: string;
  /** The first of the comments that stand directly above it; the line of its key where there are none. */
  readonly head: number;
  readonly from: number;
  /** The line after its last. */
  readonly to: number;
}

export interface Section {
  readonly key: string;
  readonly from: number;
  /** The line after its last. */
  readonly to: number;
  /** What stands before the key of each thing in it. */
  readonly indent: string;
  /** None where it is written within brackets. */
  readonly items: readonly Item[];
}

/** What a comment of a draft says of the thing under it. */
export interface Said {
  /** Number of the caption; else the line. */
  readonly cue?: number;
  readonly line?: number;
  readonly words: string;
}

const KEY = /^(\s*)("[^"]*"|'[^']*'|[^\s#"'{}[\],&*!|>%@-][^:#{}[\],]*?)\s*:(?=\s|$)/;
const unquoted = (key: string): string => key.replace(/^(["'])(.*)\1$/, "$2");
const isComment = (line: string | undefined): boolean => /^\s*#/.test(line ?? "");
const indentOf = (line: string): string => /^\s*/.exec(line)?.[0] ?? "";

/** The sections of a file in their order. */
export function outlineOf(lines: readonly string[]): readonly Section[] {
  const heads = lines.flatMap((line, n) => {
    const found = KEY.exec(line);
    return found?.[1] === "" ? [{ n, key: unquoted(found[2] ?? "") }] : [];
  });
  return heads.map(({ n, key }, i) => {
    let to = heads[i + 1]?.n ?? lines.length;
    // Comments above the next section are its own, and what is empty belongs to nobody.
    while (to > n + 1 && (lines[to - 1]?.trim() === "" || /^#/.test(lines[to - 1] ?? ""))) to -= 1;
    const first = lines.slice(n + 1, to).find((line) => line.trim() !== "" && !isComment(line));
    const indent = first === undefined ? "  " : indentOf(first);
    return { key, from: n, to, indent, items: indent === "" ? [] : itemsIn(lines, key, n + 1, to, indent) };
  });
}

function itemsIn(lines: readonly string[], section: string, from: number, to: number, indent: string): Item[] {
  const keys: { readonly id: string; readonly from: number; readonly head: number }[] = [];
  for (let n = from; n < to; n += 1) {
    const found = KEY.exec(lines[n] ?? "");
    if (found?.[1] !== indent) continue;
    let head = n;
    while (head > from && isComment(lines[head - 1]) && indentOf(lines[head - 1] ?? "").length <= indent.length)
      head -= 1;
    keys.push({ id: unquoted(found[2] ?? ""), from: n, head });
  }
  return keys.map(({ id, from: key, head }, i) => {
    let end = keys[i + 1]?.head ?? to;
    while (end > key + 1 && lines[end - 1]?.trim() === "") end -= 1;
    return { id, section, head, from: key, to: end };
  });
}

const ASSUMED = /(?:^|\s)#\s*assumed\b:?\s*(.*)$/;

/** What was taken for granted of a thing, as its comments say. */
export const assumedOf = (lines: readonly string[], { head, to }: Item): readonly string[] =>
  lines.slice(head, to).flatMap((line) => {
    const found = ASSUMED.exec(line);
    if (found === null) return [];
    const what = (found[1] ?? "").trim();
    const key = KEY.exec(line)?.[2];
    // What is said after a colon says all; else it is of the key that it stands behind.
    return [isComment(line) || /#\s*assumed:/.test(line) ? what : [key, what].filter(Boolean).join(", ")];
  });

/** A line without what it says to be assumed; undefined where it said nothing else. */
export const withoutAssumed = (line: string): string | undefined =>
  !ASSUMED.test(line) ? line : isComment(line) ? undefined : line.replace(/\s+#\s*assumed\b.*$/, "");

/** The words that a thing comes from, as the comments above it say. */
export const saidOf = (lines: readonly string[], { head, from }: Item): readonly Said[] =>
  lines.slice(head, from).flatMap((line) => {
    const found = /^\s*#\s*(caption|line) (\d+)(?:, [\d:]+)?: (.*)$/.exec(line);
    if (found === null) return [];
    const n = Number(found[2]);
    return [{ ...(found[1] === "caption" ? { cue: n } : { line: n }), words: found[3] ?? "" }];
  });

// Owns where in the file a place of the text is, by keys from the top down, also while the text around it is half typed and no YAML yet.

/** Lines of a text by their number, from 0. */
export interface Lines {
  readonly count: number;
  readonly line: (n: number) => string;
}

export interface Where {
  /** From the top of the file down to what the place is in; `-` is an item of a list. */
  readonly path: readonly string[];
  /** What is wanted there: another key of the map, or the value. A place where both could come is a value. */
  readonly wants: "key" | "value";
  /** The word that the place stands in or after, and where in its line it begins. */
  readonly word: string;
  readonly from: number;
  /** Keys that the map has on these lines already. */
  readonly present: readonly string[];
}

/** Lines that are looked back over for the head of something in brackets. */
const BACK = 400;

const KEY = /^((?:"[^"]*"|'[^']*'|[^\s"'{}[\],#:][^:#{}[\],]*?))\s*:(?=\s|$)/;
const unquoted = (key: string): string => key.replace(/^(["'])(.*)\1$/, "$2");

/** A line of block style: dashes, then maybe a key, then maybe a value. */
interface Block {
  /** Columns of its dashes, and of what comes after them. */
  readonly dashes: readonly number[];
  readonly at: number;
  readonly key?: string;
  /** Column of what stands after the key, or after the dashes where there is none. */
  readonly value: number;
}

const readBlock = (line: string): Block => {
  let at = line.length - line.trimStart().length;
  const dashes: number[] = [];
  for (;;) {
    const dash = /^-(\s+|$)/.exec(line.slice(at));
    if (dash === null) break;
    dashes.push(at);
    at += dash[0].length;
  }
  const found = KEY.exec(line.slice(at));
  if (found?.[1] === undefined) return { dashes, at, value: at };
  const after = at + found[0].length;
  const value = after + (line.slice(after).length - line.slice(after).trimStart().length);
  return { dashes, at, key: unquoted(found[1]), value };
};

const isEmptyLine = (line: string): boolean => /^\s*(#|$)/.test(line);

/** One bracket that is open at the place. */
interface Open {
  readonly is: "map" | "list";
  readonly keys: string[];
  /** The key whose value is being written. */
  key: string | undefined;
}

/** Walks through what stands in brackets; the brackets that are still open at its end. */
const walk = (text: string): { readonly open: readonly Open[]; readonly last: number } => {
  const open: Open[] = [];
  let last = 0;
  const top = () => open.at(-1);
  for (let at = 0; at < text.length; at += 1) {
    const character = text[at];
    if (character === '"' || character === "'") {
      const end = text.indexOf(character, at + 1);
      if (end < 0) break;
      const after = /^\s*:/.exec(text.slice(end + 1));
      const within = top();
      if (after !== null && within !== undefined && within.key === undefined) {
        within.key = text.slice(at + 1, end);
        within.keys.push(within.key);
        at = end + after[0].length;
        last = at + 1;
      } else at = end;
    } else if (character === "#" && /\s/.test(text[at - 1] ?? " ")) {
      const end = text.indexOf("\n", at);
      if (end < 0) break;
      at = end;
    } else if (character === "{" || character === "[") {
      open.push({ is: character === "{" ? "map" : "list", keys: [], key: undefined });
      last = at + 1;
    } else if (character === "}" || character === "]") {
      open.pop();
      last = at + 1;
      if (open.length === 0) break;
    } else if (character === ",") {
      const within = top();
      if (within !== undefined) within.key = undefined;
      last = at + 1;
    } else if (character === ":" && /[\s{["']|^$/.test(text[at + 1] ?? "")) {
      const within = top();
      if (within !== undefined && within.key === undefined) {
        within.key = text.slice(last, at).trim();
        within.keys.push(within.key);
        last = at + 1;
      }
    }
  }
  return { open, last };
};

/** The lines above that hold this one, the outermost first: each stands further left than the one below it. */
const ancestorsOf = (
  lines: Lines,
  n: number,
  indent: number,
): readonly { readonly n: number; readonly block: Block }[] => {
  const found: { readonly n: number; readonly block: Block }[] = [];
  let left = indent;
  for (let above = n - 1; above >= 0 && left > 0; above -= 1) {
    const line = lines.line(above);
    if (isEmptyLine(line)) continue;
    const outer = line.length - line.trimStart().length;
    if (outer >= left) continue;
    found.unshift({ n: above, block: readBlock(line) });
    left = outer;
  }
  return found;
};

/** What a line of block style gives to the path of a place that stands `indent` columns in, below it. */
const stepsOf = ({ dashes, at, key }: Block, indent: number): readonly string[] => [
  ...dashes.filter((column) => column < indent).map(() => "-"),
  ...(key !== undefined && at < indent ? [key] : []),
];

/** @param n the line from 0 @param column in code units */
export const whereAt = (lines: Lines, n: number, column: number): Where | undefined => {
  const before = lines.line(n).slice(0, column);
  const own = readBlock(before);
  const blank = before.trim() === "";
  const indent = blank ? column : (own.dashes[0] ?? own.at);
  const word = /[^\s,[\]{}:"']*$/.exec(before)?.[0] ?? "";
  const from = column - word.length;
  const above = ancestorsOf(lines, n, indent);
  // A list may stand no further in than the key that it belongs to.
  const beside = own.dashes.length > 0 ? keyBeside(lines, n, indent) : undefined;
  const chain = [...above, ...(beside === undefined ? [] : [beside]), { n, block: own }];

  // Brackets that were opened on one of these lines, the outermost first, and are open here still.
  for (const [place, { n: line, block }] of chain.entries()) {
    const head = lines.line(line);
    if (!/^(&\S+\s+)?[{[]/.test(head.slice(block.value)) || n - line > BACK) continue;
    const between = Array.from({ length: n - line }, (_, each) => lines.line(line + each));
    const text = [...between, before].join("\n").slice(block.value);
    const { open, last } = walk(text);
    if (open.length === 0) continue;
    const outer = chain.slice(0, place).flatMap(({ block: one }) => stepsOf(one, block.dashes[0] ?? block.at));
    const path = [...outer, ...block.dashes.map(() => "-"), ...(block.key === undefined ? [] : [block.key])];
    for (const one of open) {
      if (one.is === "list") path.push("-");
      if (one.key !== undefined) path.push(one.key);
    }
    const within = open.at(-1);
    const isKey = within?.is === "map" && within.key === undefined;
    // Within quotes that are not closed somebody writes words of his own.
    if (/^\s*(["'])(?!.*\1\s*$)/.test(text.slice(last))) return undefined;
    return { path, wants: isKey ? "key" : "value", word, from, present: within?.keys ?? [] };
  }
  if (/(^|\s)#/.test(before)) return undefined;

  const outer = chain.slice(0, -1).flatMap(({ block }) => stepsOf(block, indent));
  const dashes = own.dashes.map(() => "-");
  if (own.key !== undefined) return { path: [...outer, ...dashes, own.key], wants: "value", word, from, present: [] };
  return {
    path: [...outer, ...dashes],
    wants: own.dashes.length > 0 ? "value" : "key",
    word,
    from,
    present: own.dashes.length > 0 ? [] : siblings(lines, n, indent),
  };
};

const keyBeside = (lines: Lines, n: number, indent: number) => {
  for (let above = n - 1; above >= 0; above -= 1) {
    const line = lines.line(above);
    if (isEmptyLine(line)) continue;
    const block = readBlock(line);
    const outer = block.dashes[0] ?? block.at;
    if (outer < indent) return undefined;
    if (outer === indent && block.dashes.length === 0)
      return block.key === undefined ? undefined : { n: above, block: { ...block, at: block.at - 1 } };
  }
  return undefined;
};

/** Keys of the same map on the lines around. */
const siblings = (lines: Lines, n: number, indent: number): readonly string[] => {
  const keys: string[] = [];
  for (const step of [-1, 1])
    for (let at = n + step; at >= 0 && at < lines.count; at += step) {
      const line = lines.line(at);
      if (isEmptyLine(line)) continue;
      const { dashes, at: own, key } = readBlock(line);
      if (own < indent) break;
      if (own === indent && key !== undefined) keys.push(key);
      if ((dashes[0] ?? own) < indent) break;
    }
  return keys;
};

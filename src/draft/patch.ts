// Owns the changing of one thing of a vehicle file in its own text: a value set, added or left out where it stands, and every other letter kept.

import { Document, isMap, isScalar, isSeq, type Pair, parseDocument, type YAMLMap, type YAMLSeq } from "yaml";

/** Text as YAML takes it as a value within brackets or without. */
export const written = (text: string): string => {
  const document = new Document([text]);
  if (isSeq(document.contents)) document.contents.flow = true;
  return document.toString({ lineWidth: 0 }).trim().slice(1, -1).trim();
};

/** A text that is one entry, `id: …`, parsed; undefined where it is not. */
function entryOf(block: string): { readonly key: string; readonly value: unknown } | undefined {
  // Every scalar stays the text that was written, as the reader has it.
  const { contents, errors } = parseDocument(block, { schema: "failsafe", prettyErrors: false });
  if (errors.length > 0 || !isMap(contents) || contents.items.length !== 1) return undefined;
  const [pair] = contents.items;
  return isScalar(pair?.key) ? { key: String(pair.key.value), value: pair.value } : undefined;
}

/** Whether a text is one thing that can be changed here. */
export const isEntry = (block: string, id: string): boolean => {
  const entry = entryOf(block);
  return entry?.key === id && isMap(entry.value);
};

const pairOf = (map: YAMLMap, key: string): Pair | undefined =>
  map.items.find((pair) => isScalar(pair.key) && pair.key.value === key);

const rangeOf = (node: unknown): readonly [from: number, to: number] | undefined => {
  const range = typeof node === "object" && node !== null && "range" in node ? node.range : undefined;
  return Array.isArray(range) && typeof range[0] === "number" && typeof range[1] === "number"
    ? [range[0], range[1]]
    : undefined;
};

/** The map that a key is looked for in: of a list the one that the path numbers, from 0, or its first. */
function mapAt(node: unknown, path: readonly string[]): YAMLMap | undefined {
  const [key, ...rest] = path;
  if (isSeq(node) && key !== undefined && /^\d+$/.test(key)) return mapAt(node.items[Number(key)], rest);
  const here = isSeq(node) ? node.items.find((one) => isMap(one)) : node;
  if (!isMap(here)) return undefined;
  return key === undefined ? here : mapAt(pairOf(here, key)?.value, rest);
}

const find = (block: string, path: readonly string[]): { readonly map: YAMLMap; readonly key: string } | undefined => {
  const map = mapAt(entryOf(block)?.value, path.slice(0, -1));
  const key = path.at(-1);
  return map === undefined || key === undefined ? undefined : { map, key };
};

/** The text of a value, without quotes; undefined where it is not written, or is no text. */
export function textIn(block: string, ...path: readonly string[]): string | undefined {
  const found = find(block, path);
  const value = found === undefined ? undefined : pairOf(found.map, found.key)?.value;
  return isScalar(value) ? String(value.value) : undefined;
}

/** A value as it is written, brackets and all. */
export function sourceIn(block: string, ...path: readonly string[]): string | undefined {
  const found = find(block, path);
  const range = found === undefined ? undefined : rangeOf(pairOf(found.map, found.key)?.value);
  return range === undefined ? undefined : block.slice(...range);
}

/** How many things a list has; undefined of what is none. */
export function lengthIn(block: string, ...path: readonly string[]): number | undefined {
  const found = find(block, path);
  const value = found === undefined ? undefined : pairOf(found.map, found.key)?.value;
  return isSeq(value) ? value.items.length : undefined;
}

/** The texts of a list, or of the one value that stands for a list. */
export function textsIn(block: string, ...path: readonly string[]): readonly string[] {
  const found = find(block, path);
  const value = found === undefined ? undefined : pairOf(found.map, found.key)?.value;
  if (isScalar(value)) return [String(value.value)];
  return isSeq(value) ? value.items.flatMap((one) => (isScalar(one) ? [String(one.value)] : [])) : [];
}

/** Keys that a new one is written under, where there are any. */
const EARLY = new Set(["label", "joins", "kind"]);

/** Sets a value, or adds it; `source` is the text of the value as YAML. The maps down to it must be there. */
export function put(block: string, path: readonly string[], source: string): string {
  const found = find(block, path);
  if (found === undefined) return block;
  const { map, key } = found;
  const pair = pairOf(map, key);
  const range = rangeOf(pair?.value);
  if (pair !== undefined) {
    const [from, to] = range ?? [0, 0];
    if (to > from) return block.slice(0, from) + source + trimmedTail(block, from, to);
    const after = block.indexOf(":", rangeOf(pair.key)?.[1] ?? 0) + 1;
    return `${block.slice(0, after)} ${source}${block.slice(after)}`;
  }
  if (map.flow === true) {
    const last = rangeOf(map.items.at(-1)?.value) ?? rangeOf(map.items.at(-1)?.key);
    const [from, to] = rangeOf(map) ?? [0, 0];
    return last === undefined
      ? `${block.slice(0, from)}{ ${key}: ${source} }${block.slice(to)}`
      : `${block.slice(0, last[1])}, ${key}: ${source}${block.slice(last[1])}`;
  }
  const [first] = map.items;
  const start = rangeOf(first?.key)?.[0] ?? 0;
  const early =
    key === "label"
      ? undefined
      : map.items.findLast(
          ({ key: one, value }) => isScalar(one) && EARLY.has(String(one.value)) && isOneLine(block, value),
        );
  const at = early === undefined ? lineStart(block, start) : lineEnd(block, rangeOf(early.value)?.[1] ?? 0);
  const indent = " ".repeat(start - lineStart(block, start));
  return `${block.slice(0, at)}${indent}${key}: ${source}\n${block.slice(at)}`;
}

/** What follows a value: one of several lines ends with the break that its last line had. */
const trimmedTail = (block: string, from: number, to: number): string => {
  const value = block.slice(from, to);
  return value.slice(value.trimEnd().length) + block.slice(to);
};
const isOneLine = (block: string, value: unknown): boolean => {
  const range = rangeOf(value);
  return range !== undefined && !block.slice(...range).includes("\n");
};
const lineStart = (text: string, at: number): number => text.lastIndexOf("\n", at - 1) + 1;
const lineEnd = (text: string, at: number): number => {
  const end = text.indexOf("\n", at);
  return end < 0 ? text.length : end + 1;
};

/** Leaves a key out, with its value. */
export function leaveOut(block: string, ...path: readonly string[]): string {
  const found = find(block, path);
  const pair = found === undefined ? undefined : pairOf(found.map, found.key);
  return found === undefined || pair === undefined ? block : dropPair(block, found.map, pair);
}

const lastOf = (block: string, from: number, to: number): number => from + block.slice(from, to).trimEnd().length;

/** Cuts one of several out of brackets, with its comma. */
function cut<T>(
  block: string,
  { items }: { readonly items: readonly T[] },
  at: number,
  [from, to]: readonly [number, number],
  startOf: (one: T) => number,
): string {
  const next = items[at + 1];
  if (next !== undefined) return block.slice(0, from) + block.slice(startOf(next));
  if (at === 0) return block.slice(0, from).trimEnd() + block.slice(to).trimStart();
  return block.slice(0, block.lastIndexOf(",", from)) + block.slice(to);
}

/** Keys whose values name things by their ids. */
const NAMING = new Set(
  "needs without first after then joins supports lifts empties swap all any apart out clear on to from at".split(" "),
);
/** Lists of these mean nothing when they are empty. */
const FORMS = new Set(["all", "any", "apart", "out", "clear"]);

interface Mention {
  readonly key: string;
  readonly node: unknown;
  /** The list that it stands in, and as which of it. */
  readonly list?: YAMLSeq;
  readonly at: number;
  /** From the outermost to the innermost that holds it: lists, maps and pairs. */
  readonly within: readonly (YAMLSeq | YAMLMap | Pair)[];
}

function mentionsIn(block: string, ...ids: readonly string[]): Mention[] {
  const found: Mention[] = [];
  const walk = (node: unknown, key: string, within: Mention["within"]): void => {
    if (isScalar(node)) {
      if (!(ids.includes(String(node.value)) && NAMING.has(key))) return;
      const list = within.at(-1);
      found.push({
        key,
        node,
        within,
        at: isSeq(list) ? list.items.indexOf(node) : -1,
        ...(isSeq(list) ? { list } : {}),
      });
    } else if (isSeq(node)) for (const one of node.items) walk(one, key, [...within, node]);
    else if (isMap(node))
      for (const pair of node.items)
        walk(pair.value, isScalar(pair.key) ? String(pair.key.value) : "", [...within, node, pair]);
  };
  const { contents } = parseDocument(block, { schema: "failsafe", prettyErrors: false });
  walk(contents, "", []);
  return found;
}

const REASON = (id: string) => new RegExp(`^\\s*# needs ${id.replace(/[^\w-]/g, "\\$&")}: .*\\n?`, "gm");

/** Keys that name what is to be done before, whatever it is: of the others each wants its own sort of thing. */
const DONE: ReadonlySet<string> = new Set(["needs", "first", "after", "all", "any"]);

/** Has what must be done before name `other` instead of `id`; once in each list. */
export function renameMentions(block: string, id: string, other: string): string {
  let text = block;
  const done = () => mentionsIn(text, id).filter(({ key }) => DONE.has(key));
  for (let left = done().length; left > 0; left -= 1) {
    const [mention] = done();
    const range = rangeOf(mention?.node);
    if (mention === undefined || range === undefined) break;
    const isThere = mention.list?.items.some((one) => isScalar(one) && one.value === other) === true;
    text = isThere ? dropMention(text, mention) : text.slice(0, range[0]) + other + text.slice(range[1]);
  }
  return text.replace(REASON(id), (line) => line.replace(`needs ${id}:`, `needs ${other}:`));
}

/** Has everything in a text that names one of these ids name the other that it is given. */
export function renameEverywhere(block: string, ids: ReadonlyMap<string, string>): string {
  let text = block;
  for (const { node } of mentionsIn(block, ...ids.keys()).reverse()) {
    const [from, to] = rangeOf(node) ?? [0, 0];
    const other = isScalar(node) ? ids.get(String(node.value)) : undefined;
    if (other !== undefined) text = text.slice(0, from) + other + text.slice(to);
  }
  return text.replace(/^(\s*# needs )([^:\s]+)(?=: )/gm, (whole, before, id) => {
    const other = ids.get(id);
    return other === undefined ? whole : `${before}${other}`;
  });
}

/** Leaves out everything in a text that names `id`, and what would be left empty by it. */
export function forget(block: string, id: string): string {
  let text = block;
  for (let left = mentionsIn(text, id).length; left > 0; left -= 1) {
    const [mention] = mentionsIn(text, id);
    if (mention === undefined) break;
    text = dropMention(text, mention);
  }
  return text.replace(REASON(id), "");
}

/** In each list that names `id`, `other` stands behind it. One of several that would do is left as it is. */
export function nameBeside(block: string, id: string, other: string): string {
  let text = block;
  const places = mentionsIn(block, id).filter(
    ({ key, list }) => list !== undefined && key !== "any" && key !== "apart",
  );
  for (const { node, list } of places.reverse()) {
    const [from, to] = rangeOf(node) ?? [0, 0];
    const dash = `\n${text.slice(lineStart(text, from), from)}`;
    text = `${text.slice(0, to)}${list?.flow === true ? ", " : dash}${other}${text.slice(to)}`;
  }
  return text;
}

/** Takes out a mention with the innermost thing around it that can do without: an item of a list, a key. */
function dropMention(block: string, { within, node }: Mention): string {
  let inner: unknown = node;
  for (const outer of [...within].reverse()) {
    if (isSeq(outer)) {
      if (outer.items.length > 1 && !isApart(within, outer))
        return dropItem(block, outer, outer.items.indexOf(inner as never));
    } else if (isMap(outer)) {
      // A form of need is all that there is of its map.
      const key = (inner as Pair).key;
      if (!(isScalar(key) && FORMS.has(String(key.value)))) return dropPair(block, outer, inner as Pair);
    }
    inner = outer;
  }
  return block;
}

const isApart = (within: Mention["within"], list: YAMLSeq): boolean => {
  const pair = within[within.indexOf(list) - 1];
  return pair !== undefined && "key" in pair && isScalar(pair.key) && pair.key.value === "apart";
};

function dropItem(block: string, list: YAMLSeq, at: number): string {
  const [from, to] = rangeOf(list.items[at]) ?? [0, 0];
  if (list.flow === true) return cut(block, list, at, [from, to], (one) => rangeOf(one)?.[0] ?? 0);
  return block.slice(0, lineStart(block, from)) + block.slice(lineEnd(block, lastOf(block, from, to)));
}

/** A pair with its lines, or its comma; comments above the next are the next one's. */
function dropPair(block: string, map: YAMLMap, pair: Pair): string {
  const at = map.items.indexOf(pair);
  const from = rangeOf(pair.key)?.[0] ?? 0;
  const to = rangeOf(pair.value)?.[1] ?? from;
  if (map.flow === true) return cut(block, map, at, [from, to], (one) => rangeOf(one.key)?.[0] ?? 0);
  return block.slice(0, lineStart(block, from)) + block.slice(lineEnd(block, lastOf(block, from, to)));
}

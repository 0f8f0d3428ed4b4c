// Owns the text of one file: its YAML as a tree in which every node knows where it stands.
//
// Every scalar stays the text that was written: `class: 8.8` is "8.8" and `012` is no twelve. js-yaml gives the events
// with their offsets at some 6 MB a second, six times as fast as a parser that keeps comments; it stops at the first
// mistake, so on a file that it refuses a second opinion may be asked, which names all of them.

import { EVENT_ID, type Event, getScalarValue, parseEvents, YAMLException } from "js-yaml";
import type { Fault, FaultRule, Place } from "./fault.ts";

/** Characters; a file above this is refused unread. The demo's hundred connections take about 30,000. */
export const FILE_LIMIT = 8_000_000;
/** Nodes after every alias is written out; ten thousand connections have about a million. */
const NODE_LIMIT = 4_000_000;
/** Above this, in characters, the slow parser is not asked for a second opinion; below it takes half a second at most. */
const RECOVERY_LIMIT = 600_000;
/** Nesting that no vehicle file needs. What is nested deeper is not recovered from either: that takes long. */
const DEPTH = 60;
/** Syntax mistakes shown of one file: the first one usually causes what follows. */
const SYNTAX_LIMIT = 20;

export interface Source {
  readonly file: string;
  readonly text: string;
}

interface Spot {
  readonly source: Source;
  /** Offset in the text of the source. */
  readonly at: number;
}

export interface Text extends Spot {
  readonly kind: "text";
  readonly text: string;
  /** Written without quotes. */
  readonly plain: boolean;
}

export interface List extends Spot {
  readonly kind: "list";
  readonly items: readonly Node[];
}

/** A map, its keys in the order of the file, each as often as it was written. */
export interface Fields extends Spot {
  readonly kind: "map";
  readonly entries: readonly Entry[];
}

export interface Entry {
  readonly key: Text;
  readonly value: Node;
}

export type Node = Text | List | Fields;

/** What keeps a text from being YAML, and the offset where it shows. */
export interface Mistake {
  readonly at: number;
  readonly what: string;
}

/** Every mistake of a text; see `opinion.ts`. */
export type SecondOpinion = (text: string) => readonly Mistake[];

const FIRST_ONLY: SecondOpinion = () => [];

/** Nothing written after the colon, or YAML's own word for nothing. */
export const isEmpty = (node: Node): boolean =>
  node.kind === "text" && node.plain && (node.text === "" || node.text === "~" || node.text === "null");

const starts = new WeakMap<Source, number[]>();

/** The line and column of an offset. The lines of a file are counted once, when something in it must be placed. */
export function placeOf(spot: Spot): Place {
  const { source, at } = spot;
  let lines = starts.get(source);
  if (lines === undefined) {
    lines = [0];
    for (let end = source.text.indexOf("\n"); end !== -1; end = source.text.indexOf("\n", end + 1)) lines.push(end + 1);
    starts.set(source, lines);
  }
  let low = 0;
  let high = lines.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (lines[middle]! <= at) low = middle;
    else high = middle - 1;
  }
  return { file: source.file, line: low + 1, column: at - lines[low]! + 1 };
}

const fault = (
  source: Source,
  at: number,
  rule: FaultRule,
  what: string,
  mend: string,
  values: Fault["values"] = {},
): Fault => ({
  rule,
  at: placeOf({ source, at }),
  what,
  mend,
  values,
  others: [],
});

/** Reads the text of a file into a tree, or says everything that keeps it from being one. */
export function parseSource(
  source: Source,
  opinion: SecondOpinion = FIRST_ONLY,
): { readonly root: Node } | { readonly faults: readonly Fault[] } {
  if (source.text.length > FILE_LIMIT)
    return {
      faults: [
        fault(
          { file: source.file, text: "" },
          0,
          "file-too-large",
          `${source.file} has ${source.text.length} characters, and ${FILE_LIMIT} are read at most.`,
          "Split it, and name the pieces under include.",
          { size: source.text.length, limit: FILE_LIMIT },
        ),
      ],
    };
  let events: Event[];
  try {
    events = parseEvents(source.text, { maxDepth: DEPTH });
  } catch (error) {
    if (!(error instanceof YAMLException)) throw error;
    return { faults: explainSyntax(source, error, opinion) };
  }
  return buildTree(source, events);
}

function explainSyntax(source: Source, first: YAMLException, opinion: SecondOpinion): readonly Fault[] {
  const mend = "Mend the YAML here; the rest of this file is read once it parses.";
  if (source.text.length <= RECOVERY_LIMIT && !first.reason.includes("maxDepth")) {
    const mistakes = opinion(source.text);
    if (mistakes.length > 0)
      return mistakes
        .slice(0, SYNTAX_LIMIT)
        .map(({ at, what }) => fault(source, at, "syntax", `this is not YAML: ${what}.`, mend));
  }
  return [fault(source, first.mark?.position ?? 0, "syntax", `this is not YAML: ${first.reason}.`, mend)];
}

interface Open {
  readonly node: Node;
  readonly anchor: string | undefined;
  /** Of a map: the key that waits for its value. */
  key: Text | undefined;
  /** Nodes in it so far, aliases written out. */
  size: number;
}

/** Puts the events together. Aliases share the node they name; their size is added up, so a bomb shows before it goes off. */
function buildTree(
  source: Source,
  events: readonly Event[],
): { readonly root: Node } | { readonly faults: readonly Fault[] } {
  const { text } = source;
  const faults: Fault[] = [];
  const anchors = new Map<string, { node: Node; size: number } | "open">();
  const open: Open[] = [];
  let root: Node | undefined;
  let documents = 0;

  const add = (node: Node, size: number): void => {
    const top = open.at(-1);
    if (top === undefined) {
      root ??= node;
      return;
    }
    top.size += size;
    if (top.node.kind === "list") (top.node.items as Node[]).push(node);
    else if (top.node.kind === "map") {
      if (top.key !== undefined) {
        (top.node.entries as Entry[]).push({ key: top.key, value: node });
        top.key = undefined;
      } else if (node.kind === "text") top.key = node;
      else {
        faults.push(
          fault(source, node.at, "syntax", "a key is a word, not a list or a map.", "Write the key as plain text."),
        );
        top.key = { kind: "text", text: "", plain: true, source, at: node.at };
      }
    }
  };

  /** Where an empty scalar stands: after the key it belongs to, for want of a place of its own. */
  const here = (): number => open.at(-1)?.key?.at ?? open.at(-1)?.node.at ?? 0;

  for (const event of events) {
    if ("tagStart" in event && event.tagStart >= 0)
      faults.push(
        fault(
          source,
          event.tagStart,
          "tag",
          `"${text.slice(event.tagStart, event.tagEnd)}" is a YAML tag, and a vehicle file has none.`,
          "Leave it out; every value is read as the text that is written.",
        ),
      );
    const anchor =
      "anchorStart" in event && event.anchorStart >= 0 ? text.slice(event.anchorStart, event.anchorEnd) : undefined;
    switch (event.type) {
      case EVENT_ID.DOCUMENT:
        documents += 1;
        if (documents === 2)
          faults.push(
            fault(
              source,
              text.length,
              "syntax",
              "the file holds more than one document.",
              "Keep one; leave out the line of three hyphens that parts them.",
            ),
          );
        open.length = 0;
        break;
      case EVENT_ID.SCALAR: {
        const empty = event.valueStart < 0;
        const node: Text = {
          kind: "text",
          text: empty ? "" : event.fast ? text.slice(event.valueStart, event.valueEnd) : getScalarValue(text, event),
          plain: event.style === 1,
          source,
          // A quoted scalar begins at its quote.
          at: empty ? here() : event.style === 2 || event.style === 3 ? event.valueStart - 1 : event.valueStart,
        };
        if (anchor !== undefined) anchors.set(anchor, { node, size: 1 });
        add(node, 1);
        break;
      }
      case EVENT_ID.SEQUENCE:
      case EVENT_ID.MAPPING: {
        const node: Node =
          event.type === EVENT_ID.SEQUENCE
            ? { kind: "list", items: [], source, at: event.start }
            : { kind: "map", entries: [], source, at: event.start };
        if (anchor !== undefined) anchors.set(anchor, "open");
        open.push({ node, size: 1, anchor, key: undefined });
        break;
      }
      case EVENT_ID.ALIAS: {
        const target = anchors.get(anchor ?? "");
        if (target === undefined || target === "open") {
          const [what, mend] =
            target === undefined
              ? [`*${anchor} names no anchor.`, `Write &${anchor} before the value that it stands for.`]
              : [`*${anchor} stands inside the value that it names.`, "Write the value out."];
          faults.push(fault(source, event.anchorStart - 1, "alias", what, mend));
          add({ kind: "text", text: "", plain: true, source, at: event.anchorStart - 1 }, 1);
        } else add(target.node, target.size);
        break;
      }
      case EVENT_ID.POP: {
        const done = open.pop();
        if (done === undefined) break;
        if (done.anchor !== undefined) anchors.set(done.anchor, { node: done.node, size: done.size });
        if (done.size > NODE_LIMIT)
          return {
            faults: [
              fault(
                source,
                done.node.at,
                "alias-bomb",
                `written out, the aliases here come to more than ${NODE_LIMIT} values.`,
                "Write the values out, or drop the aliases of aliases.",
                { limit: NODE_LIMIT },
              ),
            ],
          };
        add(done.node, done.size);
      }
    }
  }
  if (faults.length > 0) return { faults };
  return { root: root ?? { kind: "text", text: "", plain: true, source, at: 0 } };
}

// Owns what the editor offers while somebody types, and what it tells of the word under the pointer: keys and values of the file's schema, ids and words of the file.

import {
  autocompletion,
  type Completion,
  type CompletionContext,
  type CompletionResult,
} from "@codemirror/autocomplete";
import type { EditorState, Extension, Text } from "@codemirror/state";
import { hoverTooltip } from "@codemirror/view";
import { type JsonSchema, vehicleSchema } from "../../vehicle/index.ts";
import type { Files } from "../engine/asked.ts";
import type { Words } from "../words/said.ts";
import { type Known, knownIn, wordsFor } from "./known.ts";
import { meaningOf, offeredAt } from "./offered.ts";
import { type Lines, whereAt } from "./where.ts";

export interface Aids {
  /** The files of the model as they were read last. */
  readonly files: () => Files;
}

const linesOf = (doc: Text): Lines => ({ count: doc.lines, line: (n) => doc.line(n + 1).text });

const whereIn = (state: EditorState, at: number) => {
  const line = state.doc.lineAt(at);
  return { line, where: whereAt(linesOf(state.doc), line.number - 1, at - line.from) };
};

/** What the schema describes, made once, when it is first asked for. */
let made: JsonSchema | undefined;
const schema = (): JsonSchema => {
  made ??= vehicleSchema();
  return made;
};

/** What is known changes when the hands rest and the text is read: at every key it would take longer than the key. */
const rememberKnown = (aids: Aids) => {
  let last: { readonly files: Files; readonly known: Known } | undefined;
  return (): Known => {
    const files = aids.files();
    if (last?.files !== files) last = { files, known: knownIn(files) };
    return last.known;
  };
};

export const completing = (aids: Aids, words: () => Words["vehicle"]): Extension => {
  const known = rememberKnown(aids);
  const nameOf = (thing: string): string => {
    const { things } = words();
    return things[thing as keyof typeof things] ?? thing;
  };

  const offer = ({ state, pos, explicit }: CompletionContext): CompletionResult | null => {
    const { line, where } = whereIn(state, pos);
    if (where === undefined || (where.word === "" && !explicit)) return null;
    const { keys, values, ids } = offeredAt(schema(), where.path);
    const present = new Set(where.present);
    const after = line.text.slice(pos - line.from);
    const isFollowed = /^\s*:/.test(after);
    const completions: Completion[] = keys
      .filter(({ key }) => !present.has(key))
      .map(({ key, means }) => ({
        label: key,
        ...(isFollowed ? {} : { apply: `${key}: ` }),
        info: means,
        // In a value a key is the rarer thing: a need's own forms.
        boost: where.wants === "key" ? 10 : -10,
      }));
    if (where.wants === "value") {
      completions.push(...values.map((value) => ({ label: value, boost: 5 })));
      const wanted = new Set(ids);
      const own = known();
      for (const { id, thing, label } of own.ids)
        if (wanted.has(thing)) completions.push({ label: id, detail: label ?? nameOf(thing), info: nameOf(thing) });
      const last = where.path.findLast((step) => step !== "-") ?? "";
      completions.push(...wordsFor(own, last).map((word) => ({ label: word, boost: -5 })));
    }
    if (completions.length === 0) return null;
    return { from: line.from + where.from, options: completions, validFor: /^[^\s,[\]{}:"']*$/ };
  };

  const hover = hoverTooltip((view, pos) => {
    const line = view.state.doc.lineAt(pos);
    const column = pos - line.from;
    const head = /[\p{L}\p{N}._-]*$/u.exec(line.text.slice(0, column))?.[0] ?? "";
    const tail = /^[\p{L}\p{N}._-]*/u.exec(line.text.slice(column))?.[0] ?? "";
    const word = head + tail;
    if (word === "") return null;
    const from = pos - head.length;
    const to = pos + tail.length;
    const where = whereAt(linesOf(view.state.doc), line.number - 1, to - line.from);
    if (where === undefined) return null;
    const isKey = /^\s*:(\s|$)/.test(line.text.slice(to - line.from));
    const told = isKey ? tellKey(where.path, word, words()) : tellId(known(), word, words(), nameOf);
    return told === undefined ? null : { pos: from, end: to, above: true, create: () => ({ dom: box(told) }) };
  });

  return [autocompletion({ override: [offer], icons: false }), hover];
};

interface Told {
  readonly title: string;
  readonly text: string;
}

const tellKey = (path: readonly string[], word: string, words: Words["vehicle"]): Told | undefined => {
  const meaning = meaningOf(schema(), [...path, word]);
  if (meaning === undefined) return undefined;
  const { means, usually } = meaning;
  return { title: word, text: usually === undefined ? means : `${means}. ${words.editor.usually(usually)}` };
};

const tellId = (
  known: Known,
  word: string,
  words: Words["vehicle"],
  nameOf: (thing: string) => string,
): Told | undefined => {
  const found = known.ids.find(({ id }) => id === word);
  return found === undefined
    ? undefined
    : { title: found.label ?? word, text: words.editor.onLine(nameOf(found.thing), found.line) };
};

const box = ({ title, text }: Told): HTMLElement => {
  const dom = document.createElement("div");
  const head = document.createElement("b");
  dom.className = "hover";
  head.textContent = title;
  dom.append(head, text);
  return dom;
};

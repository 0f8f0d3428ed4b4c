// Owns where in a text a fault is marked: from the line and column of the reader to the stretch that an editor underlines.

import type { Fault } from "../../vehicle/index.ts";

/** A line of the text, as the editor has it: where it begins, and what is in it. */
export interface Line {
  readonly from: number;
  readonly text: string;
}

export interface Marked {
  readonly from: number;
  readonly to: number;
  readonly fault: Fault;
}

/** The offset in code units of a column that is counted in characters, from 1. */
export const offsetOf = (text: string, column: number): number => {
  let [at, left] = [0, column - 1];
  for (const character of text) {
    if (left <= 0) break;
    at += character.length;
    left -= 1;
  }
  return at;
};

/**
 * What is wrong begins at its column and goes to the end of the word or value there; of something in brackets the key before it is marked, for a bracket
 * alone is hardly seen. Never nothing, for nothing cannot be seen at all.
 */
export const stretchOf = (line: Line, column: number): readonly [number, number] => {
  const { from, text } = line;
  const start = Math.min(offsetOf(text, column), text.length);
  const key = /[{[]/.test(text[start] ?? "") ? /([^\s:{}[\],]+)\s*:\s*$/.exec(text.slice(0, start)) : null;
  if (key?.[1] !== undefined) return [from + key.index, from + key.index + key[1].length];
  const word = /^("[^"]*"|'[^']*'|[\p{L}\p{N}._-]+|[^\s,\]}#]+)/u.exec(text.slice(start))?.[0] ?? "";
  const end = start + word.length;
  return end > start ? [from + start, from + end] : [from + Math.max(0, start - 1), from + start];
};

/** The faults of one file in the order of its text; those of lines that are there no more are left out. */
export const markFaults = (
  faults: readonly Fault[],
  file: string,
  lineAt: (line: number) => Line | undefined,
): readonly Marked[] =>
  faults
    .flatMap((fault): readonly Marked[] => {
      const line = fault.at.file === file ? lineAt(fault.at.line) : undefined;
      if (line === undefined) return [];
      const [from, to] = stretchOf(line, fault.at.column);
      return [{ from, to, fault }];
    })
    .toSorted((a, b) => a.from - b.from || a.to - b.to);

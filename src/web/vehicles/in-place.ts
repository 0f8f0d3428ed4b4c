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

/** What is wrong begins at its column and goes to the end of the word or value there; never nothing, for nothing cannot be seen. */
export const stretchOf = (line: Line, column: number): readonly [number, number] => {
  const start = Math.min(offsetOf(line.text, column), line.text.length);
  const word = /^("[^"]*"|'[^']*'|[\p{L}\p{N}._-]+|[^\s,\]}#]+)/u.exec(line.text.slice(start))?.[0] ?? "";
  const end = start + word.length;
  return end > start ? [line.from + start, line.from + end] : [line.from + Math.max(0, start - 1), line.from + start];
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

// Owns the lines in which two texts differ, with a few around each so that one sees where.

import { diffWordsWithSpace, structuredPatch } from "diff";
import type { Files } from "../engine/asked.ts";

/** Lines shown around a change. */
const AROUND = 2;
/** Lines that may differ before the search is given up (a quarter of a second then): what differs more is another text, and no list of changes helps there. */
const MOST = 1500;

/** A line longer than this, in characters, is shown as changed in whole. */
const LONG = 2000;

/** A stretch of a changed line: what is the same in both, or not. */
export interface Piece {
  readonly text: string;
  readonly isSame: boolean;
}

export interface ChangedLine {
  readonly is: "same" | "added" | "removed";
  /** Its number in the older and in the newer text. */
  readonly was?: number;
  readonly now?: number;
  readonly text: string;
  /** Of a line that stands in place of another: where the two differ. */
  readonly pieces?: readonly Piece[];
}

export interface FileChange {
  readonly path: string;
  readonly is: "changed" | "added" | "removed" | "too much";
  /** Stretches of lines; between two of them nothing differs. */
  readonly stretches: readonly (readonly ChangedLine[])[];
  readonly added: number;
  readonly removed: number;
}

/** The files that differ. */
export const compareLines = (before: Files, after: Files): readonly FileChange[] => {
  const old = new Map(before.map(({ path, text }) => [path, text]));
  const now = new Map(after.map(({ path, text }) => [path, text]));
  return [...new Set([...now.keys(), ...old.keys()])].flatMap((path): readonly FileChange[] => {
    const [was, is] = [old.get(path), now.get(path)];
    if (was === is) return [];
    const change = was === undefined ? "added" : is === undefined ? "removed" : "changed";
    const patch = structuredPatch(path, path, was ?? "", is ?? "", undefined, undefined, {
      context: AROUND,
      maxEditLength: MOST,
    });
    if (patch === undefined) return [{ path, is: "too much", stretches: [], added: 0, removed: 0 }];
    const stretches = patch.hunks.map(({ lines, oldStart, newStart }) => paired(numbered(lines, oldStart, newStart)));
    const count = (wanted: ChangedLine["is"]) => stretches.flat().filter((line) => line.is === wanted).length;
    return [{ path, is: change, stretches, added: count("added"), removed: count("removed") }];
  });
};

const numbered = (lines: readonly string[], oldStart: number, newStart: number): readonly ChangedLine[] => {
  let [was, now] = [oldStart, newStart];
  return lines.flatMap((line): readonly ChangedLine[] => {
    const text = line.slice(1);
    switch (line[0]) {
      case "+":
        return [{ is: "added", now: now++, text }];
      case "-":
        return [{ is: "removed", was: was++, text }];
      case " ":
        return [{ is: "same", was: was++, now: now++, text }];
      default:
        // That the last line has no end is nothing to anybody here.
        return [];
    }
  });
};

/** Lines that stand in place of as many others are set against them, word by word. */
const paired = (lines: readonly ChangedLine[]): readonly ChangedLine[] => {
  const done = [...lines];
  for (let start = 0; start < lines.length; ) {
    const removed = runOf(lines, start, "removed");
    const added = runOf(lines, start + removed, "added");
    for (let n = 0; removed === added && n < removed; n += 1) {
      const [old, now] = [lines[start + n], lines[start + removed + n]];
      if (old === undefined || now === undefined || old.text.length + now.text.length > LONG) continue;
      const words = diffWordsWithSpace(old.text, now.text);
      const pieces = (own: "added" | "removed") =>
        words.flatMap((word) =>
          word[own === "added" ? "removed" : "added"] ? [] : [{ text: word.value, isSame: !word[own] }],
        );
      done[start + n] = { ...old, pieces: pieces("removed") };
      done[start + removed + n] = { ...now, pieces: pieces("added") };
    }
    start += Math.max(1, removed + added);
  }
  return done;
};

const runOf = (lines: readonly ChangedLine[], start: number, is: ChangedLine["is"]): number => {
  let count = 0;
  while (lines[start + count]?.is === is) count += 1;
  return count;
};

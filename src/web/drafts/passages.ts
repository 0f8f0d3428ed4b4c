// Owns what was told as passages: captions with their times, or lines; and which of them a thing of the draft comes from.

import { readCaptions, type Said } from "../../draft/index.ts";
import type { Narration } from "./kept.ts";

export interface Passage {
  /** Of all that was told, from 0. */
  readonly n: number;
  readonly file: string;
  readonly cue?: number;
  readonly line: number;
  readonly start?: number;
  readonly end?: number;
  readonly text: string;
}

export const passagesOf = (narrations: readonly Narration[]): readonly Passage[] => {
  const all: Omit<Passage, "n">[] = [];
  for (const { file, text, kind } of narrations)
    if (kind === "captions")
      for (const { n, line, start, end, text: said } of readCaptions(text).cues)
        all.push({
          file,
          cue: n,
          line,
          ...(start === undefined ? {} : { start }),
          ...(end === undefined ? {} : { end }),
          text: said,
        });
    else
      text.split(/\r\n|\r|\n/).forEach((said, i) => {
        if (said.trim() !== "") all.push({ file, line: i + 1, text: said.trim() });
      });
  return all.map((passage, n) => ({ ...passage, n }));
};

const wordsOf = (text: string): readonly string[] => text.toLowerCase().split(/[^\p{L}\p{N}]+/u);

/** The passages that words come from. Of several files the one that has most of them. */
export const sourcesIn = (passages: readonly Passage[], said: readonly Said[]): readonly Passage[] =>
  said.flatMap(({ cue, line, words }) => {
    const here = passages.filter((one) =>
      cue === undefined ? one.cue === undefined && one.line === line : one.cue === cue,
    );
    if (here.length < 2) return here;
    const sought = new Set(wordsOf(words));
    const share = ({ text }: Passage) => wordsOf(text).filter((word) => sought.has(word)).length;
    return here.toSorted((a, b) => share(b) - share(a)).slice(0, 1);
  });

/** The passage that is said at a second of the recording. */
export const passageAt = (passages: readonly Passage[], second: number): Passage | undefined =>
  passages.findLast(({ start }) => start !== undefined && start <= second + 0.05);

/** Minutes and seconds of a recording. */
export const clock = (seconds: number): string => {
  const whole = Math.max(0, Math.floor(seconds));
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")}`;
};

/** Lines that were typed along a recording as captions, each to the next one's beginning; without times as plain lines. */
export const typedText = (lines: readonly { readonly text: string; readonly time?: number }[]): string => {
  if (lines.every(({ time }) => time === undefined)) return `${lines.map(({ text }) => text).join("\n")}\n`;
  const stamp = (seconds: number): string => new Date(Math.max(0, seconds) * 1000).toISOString().slice(11, 23);
  const cues = lines.map(({ text, time = 0 }, i) => {
    const next = lines[i + 1]?.time;
    return `${stamp(time)} --> ${stamp(next !== undefined && next > time ? next : time + 4)}\n${text.replace(/-->/g, "→")}`;
  });
  return `WEBVTT\n\n${cues.join("\n\n")}\n`;
};

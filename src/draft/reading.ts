// Owns what a reading of one stretch of words has at hand: where it stands, in which language, and what was read before it.

import type { Chunk } from "./chunk.ts";
import type { Language } from "./language.ts";
import type { Pause, Word } from "./spoken.ts";

export interface Reading {
  readonly words: readonly Word[];
  readonly i: number;
  readonly language: Language;
  readonly last: Chunk | undefined;
  /** Before its first word. */
  readonly pause: Pause;
}

export const spanned = ({ i, pause }: Reading, length: number): Pick<Chunk, "from" | "to" | "pause"> => ({
  from: i,
  to: i + length,
  pause,
});

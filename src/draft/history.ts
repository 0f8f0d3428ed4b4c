// Owns what can be undone and done again: the texts that a draft had, one after the other, and which of them it has.

export interface History {
  readonly texts: readonly string[];
  /** Which of them is the present one. */
  readonly at: number;
}

/** Characters that are kept at the most; the oldest go first. */
const KEPT = 4_000_000;

export const beginHistory = (text: string): History => ({ texts: [text], at: 0 });

export const present = ({ texts, at }: History): string => texts[at] ?? "";

/** A new text behind the present one; what was undone before is gone. */
export function record(history: History, text: string): History {
  if (text === present(history)) return history;
  const texts = [...history.texts.slice(0, history.at + 1), text];
  let size = texts.reduce((sum, { length }) => sum + length, 0);
  while (texts.length > 2 && size > KEPT) size -= texts.shift()?.length ?? 0;
  return { texts, at: texts.length - 1 };
}

export const canUndo = ({ at }: History): boolean => at > 0;
export const canRedo = ({ texts, at }: History): boolean => at < texts.length - 1;

export const undo = (history: History): History => (canUndo(history) ? { ...history, at: history.at - 1 } : history);
export const redo = (history: History): History => (canRedo(history) ? { ...history, at: history.at + 1 } : history);

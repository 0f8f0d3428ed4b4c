// Owns what can be done to a draft by key and by button: each action with its name, its keys, and when it can be done.

import type { Row } from "./rows.ts";

export interface Situation {
  readonly chosen: Row | undefined;
  readonly canUndo: boolean;
  readonly canRedo: boolean;
  readonly canPlay: boolean;
}

export interface Action {
  readonly name:
    | "next"
    | "previous"
    | "accept"
    | "merge"
    | "split"
    | "move"
    | "part"
    | "connection"
    | "remove"
    | "play"
    | "undo"
    | "redo"
    | "search"
    | "add"
    | "task"
    | "asked"
    | "help";
  /** As a keyboard event names them; the first is the one that is shown. */
  readonly keys: readonly string[];
  /** Beside what is chosen, and not in the bar. */
  readonly ofChosen: boolean;
  readonly can: (at: Situation) => boolean;
}

const always = () => true;
const isTie = ({ chosen }: Situation) => chosen?.is === "connection";

export const ACTIONS: readonly Action[] = [
  { name: "next", keys: ["j", "ArrowDown"], ofChosen: false, can: always },
  { name: "previous", keys: ["k", "ArrowUp"], ofChosen: false, can: always },
  { name: "accept", keys: ["a"], ofChosen: true, can: ({ chosen }) => (chosen?.assumed.length ?? 0) > 0 },
  { name: "merge", keys: ["m"], ofChosen: true, can: isTie },
  { name: "split", keys: ["s"], ofChosen: true, can: isTie },
  { name: "move", keys: ["p"], ofChosen: true, can: ({ chosen }) => chosen !== undefined && chosen.is !== "part" },
  { name: "part", keys: ["t"], ofChosen: true, can: isTie },
  { name: "connection", keys: ["c"], ofChosen: true, can: ({ chosen }) => chosen?.is === "part" },
  { name: "remove", keys: ["d", "Delete"], ofChosen: true, can: ({ chosen }) => chosen !== undefined },
  { name: "play", keys: ["o"], ofChosen: true, can: ({ canPlay }) => canPlay },
  { name: "undo", keys: ["u"], ofChosen: false, can: ({ canUndo }) => canUndo },
  { name: "redo", keys: ["r"], ofChosen: false, can: ({ canRedo }) => canRedo },
  { name: "search", keys: ["/"], ofChosen: false, can: always },
  { name: "add", keys: ["n"], ofChosen: false, can: always },
  { name: "task", keys: ["w"], ofChosen: false, can: always },
  { name: "asked", keys: ["q"], ofChosen: false, can: always },
  { name: "help", keys: ["?"], ofChosen: false, can: always },
];

/** How a key is written on a button. */
export const keyName = (key: string): string => ({ ArrowDown: "↓", ArrowUp: "↑", Delete: "Del" })[key] ?? key;

/** The action of a key, unless somebody is writing: a letter is a letter in a field. */
export const actionOf = (event: KeyboardEvent): Action | undefined => {
  const target = event.target as HTMLElement | null;
  if (
    event.altKey ||
    event.ctrlKey ||
    event.metaKey ||
    target?.closest("input, select, textarea, dialog, audio, video") != null
  )
    return undefined;
  return ACTIONS.find(({ keys }) => keys.includes(event.key));
};

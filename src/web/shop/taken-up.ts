// Owns who took up this tablet while it was alone: in whose hands it is from then on, until somebody signs in or out at the server.

import { useEffect, useState } from "preact/hooks";

export interface TakenUp {
  /** A UUID of version 7 of the moment. */
  readonly id: string;
  readonly person: string;
  readonly name: string;
  /** Milliseconds since 1970. */
  readonly at: number;
}

const KEY = "unmoor-taken-up";
/** Milliseconds after which whoever has it shows again who he is: no longer than the server takes his word afterwards. */
const LASTS = 2 * 3_600_000;

export const readTakenUp = (): TakenUp | undefined => {
  try {
    const kept = JSON.parse(localStorage.getItem(KEY) ?? "null") as TakenUp | null;
    return kept === null || Date.now() - kept.at > LASTS ? undefined : kept;
  } catch {
    return undefined;
  }
};

const watchers = new Set<() => void>();

/** @throws DOMException where the browser keeps nothing */
export const keepTakenUp = (one: TakenUp | undefined): void => {
  if (one === undefined) localStorage.removeItem(KEY);
  else localStorage.setItem(KEY, JSON.stringify(one));
  for (const watcher of watchers) watcher();
};

/** Somebody has shown the server who he is, or left: what was taken up without it is over. */
export const endTakenUp = (): void => {
  try {
    keepTakenUp(undefined);
  } catch {
    // A browser that keeps nothing has kept nobody.
  }
};

/** The same in every tab. */
export const useTakenUp = (): TakenUp | undefined => {
  const [kept, setKept] = useState(readTakenUp);
  useEffect(() => {
    const look = () => setKept(readTakenUp());
    watchers.add(look);
    addEventListener("storage", look);
    return () => {
      watchers.delete(look);
      removeEventListener("storage", look);
    };
  }, []);
  const at = kept?.at;
  useEffect(() => {
    if (at === undefined) return;
    const over = setTimeout(() => setKept(readTakenUp()), at + LASTS - Date.now() + 1);
    return () => clearTimeout(over);
  }, [at]);
  return kept;
};

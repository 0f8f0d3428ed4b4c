// Owns what was taken and goes with what is entered next: photos and spoken notes of a run, wherever on the page they were taken.

import { useEffect, useState } from "preact/hooks";
import { type Attached, dropAttached, keepAttached } from "../device/attached.ts";

const pending = new Map<string, readonly string[]>();
const watchers = new Set<() => void>();
const NONE: readonly string[] = [];

export interface Pending {
  /** SHA-256 of each. */
  readonly taken: readonly string[];
  /** On the device's disk when it is fulfilled. @throws DOMException where the disk takes no more */
  readonly take: (bytes: Blob) => Promise<void>;
  /** An entry names them now. */
  readonly used: () => void;
  /** Nobody wants them: they leave the device. */
  readonly drop: () => void;
}

export const usePending = (run: string, as: Attached): Pending => {
  const [, draw] = useState(0);
  useEffect(() => {
    const watcher = () => draw((count) => count + 1);
    watchers.add(watcher);
    return () => void watchers.delete(watcher);
  }, []);
  const key = `${as} ${run}`;
  const now = () => pending.get(key) ?? NONE;
  const change = (taken: readonly string[]) => {
    pending.set(key, taken);
    for (const watcher of watchers) watcher();
  };
  return {
    taken: now(),
    take: async (bytes) => {
      const digest = await keepAttached(run, bytes);
      change([...now(), digest]);
    },
    used: () => change(NONE),
    drop: () => {
      const gone = now();
      change(NONE);
      void dropAttached(gone);
    },
  };
};

/** The field of an entry that names what was taken; none where nothing was. */
export const namedIn = <As extends Attached>(
  as: As,
  { taken }: Pending,
): { readonly [Field in As]?: readonly string[] } =>
  (taken.length === 0 ? {} : { [as]: taken }) as { readonly [Field in As]?: readonly string[] };

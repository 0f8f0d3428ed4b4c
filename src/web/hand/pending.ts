// Owns what somebody took and goes with what he enters next: photos and spoken notes of a run, wherever on the page they were taken, also before it was loaded anew.

import { useEffect, useState } from "preact/hooks";
import { type Attached, dropAttached, keepAttached, takenBy } from "../device/attached.ts";
import { useWork } from "./work.tsx";

const pending = new Map<string, readonly string[]>();
/** What was taken once more though an entry names it already: one picture of two things. */
const twice = new Map<string, readonly string[]>();
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

export const usePending = (as: Attached): Pending => {
  const { book, me } = useWork();
  const [, draw] = useState(0);
  useEffect(() => {
    const watcher = () => draw((count) => count + 1);
    watchers.add(watcher);
    return () => void watchers.delete(watcher);
  }, []);
  const by = me?.id ?? "";
  const key = `${as} ${by} ${book.run}`;
  // Another tab of this device may have entered it meanwhile.
  const now = () =>
    (pending.get(key) ?? NONE).filter((digest) => !book.names(digest) || twice.get(key)?.includes(digest));
  const change = (taken: readonly string[]) => {
    pending.set(key, taken);
    for (const watcher of watchers) watcher();
  };
  useEffect(() => {
    if (pending.has(key)) return;
    pending.set(key, NONE);
    takenBy(book, by, as).then(
      (kept) => {
        const again = kept.filter((digest) => !now().includes(digest));
        if (again.length > 0) change([...again, ...now()]);
      },
      // A browser that keeps nothing had nothing to bring back.
      () => undefined,
    );
  }, [key]);
  const none = () => {
    twice.delete(key);
    change(NONE);
  };
  return {
    taken: now(),
    take: async (bytes) => {
      const digest = await keepAttached(book.run, by, bytes);
      if (book.names(digest)) twice.set(key, [...(twice.get(key) ?? NONE), digest]);
      change([...now().filter((other) => other !== digest), digest]);
    },
    used: none,
    drop: () => {
      // What an entry names stays.
      const gone = now().filter((digest) => !book.names(digest));
      none();
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

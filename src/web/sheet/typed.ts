// Owns what is typed on a sheet and goes into no address: kept while the page is open, so that nothing is lost on the way to another sheet and back.

import { useCallback, useState } from "preact/hooks";

const kept = new Map<string, unknown>();

/** As `useState`, by a name of the whole page's. */
export const useTyped = <T>(name: string, first: T): readonly [T, (value: T) => void] => {
  const [held, setHeld] = useState<{ readonly name: string; readonly value: T }>();
  const value = held?.name === name ? held.value : kept.has(name) ? (kept.get(name) as T) : first;
  const change = useCallback(
    (next: T) => {
      kept.set(name, next);
      setHeld({ name, value: next });
    },
    [name],
  );
  return [value, change];
};

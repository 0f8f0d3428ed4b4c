// Owns what is asked of the lift, as the address of the page holds it.

import { useMemo } from "preact/hooks";
import { useLocation, useSearch } from "wouter-preact";

/** What is asked of the lift, as the address holds it. */
export interface Asking {
  readonly task?: string;
  readonly pitch?: readonly [number, number];
  readonly roll?: readonly [number, number];
  readonly taken?: readonly number[];
  readonly pin?: string;
}

const band = (text: string | null): readonly [number, number] | undefined => {
  const [low, high] = (text ?? "").split("..").map(Number);
  return text === null || low === undefined || high === undefined || !(low <= high) ? undefined : [low, high];
};

export const useAsking = () => {
  const search = useSearch();
  const [path, navigate] = useLocation();
  const asking = useMemo((): Asking => {
    const given = new URLSearchParams(search);
    const [task, pitch, roll] = [given.get("task"), band(given.get("pitch")), band(given.get("roll"))];
    const taken = given.get("taken")?.split(",").map(Number);
    const pin = given.get("pin");
    return {
      ...(task === null ? {} : { task }),
      ...(pitch === undefined ? {} : { pitch }),
      ...(roll === undefined ? {} : { roll }),
      ...(taken?.every((steps) => Number.isInteger(steps) && steps >= 0) ? { taken } : {}),
      ...(pin === null ? {} : { pin }),
    };
  }, [search]);
  const ask = (part: Readonly<Record<string, string | undefined>>) => {
    const next = new URLSearchParams(search);
    for (const [name, value] of Object.entries(part))
      if (value === undefined) next.delete(name);
      else next.set(name, value);
    navigate(`${path}?${next}`);
  };
  return [asking, ask] as const;
};

// Owns what of the vehicle's sheet one looks at: the view and the search in its address, and the place in the text that is gone to.

import { useCallback, useMemo, useState } from "preact/hooks";
import { useLocation, useSearch } from "wouter-preact";

export const VIEWS = ["overview", "text", "versions"] as const;
export type View = (typeof VIEWS)[number];

/** A place that is gone to; each asking is an object of its own, so that the same may be asked again. */
export interface Goal {
  readonly file: string;
  readonly line: number;
  readonly column: number;
}

export interface Look {
  readonly view: View;
  readonly given: URLSearchParams;
  readonly look: (part: Readonly<Record<string, string | undefined>>) => void;
  readonly goal: Goal | undefined;
  readonly go: (to: Goal) => void;
  readonly arrive: () => void;
}

/** @param first the view where the address names none */
export const useLook = (first: View): Look => {
  const search = useSearch();
  const [path, navigate] = useLocation();
  const given = useMemo(() => new URLSearchParams(search), [search]);
  const [goal, setGoal] = useState<Goal>();
  const look = useCallback(
    (part: Readonly<Record<string, string | undefined>>) => {
      const next = new URLSearchParams(search);
      for (const [name, value] of Object.entries(part))
        if (value === undefined || value === "") next.delete(name);
        else next.set(name, value);
      const query = next.toString();
      navigate(query === "" ? path : `${path}?${query}`, { replace: true });
    },
    [search, path, navigate],
  );
  const asked = given.get("view") as View | null;
  const view = asked !== null && VIEWS.includes(asked) ? asked : first;
  const go = useCallback(
    ({ file, line, column }: Goal) => {
      setGoal({ file, line, column });
      look({ view: "text", file });
    },
    [look],
  );
  const arrive = useCallback(() => setGoal(undefined), []);
  return { view, given, look, goal, go, arrive };
};

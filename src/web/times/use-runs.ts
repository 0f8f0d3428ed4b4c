// Owns the runs files that were given for a model: kept while the page is open, and what was learnt from them for every sheet that asks.

import { useCallback, useMemo } from "preact/hooks";
import type { GivenFile, LearnSaid, Taught } from "../engine/times-asked.ts";
import { useTyped } from "../sheet/typed.ts";
import { type Known, useAnswer, useModel } from "../shop/model.tsx";

const NONE: readonly GivenFile[] = [];

/** Demo vehicles whose files come with runs. */
export const DEMO_RUNS: Readonly<Record<string, string>> = { "bench-pump": "bench-pump.runs.jsonl" };

export interface RunsGiven {
  readonly files: readonly GivenFile[];
  readonly give: (files: readonly GivenFile[]) => void;
  readonly learn: Known<LearnSaid>;
  /** Times by way; undefined where nothing was learnt. */
  readonly taught: Taught | undefined;
}

export const useRuns = (): RunsGiven => {
  const { base } = useModel();
  const [files, setFiles] = useTyped(`runs ${base.from}/${base.id}`, NONE);
  const body = useMemo(() => (files.length === 0 ? undefined : { runs: files }), [files]);
  const learn = useAnswer("learn", body);
  const learnt = body === undefined ? undefined : learn.data?.learnt;
  const taught = useMemo(
    () =>
      learnt === undefined
        ? undefined
        : Object.fromEntries(learnt.times.map(({ step, centre, spread }) => [step, { centre, spread }])),
    [learnt],
  );
  // A name that comes again is the newer file.
  const give = useCallback(
    (more: readonly GivenFile[]) => {
      const names = new Set(more.map(({ path }) => path));
      setFiles(more.length === 0 ? NONE : [...files.filter(({ path }) => !names.has(path)), ...more]);
    },
    [files, setFiles],
  );
  return { files, give, learn, taught };
};

// Owns when a run on the board is done: its order scheduled and simulated once, and of that what the labour left is of the whole.

import { useQuery } from "@tanstack/preact-query";
import { useMemo } from "preact/hooks";
import { takenAlong } from "../device/taking.ts";
import type { Files } from "../engine/asked.ts";
import { useEngine } from "../shop/model.tsx";
import { fetchRun } from "../shop/runs.ts";

/** Of search for a schedule, where there are a few runs and where there are many. */
const SECONDS = 1;
const SECONDS_OF_MANY = 0.3;
/** Of a thousand. */
const [HALF, MOST] = [500, 900];
const MINUTE = 60_000;
const NOTHING_TAUGHT = {};

const known = new Map<string, Files>();
/** Runs of the same vehicle have the same files, and what is asked of these is worked out once. */
const asOne = (files: Files): Files => {
  const text = JSON.stringify(files);
  const same = known.get(text) ?? files;
  known.set(text, same);
  return same;
};

/** Moments, milliseconds since 1970, by which it is done half the time, and nine times in ten; undefined while they are not known. */
export const useFinish = (
  run: string,
  { labour, left }: { readonly labour: number; readonly left: number },
  isOfMany = false,
): { readonly half: number; readonly most: number } | undefined => {
  const kept = useQuery({
    queryKey: ["board-order", run],
    queryFn: async ({ signal }) => {
      const here = (await takenAlong().catch(() => [])).find((one) => one.run === run);
      const { files, run: of } = here === undefined ? await fetchRun(run, signal) : { files: here.files, run: here };
      return { files: asOne(files), order: of.asked };
    },
    staleTime: Number.POSITIVE_INFINITY,
  }).data;
  const crew = useEngine(
    "crew",
    kept?.files,
    useMemo(
      () => (kept === undefined ? undefined : { order: kept.order, seconds: isOfMany ? SECONDS_OF_MANY : SECONDS }),
      [kept, isOfMany],
    ),
  ).data;
  const asked = useMemo(
    () =>
      kept === undefined || crew?.schedule === undefined || crew.plan === undefined || !crew.isLast
        ? undefined
        : { order: kept.order, schedule: crew.schedule, elapsed: crew.plan.elapsed, taught: NOTHING_TAUGHT },
    [kept, crew],
  );
  const { data } = useEngine("finish", kept?.files, asked);
  if (data === undefined || labour === 0) return undefined;
  const share = left / labour;
  const by = (thousandth: number) => Date.now() + share * (data.quantiles[thousandth] ?? 0) * MINUTE;
  return { half: by(HALF), most: by(MOST) };
};

// Owns when a run on the board is done: its order scheduled and simulated once, and of that what the labour left is of the whole.

import { useQuery } from "@tanstack/preact-query";
import { useMemo } from "preact/hooks";
import { takenAlong } from "../device/taking.ts";
import type { Files } from "../engine/asked.ts";
import { useEngine } from "../shop/model.tsx";
import { fetchRun } from "../shop/runs.ts";

/** Seconds of search for a schedule, and runs of its simulation, where there are a few. */
const FEW = { seconds: 1, runs: 10_000 } as const;
/** Where there are many: the first schedule; of 2,000 runs both times are within a hundredth, 19 times in 20. */
const MANY = { seconds: 0, runs: 2_000 } as const;
const MINUTE = 60_000;

/** Vehicles whose files are held to be compared with. */
const VEHICLES = 8;
const known = new Map<string, Files>();
/** Runs of the same vehicle have the same files, and what is asked of these is worked out once. Of more vehicles the one that came longest ago is let go. */
const asOne = (files: Files): Files => {
  const text = JSON.stringify(files);
  const same = known.get(text) ?? files;
  known.delete(text);
  known.set(text, same);
  for (const oldest of [...known.keys()].slice(0, -VEHICLES)) known.delete(oldest);
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
  const asked = useMemo(
    () => (kept === undefined ? undefined : { order: kept.order, ...(isOfMany ? MANY : FEW) }),
    [kept, isOfMany],
  );
  const minutes = useEngine("when", kept?.files, asked).data?.minutes;
  if (minutes === undefined || labour === 0) return undefined;
  const by = (whole: number) => Date.now() + (left / labour) * whole * MINUTE;
  return { half: by(minutes.half), most: by(minutes.most) };
};

// Owns what the board knows: the runs under way, each as the server has it, asked again when it tells of news and not before.

import { useQuery, useQueryClient } from "@tanstack/preact-query";
import { useEffect, useState } from "preact/hooks";
import type { GateDocument, RunDocument } from "../../server/index.ts";
import { call } from "../shop/calls.ts";
import { useOrders } from "../shop/runs.ts";

/** Milliseconds before a stream that broke is opened again: doubled each time, to this most. */
const AGAIN = 2_000;
const AT_MOST = 60_000;

/** Ids of runs under way, the latest first; and when the line was lost, where it is. */
export const useNews = () => {
  const queries = useQueryClient();
  const orders = useOrders();
  const [away, setAway] = useState<number>();
  useEffect(() => {
    let live: EventSource | undefined;
    let again: ReturnType<typeof setTimeout> | undefined;
    let wait = AGAIN;
    const open = () => {
      live = new EventSource("/api/live");
      live.addEventListener("open", () => {
        wait = AGAIN;
        setAway(undefined);
        // What was missed is not told again.
        void queries.invalidateQueries({ queryKey: ["orders"] });
        void queries.invalidateQueries({ queryKey: ["on-board"] });
      });
      live.addEventListener("run", ({ data }: MessageEvent<string>) => {
        const run = JSON.parse(data) as string;
        void queries.invalidateQueries({ queryKey: ["on-board", run] });
        const known = queries.getQueryData<readonly { readonly order: string; readonly state: string }[]>(["orders"]);
        if (known?.find(({ order }) => order === run)?.state !== "running")
          void queries.invalidateQueries({ queryKey: ["orders"] });
      });
      live.addEventListener("error", () => {
        live?.close();
        setAway((since) => since ?? Date.now());
        again = setTimeout(open, wait);
        wait = Math.min(AT_MOST, 2 * wait);
      });
    };
    open();
    return () => {
      clearTimeout(again);
      live?.close();
    };
  }, [queries]);
  const runs = (orders.data ?? [])
    .filter(({ state }) => state === "running")
    .toSorted((a, b) => b.at - a.at)
    .map(({ order }) => order);
  return { runs, away, isLoading: orders.data === undefined && orders.error === null };
};

export interface OnBoard {
  readonly standing: RunDocument;
  readonly gates: GateDocument["gates"];
}

export const useOnBoard = (run: string) =>
  useQuery({
    queryKey: ["on-board", run],
    queryFn: async (): Promise<OnBoard> => {
      const path = `/runs/${encodeURIComponent(run)}`;
      const [{ body: standing }, { body: gates }] = await Promise.all([
        call<RunDocument>("GET", path),
        call<GateDocument>("GET", `${path}/gates`),
      ]);
      return { standing, gates: gates.gates };
    },
    staleTime: Number.POSITIVE_INFINITY,
  });

// Owns the versions of a vehicle at the shop: each as it was kept, which one is the latest.

import { type QueryClient, queryOptions, useQuery, useQueryClient } from "@tanstack/preact-query";
import type { Files } from "../engine/asked.ts";
import { call } from "./calls.ts";
import { type Source, useModel, type VehicleVersion } from "./model.tsx";

export type KeptVersion = VehicleVersion & { readonly files: Files };

/** A version never changes; the latest may be another by now. */
const asked = (id: string, version: number | undefined) =>
  queryOptions({
    queryKey: ["version", id, version ?? "latest"],
    queryFn: async ({ signal }) =>
      (
        await call<KeptVersion>(
          "GET",
          `/vehicles/${encodeURIComponent(id)}${version === undefined ? "" : `?version=${version}`}`,
          undefined,
          {},
          signal,
        )
      ).body,
    staleTime: version === undefined ? 0 : Number.POSITIVE_INFINITY,
    retry: false,
  });

/** @param id nothing is asked while it is undefined */
export const useVersion = (id: string | undefined, version?: number) =>
  useQuery({ ...asked(id ?? "", version), enabled: id !== undefined });

/** The latest at the shop, asked anew. @throws Refusal */
export const fetchLatest = (queries: QueryClient, id: string): Promise<KeptVersion> =>
  queries.fetchQuery(asked(id, undefined));

/** The files as they are kept where the model around comes from, without what was changed here; undefined where that was not reached. */
export const useKept = (): Files | undefined => {
  const { from, id } = useModel().base;
  return useQueryClient().getQueryData<Source>(["source", from, id, undefined])?.files;
};

// Owns the sites that somebody works at, and the time zone whose times he is shown.

import { useQuery } from "@tanstack/preact-query";
import { call } from "./calls.ts";
import { useDoor, useMe } from "./door.ts";

export interface Site {
  readonly site: string;
  readonly label: string;
  /** IANA name. */
  readonly zone: string;
}

/** One's own; all of them to who keeps the server. */
export const useSites = (): readonly Site[] => {
  const door = useDoor();
  const sites = useQuery({
    queryKey: ["sites"],
    queryFn: async () => (await call<{ readonly sites: readonly Site[] }>("GET", "/sites")).body.sites,
    enabled: door.data?.signedIn === true,
    staleTime: 300_000,
  });
  return sites.data ?? [];
};

/** That of the tablet's site, else of the first site that one works at; undefined where there is none: then it is the browser's own. */
export const useZone = (): string | undefined => {
  const { device } = useDoor().data ?? {};
  const me = useMe();
  const sites = useSites();
  const own = sites.find(({ site }) => me?.sites[site] !== undefined) ?? sites[0];
  return device?.own === false ? device.zone : own?.zone;
};

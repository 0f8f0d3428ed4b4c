// Owns the clock that all screens show, that of the site, and the look at it when a session's time is over.

import type { ComponentChildren } from "preact";
import { useSessionEnd } from "../shop/session-end.ts";
import { useZone } from "../shop/sites.ts";
import { ZoneContext } from "./figures.ts";

export const SiteClock = ({ children }: { readonly children: ComponentChildren }) => {
  useSessionEnd();
  return <ZoneContext.Provider value={useZone()}>{children}</ZoneContext.Provider>;
};

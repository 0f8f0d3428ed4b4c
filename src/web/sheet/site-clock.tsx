// Owns the clock that all screens show: that of the site.

import type { ComponentChildren } from "preact";
import { useZone } from "../shop/sites.ts";
import { ZoneContext } from "./figures.ts";

export const SiteClock = ({ children }: { readonly children: ComponentChildren }) => (
  <ZoneContext.Provider value={useZone()}>{children}</ZoneContext.Provider>
);

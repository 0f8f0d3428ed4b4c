// Owns the time zone of a site: which names are taken, and which one holds where none was given.

import { z } from "@hono/zod-openapi";
import type { Site } from "../../store/index.ts";

/** Whether this is a name of the IANA's list. An offset (`+01:00`) is none: it knows no summer. */
const isZone = (name: string): boolean => {
  if (!/^[A-Za-z]/.test(name)) return false;
  try {
    new Intl.DateTimeFormat("en", { timeZone: name });
    return true;
  } catch {
    return false;
  }
};

export const zoneShape = z
  .string()
  .max(60)
  .refine(isZone, "a name of the IANA's list, such as Europe/Zurich")
  .describe("IANA name of the time zone that the site's clocks show.");

/** The one that was given; else the server's own, for it mostly stands in the shop. */
export const zoneOf = ({ body }: Pick<Site, "body">): string => {
  const { zone } = (body ?? {}) as { readonly zone?: unknown };
  return typeof zone === "string" && isZone(zone) ? zone : Intl.DateTimeFormat().resolvedOptions().timeZone;
};

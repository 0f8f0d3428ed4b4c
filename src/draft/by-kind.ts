// Owns the minutes that a draft takes for a connection whose time nobody said: the catalogue's, by kind, fastener and count.

import { FASTENERS, guess, medianOf } from "../times/index.ts";

/** Whole minutes of its release. */
export function minutesByKind(kind: string, item: string | undefined, count: number | undefined): number {
  const fastener = FASTENERS.find(({ id }) => id === item)?.id;
  const known = guess({
    kind,
    ...(fastener === undefined ? {} : { fastener }),
    ...(count === undefined ? {} : { count }),
  });
  return "off" in known ? Math.max(1, Math.round(medianOf(known.off))) : 3;
}

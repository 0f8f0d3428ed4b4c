// Owns what is counted out and in again: temporary things at the vehicle, and tools.

import type { Entry } from "./entry.ts";
import { type Contradiction, contradiction } from "./rules.ts";

export interface Count {
  readonly item: string;
  /** The connection or task that it was put in for. */
  readonly at?: string;
  /** Pieces that are still there. */
  readonly there: number;
  readonly by: readonly string[];
  readonly contradictions: readonly Contradiction[];
}

/** Addition knows no order: more out than in is a contradiction only as long as it stays so. */
export const foldCount = (item: string, at: string | undefined, entries: readonly Entry[]): Count => {
  let there = 0;
  let last = "";
  const by = new Set<string>();
  for (const { id, body, author } of entries) {
    if (body.kind === "put in" || body.kind === "tool out") {
      there += body.count;
      by.add(author);
    } else if (body.kind === "taken out" || body.kind === "tool in") {
      there -= body.count;
      last = id;
    }
  }
  return {
    item,
    ...(at === undefined ? {} : { at }),
    there,
    by: [...by],
    contradictions: there < 0 ? [contradiction("M1", item, last)] : [],
  };
};

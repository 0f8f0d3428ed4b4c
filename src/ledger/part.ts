// Owns where a part is: in its place, hung aside, or lying somewhere by itself.

import type { Entry } from "./entry.ts";
import { type Contradiction, contradiction } from "./rules.ts";

export interface PartStanding {
  readonly part: string;
  /** Absent: where it belongs. */
  readonly away?:
    | { readonly how: "hung aside"; readonly to: string; readonly entry: string }
    | { readonly how: "set aside"; readonly place: string; readonly entry: string };
  /** How often it was put away and brought back. */
  readonly awayTimes: number;
  readonly backTimes: number;
  readonly contradictions: readonly Contradiction[];
}

export const foldPart = (part: string, entries: readonly Entry[]): PartStanding => {
  const contradictions: Contradiction[] = [];
  let away: PartStanding["away"];
  let [awayTimes, backTimes] = [0, 0];
  for (const { id, body } of entries)
    if (body.kind === "hung aside") {
      if (away?.how === "hung aside" && away.to !== body.to)
        contradictions.push(contradiction("P2", part, away.entry, id));
      if (away === undefined) awayTimes++;
      away = { how: "hung aside", to: body.to, entry: id };
    } else if (body.kind === "set aside") {
      if (away === undefined) awayTimes++;
      // What hangs may be laid down, and what lies may be laid elsewhere: the last place holds.
      away = { how: "set aside", place: body.place, entry: id };
    } else if (body.kind === "brought back") {
      if (away === undefined) contradictions.push(contradiction("P1", part, id));
      else backTimes++;
      away = undefined;
    }
  return { part, ...(away === undefined ? {} : { away }), awayTimes, backTimes, contradictions };
};

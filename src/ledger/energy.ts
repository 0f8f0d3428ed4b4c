// Owns how an energy stands: on, or shut off with the key in somebody's pocket.

import type { Entry } from "./entry.ts";
import { type Contradiction, contradiction } from "./rules.ts";

export interface EnergyStanding {
  readonly energy: string;
  /** Who holds the key and by which entry; absent: it is on. */
  readonly off?: { readonly key: string; readonly entry: string; readonly at: number };
  /** The entry that put it on again, as long as it is. */
  readonly restored?: string;
  readonly contradictions: readonly Contradiction[];
}

/** Only who holds the key restores an energy; another's word leaves it off, and stands as a contradiction. */
export const foldEnergy = (energy: string, entries: readonly Entry[]): EnergyStanding => {
  const contradictions: Contradiction[] = [];
  let off: EnergyStanding["off"];
  let restored: string | undefined;
  for (const { id, body, author, at } of entries)
    if (body.kind === "isolated") {
      if (off === undefined) {
        off = { key: body.key, entry: id, at };
        restored = undefined;
      } else if (off.key !== body.key) contradictions.push(contradiction("K1", energy, off.entry, id));
    } else if (body.kind === "restored") {
      if (off === undefined) contradictions.push(contradiction("K2", energy, id));
      else if (off.key !== author) contradictions.push(contradiction("K3", energy, off.entry, id));
      else {
        off = undefined;
        restored = id;
      }
    }
  return {
    energy,
    ...(off === undefined ? {} : { off }),
    ...(restored === undefined ? {} : { restored }),
    contradictions,
  };
};

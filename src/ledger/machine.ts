// Owns the machine as an individual: what was found on it that the file does not say, kept from run to run and offered at its next order.

import type { Ledger } from "./ledger.ts";

/** One lasting difference. */
export interface Difference {
  readonly about: string;
  readonly text: string;
  readonly photos: readonly string[];
  readonly run: string;
  readonly author: string;
  readonly at: number;
}

export interface MachineRecord {
  readonly format: "unmoor/machine/1";
  readonly serial: string;
  readonly options: readonly string[];
  readonly differences: readonly Difference[];
}

/** The record after a run: what it found is added, what was found again of the same thing takes the place of the older. */
export const recordAfter = (record: MachineRecord, ledger: Ledger): MachineRecord => {
  const found = ledger.list("remarks", "as found").map(({ author, at, body }): Difference => {
    const { about, text, photos = [] } = body;
    return { about, text, photos, run: ledger.brief.run, author, at };
  });
  const latest = new Map([...record.differences, ...found].map((one) => [`${one.about} ${one.run}`, one]));
  const byThing = new Map([...latest.values()].map((one) => [one.about, one]));
  return { ...record, differences: [...byThing.values()] };
};

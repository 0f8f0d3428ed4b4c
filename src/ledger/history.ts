// Owns the past: how everything stood at a moment, and what a device knew then.

import type { Brief } from "./brief.ts";
import type { Entry } from "./entry.ts";
import { Ledger } from "./ledger.ts";

/** How it stood: everything written by that moment, by the one clock of the run. @param until milliseconds since 1970. */
export const ledgerAt = (brief: Brief, entries: readonly Entry[], until: number): Ledger =>
  new Ledger(
    brief,
    entries.filter(({ clock }) => clock[0] <= until),
  );

/** The entries that a device had written or seen by its own entry with this number: what its people could know when they wrote it. */
export const knownTo = (entries: readonly Entry[], device: string, number: number): readonly Entry[] => {
  const byDevice = new Map<string, Map<number, Entry>>();
  for (const entry of entries) {
    const own = byDevice.get(entry.device) ?? new Map<number, Entry>();
    own.set(entry.number, entry);
    byDevice.set(entry.device, own);
  }
  // What a device has seen includes what those had seen whom it heard from.
  const known = new Map<string, number>();
  const open: (readonly [string, number])[] = [[device, number]];
  for (let one = open.pop(); one !== undefined; one = open.pop()) {
    const [from, until] = one;
    const before = known.get(from) ?? 0;
    if (until <= before) continue;
    known.set(from, until);
    for (let n = before + 1; n <= until; n++) open.push(...Object.entries(byDevice.get(from)?.get(n)?.seen ?? {}));
  }
  return entries.filter((entry) => entry.number <= (known.get(entry.device) ?? 0));
};

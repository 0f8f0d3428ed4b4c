// Owns the hybrid logical clock: an order of entries that never puts what was known before after what was written on it, however the clocks of the devices stand.
// Kulkarni, Demirbas, Madappa, Avva, Leone: Logical Physical Clocks, OPODIS 2014.

/** Milliseconds since 1970 UTC, and a count within the millisecond. */
export type Clock = readonly [time: number, count: number];

export const BEGINNING: Clock = [0, 0];

export const compareClocks = (a: Clock, b: Clock): number => a[0] - b[0] || a[1] - b[1];

export const latest = (a: Clock, b: Clock): Clock => (compareClocks(a, b) >= 0 ? a : b);

/** The clock of the next entry: after everything its device has written or seen, and as late as its own clock says. */
export const tick = (before: Clock, now: number): Clock => (now > before[0] ? [now, 0] : [before[0], before[1] + 1]);

// Owns the stop of a load: anybody stops it, by pausing the lift itself; who may let it go on is another matter.

import type { BodyOf } from "./kinds.ts";
import type { EntryOf, Ledger } from "./ledger.ts";

/** What whoever stops a load enters. */
export const stopOf = (lift: string, text: string): BodyOf<"paused"> => ({
  kind: "paused",
  cause: "other",
  about: lift,
  text,
});

/** The stop of a lift that nobody who may has ended: neither somebody's own waiting that is over ends it, nor the word of anybody else. */
export const stopIn = (ledger: Ledger, lift: string): EntryOf<"paused"> | undefined => {
  let stop: EntryOf<"paused"> | undefined;
  for (const entry of ledger.list("hours", "paused", "resumed")) {
    if (entry.body.about !== lift) continue;
    if (entry.body.kind === "paused") {
      if (entry.body.cause === "other") stop = entry as EntryOf<"paused">;
    } else if (stop !== undefined && mayEnd(ledger, lift, stop, entry.author)) stop = undefined;
  }
  return stop;
};

/** Who may let a stopped load go on: who stopped it, who signals, and whoever approves lifts. */
export const mayEnd = (ledger: Ledger, lift: string, stop: EntryOf<"paused">, person: string): boolean => {
  const signaller = ledger.list("gates", "approval").findLast(({ body }) => body.lift === lift)?.body.signaller;
  const approves = ledger.brief.people.some(({ id, roles }) => id === person && roles.includes("lift approver"));
  return approves || person === signaller || person === stop.author;
};

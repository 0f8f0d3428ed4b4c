// Owns the foresight of an entry: what it would contradict, before anybody enters it.

import type { Entry } from "./entry.ts";
import type { Body } from "./kinds.ts";
import type { Ledger } from "./ledger.ts";
import type { Contradiction } from "./rules.ts";

/** Later than anything that a device ever writes. */
const LAST = [Number.MAX_SAFE_INTEGER, 0] as const;

/** The contradictions that an entry of this person would make now; the ledger is left as it was. */
export const foresee = (ledger: Ledger, author: string, body: Body): readonly Contradiction[] => {
  const entry: Entry = {
    format: "unmoor/entry/1",
    id: "00000000-0000-7000-8000-000000000000",
    run: ledger.brief.run,
    author,
    device: "",
    number: 1,
    previous: null,
    seen: {},
    clock: LAST,
    at: 0,
    body,
    signature: "",
  };
  const before = new Set(ledger.contradictions().map(({ key }) => key));
  ledger.add(entry);
  const fresh = ledger.contradictions().filter(({ key }) => !before.has(key));
  ledger.remove(entry);
  return fresh;
};

// Owns the flags of entries: one for every field that any kind has. By itself, since the list of commands needs no more of the ledger.

import { KINDS } from "../ledger/index.ts";
import type { Flag } from "./call.ts";

/** A flag for every field that any kind has. */
export const ENTRY_FIELDS: readonly Flag[] = [
  ...new Set(Object.values(KINDS).flatMap(({ fields }) => Object.keys(fields))),
].map((name) => ({
  name,
  value: name.toUpperCase(),
  many: true,
  text: `of ${Object.entries(KINDS)
    .filter(([, { fields }]) => Object.hasOwn(fields, name))
    .map(([kind]) => kind)
    .slice(0, 6)
    .join(", ")}`,
}));

// Owns the words of the ledger's entries on paper, in English: as the ledger has them.

import { type Kind, RULES, type RuleId } from "../../ledger/index.ts";

export const ledger = {
  kind: (kind: Kind): string => kind,
  /** Another entry, by its number in the record. */
  entry: (one: number | string): string => `no. ${one}`,
  /** What a field of an entry is called. */
  field: (name: string): string => name,
  /** A word of a closed list: found loose, way in, state open. */
  value: (word: string): string => word,
  rule: (id: RuleId): string => RULES[id],
  /** A contradiction, and what settles it. */
  contradiction: (rule: string, about: string, what: string, who: string, key: string) =>
    `${rule} ${about}: ${what} (${who}). It stands until somebody settles it: ${key}`,
};

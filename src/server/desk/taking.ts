// Owns the taking of an entry from a person: judged on everything before it, and drafted; or why it is not taken.

import {
  type Body,
  isEntryId,
  type Phrase,
  type Refusal,
  type Replan,
  readBody,
  refusalOf,
  refuse,
  Sayings,
  sayPhrase,
  sentence,
  type Told,
  warningsOf,
  writeCanonical,
} from "../../ledger/index.ts";
import type { RunRecord } from "./run-record.ts";

export type Taking =
  | { readonly refused: Refusal }
  | {
      readonly told: readonly Told[];
      /** What whoever entered it should know at once. */
      readonly warnings: readonly string[];
      readonly replan?: Replan;
    };

/** How an entry is taken. */
export interface TakeHow {
  /** The person has been asked about a torque that does not fit, and stays by it. */
  readonly sure?: boolean;
  /** Of the entry, made by whoever asks, a UUID of version 7: asked again, it is the same entry. */
  readonly id?: string;
}

/** What became of it, and what it says where that leads to more. */
export interface Judged {
  readonly taking: Taking;
  readonly entered?: { readonly body: Body; readonly id: string };
}

/** Who speaks for the store. */
export const STORE = "store";

/** Judges what somebody says, and drafts it where it is taken. */
export const judge = (record: RunRecord, author: string, said: unknown, { id, sure = false }: TakeHow): Judged => {
  const { ledger } = record;
  const full = inFull(record, said);
  if (id !== undefined) {
    if (!isEntryId(id)) return refused(["entryIdShape"], ["makeId"]);
    const there = ledger.entry(id);
    // Whoever got no answer sends again, and is told that it stands.
    if (there !== undefined) {
      if (there.author !== author || !isSame(there.body, full)) return refused(["entryIdTaken", id], ["ownEntryId"]);
      const told = record.told.filter(({ entry }) => entry.id === id);
      // What follows from it is done again, where it was not done to its end.
      return { taking: { told, warnings: [] }, entered: { body: there.body, id } };
    }
  }
  const reading = readBody(full);
  if ("faults" in reading) return refused(["unreadable", reading.faults.map(sentence).join(" ")], ["enterAgain"]);
  const { body } = reading;
  const refusal = barred(record, body) ?? refusalOf(ledger, author, body, sure);
  return refusal === undefined ? drafted(record, author, body, id) : { taking: { refused: refusal } };
};

/** The entry as a draft, with the store's word on it where it is an approval. */
const drafted = (record: RunRecord, author: string, body: Body, id: string | undefined): Judged => {
  const { ledger } = record;
  const before = new Set(ledger.contradictions().map(({ key }) => key));
  const warnings = warningsOf(ledger, author, body).map((one) => sayPhrase(one));
  const own = record.draft(author, body, id);
  const told = [own];
  if (body.kind === "approval") told.push(record.draft(STORE, { kind: "confirmed", approval: own.entry.id }));
  const fresh = ledger.contradictions().filter(({ key }) => !before.has(key));
  const sayings = new Sayings(ledger);
  return {
    taking: { told, warnings: [...warnings, ...fresh.map((one) => sayings.sayContradiction(one))] },
    entered: { body, id: own.entry.id },
  };
};

/** What no entry can be taken over. */
const barred = ({ damages, isClosed }: RunRecord, { kind }: Body): Refusal | undefined => {
  if (damages.length > 0 && kind === "passed") return refuse(["ledgerDamaged", damages.join("; ")], ["restoreBackup"]);
  return isClosed ? refuse(["runClosed"], ["anotherOrder"]) : undefined;
};

/** An entry that is named by the end of its id is named in full. */
const inFull = ({ told }: RunRecord, said: unknown): unknown => {
  if (typeof said !== "object" || said === null) return said;
  const full = (value: unknown) => {
    if (typeof value !== "string" || !/^[0-9a-f]{4,12}$/.test(value)) return value;
    const meant = told.filter(({ entry }) => entry.id.endsWith(value));
    return meant.length === 1 ? meant[0]?.entry.id : value;
  };
  return Object.fromEntries(
    Object.entries(said).map(([name, value]) => [
      name,
      ["finding", "approval", "of"].includes(name) ? full(value) : value,
    ]),
  );
};

const refused = (what: Phrase, mend: Phrase): Judged => ({ taking: { refused: refuse(what, mend) } });

/** Whether two bodies say the same. */
const isSame = (body: Body, said: unknown): boolean => {
  try {
    return writeCanonical(body) === writeCanonical(said);
  } catch {
    return false;
  }
};

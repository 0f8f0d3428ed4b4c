// Owns the reception of what another device wrote while it was alone: whether it is the device's own, whole, and by people of this order; then it is kept, all of it.

import {
  type Contradiction,
  type Phrase,
  type Told,
  type Verifier,
  verifyEntries,
  wrongPasses,
} from "../../ledger/index.ts";
import { type Reason, sayReason } from "../refusals.ts";
import type { RunRecord } from "./run-record.ts";
import { STORE } from "./taking.ts";

/** Why an entry that was brought is not taken. */
export interface NotTaken {
  /** Its id; absent where it is no matter of one. */
  readonly entry?: string;
  readonly why: Reason;
}

export const sayNotTaken = ({ entry, why }: NotTaken): string =>
  `${entry === undefined ? "" : `${entry}: `}${sayReason(why)}`;

/** What came of entries that were brought. */
export interface Reception {
  readonly taken: number;
  /** Why nothing was taken. */
  readonly faults: readonly NotTaken[];
  /** What they contradict. */
  readonly contradictions: readonly Contradiction[];
  /** Gates passed over what the device could not see. */
  readonly wrongPasses: readonly Contradiction[];
}

/** Whether an entry's author is who he says; else why not. */
export type Vouch = (entry: Told["entry"]) => Promise<Reason | undefined>;

/**
 * @param keys by device its public key
 * @param isSigned the platform's own check of a signature, where it has one
 * @throws StoreFault "stale" where somebody else has written since
 */
export const receive = async (
  record: RunRecord,
  told: readonly Told[],
  keys: ReadonlyMap<string, string>,
  vouch: Vouch,
  isSigned: Verifier | undefined,
): Promise<Reception> => {
  const { store, world } = record;
  const fresh = told.filter(({ entry }) => record.ledger.entry(entry.id) === undefined);
  const own = new Map([...(await record.keys()), ...keys]);
  const faults = [
    ...damaged(record, fresh, own, isSigned),
    ...(await untaken(record, told, fresh, vouch)),
    ...(record.isClosed && fresh.length > 0 ? [{ why: ["runClosed"] satisfies Phrase }] : []),
  ];
  if (faults.length > 0 || fresh.length === 0) return { taken: 0, faults, contradictions: [], wrongPasses: [] };
  for (const device of new Set(fresh.map(({ entry }) => entry.device))) {
    const key = own.get(device);
    if (key !== undefined) await store.saveDevice({ id: device, key, at: world.now() });
  }
  const before = new Set(record.ledger.contradictions().map(({ key }) => key));
  await record.keepForeign(fresh);
  await confirmWaiting(record, new Set(fresh.map(({ entry }) => entry.id)));
  const { ledger } = record;
  return {
    taken: fresh.length,
    faults: [],
    contradictions: ledger.contradictions().filter(({ key }) => !before.has(key)),
    wrongPasses: wrongPasses(ledger).filter(({ key }) => !ledger.isSettled(key)),
  };
};

/** What is not as its device has written it. */
const damaged = (
  record: RunRecord,
  fresh: readonly Told[],
  keys: ReadonlyMap<string, string>,
  isSigned: Verifier | undefined,
): readonly NotTaken[] =>
  verifyEntries(record.run.id, fresh, keys, {
    ...(isSigned === undefined ? {} : { isSigned }),
    after: record.lasts(),
  }).map(({ entry, rule, what }) => ({ entry, why: ["damage", rule, what] }));

/** What another has the id of, or who may not have said it. */
const untaken = async (
  record: RunRecord,
  told: readonly Told[],
  fresh: readonly Told[],
  vouch: Vouch,
): Promise<readonly NotTaken[]> => {
  const { device } = record.world.identity;
  const { people } = record.ledger.brief;
  const list: NotTaken[] = told
    .filter(({ entry, text }) => record.textOf(entry.id, text) !== text)
    .map(({ entry }) => ({ entry: entry.id, why: ["entryIdTaken", entry.id] }));
  for (const { entry } of fresh) {
    const { id, author, body } = entry;
    // The store's own word comes back with its own signature.
    const isStore = author === STORE && entry.device === device;
    if (!isStore && !people.some((one) => one.id === author)) list.push({ entry: id, why: ["stranger", author] });
    const why = await vouch(entry);
    if (why !== undefined) list.push({ entry: id, why });
    // Its plan is in no store but the one that made it, and another may have the same name here.
    if (body.kind === "plan replaced" && entry.device !== device) list.push({ entry: id, why: ["otherStorePlan"] });
  }
  return list;
};

/** The store's word on approvals that came in: durable already, so that a fault here is made good by whoever sends them again. */
const confirmWaiting = (record: RunRecord, came: ReadonlySet<string>): Promise<void> =>
  record.persist(async () => {
    const approvals = record.ledger.list("gates", "approval").filter(({ id }) => came.has(id));
    for (const { id } of approvals) record.draft(STORE, { kind: "confirmed", approval: id });
    if (record.isDrafted) await record.keep();
  });

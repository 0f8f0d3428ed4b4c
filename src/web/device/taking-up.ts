// Owns the taking up of this tablet by another person while it is alone: his PIN sealed to the server for that moment, kept, and brought with what he enters.

import { makeEntryId, momentOfId, type Subtle, seal } from "../../ledger/index.ts";
import { endTakenUp, keepTakenUp, readTakenUp } from "../shop/taken-up.ts";
import { DURABLE, isFull, openDrawer, type TakingUp } from "./drawer.ts";
import type { Lack } from "./entering.ts";

const sealedFor = async (id: string, person: string, pin: string, key: string): Promise<TakingUp> => ({
  id,
  person,
  // X25519 in the browser's own types is newer than what the ledger asks for.
  seal: await seal(globalThis.crypto.subtle as unknown as Subtle, pin, { person, entry: id }, key),
});

const keep = async (one: TakingUp): Promise<void> => {
  const writing = (await openDrawer()).transaction("hands", "readwrite", DURABLE);
  await Promise.all([writing.store.put(one), writing.done]);
};

/**
 * Puts the tablet into somebody's hands without the server. Nothing here can tell whether the PIN is his: it looks when it is reached.
 * @param key X25519, of the server
 * @returns what it lacks, where it cannot be done
 */
export const takeUp = async (
  { id: person, label: name }: { readonly id: string; readonly label: string },
  pin: string,
  key: string | undefined,
): Promise<Lack | undefined> => {
  if (key === undefined || (globalThis.crypto.subtle as unknown) === undefined) return "server";
  const id = makeEntryId(Date.now(), crypto.getRandomValues(new Uint8Array(16)));
  try {
    await keep(await sealedFor(id, person, pin, key));
    keepTakenUp({ id, person, name, at: momentOfId(id) });
    return undefined;
  } catch (error) {
    if (isFull(error)) return "room";
    throw error;
  }
};

/** Another seal, where the PIN under the first was not his. */
export const sealAgain = async ({ id, person }: TakingUp, pin: string, key: string): Promise<void> =>
  keep(await sealedFor(id, person, pin, key));

/** Nobody stands by it any more: whoever has the tablet now is not he. */
export const giveUp = async (one: TakingUp): Promise<void> => {
  await keep({ ...one, until: Date.now() });
  if (readTakenUp()?.id === one.id) endTakenUp();
};

/** Those that the server has not believed yet, in their order. */
export const takenUpAlone = async (): Promise<readonly TakingUp[]> =>
  (await (await openDrawer()).getAll("hands")).sort((a, b) => (a.id < b.id ? -1 : 1));

/** The server knows of these. */
export const broughtTakenUp = async (known: readonly TakingUp[]): Promise<void> => {
  const drawer = await openDrawer();
  for (const { id } of known) await drawer.delete("hands", id);
};

/** Under which of them something was written: the last before it, where that is its author's. */
export const takenUpFor = (
  taken: readonly TakingUp[],
  { author, at }: { readonly author: string; readonly at: number },
): TakingUp | undefined => {
  const last = taken.findLast(({ id }) => momentOfId(id) <= at);
  return last?.person === author && at <= (last.until ?? at) ? last : undefined;
};

// Owns who this device is: a key of its own, made once and never given away, which signs whatever is entered here.

import { type Identity, makeIdentity } from "../../ledger/index.ts";
import { DURABLE, openDrawer } from "./drawer.ts";

const OWN = "own";

/** This device's own key; made at the first call. Of two tabs that make one at the same moment both get the one that was kept. */
export const deviceIdentity = async (): Promise<Identity> => {
  const drawer = await openDrawer();
  const kept = await drawer.get("identity", OWN);
  if (kept !== undefined) return kept;
  const made = makeIdentity(crypto.getRandomValues(new Uint8Array(32)));
  const writing = drawer.transaction("identity", "readwrite", DURABLE);
  const other = await writing.store.get(OWN);
  if (other === undefined) await writing.store.put(made, OWN);
  await writing.done;
  return other ?? made;
};

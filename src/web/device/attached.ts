// Owns photos and spoken notes on this device: in its drawer before they are told of, brought to the server once an entry names them, and fetched from there.

import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex } from "@noble/hashes/utils.js";
import { call } from "../shop/calls.ts";
import type { Book } from "./book.ts";
import { DURABLE, openDrawer } from "./drawer.ts";

/** What goes with an entry, by the field that names it. */
export type Attached = "photos" | "voices";

const kindOf = ({ type }: Blob): Attached => (type.startsWith("audio/") ? "voices" : "photos");

/** Keeps bytes until the server has them, and gives their SHA-256. @throws DOMException where the disk takes no more */
export const keepAttached = async (run: string, by: string, bytes: Blob): Promise<string> => {
  const digest = bytesToHex(sha256(new Uint8Array(await bytes.arrayBuffer())));
  const drawer = await openDrawer();
  const writing = drawer.transaction("photos", "readwrite", DURABLE);
  await Promise.all([writing.store.put({ digest, run, by, bytes, waits: 1 }), writing.done]);
  return digest;
};

/** What somebody took here and no entry names yet: a page that was loaded anew in the middle has it again. */
export const takenBy = async (book: Book, by: string, as: Attached): Promise<readonly string[]> => {
  const waiting = await (await openDrawer()).getAllFromIndex("photos", "waits", [book.run, 1]);
  return waiting
    .filter((one) => one.by === by && kindOf(one.bytes) === as && !book.names(one.digest))
    .map(({ digest }) => digest);
};

/** Leaves out what no entry names yet. */
export const dropAttached = async (digests: readonly string[]): Promise<void> => {
  const drawer = await openDrawer();
  for (const digest of digests) await drawer.delete("photos", digest);
};

/** From the device; else from the server, and then kept on the device. @throws where it is at neither */
export const attachedOf = async (run: string, digest: string, as: Attached): Promise<Blob> => {
  const drawer = await openDrawer();
  const kept = await drawer.get("photos", digest);
  if (kept !== undefined) return kept.bytes;
  const answer = await fetch(`/api/runs/${encodeURIComponent(run)}/${as}/${digest}`);
  if (!answer.ok) throw new Error("not there");
  const bytes = await answer.blob();
  await drawer.put("photos", { digest, run, bytes });
  return bytes;
};

/** Brings what entries name; what nobody entered in the end stays here. @throws Refusal */
export const bringAttached = async (book: Book): Promise<void> => {
  const drawer = await openDrawer();
  for (const { digest, run, bytes } of await drawer.getAllFromIndex("photos", "waits", [book.run, 1])) {
    if (!book.names(digest)) continue;
    await call("POST", `/${kindOf(bytes)}`, bytes);
    await drawer.put("photos", { digest, run, bytes });
  }
};

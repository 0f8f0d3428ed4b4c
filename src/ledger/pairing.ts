// Owns how a device shows, when it is made known to the server, that the key it names is its own.

import { hashes, sign, verify } from "@noble/ed25519";
import { sha512 } from "@noble/hashes/sha2.js";
import { bytesToHex, hexToBytes, utf8ToBytes } from "@noble/hashes/utils.js";
import type { Identity } from "./pen.ts";

hashes.sha512 = sha512;

/** Bound to the session of who pairs it, so that it serves nobody else. */
const said = (session: string, key: string): Uint8Array => utf8ToBytes(`unmoor-device/1\n${session}\n${key}`);

/** @param session the id of the session that it is paired in @returns Ed25519, 128 hexadecimal digits */
export const signPairing = ({ secret, key }: Identity, session: string): string =>
  bytesToHex(sign(said(session, key), hexToBytes(secret)));

/** Whether who holds the key signed this pairing. @param signature 128 hexadecimal digits */
export const isPairingSigned = (key: string, session: string, signature: string): boolean => {
  try {
    return verify(hexToBytes(signature), said(session, key), hexToBytes(key));
  } catch {
    return false;
  }
};

// Owns the one way to write an entry as text, and its hash: RFC 8785 canonical JSON, SHA-256 in lowercase hexadecimal.

import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex, utf8ToBytes } from "@noble/hashes/utils.js";
import canonicalize from "canonicalize";

/**
 * A value as RFC 8785 canonical JSON.
 *
 * @throws for what JSON cannot say: NaN, infinities, half a surrogate pair, a circle.
 */
export const writeCanonical = (value: unknown): string => {
  const text = canonicalize(value);
  if (text === undefined) throw new TypeError("canonical JSON: nothing to write");
  return text;
};

/** SHA-256 of a text in UTF-8, 64 hexadecimal digits. */
export const hashOf = (text: string): string => bytesToHex(sha256(utf8ToBytes(text)));

// Owns the seal on a PIN that was typed on a device that is alone: what it keeps of it until the server can look, fit for one entry or one taking up and for nobody else's eyes.

import { bytesToHex, hexToBytes, utf8ToBytes } from "@noble/hashes/utils.js";

/**
 * What is used of the browser's `crypto.subtle` (W3C Web Cryptography; X25519 as in its Secure Curves), which is there under HTTPS and on the device
 * itself. Node's fits as well.
 */
export interface Subtle {
  generateKey(algorithm: { name: "X25519" }, extractable: boolean, usages: "deriveBits"[]): Promise<unknown>;
  exportKey(format: "raw", key: never): Promise<ArrayBuffer>;
  importKey(
    format: "raw",
    bytes: Uint8Array<ArrayBuffer>,
    algorithm: { name: string },
    extractable: boolean,
    usages: ("deriveBits" | "encrypt")[],
  ): Promise<unknown>;
  deriveBits(algorithm: object, key: never, length: number): Promise<ArrayBuffer>;
  encrypt(algorithm: object, key: never, bytes: Uint8Array<ArrayBuffer>): Promise<ArrayBuffer>;
}

/** What a seal is about: opened for anything else it gives nothing. */
export interface SealedFor {
  readonly person: string;
  /** The id of the entry that he confirms, or of his taking up of the device. */
  readonly entry: string;
}

/** Longest PIN: the sealed text is always as long, so that its length tells nothing. */
const LONGEST = 8;

export const SEAL = "unmoor-seal/1";

/** The text that a seal is bound to. */
export const sealedFor = ({ person, entry }: SealedFor): string => `${SEAL}\n${person}\n${entry}`;

/**
 * A PIN sealed to the server's key: nothing that is kept on the device can try PINs, not even who has the device. A key pair of the moment, X25519
 * (RFC 7748), HKDF with SHA-256 (RFC 5869) over both public keys, AES-256-GCM (NIST SP 800-38D) with what it is for as associated data.
 *
 * @param pin 4 to 8 digits
 * @param serverKey X25519, 64 hexadecimal digits, as the server gives it
 * @returns public key of the moment, sealed text and its tag, 112 hexadecimal digits
 */
export const seal = async (subtle: Subtle, pin: string, about: SealedFor, serverKey: string): Promise<string> => {
  const X25519 = { name: "X25519" } as const;
  const own = (await subtle.generateKey(X25519, false, ["deriveBits"])) as { publicKey: never; privateKey: never };
  const theirs = await subtle.importKey("raw", bytesOf(serverKey), X25519, true, []);
  const point = new Uint8Array(await subtle.exportKey("raw", own.publicKey));
  const shared = new Uint8Array(await subtle.deriveBits({ ...X25519, public: theirs }, own.privateKey, 256));
  const source = await subtle.importKey("raw", shared, { name: "HKDF" }, false, ["deriveBits"]);
  const salt = new Uint8Array([...point, ...bytesOf(serverKey)]);
  const derivation = { name: "HKDF", hash: "SHA-256", salt, info: utf8ToBytes(SEAL) };
  const derived = new Uint8Array(await subtle.deriveBits(derivation, source as never, 352));
  // The key is used once, so its counter may be derived with it.
  const key = await subtle.importKey("raw", derived.slice(0, 32), { name: "AES-GCM" }, false, ["encrypt"]);
  const way = { name: "AES-GCM", iv: derived.slice(32), additionalData: utf8ToBytes(sealedFor(about)) };
  const text = new Uint8Array(utf8ToBytes(pin.padEnd(LONGEST)));
  return bytesToHex(point) + bytesToHex(new Uint8Array(await subtle.encrypt(way, key as never, text)));
};

const bytesOf = (hex: string): Uint8Array<ArrayBuffer> => new Uint8Array(hexToBytes(hex));

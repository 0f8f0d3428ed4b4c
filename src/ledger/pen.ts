// Owns the pen of a device: it writes entries, each chained to the one before, clocked after all it has seen, and signed.

import { getPublicKey, hashes, sign } from "@noble/ed25519";
import { sha256, sha512 } from "@noble/hashes/sha2.js";
import { bytesToHex, hexToBytes, utf8ToBytes } from "@noble/hashes/utils.js";
import { v7 } from "uuid";
import { hashOf, writeCanonical } from "./canonical.ts";
import { BEGINNING, type Clock, latest, tick } from "./clock.ts";
import type { Entry, Told, Unsigned } from "./entry.ts";
import type { Body } from "./kinds.ts";

// The library leaves the choice of SHA-512 to its user; without one it would ask the browser, which has none on plain HTTP.
hashes.sha512 = sha512;

/** Who a device is. */
export interface Identity {
  readonly device: string;
  /** Ed25519 secret, 32 bytes, hexadecimal; it never leaves the device. */
  readonly secret: string;
  /** 32 bytes, hexadecimal. */
  readonly key: string;
}

/** What a device needs to write its next entry in a run. A pen never changes; each entry gives the next one. */
export interface Pen {
  readonly identity: Identity;
  readonly run: string;
  /** Of its last entry; 0 and null before the first. */
  readonly number: number;
  readonly previous: string | null;
  readonly clock: Clock;
  /** By other device the number of the last entry it has seen, and whether its own entries say so yet. */
  readonly seen: ReadonlyMap<string, number>;
  readonly news: ReadonlyMap<string, number>;
}

/** The id of a device: whoever has its key can see that it is this device's. */
export const deviceOf = (key: string): string => bytesToHex(sha256(hexToBytes(key))).slice(0, 32);

/** @param random 32 bytes that nobody can guess (`crypto.getRandomValues`). */
export const makeIdentity = (random: Uint8Array): Identity => {
  if (random.length !== 32) throw new RangeError(`a device's secret is 32 bytes, not ${random.length}`);
  const key = bytesToHex(getPublicKey(random));
  return { device: deviceOf(key), secret: bytesToHex(random), key };
};

/** A pen for a run of which the device knows these entries, its own among them, in any order. */
export const takePen = (identity: Identity, run: string, known: readonly Told[]): Pen => {
  const said = new Map<string, number>();
  let last: Told | undefined;
  for (const told of known) {
    const { device, number, seen } = told.entry;
    if (device !== identity.device) continue;
    for (const [other, upTo] of Object.entries(seen)) said.set(other, Math.max(said.get(other) ?? 0, upTo));
    if (number > (last?.entry.number ?? 0)) last = told;
  }
  const pen: Pen = {
    identity,
    run,
    number: last?.entry.number ?? 0,
    previous: last === undefined ? null : hashOf(last.text),
    clock: BEGINNING,
    seen: said,
    news: new Map(),
  };
  return see(pen, known);
};

/** The pen after its device has seen these entries, its own among them where another process writes as the same device. */
export const see = (pen: Pen, told: readonly Told[]): Pen => {
  const seen = new Map(pen.seen);
  const news = new Map(pen.news);
  let { clock, number, previous } = pen;
  for (const { entry, text } of told) {
    clock = latest(clock, entry.clock);
    if (entry.device === pen.identity.device) {
      if (entry.number <= number) continue;
      number = entry.number;
      previous = hashOf(text);
      for (const [other, upTo] of Object.entries(entry.seen)) {
        seen.set(other, Math.max(seen.get(other) ?? 0, upTo));
        if (upTo >= (news.get(other) ?? 0)) news.delete(other);
      }
    } else if (entry.number > (seen.get(entry.device) ?? 0)) {
      seen.set(entry.device, entry.number);
      news.set(entry.device, entry.number);
    }
  }
  return { ...pen, seen, news, clock, number, previous };
};

/** The id of an entry: a UUID of version 7 (RFC 9562). @param random 16 bytes (`crypto.getRandomValues`) */
export const makeEntryId = (now: number, random: Uint8Array): string => v7({ msecs: now, random });

/** The moment in a UUID of version 7, milliseconds since 1970 (RFC 9562, section 5.7). */
export const momentOfId = (id: string): number => Number.parseInt(id.slice(0, 8) + id.slice(9, 13), 16);

/** Ed25519 of a message: the library's own, or one that a platform has and is quicker. Both 32 bytes of the secret and the message come as they are. */
export type Signer = (message: Uint8Array, secret: Uint8Array) => Uint8Array;

/**
 * The next entry of a device, and its pen after it.
 *
 * @param id of the entry, where whoever asked for it has made one, a UUID of version 7: asked again, it is the same entry.
 * @param now milliseconds since 1970, as the device's clock stands; where it has been set back the entries keep their order all the same.
 * @param random 16 bytes (`crypto.getRandomValues`).
 */
export const write = (
  pen: Pen,
  {
    author,
    body,
    now,
    random,
    id = makeEntryId(now, random),
  }: {
    readonly author: string;
    readonly body: Body;
    readonly now: number;
    readonly random: Uint8Array;
    readonly id?: string | undefined;
  },
  signed: Signer = sign,
): { readonly told: Told; readonly pen: Pen } => {
  const { identity, run } = pen;
  const clock = tick(pen.clock, now);
  const number = pen.number + 1;
  const unsigned: Unsigned = {
    format: "unmoor/entry/1",
    id,
    run,
    author,
    device: identity.device,
    number,
    previous: pen.previous,
    seen: Object.fromEntries(pen.news),
    clock,
    at: now,
    body,
  };
  const signature = bytesToHex(signed(utf8ToBytes(writeCanonical(unsigned)), hexToBytes(identity.secret)));
  const entry: Entry = { ...unsigned, signature };
  const text = writeCanonical(entry);
  return { told: { entry, text }, pen: { ...pen, number, previous: hashOf(text), clock, news: new Map() } };
};

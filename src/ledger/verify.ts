// Owns the proof that a ledger is as it was written: every hash, every signature, no gap, no fork, nothing missing that anybody had seen.

import { hashes, verify } from "@noble/ed25519";
import { sha512 } from "@noble/hashes/sha2.js";
import { hexToBytes, utf8ToBytes } from "@noble/hashes/utils.js";
import { hashOf, writeCanonical } from "./canonical.ts";
import { compareClocks } from "./clock.ts";
import type { Entry, Told } from "./entry.ts";
import { deviceOf } from "./pen.ts";

hashes.sha512 = sha512;

export type DamageRule =
  | "V1" // no key of its device
  | "V2" // a key that is not its device's
  | "V3" // the signature is not over this text
  | "V4" // the hash of the one before is another
  | "V5" // entries are missing
  | "V6" // two entries with one number on one device
  | "V7" // written before what its device had written already
  | "V8" // two entries with one id
  | "V9"; // of another run

/** One thing that is not as it was written. */
export interface Damage {
  readonly rule: DamageRule;
  /** The entry that shows it; where entries are missing, the one that knows of them. */
  readonly entry: string;
  readonly device: string;
  readonly number: number;
  readonly what: string;
}

const at = (rule: DamageRule, { id, device, number }: Entry, what: string): Damage => ({
  rule,
  entry: id,
  device,
  number,
  what,
});

/** Ed25519 over a message: the library's own, or one that a platform has and is quicker. */
export type Verifier = (signature: Uint8Array, message: Uint8Array, key: Uint8Array) => boolean;

/** Whether the signature of an entry is of this key over what it says. */
const isSignedBy = (entry: Entry, key: string, isSigned: Verifier): boolean => {
  const { signature, ...unsigned } = entry;
  try {
    return isSigned(hexToBytes(signature), utf8ToBytes(writeCanonical(unsigned)), hexToBytes(key));
  } catch {
    return false;
  }
};

/**
 * Everything that is not as it was written; nothing when all is whole. That the last entries of a device were cut off shows only where another device had
 * seen them.
 *
 * @param told entries of one run in any order; the same one may be there twice.
 * @param keys by device its public key.
 * @param how `signatures` of every entry; or of each device's last alone, whose hashes bear witness to the others: quick enough for every opening of a
 * run. `isSigned`: the check of one signature. `after`: by device the last entry of it that is known and proved; what was told follows on that.
 */
export const verifyEntries = (
  run: string,
  told: readonly Told[],
  keys: ReadonlyMap<string, string>,
  how: {
    readonly signatures?: "every" | "last";
    readonly isSigned?: Verifier;
    readonly after?: ReadonlyMap<string, Told>;
  } = {},
): readonly Damage[] => {
  const { signatures = "every", isSigned = verify, after = new Map() } = how;
  const damages: Damage[] = [];
  const byId = new Map<string, Told>();
  const byDevice = new Map<string, Told[]>();
  for (const one of told) {
    const { entry, text } = one;
    const twin = byId.get(entry.id);
    if (twin !== undefined) {
      if (twin.text !== text) damages.push(at("V8", entry, "another entry has the same id"));
      continue;
    }
    byId.set(entry.id, one);
    if (entry.run !== run) damages.push(at("V9", entry, `it is of the run ${entry.run}`));
    byDevice.set(entry.device, [...(byDevice.get(entry.device) ?? []), one]);
  }
  for (const [device, list] of byDevice)
    damages.push(...chainDamages(device, list, keys.get(device), { signatures, isSigned, after: after.get(device) }));
  damages.push(...unseen(byDevice, after));
  return damages;
};

const chainDamages = (
  device: string,
  list: readonly Told[],
  key: string | undefined,
  how: {
    readonly signatures: "every" | "last";
    readonly isSigned: Verifier;
    readonly after: Told | undefined;
  },
): readonly Damage[] => {
  const { signatures, isSigned, after } = how;
  const damages: Damage[] = [];
  const chain = list.toSorted((a, b) => a.entry.number - b.entry.number);
  const first = chain[0]?.entry;
  if (first === undefined) return [];
  if (key === undefined)
    damages.push(at("V1", first, "nobody gives the key of its device, so no signature can be checked"));
  else if (deviceOf(key) !== device) damages.push(at("V2", first, "the key that is given is another device's"));
  let before = after;
  for (const one of chain) {
    const { entry } = one;
    const isAsked = signatures === "every" || one === chain.at(-1);
    if (key !== undefined && isAsked && !isSignedBy(entry, key, isSigned))
      damages.push(at("V3", entry, "it is not what its device has signed"));
    const expected = (before?.entry.number ?? 0) + 1;
    if (entry.number === before?.entry.number)
      damages.push(at("V6", entry, "its device has written another entry with this number"));
    else if (entry.number > expected)
      damages.push(at("V5", entry, `${missing(expected, entry.number - 1)} of its device missing before it`));
    else if (entry.previous !== (before === undefined ? null : hashOf(before.text)))
      damages.push(at("V4", entry, "the one before it is not the one that it was written after"));
    if (before !== undefined && compareClocks(entry.clock, before.entry.clock) <= 0)
      damages.push(at("V7", entry, "its clock stands before that of its device's last entry"));
    before = one;
  }
  return damages;
};

/** What a device had seen of another must be there. */
const unseen = (
  byDevice: ReadonlyMap<string, readonly Told[]>,
  after: ReadonlyMap<string, Told>,
): readonly Damage[] => {
  const last = new Map([...after].map(([device, { entry }]) => [device, entry.number]));
  for (const [device, list] of byDevice)
    last.set(device, Math.max(last.get(device) ?? 0, ...list.map(({ entry }) => entry.number)));
  const damages: Damage[] = [];
  for (const list of byDevice.values())
    for (const { entry } of list)
      for (const [device, number] of Object.entries(entry.seen)) {
        const have = last.get(device) ?? 0;
        if (number <= have) continue;
        damages.push(
          at("V5", entry, `${missing(have + 1, number)} of the device ${device} missing that this one had seen`),
        );
        last.set(device, number);
      }
  return damages;
};

const missing = (from: number, to: number): string => (from === to ? `entry ${from}` : `entries ${from} to ${to}`);

// Owns the tags of a vehicle: which code each of its connections has, and which connection a code is of.

import { CODES, codeOf } from "./code.ts";

/** What of a vehicle its tags depend on; a `Vehicle` of the vehicle room is one. */
export interface Tagged {
  readonly name: string;
  readonly connections: readonly { readonly id: string; readonly joins: readonly string[] }[];
}

/** The halves of a connection, in the order of what it joins: A is at the first. */
export const HALVES = "ABCDE";

export interface Tags {
  /** The code of a connection; undefined where the vehicle has no such connection. */
  codeOf(connection: string): string | undefined;
  /** The connection of a code as `readTag` gives it; undefined: the tag is of another vehicle. */
  connectionOf(code: string): string | undefined;
}

/** FNV-1a over UTF-16 with a last stirring, 32 bits: spreads ids that differ in one letter over all codes. */
const spread = (text: string): number => {
  let hash = 0x811c9dc5;
  for (let n = 0; n < text.length; n += 1) hash = Math.imul(hash ^ text.charCodeAt(n), 0x01000193);
  hash = Math.imul(hash ^ (hash >>> 16), 0x85ebca6b);
  hash = Math.imul(hash ^ (hash >>> 13), 0xc2b2ae35);
  return (hash ^ (hash >>> 16)) >>> 0;
};

/**
 * The tags of a vehicle: a code depends on the vehicle's name and the connection's id alone, so a tag printed from one version of the file is read by the
 * next, with no network and no list. Two ids whose codes would be the same (three chances in a hundred among 400 connections) are told apart in the
 * order of their ids.
 *
 * @example
 * const tags = tagsOf(vehicle);                     // once per vehicle, wherever it is held: also in the browser
 * const read = readTag(scannedOrTyped);             // "K7P-3X4 A", "k7p3x4", or the whole address of a QR code
 * if ("code" in read) tags.connectionOf(read.code); // the connection, or undefined: a tag of another vehicle
 */
export const tagsOf = ({ name, connections }: Tagged): Tags => {
  const codes = new Map<string, string>();
  const owners = new Map<string, string>();
  for (const id of connections.map((one) => one.id).toSorted((a, b) => (a < b ? -1 : 1))) {
    for (let turn = 0; !codes.has(id); turn += 1) {
      const code = codeOf(spread(`${name}\n${id}\n${turn}`) % CODES);
      if (owners.has(code)) continue;
      codes.set(id, code);
      owners.set(code, id);
    }
  }
  return { codeOf: (connection) => codes.get(connection), connectionOf: (code) => owners.get(code) };
};

// Owns the transfer list of a swap: what goes over from the old assembly to the new, with its own hardware, seals and settings.

import type { Counted } from "./bag.ts";
import { type Hardware, readCounted } from "./kit.ts";

/** A connection that is released from the old assembly and made on the new one. */
export interface TransferTie {
  readonly connection: string;
  readonly label: string;
  readonly joins: readonly string[];
  readonly hardware: readonly Hardware[];
  readonly fresh: readonly string[];
  /** Newton-metres. */
  readonly torque?: number;
  readonly pattern?: string;
  /** Marks to make before, shims to keep with the place, the check after. */
  readonly mark?: string;
  readonly keep?: string;
  readonly check?: string;
}

export interface TransferQuestion {
  /** What does not come with the new assembly. */
  readonly parts: readonly { readonly id: string; readonly label: string }[];
  readonly ties: readonly TransferTie[];
}

/** One part that goes over. */
export interface Transfer {
  readonly part: string;
  readonly label: string;
  readonly ties: readonly TransferTie[];
  /** Seals and the like of its own. */
  readonly fresh: readonly Counted[];
  /** What must be set or measured again as it was. */
  readonly settings: readonly string[];
}

/** The list, part by part in the order given; a tie between two parts that both go over stands with the first and is left out of the second. */
export function listTransfer({ parts, ties }: TransferQuestion): readonly Transfer[] {
  const told = new Set<string>();
  return parts.map(({ id, label }) => {
    const own = ties.filter(({ connection, joins }) => joins.includes(id) && !told.has(connection));
    for (const { connection } of own) told.add(connection);
    const fresh = new Map<string, number>();
    for (const { item, count } of own.flatMap((tie) => tie.fresh.map(readCounted)))
      fresh.set(item, (fresh.get(item) ?? 0) + count);
    return {
      part: id,
      label,
      ties: own,
      fresh: [...fresh].map(([item, count]) => ({ item, count })),
      settings: own.flatMap(({ label: at, mark, keep, check }) => [
        ...(mark === undefined ? [] : [`${at}: mark ${mark}`]),
        ...(keep === undefined ? [] : [`${at}: keep ${keep}`]),
        ...(check === undefined ? [] : [`${at}: check ${check}`]),
      ]),
    };
  });
}

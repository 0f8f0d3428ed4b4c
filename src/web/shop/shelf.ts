// Owns what this device keeps of vehicle files: those that were dropped on the page, and what was changed and not kept at the server yet.

import { type DBSchema, type IDBPDatabase, openDB } from "idb";
import type { Files } from "../engine/asked.ts";

/** A model's address on this page: where it comes from, and its name there. */
export interface Base {
  readonly from: "demo" | "vehicles" | "mine" | "runs";
  readonly id: string;
}

export interface Kept {
  readonly files: Files;
  /** The version of the server that it was made from; 0 where there was none. */
  readonly madeFrom: number;
  readonly at: number;
}

interface Shelf extends DBSchema {
  readonly models: { readonly key: string; readonly value: Kept };
}

const keyOf = ({ from, id }: Base): string => `${from}/${id}`;

let opened: Promise<IDBPDatabase<Shelf>> | undefined;
const open = (): Promise<IDBPDatabase<Shelf>> => {
  opened ??= openDB<Shelf>("unmoor", 1, { upgrade: (shelf) => void shelf.createObjectStore("models") });
  return opened;
};

/** Where the device keeps nothing (a private window, a full disk) it holds until the page is left. */
const memory = new Map<string, Kept>();

export const keep = async (base: Base, kept: Kept): Promise<void> => {
  memory.set(keyOf(base), kept);
  try {
    await (await open()).put("models", kept, keyOf(base));
  } catch {
    // It is in memory still, and goes to the server when it is kept there.
  }
};

export const take = async (base: Base): Promise<Kept | undefined> => {
  const held = memory.get(keyOf(base));
  if (held !== undefined) return held;
  try {
    return await (await open()).get("models", keyOf(base));
  } catch {
    return undefined;
  }
};

export const drop = async (base: Base): Promise<void> => {
  memory.delete(keyOf(base));
  try {
    await (await open()).delete("models", keyOf(base));
  } catch {
    // There is nothing then.
  }
};

/** Names of what was dropped here, the latest first. */
export const mine = async (): Promise<readonly { readonly id: string; readonly at: number }[]> => {
  const found = new Map([...memory].map(([key, { at }]) => [key, at] as const));
  try {
    const shelf = await open();
    for (const key of await shelf.getAllKeys("models")) found.set(key, (await shelf.get("models", key))?.at ?? 0);
  } catch {
    // What is in memory is all there is.
  }
  return [...found]
    .flatMap(([key, at]) => (key.startsWith("mine/") ? [{ id: key.slice("mine/".length), at }] : []))
    .sort((a, b) => b.at - a.at);
};

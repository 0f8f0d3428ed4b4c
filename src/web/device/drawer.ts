// Owns what this device keeps of the shop's work: who the device is, the runs that it has with it, their entries, photos, and PINs sealed to the server.

import { type DBSchema, type IDBPDatabase, openDB } from "idb";
import type { Brief, BriefPerson, Identity } from "../../ledger/index.ts";
import type { Order, Plan } from "../../plan/index.ts";
import type { NotTaken } from "../../server/index.ts";
import type { Files } from "../engine/asked.ts";
import type { Said } from "../shop/calls.ts";

/** That the server does not take what waits, and for which entries why not. */
export interface Refused {
  readonly refusal: Said;
  readonly why: readonly NotTaken[];
}

/** All that a run needs where there is no network, beside its entries. */
export interface RunKept {
  readonly run: string;
  readonly site: string;
  readonly vehicle: string;
  readonly version: number;
  readonly files: Files;
  readonly plan: Plan;
  readonly asked: Order;
  readonly people: readonly BriefPerson[];
  /** Of the plan in force when it was last asked for. */
  readonly brief: Brief;
  /** Of the plan that was in force before, until somebody here has seen what changed. */
  readonly before?: Brief | undefined;
  /** X25519, of the server: what second persons' PINs are sealed to. */
  readonly sealingKey?: string;
  /** What it said of a PIN that was not its person's: brought again as it is, it would be one more wrong try of his. */
  readonly refused?: Refused | undefined;
  /** Milliseconds since 1970. */
  readonly opened: number;
  readonly closed: number | null;
  /** What is behind it has not come from the server yet. */
  readonly position: number;
  /** When it was last brought up to date. */
  readonly at: number;
}

export interface EntryKept {
  readonly run: string;
  readonly id: string;
  /** As it was signed. */
  readonly text: string;
  /** 1: the server has not said that it has it. Absent otherwise, so that the index holds those that wait alone. */
  readonly waits?: 1;
  /** Of a second person who confirmed it here without the network. */
  readonly seal?: string;
}

/** A photo or a spoken note, told by the type of its bytes. */
export interface PhotoKept {
  /** SHA-256 of its bytes. */
  readonly digest: string;
  readonly run: string;
  readonly bytes: Blob;
  readonly waits?: 1;
  /** Who took it here, until an entry names it. */
  readonly by?: string;
}

/** Somebody who took up this tablet while it was alone, and whom the server has not believed yet. */
export interface TakingUp {
  /** A UUID of version 7 of the moment. */
  readonly id: string;
  readonly person: string;
  /** His PIN, sealed to the server for this. */
  readonly seal: string;
  /** When it was given up, for the PIN was not his: what is entered afterwards is not under it. Milliseconds since 1970. */
  readonly until?: number;
}

interface Drawer extends DBSchema {
  readonly hands: { readonly key: string; readonly value: TakingUp };
  readonly identity: { readonly key: string; readonly value: Identity };
  readonly runs: { readonly key: string; readonly value: RunKept };
  readonly entries: {
    readonly key: [run: string, id: string];
    readonly value: EntryKept;
    readonly indexes: { readonly run: string; readonly waits: [run: string, waits: 1] };
  };
  readonly photos: {
    readonly key: string;
    readonly value: PhotoKept;
    readonly indexes: { readonly waits: [run: string, waits: 1]; readonly run: string };
  };
}

export type OpenDrawer = IDBPDatabase<Drawer>;

/** A write is told as done when it is on the disk: what somebody tapped outlives a tablet that goes dark. */
export const DURABLE = { durability: "strict" } as const;

/** What a browser says when its disk is full. */
export const isFull = (error: unknown): boolean => error instanceof DOMException && error.name === "QuotaExceededError";

let opened: Promise<OpenDrawer> | undefined;

/** @throws DOMException where the browser keeps nothing, as in a private window */
export const openDrawer = (): Promise<OpenDrawer> => {
  opened ??= openDB<Drawer>("unmoor-device", 2, {
    upgrade(drawer, before) {
      drawer.createObjectStore("hands", { keyPath: "id" });
      if (before === 1) return;
      drawer.createObjectStore("identity");
      drawer.createObjectStore("runs", { keyPath: "run" });
      const entries = drawer.createObjectStore("entries", { keyPath: ["run", "id"] });
      entries.createIndex("run", "run");
      entries.createIndex("waits", ["run", "waits"]);
      const photos = drawer.createObjectStore("photos", { keyPath: "digest" });
      photos.createIndex("run", "run");
      photos.createIndex("waits", ["run", "waits"]);
    },
    // Another tab wants a newer drawer: this one lets go, and opens it anew when it needs it.
    blocking() {
      void opened?.then((drawer) => drawer.close());
      opened = undefined;
    },
    terminated() {
      opened = undefined;
    },
  });
  opened.catch(() => {
    opened = undefined;
  });
  return opened;
};

/** A run as this device has it with it; undefined where it has not, or keeps nothing. */
export const takenWith = async (run: string): Promise<RunKept | undefined> => {
  try {
    return await (await openDrawer()).get("runs", run);
  } catch {
    return undefined;
  }
};

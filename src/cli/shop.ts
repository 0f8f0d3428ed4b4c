// Owns the opening of a shop's store for a command: the store, who this device is, one writer at a time, and what is said when the store refuses.

import { randomBytes } from "node:crypto";
import { closeSync, openSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { type Identity, makeIdentity } from "../ledger/index.ts";
import {
  type Desk,
  describeOrders,
  nodesOwn,
  nodesSigner,
  openRun,
  RunDesk,
  type RunListDocument,
  type World,
} from "../server/index.ts";
import { isDatabase, type Order, openStore, type Revised, type Store, StoreFault } from "../store/index.ts";
import type { Call } from "./call.ts";
import { EXIT, type Exit } from "./exit.ts";
import { isServer } from "./server-call.ts";
import type { Terminal } from "./terminal.ts";

/** A shop as the commands see it: its own store, or a server that has one. */
export interface Shop {
  orders(): Promise<RunListDocument>;
  /** Begins the run of an order, or finds it begun. */
  begin(run: string, by: string): Promise<void>;
  desk(run: string): Promise<Desk>;
  /** Keeps a photo and gives the SHA-256 that it is called by. */
  keepPhoto(bytes: Uint8Array): Promise<string>;
  close(): void;
}

/** Runs a command's work on a shop that is there, near or behind a server, and closes it whatever happens. */
export const atShop = (call: Call, terminal: Terminal, work: (shop: Shop) => Promise<Exit>): Promise<Exit> => {
  const [address = ""] = call.operands;
  return withFaultsSaid(terminal, async () => {
    if (!isServer(address)) return atStore(address, terminal, (store) => inTurn(nearShop(store, address, call), work));
    const { farShop } = await import("./far-shop.ts");
    return work(farShop(address, terminal));
  });
};

const inTurn = async (shop: Shop, work: (shop: Shop) => Promise<Exit>): Promise<Exit> => {
  try {
    return await work(shop);
  } finally {
    shop.close();
  }
};

/** The shop of a store: who writes is this device, one call at a time, from the first thing that asks for it. */
const nearShop = (store: Store, address: string, call: Call): Shop => {
  let asked: { readonly world: World; release(): void } | undefined;
  const world = async (): Promise<World> => {
    asked ??= await asDevice(address, call);
    return asked.world;
  };
  return {
    async orders() {
      const orders: Revised<Order>[] = [];
      for (let after: string | undefined; ; ) {
        const page = await store.orders(100, after);
        orders.push(...page.items);
        after = page.next;
        if (after === undefined) return describeOrders(store, orders);
      }
    },
    async begin(run, by) {
      await openRun(store, run, by, (await world()).now());
    },
    desk: async (run) => RunDesk.open(store, run, await world(), nodesOwn()),
    keepPhoto: async (bytes) => (await store.savePhoto(bytes)).digest,
    close: () => asked?.release(),
  };
};

/** Milliseconds for which a command waits for a database that is away, or for another process that writes: whoever called looks on. */
const AWAY = 10_000;

/** Runs a command's work on a store, and closes it whatever happens. */
export const atStore = (
  address: string,
  terminal: Terminal,
  work: (store: Store) => Promise<Exit>,
  mayBeNew = false,
): Promise<Exit> => {
  if (isServer(address)) {
    terminal.warn(`unmoor: ${address}: this is done at the store itself. Name its file or database.`);
    return Promise.resolve(EXIT.call);
  }
  if (!mayBeNew && !isDatabase(address) && !isThere(address)) {
    terminal.warn(
      `unmoor: ${address}: there is no such store. The first order makes it: unmoor order ${address} FILE --job ID --by WHO.`,
    );
    return Promise.resolve(EXIT.call);
  }
  return withFaultsSaid(terminal, async () => {
    const store = await openStore(address, AWAY);
    try {
      return await work(store);
    } finally {
      await store.close();
    }
  });
};

export const withFaultsSaid = async (terminal: Terminal, work: () => Promise<Exit>): Promise<Exit> => {
  try {
    return await work();
  } catch (error) {
    if (!(error instanceof StoreFault)) throw error;
    terminal.warn(`unmoor: ${error.at}: ${error.what}. ${error.mend}`);
    return EXIT.not;
  }
};

/** Says what of a run is not as it was written. */
export function warnOfDamage({ damages }: Desk, terminal: Terminal): void {
  if (damages.length === 0) return;
  const list = damages.map((one) => `  ${one}.`).join("\n");
  terminal.warn(
    terminal.ink.bad(`unmoor: this ledger is damaged, and no gate opens over it. Restore a backup.\n${list}`),
  );
}

const isThere = (path: string): boolean => {
  try {
    return statSync(path).isFile();
  } catch {
    return false;
  }
};

/** Where a device keeps who it is: beside the store's file, or in the working folder where the store is a database. */
const identityPath = (address: string, call: Call): string =>
  call.flags.get("device")?.[0] ?? (isDatabase(address) ? "unmoor.device" : `${address}.device`);

/** This device, made with its first entry. Its secret is for its owner's eyes alone. */
const readIdentity = (path: string): Identity => {
  try {
    return JSON.parse(readFileSync(path, "utf8")) as Identity;
  } catch (error) {
    if (codeOf(error) !== "ENOENT") throw nameless(path, error);
    const identity = makeIdentity(randomBytes(32));
    writeFileSync(path, `${JSON.stringify(identity)}\n`, { mode: 0o600, flag: "wx" });
    return identity;
  }
};

/** How long a device waits for another call of its own, and when it takes a lock for one that was left by a killed call. */
const PATIENCE = 10_000;
const STALE = 60_000;

/** Writes as this device, one call at a time: two at once would chain their entries to the same one. */
async function asDevice(address: string, call: Call): Promise<{ readonly world: World; release(): void }> {
  const path = identityPath(address, call);
  const lock = `${path}.lock`;
  await take(lock);
  const release = () => rmSync(lock, { force: true });
  try {
    const identity = readIdentity(path);
    const world = {
      identity,
      sign: nodesSigner(),
      now: () => Date.now(),
      random: (count: number) => randomBytes(count),
    };
    return { world, release };
  } catch (error) {
    release();
    throw error;
  }
}

async function take(lock: string): Promise<void> {
  for (let waited = 0; ; waited += 20) {
    try {
      closeSync(openSync(lock, "wx"));
      return;
    } catch (error) {
      if (codeOf(error) !== "EEXIST") throw unwritable(lock, error);
    }
    // A call that was killed leaves its lock behind.
    if (isStale(lock)) rmSync(lock, { force: true });
    else if (waited >= PATIENCE) throw busy(lock);
    else await new Promise((resolve) => setTimeout(resolve, 20));
  }
}

const codeOf = (error: unknown): unknown => (error instanceof Error && "code" in error ? error.code : undefined);

const nameless = (path: string, error: unknown): StoreFault =>
  new StoreFault("damaged", path, "it does not say who this device is", "Move it away; a new one is made.", error);
const unwritable = (lock: string, error: unknown): StoreFault =>
  new StoreFault(
    "read-only",
    lock,
    "nothing can be written there",
    "See the folder, or name a file with --device.",
    error,
  );
const busy = (lock: string): StoreFault =>
  new StoreFault("busy", lock, "another call writes as this device", "Try again; if none runs, remove that file.");

const isStale = (lock: string): boolean => {
  try {
    return Date.now() - statSync(lock).mtimeMs > STALE;
  } catch {
    return false;
  }
};

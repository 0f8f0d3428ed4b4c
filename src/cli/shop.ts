// Owns the opening of a shop's store for a command: the store, who this device is, one writer at a time, and what is said when the store refuses.

import { randomBytes } from "node:crypto";
import { closeSync, openSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { type Identity, makeIdentity } from "../ledger/index.ts";
import { nodesSigner, type RunDesk, type World } from "../server/index.ts";
import { openStore, type Store, StoreFault } from "../store/index.ts";
import type { Call } from "./call.ts";
import { EXIT, type Exit } from "./exit.ts";
import type { Terminal } from "./terminal.ts";

const isDatabase = (address: string): boolean => /^postgres(ql)?:\/\//.test(address);

/** Runs a command's work on a store that is there, and closes it whatever happens. */
export async function atShop(
  address: string,
  terminal: Terminal,
  work: (store: Store) => Promise<Exit>,
  mayBeNew = false,
): Promise<Exit> {
  if (!mayBeNew && !isDatabase(address) && !isThere(address)) {
    terminal.warn(
      `unmoor: ${address}: there is no such store. The first order makes it: unmoor order ${address} FILE --job ID --by WHO.`,
    );
    return EXIT.call;
  }
  let store: Store | undefined;
  try {
    store = await openStore(address);
    return await work(store);
  } catch (error) {
    if (!(error instanceof StoreFault)) throw error;
    terminal.warn(`unmoor: ${error.at}: ${error.what}. ${error.mend}`);
    return EXIT.not;
  } finally {
    await store?.close();
  }
}

/** Says what of a run is not as it was written. */
export function warnOfDamage({ damages }: RunDesk, terminal: Terminal): void {
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
export async function asDevice<T>(address: string, call: Call, work: (world: World) => Promise<T>): Promise<T> {
  const path = identityPath(address, call);
  const lock = `${path}.lock`;
  await take(lock);
  try {
    const identity = readIdentity(path);
    return await work({ identity, sign: nodesSigner(), now: () => Date.now(), random: (count) => randomBytes(count) });
  } finally {
    rmSync(lock, { force: true });
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

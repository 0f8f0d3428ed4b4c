// Owns the store's interface: what it keeps, what it promises, and how it refuses. Two implementations, one acceptance suite.
import type { Accounts } from "./accounts.ts";
import type { QuestionKeep } from "./questions.ts";

/** A file of a vehicle's model as it was read: the main file first, what it includes after it. */
export interface ModelFile {
  readonly path: string;
  readonly text: string;
}

/** One version of a vehicle's model; a version never changes. */
export interface VehicleVersion {
  readonly vehicle: string;
  /** 1 for the first. */
  readonly version: number;
  /** SHA-256 of paths and texts, hexadecimal. */
  readonly digest: string;
  readonly files: readonly ModelFile[];
  /** Milliseconds since 1970, UTC, as everywhere in the store. */
  readonly at: number;
  readonly by: string;
}

/** A machine as an individual: what was found on it that the model does not say. */
export interface Machine {
  readonly id: string;
  readonly vehicle: string;
  readonly body: unknown;
}

/** A place of work with its own people, orders and runs; vehicles are everybody's. */
export interface Site {
  readonly id: string;
  readonly label: string;
  readonly body: unknown;
}

export interface Order {
  readonly id: string;
  /** The site that does it. */
  readonly site: string;
  readonly vehicle: string;
  readonly version: number;
  readonly machine: string | undefined;
  readonly jobs: readonly string[];
  readonly body: unknown;
  readonly at: number;
  readonly by: string;
}

/** A plan as it was computed for an order; a plan never changes. */
export interface KeptPlan {
  readonly id: string;
  readonly order: string;
  readonly body: unknown;
  readonly at: number;
}

/** One order being carried out, pinned to the version of the vehicle that its plan was made on. */
export interface Run {
  readonly id: string;
  /** Of its order. */
  readonly site: string;
  readonly order: string;
  readonly plan: string;
  readonly vehicle: string;
  readonly version: number;
  readonly opened: number;
  readonly by: string;
  readonly closed: number | undefined;
  /** Entries it holds: the position of the last. */
  readonly length: number;
}

export interface Person {
  readonly id: string;
  readonly name: string;
  readonly roles: readonly string[];
  readonly skills: readonly string[];
  readonly body: unknown;
}

/** A device that writes entries, with the key that its signatures are checked by. */
export interface Device {
  readonly id: string;
  /** Ed25519, 32 bytes, hexadecimal. */
  readonly key: string;
  readonly at: number;
}

/** Bytes that entries name by their digest. */
export interface Attached<Type extends string> {
  /** SHA-256 of the bytes, hexadecimal: its name. */
  readonly digest: string;
  readonly type: Type;
  readonly bytes: Uint8Array;
}

export const PHOTO_TYPES = ["image/jpeg", "image/png", "image/webp"] as const;
export const VOICE_TYPES = ["audio/webm", "audio/ogg", "audio/mp4"] as const;
export type Photo = Attached<(typeof PHOTO_TYPES)[number]>;
/** A spoken note. */
export type Voice = Attached<(typeof VOICE_TYPES)[number]>;

/** What was learnt of one time of a vehicle's model. */
export interface Learnt {
  readonly vehicle: string;
  readonly key: string;
  readonly body: unknown;
  readonly at: number;
}

/** A ledger entry as it arrives: its text is kept letter for letter, since its hash and signature are over it. */
export interface NewEntry {
  readonly id: string;
  readonly device: string;
  readonly text: string;
}

export interface KeptEntry extends NewEntry {
  /** 1 for the first of its run; no gap, in the order in which they became durable. */
  readonly position: number;
}

/** A mutable record with the number of its change: who writes says which one he read. */
export interface Revised<T> {
  readonly revision: number;
  readonly value: T;
}

/** Part of a list, in the order of its ids; `next` is what to ask for to get more. */
export interface Page<T> {
  readonly items: readonly T[];
  readonly next: string | undefined;
}

/**
 * Everything a shop keeps. What a promise of this interface resolved is on the disk and survives a crash of process, machine or database.
 * Every method may reject with a `StoreFault`; nothing is half kept.
 */
export interface Store {
  /** Where it is, fit to be shown: no password. */
  readonly place: string;
  /** People who sign in. */
  readonly accounts: Accounts;
  /** Long computations. */
  readonly questions: QuestionKeep;

  /** Keeps the files as the next version, or gives the latest version when they are the same as its own. */
  saveVehicle(vehicle: string, files: readonly ModelFile[], at: number, by: string): Promise<VehicleVersion>;
  /** @param version the latest when left out */
  vehicle(vehicle: string, version?: number): Promise<VehicleVersion | undefined>;
  /** Every vehicle with its latest version, without the files. */
  vehicles(): Promise<readonly Omit<VehicleVersion, "files">[]>;

  /** @param revision the one that was read, 0 for a new record; any other than the kept one is refused ("stale") */
  saveSite(site: Site, revision: number): Promise<Revised<Site>>;
  site(id: string): Promise<Revised<Site> | undefined>;
  sites(): Promise<readonly Revised<Site>[]>;
  saveMachine(machine: Machine, revision: number): Promise<Revised<Machine>>;
  machine(id: string): Promise<Revised<Machine> | undefined>;
  savePerson(person: Person, revision: number): Promise<Revised<Person>>;
  person(id: string): Promise<Revised<Person> | undefined>;
  people(): Promise<readonly Revised<Person>[]>;
  saveOrder(order: Order, revision: number): Promise<Revised<Order>>;
  order(id: string): Promise<Revised<Order> | undefined>;
  /** @param sites only theirs; everybody's when left out */
  orders(limit: number, after?: string, sites?: readonly string[]): Promise<Page<Revised<Order>>>;

  /** Kept once: again with the same content it changes nothing, with another it is refused ("clash"). */
  savePlan(plan: KeptPlan): Promise<void>;
  plan(id: string): Promise<KeptPlan | undefined>;
  saveDevice(device: Device): Promise<void>;
  device(id: string): Promise<Device | undefined>;
  /** Keeps a photo under its digest; refused when it is none, or larger than the limit. */
  savePhoto(bytes: Uint8Array): Promise<Omit<Photo, "bytes">>;
  photo(digest: string): Promise<Photo | undefined>;
  /** Keeps a spoken note likewise. */
  saveVoice(bytes: Uint8Array): Promise<Omit<Voice, "bytes">>;
  voice(digest: string): Promise<Voice | undefined>;
  saveLearnt(learnt: readonly Learnt[]): Promise<void>;
  learnt(vehicle: string): Promise<readonly Learnt[]>;

  /** Opens a run of an order on one of its plans; again with the same arguments it changes nothing. */
  openRun(run: { id: string; order: string; plan: string; at: number; by: string }): Promise<Run>;
  closeRun(id: string, at: number): Promise<Run>;
  run(id: string): Promise<Run | undefined>;
  runs(limit: number, after?: string, sites?: readonly string[]): Promise<Page<Run>>;

  /**
   * Appends entries to a run, all or none, and resolves when they are durable with the position of each. An entry that is there already keeps
   * its place, so that whoever got no answer sends again; the same id with another text is refused ("clash").
   *
   * @param behind the last position that the writer had seen when he judged what he writes: refused where there is more by now ("stale")
   */
  append(run: string, entries: readonly NewEntry[], behind?: number): Promise<readonly number[]>;
  /** Entries of a run behind a position, in their order; 0 for all. */
  entries(run: string, behind: number, limit: number): Promise<readonly KeptEntry[]>;

  /**
   * Tells of runs that hold new entries, whoever wrote them, until the function it gives is called. Where it may have missed some it tells of no run by
   * name: then any may. Nothing is told twice by intent, but it may be.
   */
  watch(listener: (run: string | undefined) => void): Promise<() => void>;

  /** Reads everything at one moment, while others write, as lines for a backup. */
  lines(): AsyncGenerator<BackupLine>;
  /** Takes such lines into a store that holds nothing, all or none. */
  takeIn(lines: AsyncIterable<BackupLine>): Promise<void>;
  /** What is damaged, in plain words; nothing when all is whole. */
  examine(): Promise<readonly string[]>;

  close(): Promise<void>;
}

/** One row of one table, as plain JSON; bytes in base64. */
export interface BackupLine {
  readonly table: string;
  readonly row: Readonly<Record<string, string | number | null>>;
}

/** Why a store refuses. */
export type FaultCode =
  | "unknown" // what it refers to is not kept
  | "clash" // the same id is kept with another content
  | "stale" // somebody else changed it since it was read
  | "closed" // the run takes no more entries
  | "last-steward" // nobody would keep the server any more
  | "not-empty" // a backup goes into an empty store only
  | "photo" // no photo, or too large
  | "voice" // no spoken note, or too long
  | "full" // no space left
  | "read-only"
  | "busy" // another process holds it
  | "gone" // cannot be reached
  | "damaged"
  | "newer" // written by a newer version of this program
  | "older"; // of a version that lacks what this program needs

/** A store's refusal: place, fault, mend; nothing that was acknowledged is lost by it. */
export class StoreFault extends Error {
  override readonly name = "StoreFault";
  readonly code: FaultCode;
  readonly at: string;
  readonly what: string;
  readonly mend: string;

  constructor(code: FaultCode, at: string, what: string, mend: string, cause?: unknown) {
    super(`${at}: ${what}. ${mend}`, cause === undefined ? undefined : { cause });
    this.code = code;
    this.at = at;
    this.what = what;
    this.mend = mend;
  }
}

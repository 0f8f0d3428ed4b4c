// Owns what every route of the server works with: the store, the desks, who vouches for people, and the world.

import type { Order, Plan } from "../../plan/index.ts";
import type { ModelFile, Store } from "../../store/index.ts";
import type { Fault, Vehicle } from "../../vehicle/index.ts";
import type { World } from "../desk/index.ts";
import type { Mend, Wrong } from "../refusals.ts";
import type { Desks } from "./desks.ts";
import type { Who } from "./who.ts";

/** Who vouches that somebody is who he says, beside the session of a request. */
export interface Vouching {
  /**
   * A second person with his PIN, at this moment.
   * @throws Problem where the PIN is not his, or he is locked out
   */
  attest(person: string, pin: string, who: Who, site: string): Promise<void>;
  /** The same, sealed by a device that was alone, for one entry of it; false where it is not his PIN, or not for this entry. */
  attestSealed(
    person: string,
    sealed: string,
    entry: string,
    who: Who,
    site: string,
    wrong: Set<string>,
  ): Promise<boolean>;
  /**
   * Somebody who took up the tablet while it was alone, his PIN sealed for that: from then on it was in his hands.
   * @param id of the taking up, a UUID of version 7 of its moment
   * @returns why it is not taken for true; undefined where it is, now or before
   */
  attestTakenUp(person: string, sealed: string, id: string, who: Who, site: string): Promise<Wrong | undefined>;
  /** Whether a person was signed in on a device at a moment, or had taken it up. */
  wasPresent(person: string, device: string, at: number): Promise<boolean>;
}

/** The people of the shop, by id. */
export interface Directory {
  member(person: string): Promise<
    | {
        readonly name: string;
        readonly skills: readonly string[];
        readonly sites: Readonly<Record<string, readonly string[]>>;
      }
    | undefined
  >;
}

/** What is computed beside the requests. */
export interface Planning {
  /** A vehicle's files, the main one first, with every fault and warning. @throws Problem where they cannot be read in time */
  check(
    files: readonly ModelFile[],
    person: string,
  ): Promise<{ readonly faults: readonly Fault[]; readonly warnings: readonly Fault[] }>;
  /** The plan of an order; or why there is none; or what is still computing it. */
  plan(
    model: { readonly vehicle: string; readonly version: number },
    asked: Order,
    person: string,
  ): Promise<
    | { readonly plan: Plan; readonly vehicle: Vehicle }
    | { readonly waiting: string; readonly state: string }
    | {
        readonly refused: {
          readonly what: Wrong;
          readonly mend: Mend;
          readonly more?: Readonly<Record<string, unknown>>;
        };
      }
  >;
}

export interface Office {
  readonly store: Store;
  readonly desks: Desks;
  readonly vouching: Vouching;
  readonly directory: Directory;
  readonly planning: Planning;
  readonly world: World;
  /** Aborted when the server is to stop. */
  readonly stopping: AbortSignal;
}

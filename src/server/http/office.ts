// Owns what every route of the server works with: the store, the desks, who vouches for people, and the world.

import type { Store } from "../../store/index.ts";
import type { World } from "../run-record.ts";
import type { Desks } from "./desks.ts";
import type { Who } from "./who.ts";

/** Who vouches that somebody is who he says, beside the session of a request. */
export interface Vouching {
  /**
   * A second person with his PIN, at this moment.
   * @throws Problem where the PIN is not his, or he is locked out
   */
  attest(person: string, pin: string, who: Who): Promise<void>;
  /** The same, sealed by a device that was alone, for one entry of it. */
  attestSealed(person: string, sealed: string, entry: string): Promise<boolean>;
  /** Whether a person was signed in on a device at a moment. */
  wasPresent(person: string, device: string, at: number): Promise<boolean>;
}

export interface Office {
  readonly store: Store;
  readonly desks: Desks;
  readonly vouching: Vouching;
  readonly world: World;
  /** Aborted when the server is to stop. */
  readonly stopping: AbortSignal;
}

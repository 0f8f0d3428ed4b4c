// Owns what is written of sign-ins and of what is done to accounts.

import { v7 } from "uuid";
import type { Accounts, Pairing } from "../../store/index.ts";

/** Where a request comes from. */
export interface From {
  readonly address: string;
  /** The device whose cookie it shows, where that is one of the shop's and not withdrawn. */
  readonly pairing: Pairing | undefined;
}

export type How =
  | "password"
  | "pin"
  | "passkey"
  | "token"
  | "second person"
  | "second person, sealed"
  | "taken up, sealed"
  | "set-up"
  | "sessions"
  | "roles"
  | "device";

export type Outcome =
  | "passed"
  | "wrong"
  /** Wrong, and shut for a while from then on; tries on a door that is shut are not written, so that nobody fills the disk. */
  | "shut"
  | "refused"
  | "changed"
  | "opened"
  | "ended"
  | "paired"
  | "withdrawn";

export class Audit {
  private readonly accounts: Accounts;
  private readonly now: () => number;
  /** Lines of one millisecond keep their order. */
  private written = 0;

  constructor(accounts: Accounts, now: () => number) {
    this.accounts = accounts;
    this.now = now;
  }

  /** @param by who did it, where it was somebody else */
  write(person: string, how: How, outcome: Outcome, { address, pairing }: From, by?: string): Promise<void> {
    const at = this.now();
    const { id: device, site } = pairing ?? {};
    return this.accounts.record({
      id: v7({ msecs: at, seq: this.written++ }),
      at,
      person,
      how,
      outcome,
      by,
      address,
      device,
      site,
    });
  }
}

// Owns sessions: opened with a fresh token, found again by it, ended; known for a second without asking the store.

import { ROLES, type Role } from "../../ledger/index.ts";
import type { Accounts, Member, Pairing, Session } from "../../store/index.ts";
import type { Who } from "../http/who.ts";
import type { From } from "./audit.ts";
import { isLive, lifeOf } from "./session-life.ts";
import { digestOf, newName, newToken } from "./tokens.ts";

/** Milliseconds for which what the store said is taken as said: what another process ends is seen within this time. */
const KNOWN = 1_000;
const MOST = 2_000;
/** Parts of a session's idle time after which it is written that it was seen: not with every request. */
const SEEN_PARTS = 10;
/** Milliseconds that an ended session is kept: what a device brings that was alone is asked who was at it. */
const KEPT = 30 * 86_400_000;

/** What a request's tokens stand for. */
export interface Found {
  readonly who: Who | undefined;
  readonly session: Session | undefined;
  readonly pairing: Pairing | undefined;
}

const NOBODY: Found = { who: undefined, session: undefined, pairing: undefined };

export class Sessions {
  private readonly accounts: Accounts;
  private readonly now: () => number;
  private readonly known = new Map<string, { readonly at: number; readonly finding: Promise<Found> }>();

  constructor(accounts: Accounts, now: () => number) {
    this.accounts = accounts;
    this.now = now;
  }

  /** A new session and its token, which is kept nowhere. The session that the request came with is over: nobody goes on under a token he was given. */
  async open(
    person: string,
    by: Session["by"],
    { address, pairing }: From,
    before: Session | undefined,
  ): Promise<{ readonly token: string; readonly session: Session }> {
    const token = newToken();
    const now = this.now();
    const { idle, whole } = lifeOf(by, pairing !== undefined && pairing.owner === undefined);
    const session: Session = {
      digest: digestOf(token),
      id: newName("session"),
      person,
      by,
      device: pairing?.id,
      address,
      opened: now,
      seen: now,
      idle,
      until: now + whole,
      ended: undefined,
    };
    if (before !== undefined && by !== "token") await this.end({ id: before.id });
    // Whoever takes up a shared tablet is from now on the one who is at it, also where the one before only walked away.
    if (pairing !== undefined && pairing.owner === undefined) await this.end({ device: pairing.id });
    await this.accounts.openSession(session);
    return { token, session };
  }

  /**
   * Writes that somebody took up a shared tablet while it was alone. Nobody has its token; whoever was signed in there before is not any more.
   * @param alone milliseconds, beside the idle time, for which it speaks for him
   */
  async takenUp(id: string, person: string, device: string, at: number, alone: number): Promise<void> {
    const { idle } = lifeOf("pin", true);
    const until = at + idle + alone;
    const digest = digestOf(newToken());
    await this.end({ device, before: at });
    const session = { digest, id, person, by: "pin", device, address: "", opened: at, seen: at, idle } as const;
    await this.accounts.openSession({ ...session, until, ended: until });
  }

  /** @param token of a session, @param device token of a device's cookie */
  find(token: string | undefined, device: string | undefined): Promise<Found> {
    if (token === undefined && device === undefined) return Promise.resolve(NOBODY);
    const digests = [token, device].map((one) => (one === undefined ? "" : digestOf(one)));
    const key = digests.join(" ");
    const known = this.known.get(key);
    const now = this.now();
    // A clock that was set back must not make it be known for longer.
    if (known !== undefined && Math.abs(now - known.at) < KNOWN) return known.finding;
    const [session = "", pairing = ""] = digests;
    const finding = this.look(session, pairing);
    this.known.delete(key);
    this.known.set(key, { at: now, finding });
    finding.catch(() => this.known.delete(key));
    const [oldest] = this.known.keys();
    if (this.known.size > MOST && oldest !== undefined) this.known.delete(oldest);
    return finding;
  }

  /** Ends sessions, and forgets in this process what is known of any. */
  async end(which: Parameters<Accounts["endSessions"]>[0]): Promise<number> {
    const ended = await this.accounts.endSessions(which, this.now());
    this.forget();
    return ended;
  }

  /** After a change of roles, devices or secrets. */
  forget(): void {
    this.known.clear();
  }

  isLive(session: Session): boolean {
    return isLive(session, this.now());
  }

  sweep(): Promise<void> {
    return this.accounts.sweep(this.now(), this.now() - KEPT);
  }

  private async look(digest: string, device: string): Promise<Found> {
    const now = this.now();
    const [found, paired] = await Promise.all([
      digest === "" ? undefined : this.accounts.session(digest),
      device === "" ? undefined : this.accounts.pairing({ digest: device }),
    ]);
    const pairing = paired?.withdrawn === undefined ? paired : undefined;
    if (found === undefined || !isLive(found.session, now)) return { ...NOBODY, pairing };
    const { session, member } = found;
    // A session of a shared device is good on that device only: its cookie alone, taken elsewhere, opens nothing.
    const isBound = session.by !== "token" && session.device !== undefined;
    if (isBound && session.device !== pairing?.id) return { ...NOBODY, pairing };
    const who = whoOf(session, member, pairing);
    if (who === undefined) return { ...NOBODY, pairing };
    if (now - session.seen > session.idle / SEEN_PARTS) await this.accounts.seeSession(digest, now);
    return { who, session, pairing };
  }
}

const isRole = (word: string): word is Role => ROLES.some((role) => role === word);

/** A PIN is short, and typed where others look on: it opens the site of its device and nothing beyond it, and no stewardship. */
const whoOf = (session: Session, member: Member, pairing: Pairing | undefined): Who | undefined => {
  const isPin = session.by === "pin";
  const sites = new Map(
    Object.entries(member.sites)
      .filter(([site]) => !isPin || site === pairing?.site)
      .map(([site, roles]) => [site, roles.filter(isRole)] as const),
  );
  if (isPin && sites.size === 0) return undefined;
  return {
    person: member.person,
    name: member.name,
    sites,
    steward: member.steward && !isPin,
    by: session.by,
    device: session.device,
  };
};

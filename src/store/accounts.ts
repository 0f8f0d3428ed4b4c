// Owns what a store keeps of people who sign in: secrets as hashes, roles by site, sessions, paired devices, passkeys, tries, and the audit of it all.
import type { Page, Site } from "./store.ts";

/** What somebody proves himself by, as it is kept. */
export interface Secret {
  /** Says its own method and cost; never the secret itself. */
  readonly hash: string;
  /** Given by somebody else, to be changed when it is first used, and void from then on; his own where it is undefined. */
  readonly start: number | undefined;
}

export type SecretKind = "password" | "pin";

/** Somebody of the directory as the door knows him. */
export interface Member {
  readonly person: string;
  readonly name: string;
  readonly skills: readonly string[];
  /** Keeps the server: adds sites and people anywhere. */
  readonly steward: boolean;
  /** Roles by site; he belongs to a site where he has at least one. */
  readonly sites: Readonly<Record<string, readonly string[]>>;
  /** Of his record in the directory. */
  readonly revision: number;
  readonly password: Secret | undefined;
  readonly pin: Secret | undefined;
}

/** What may be changed of somebody by whoever manages people. */
export type MemberChange = Pick<Member, "person" | "name" | "skills" | "steward" | "sites">;

export interface Session {
  /** SHA-256 of the token, hexadecimal; the token is kept nowhere. */
  readonly digest: string;
  /** What it is called when it is listed or ended. */
  readonly id: string;
  readonly person: string;
  readonly by: "pin" | "password" | "passkey" | "token";
  /** The paired device it was opened on. */
  readonly device: string | undefined;
  readonly address: string;
  readonly opened: number;
  readonly seen: number;
  /** Milliseconds without a request after which it is over. */
  readonly idle: number;
  /** Over from then on, used or not. */
  readonly until: number;
  /** When somebody ended it. */
  readonly ended: number | undefined;
}

/** A device that was made known: one that a site shares, on which its people may sign in by PIN, or somebody's own. */
export interface Pairing {
  readonly id: string;
  readonly site: string;
  readonly name: string;
  /** SHA-256 of the token in its cookie, hexadecimal. */
  readonly digest: string;
  readonly at: number;
  readonly by: string;
  /** Whose own it is; shared by the site's people where it is undefined. */
  readonly owner: string | undefined;
  readonly withdrawn: number | undefined;
}

export interface Passkey {
  /** Credential id, base64url. */
  readonly id: string;
  readonly person: string;
  readonly label: string;
  /** COSE key, base64url. */
  readonly key: string;
  /** Signatures its authenticator has counted; 0 where it counts none. */
  readonly counter: number;
  readonly transports: readonly string[];
  readonly at: number;
  readonly used: number | undefined;
}

export interface Challenge {
  readonly challenge: string;
  readonly kind: "register" | "sign-in";
  /** Whose passkey is to be registered. */
  readonly person: string | undefined;
  readonly until: number;
}

/** One line of the audit. */
export interface SignIn {
  /** UUIDv7: the order of ids is that of time. */
  readonly id: string;
  readonly at: number;
  /** Whom it is about, as it was typed. */
  readonly person: string;
  /** By what he signed in, or what was done to his account. */
  readonly how: string;
  readonly outcome: string;
  /** Who did it, where it was somebody else. */
  readonly by: string | undefined;
  readonly address: string;
  readonly device: string | undefined;
  /** The device's. */
  readonly site: string | undefined;
}

/** Which sessions: all that agree with every field that is given. */
export interface WhichSessions {
  readonly person?: string;
  readonly id?: string;
  readonly device?: string;
  /** Not the one with this digest. */
  readonly except?: string;
  /** Opened before this moment. */
  readonly before?: number;
}

/** What of the audit is wanted: of one person, or of the people and devices of some sites. */
export type AuditAbout = { readonly person: string } | { readonly sites: readonly string[] };

/** The part of the store that the door stands on. Rejects as the store does. */
export interface Accounts {
  /** Whether anybody may sign in at all. */
  anybody(): Promise<boolean>;
  /** Makes the first person, his site and his account, all or none; false where somebody was first. */
  setUp(
    first: MemberChange & { readonly site: Site; readonly password: string; readonly at: number },
  ): Promise<boolean>;
  member(person: string): Promise<Member | undefined>;
  /** In the order of their ids. @param sites who belongs to one of these; everybody when left out */
  members(limit: number, after?: string, sites?: readonly string[]): Promise<Page<Member>>;
  /** @param revision of his record in the directory as it was read, 0 for a new one; any other is refused ("stale") */
  saveMember(change: MemberChange, revision: number): Promise<Member>;
  /** @param was the hash that was read; false where it is another by now */
  setSecret(person: string, kind: SecretKind, secret: Secret, was: string | undefined): Promise<boolean>;

  openSession(session: Session): Promise<void>;
  /** The session with who is behind it, and the device it was opened on. */
  session(digest: string): Promise<{ session: Session; member: Member; pairing: Pairing | undefined } | undefined>;
  seeSession(digest: string, seen: number): Promise<void>;
  /** Those that nobody ended, the oldest first. */
  sessionsOf(person: string): Promise<readonly Session[]>;
  /** Those of a device at a moment: opened before it, and not ended before it. */
  sessionsOn(device: string, at: number): Promise<readonly Session[]>;
  /** Gives how many it ended. */
  endSessions(which: WhichSessions, at: number): Promise<number>;

  /** A device that was paired before is paired anew. */
  pair(pairing: Pairing): Promise<void>;
  pairing(which: { readonly id: string } | { readonly digest: string }): Promise<Pairing | undefined>;
  pairings(sites?: readonly string[]): Promise<readonly Pairing[]>;
  renamePairing(id: string, name: string): Promise<void>;
  /** Ends its sessions as well. */
  withdrawPairing(id: string, at: number): Promise<void>;

  savePasskey(passkey: Passkey): Promise<void>;
  passkey(id: string): Promise<Passkey | undefined>;
  passkeysOf(person: string): Promise<readonly Passkey[]>;
  /** @param was the counter that was read; false where it is another by now: two used the same key at once */
  usePasskey(id: string, counter: number, was: number, at: number): Promise<boolean>;
  removePasskey(person: string, id: string): Promise<void>;
  keepChallenge(challenge: Challenge): Promise<void>;
  /** Takes a challenge away, so that it serves once, in whichever process. */
  takeChallenge(challenge: string): Promise<Challenge | undefined>;

  /**
   * Counts a try under every key before it is known how it ends, so that many at once are counted as many; where a key is shut it counts nothing and
   * gives until when. @param wait milliseconds that a key is shut after so many tries. @param forget milliseconds after which a key begins anew
   */
  countTry(
    keys: readonly string[],
    now: number,
    wait: (key: string, tries: number) => number,
    forget: (key: string) => number,
  ): Promise<{ readonly shut: number | undefined; readonly counted: number }>;
  /** A try that succeeded: some keys begin anew, others are only rid of this one. */
  forgive(anew: readonly string[], less?: readonly string[]): Promise<void>;
  /** Until when a key is shut. */
  shutUntil(keys: readonly string[]): Promise<Readonly<Record<string, number>>>;

  record(signIn: SignIn): Promise<void>;
  /** The latest first. @param before an id. @param about everything when left out */
  signIns(limit: number, before?: string, about?: AuditAbout): Promise<Page<SignIn>>;

  /** Keeps a value under a name, and gives the one that is kept: the first that came. */
  settle(name: string, value: string): Promise<string>;
  setting(name: string): Promise<string | undefined>;

  /** Lets go of challenges that are over by now, and of sessions and tries that were over by an earlier moment. */
  sweep(now: number, earlier: number): Promise<void>;
}

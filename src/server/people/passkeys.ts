// Owns passkeys: made and used as the Web Authentication standard has it, each challenge once, in whichever process it was given.

import { createHash } from "node:crypto";
import {
  type AuthenticationResponseJSON,
  generateAuthenticationOptions,
  generateRegistrationOptions,
  type RegistrationResponseJSON,
  verifyAuthenticationResponse,
  verifyRegistrationResponse,
} from "@simplewebauthn/server";
import type { Accounts, Challenge, Session } from "../../store/index.ts";
import { badRequest, forbidden, Problem } from "../http/problem.ts";
import type { Who } from "../http/who.ts";
import type { Audit, From } from "./audit.ts";
import type { Sessions } from "./sessions.ts";
import { addressKey, forgetAfter, waitAfter } from "./tries.ts";

/** Milliseconds that a challenge is good. */
const LIFE = 300_000;
const MOST = 20;
const NAME = "Unmoor";

/** The page that a passkey is made or used on: its origin, and the name that the passkey is bound to. */
export interface Place {
  readonly origin: string;
  readonly name: string;
}

export class Passkeys {
  private readonly accounts: Accounts;
  private readonly now: () => number;
  private readonly sessions: Sessions;
  private readonly audit: Audit;

  constructor(accounts: Accounts, now: () => number, sessions: Sessions, audit: Audit) {
    this.accounts = accounts;
    this.now = now;
    this.sessions = sessions;
    this.audit = audit;
  }

  /** What the browser is to make one by. @throws Problem 409 when he has too many */
  async askToMake({ person, name }: Who, place: Place) {
    const own = await this.accounts.passkeysOf(person);
    if (own.length >= MOST) throw new Problem(409, "too-many", ["passkeysMany", MOST], ["removeOne"]);
    const options = await generateRegistrationOptions({
      rpName: NAME,
      rpID: place.name,
      userName: person,
      userDisplayName: name,
      userID: handleOf(person),
      excludeCredentials: own.map(({ id, transports }) => ({ id, transports: [...transports] })),
      // Found by the device itself, so that nobody is asked who he is before he has shown it.
      authenticatorSelection: { residentKey: "required", userVerification: "required" },
    });
    await this.keep(options.challenge, "register", person);
    return options;
  }

  /** @throws Problem 400 where it is not what was asked for */
  async make(
    { person }: Who,
    response: RegistrationResponseJSON,
    label: string,
    place: Place,
    from: From,
  ): Promise<string> {
    const challenge = await this.spend(response.response.clientDataJSON, "register");
    if (challenge?.person !== person) throw unasked();
    const made = await verifyRegistrationResponse({
      response,
      expectedChallenge: challenge.challenge,
      expectedOrigin: place.origin,
      expectedRPID: place.name,
      requireUserVerification: true,
    }).catch(() => undefined);
    if (made?.registrationInfo === undefined) throw badRequest(["passkeyElsewhere"], ["tryAgain"]);
    const { id, publicKey, counter, transports = [] } = made.registrationInfo.credential;
    if ((await this.accounts.passkey(id)) !== undefined) throw new Problem(409, "clash", ["passkeyKept"], ["useIt"]);
    await this.accounts.savePasskey({
      id,
      person,
      label,
      key: Buffer.from(publicKey).toString("base64url"),
      counter,
      transports: transports.slice(0, 10).map((one) => String(one).slice(0, 20)),
      at: this.now(),
      used: undefined,
    });
    await this.audit.write(person, "passkey", "changed", from);
    return id;
  }

  /** What the browser is to sign in by: any passkey of this place; no name is told and none is asked for. */
  async askToSignIn(place: Place) {
    const options = await generateAuthenticationOptions({ rpID: place.name, userVerification: "required" });
    await this.keep(options.challenge, "sign-in", undefined);
    return options;
  }

  /** @throws Problem 401, 403, 429 */
  async signIn(response: AuthenticationResponseJSON, place: Place, from: From, before: Session | undefined) {
    await this.count(from);
    const challenge = await this.spend(response.response.clientDataJSON, "sign-in");
    const passkey = challenge === undefined ? undefined : await this.accounts.passkey(response.id);
    if (challenge === undefined || passkey === undefined) throw wrong();
    const { person } = passkey;
    const seen = await verifyAuthenticationResponse({
      response,
      expectedChallenge: challenge.challenge,
      expectedOrigin: place.origin,
      expectedRPID: place.name,
      credential: {
        id: passkey.id,
        publicKey: new Uint8Array(Buffer.from(passkey.key, "base64url")),
        counter: passkey.counter,
      },
      requireUserVerification: true,
    }).catch(() => undefined);
    const handle = response.response.userHandle;
    const isOwn = handle === undefined || handle === Buffer.from(handleOf(person)).toString("base64url");
    if (
      seen?.verified !== true ||
      !isOwn ||
      !(await this.accounts.usePasskey(passkey.id, seen.authenticationInfo.newCounter, passkey.counter, this.now()))
    ) {
      await this.audit.write(person, "passkey", "wrong", from);
      throw wrong();
    }
    const member = await this.accounts.member(person);
    if (member === undefined) throw wrong();
    await this.accounts.forgive([], [addressKey(from.address)]);
    if (!member.steward && Object.keys(member.sites).length === 0) {
      await this.audit.write(person, "passkey", "refused", from);
      throw forbidden(["ofNoSite", member.name], ["foremanGivesHim"]);
    }
    const opened = await this.sessions.open(person, "passkey", from, before);
    await this.audit.write(person, "passkey", "passed", from);
    return { ...opened, member };
  }

  private keep(challenge: string, kind: Challenge["kind"], person: string | undefined): Promise<void> {
    return this.accounts.keepChallenge({ challenge, kind, person, until: this.now() + LIFE });
  }

  /** The challenge that a browser's answer names, where it was given for this, is not over and was not used. */
  private async spend(clientData: string, kind: Challenge["kind"]): Promise<Challenge | undefined> {
    const named = challengeIn(clientData);
    const challenge = named === undefined ? undefined : await this.accounts.takeChallenge(named);
    return challenge?.kind === kind && challenge.until > this.now() ? challenge : undefined;
  }

  /** Wrong ones count against the address; a key of 256 bits needs no count of its own. */
  private async count(from: From): Promise<void> {
    const now = this.now();
    const { shut } = await this.accounts.countTry([addressKey(from.address)], now, waitAfter, forgetAfter);
    if (shut === undefined) return;
    const after = Math.ceil((shut - now) / 1000);
    throw new Problem(429, "shut", ["shutFor", after], ["wait"], { after });
  }
}

/** The name of a person towards his authenticator: 32 bytes that say nothing of him (Web Authentication, 14.6.1). */
const handleOf = (person: string): Uint8Array<ArrayBuffer> =>
  new Uint8Array(createHash("sha256").update(`unmoor person\n${person}`).digest());

const challengeIn = (clientData: string): string | undefined => {
  try {
    const { challenge } = JSON.parse(Buffer.from(clientData, "base64url").toString("utf8")) as { challenge?: unknown };
    return typeof challenge === "string" && challenge.length <= 200 ? challenge : undefined;
  } catch {
    return undefined;
  }
};

const wrong = (): Problem => new Problem(401, "wrong", ["passkeyShut"], ["againOrPassword"]);
const unasked = (): Problem => badRequest(["passkeyUnasked"], ["beginAgain"]);

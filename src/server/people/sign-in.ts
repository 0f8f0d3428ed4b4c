// Owns signing in by password or PIN: the tries that are counted, the secret that must be changed first, what is written of it.

import type { Accounts, Member, Pairing, SecretKind, Session } from "../../store/index.ts";
import { forbidden, Problem } from "../http/problem.ts";
import type { Audit, From, How } from "./audit.ts";
import { checkPassword, checkPin } from "./secret-rules.ts";
import type { Secrets } from "./secrets.ts";
import type { Sessions } from "./sessions.ts";
import { addressKey, deviceKey, forgetAfter, personKey, waitAfter } from "./tries.ts";

export interface Credentials {
  readonly person: string;
  readonly kind: SecretKind;
  readonly secret: string;
  /** The new one, where the one given is a start secret. */
  readonly next?: string | undefined;
  /** A token for a program, instead of a cookie. */
  readonly token?: boolean | undefined;
}

/** Milliseconds for which a start secret is good. */
export const START = 3 * 86_400_000;

export class SignIn {
  private readonly accounts: Accounts;
  private readonly now: () => number;
  private readonly secrets: Secrets;
  private readonly sessions: Sessions;
  private readonly audit: Audit;

  constructor(accounts: Accounts, now: () => number, secrets: Secrets, sessions: Sessions, audit: Audit) {
    this.accounts = accounts;
    this.now = now;
    this.secrets = secrets;
    this.sessions = sessions;
    this.audit = audit;
  }

  /** @param before the session that the request came with @throws Problem 401, 403, 429, 503 */
  async signIn(given: Credentials, from: From, before: Session | undefined) {
    const { person, kind, secret, next, token = false } = given;
    const how: How = token ? "token" : kind;
    if (kind === "pin") sharedDevice(from.pairing);
    const member = await this.prove(person, kind, secret, from, how);
    if (member[kind]?.start !== undefined) await this.renew(member, kind, secret, next, from);
    if (!member.steward && Object.keys(member.sites).length === 0) {
      await this.audit.write(person, how, "refused", from);
      throw forbidden(["ofNoSite", member.name], ["foremanGivesHim"]);
    }
    const opened = await this.sessions.open(person, token ? "token" : kind, from, before);
    await this.audit.write(person, how, "passed", from);
    return { ...opened, member };
  }

  /**
   * Somebody whose secret this is. Counted before it is known whether it is right, so that a thousand at once are a thousand.
   * @param again the same secret is given many times in a row, and only the first of them is to cost
   * @throws Problem 401, 429, 503
   */
  async prove(
    person: string,
    kind: SecretKind,
    secret: string,
    from: From,
    how: How,
    { again = false, by }: { readonly again?: boolean; readonly by?: string } = {},
  ): Promise<Member> {
    const own = personKey(kind, person);
    const place = kind === "pin" && from.pairing !== undefined ? deviceKey(from.pairing.id) : addressKey(from.address);
    const now = this.now();
    const { shut, counted } = await this.accounts.countTry([own, place], now, waitAfter, forgetAfter);
    if (shut !== undefined) throw shutFor(shut - now);
    try {
      const member = await this.accounts.member(person);
      // Who does not belong to the device's site has no PIN there.
      const belongs = kind !== "pin" || (from.pairing !== undefined && member?.sites[from.pairing.site] !== undefined);
      const hash = belongs ? member?.[kind]?.hash : undefined;
      const isRight = await (again ? this.secrets.checkAgain(hash, secret) : this.secrets.check(hash, secret));
      if (isRight && member !== undefined) {
        await this.accounts.forgive([own], [place]);
        return member;
      }
    } catch (error) {
      // It was not tried: whoever was sent away because too many came is not held to have erred.
      if (error instanceof Problem) await this.accounts.forgive([], [own, place]);
      throw error;
    }
    await this.audit.write(person, how, counted > now ? "shut" : "wrong", from, by);
    const said = kind === "pin" ? "PIN" : "password";
    throw new Problem(401, "wrong", ["notAgreeing", said], ["tryAgain"], {
      ...(counted > now ? { after: secondsOf(counted - now) } : {}),
    });
  }

  /** A start secret serves once, to choose one's own. @throws Problem 403 */
  private async renew(member: Member, kind: SecretKind, secret: string, next: string | undefined, from: From) {
    const { person, name } = member;
    const said = kind === "pin" ? "PIN" : "password";
    if ((member[kind]?.start ?? 0) < this.now()) {
      await this.audit.write(person, kind, "refused", from);
      throw forbidden(["startTooLate", said], ["askAnotherStart"]);
    }
    if (next === undefined) throw new Problem(403, "change-first", ["startSecret", said], ["sendNext"]);
    if (next === secret) throw new Problem(403, "change-first", ["newIsStart", said], ["takeAnother"]);
    checkSecret(kind, next, [person, name]);
    const set = { hash: await this.secrets.hash(next), start: undefined };
    if (!(await this.accounts.setSecret(person, kind, set, member[kind]?.hash)))
      throw new Problem(409, "clash", ["secretChanged", said], ["withNewOne"]);
    await this.sessions.end({ person });
    await this.audit.write(person, kind, "changed", from);
  }
}

/** @throws Problem 400 */
export const checkSecret = (kind: SecretKind, secret: string, about: readonly string[]): void => {
  if (kind === "pin") checkPin(secret);
  else checkPassword(secret, about);
};

/** A device that a site shares. @throws Problem 403 */
export const sharedDevice = (pairing: Pairing | undefined): Pairing => {
  if (pairing !== undefined && pairing.owner === undefined) return pairing;
  throw new Problem(403, "device", ["pinOnTablet"], ["passwordOrPair"]);
};

const secondsOf = (milliseconds: number): number => Math.ceil(milliseconds / 1000);

const shutFor = (milliseconds: number): Problem => {
  const after = secondsOf(milliseconds);
  const forever = after > 86_400 * 365;
  return new Problem(
    429,
    "shut",
    forever ? ["shut"] : ["shutFor", after],
    forever ? ["foremanOpens"] : ["waitOrForeman"],
    { after },
  );
};

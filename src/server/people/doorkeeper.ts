// Owns the door of the server: who may come in, who is behind a request, who vouches for whom.

import { momentOfId } from "../../ledger/index.ts";
import { MAIN_SITE, type Member, type Pairing, type SecretKind, type Session, type Store } from "../../store/index.ts";
import { forbidden, Problem } from "../http/problem.ts";
import type { Who } from "../http/who.ts";
import type { Wrong } from "../refusals.ts";
import { Audit, type From, type How } from "./audit.ts";
import { Passkeys } from "./passkeys.ts";
import { Sealing } from "./sealing.ts";
import { checkPassword } from "./secret-rules.ts";
import { type Cost, Secrets } from "./secrets.ts";
import { type Found, Sessions } from "./sessions.ts";
import { SetUpCode } from "./set-up.ts";
import { type Credentials, SignIn, sharedDevice } from "./sign-in.ts";
import { forgetAfter, networkOf, waitAfter } from "./tries.ts";

/** Milliseconds that a device may be alone, and its session still speak for who opened it. */
const ALONE = 2 * 3_600_000;
/** Milliseconds by which the clock of a device may be fast. */
const SKEW = 300_000;

export interface DoorOptions {
  readonly store: Store;
  /** Milliseconds since 1970. */
  readonly now: () => number;
  /** Of a password's hash; what OWASP asks for where it is left out. */
  readonly cost?: Cost;
}

export interface First {
  readonly code: string;
  readonly person: string;
  readonly name: string;
  readonly password: string;
  /** What the first site is called. */
  readonly site: string;
  /** Its time zone, by its IANA name; the server's own where it is left out. */
  readonly zone?: string | undefined;
}

export class Doorkeeper {
  readonly store: Store;
  readonly now: () => number;
  readonly secrets: Secrets;
  readonly sessions: Sessions;
  readonly audit: Audit;
  readonly sealing: Sealing;
  readonly passkeys: Passkeys;
  private readonly signing: SignIn;
  private readonly code = new SetUpCode();

  constructor({ store, now, cost }: DoorOptions) {
    this.store = store;
    this.now = now;
    this.secrets = new Secrets(now, cost);
    this.sessions = new Sessions(store.accounts, now);
    this.audit = new Audit(store.accounts, now);
    this.sealing = new Sealing(store.accounts);
    this.passkeys = new Passkeys(store.accounts, now, this.sessions, this.audit);
    this.signing = new SignIn(store.accounts, now, this.secrets, this.sessions, this.audit);
  }

  /** The code of the first set-up, to be shown where the server was started; undefined where somebody can sign in already. */
  async setupCode(): Promise<string | undefined> {
    return (await this.store.accounts.anybody()) ? undefined : this.code.make();
  }

  /** Makes the first person: foreman of the first site, and steward. @throws Problem 400, 403, 409, 429 */
  async setUp({ code, person, name, password, site, zone }: First, from: From): Promise<void> {
    const { accounts } = this.store;
    const key = `address:set-up ${networkOf(from.address)}`;
    const now = this.now();
    const { shut } = await accounts.countTry([key], now, waitAfter, forgetAfter);
    if (shut !== undefined) {
      const after = Math.ceil((shut - now) / 1000);
      throw new Problem(429, "shut", ["codesShutFor", after], ["wait"], { after });
    }
    if (!this.code.fits(code)) {
      await this.audit.write(person, "set-up", "wrong", from);
      throw forbidden(["wrongCode"], ["codeAtServer"]);
    }
    checkPassword(password, [person, name]);
    const first = {
      person,
      name,
      skills: [],
      steward: true,
      sites: { [MAIN_SITE]: ["foreman"] },
      site: { id: MAIN_SITE, label: site, body: zone === undefined ? {} : { zone } },
      password: await this.secrets.hash(password),
      at: now,
    };
    const isFirst = await accounts.setUp(first);
    this.code.spend();
    if (!isFirst) throw new Problem(409, "clash", ["setUpAlready"], ["signIn"]);
    await this.audit.write(person, "set-up", "passed", from);
  }

  /** @throws Problem 401, 403, 429, 503 */
  signIn(given: Credentials, from: From, before: Session | undefined) {
    return this.signing.signIn(given, from, before);
  }

  /** Somebody whose secret this is; the try is counted. @throws Problem 401, 429, 503 */
  prove(person: string, kind: SecretKind, secret: string, from: From): Promise<Member> {
    return this.signing.prove(person, kind, secret, from, kind);
  }

  /** Who shows these tokens, of a session and of a device. */
  whoIs(token: string | undefined, device: string | undefined): Promise<Found> {
    return this.sessions.find(token, device);
  }

  /**
   * A second person, another than who is signed in, with his own PIN at this moment, on the paired tablet of his site that the other is signed in on.
   * @param site of what he confirms, where that is known
   * @throws Problem 401 wrong PIN, 403, 429 shut
   */
  async attest(person: string, pin: string, who: Who, site?: string): Promise<void> {
    const from = await this.together(person, who, site);
    await this.confirm(person, pin, who, from, "second person");
  }

  /**
   * The same for a PIN that a device sealed while it was alone. False where the seal is for another entry or person, or the PIN is not his.
   * @param who brings it, from the same tablet; whoever signs in there when the line is back, and that may be himself
   * @param wrong what was wrong before in the same bringing: one PIN that he typed for all that he looked at is one try
   * @throws Problem 403, 429 shut
   */
  async attestSealed(
    person: string,
    sealed: string,
    entry: string,
    who: Who,
    site: string,
    wrong: Set<string> = new Set(),
  ): Promise<boolean> {
    const from = await this.onTablet(who, site);
    const how = "second person, sealed";
    const pin = await this.sealing.open(sealed, { person, entry });
    if (pin === undefined) {
      await this.audit.write(person, how, "refused", from, who.person);
      return false;
    }
    const typed = `${person} ${pin}`;
    if (wrong.has(typed)) return false;
    try {
      await this.confirm(person, pin, who, from, how);
      return true;
    } catch (error) {
      if (!(error instanceof Problem && error.status === 401)) throw error;
      wrong.add(typed);
      return false;
    }
  }

  /**
   * That somebody took up a tablet of the site while it was alone: his PIN, sealed then for the id of it, whose moment is in the id. He is believed once, and from
   * then on as by a session of his; the sessions before it are over.
   * @param who brings it, from the same tablet; he may be the same
   * @returns why he is not believed; undefined where he is, now or before
   * @throws Problem 403 where the tablet is none of the site, 429 shut
   */
  async attestTakenUp(person: string, sealed: string, id: string, who: Who, site: string): Promise<Wrong | undefined> {
    const from = await this.onTablet(who, site);
    const at = momentOfId(id);
    const { accounts } = this.store;
    const known = (await accounts.sessionsOn(from.pairing.id, at)).some(
      (one) => one.id === id && one.person === person,
    );
    if (known) return undefined;
    const how = "taken up, sealed";
    const pin = await this.sealing.open(sealed, { person, entry: id });
    if (pin === undefined || at < from.pairing.at || at > this.now() + SKEW) {
      await this.audit.write(person, how, "refused", from, who.person);
      return ["otherSeal", person];
    }
    try {
      await this.confirm(person, pin, who, from, how);
    } catch (error) {
      if (error instanceof Problem && error.status === 401) return ["otherPin", person];
      if (error instanceof Problem && error.status === 403) return error.what;
      throw error;
    }
    await this.sessions.takenUp(id, person, from.pairing.id, at, ALONE);
    return undefined;
  }

  /**
   * Whether a person was signed in on a device at a moment, or had taken it up, since it was last paired. A device that is alone tells the server of no touch, so
   * a session counts for a while after its idle time. A tablet that the site shares is in the hands of whoever took it up last.
   * @param at milliseconds since 1970
   */
  async wasPresent(person: string, device: string, at: number): Promise<boolean> {
    const { accounts } = this.store;
    const pairing = await accounts.pairing({ id: device });
    if (pairing === undefined || pairing.withdrawn !== undefined) return false;
    const sessions = [...(await accounts.sessionsOn(device, at))].sort((a, b) => a.opened - b.opened);
    return (pairing.owner === undefined ? sessions.slice(-1) : sessions).some(
      (session) =>
        session.person === person && session.opened >= pairing.at && at <= session.seen + session.idle + ALONE,
    );
  }

  /** Where both stand: one paired tablet of the site. @throws Problem 403 */
  private together(person: string, who: Who, site: string | undefined): Promise<From> {
    if (person === who.person) throw forbidden(["signedInHimself", who.name], ["secondIsOther"]);
    return this.onTablet(who, site);
  }

  /** The tablet of the site that somebody is signed in on. @throws Problem 403 */
  private async onTablet(who: Who, site: string | undefined): Promise<From & { readonly pairing: Pairing }> {
    const pairing = who.device === undefined ? undefined : await this.store.accounts.pairing({ id: who.device });
    const device = sharedDevice(pairing?.withdrawn === undefined ? pairing : undefined);
    if (site !== undefined && device.site !== site) throw forbidden(["tabletOfOther"], ["onItsTablet"]);
    return { address: "", pairing: device };
  }

  private async confirm(person: string, pin: string, who: Who, from: From, how: How): Promise<void> {
    const member = await this.signing.prove(person, "pin", pin, from, how, { again: true, by: who.person });
    if (member.pin?.start !== undefined)
      throw new Problem(403, "change-first", ["startSecret", "PIN"], ["firstHimself", member.name]);
    await this.audit.write(person, how, "passed", from, who.person);
  }
}

// Owns the door of the server: who may come in, who is behind a request, who vouches for whom.

import { MAIN_SITE, type Session, type Store } from "../../store/index.ts";
import { forbidden, Problem } from "../http/problem.ts";
import type { Who } from "../http/who.ts";
import { Audit, type From } from "./audit.ts";
import { checkPassword } from "./secret-rules.ts";
import { type Cost, Secrets } from "./secrets.ts";
import { type Found, Sessions } from "./sessions.ts";
import { SetUpCode } from "./set-up.ts";
import { type Credentials, SignIn, sharedDevice } from "./sign-in.ts";
import { forgetAfter, networkOf, waitAfter } from "./tries.ts";

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
}

export class Doorkeeper {
  readonly store: Store;
  readonly now: () => number;
  readonly secrets: Secrets;
  readonly sessions: Sessions;
  readonly audit: Audit;
  private readonly signing: SignIn;
  private readonly code = new SetUpCode();

  constructor({ store, now, cost }: DoorOptions) {
    this.store = store;
    this.now = now;
    this.secrets = new Secrets(now, cost);
    this.sessions = new Sessions(store.accounts, now);
    this.audit = new Audit(store.accounts, now);
    this.signing = new SignIn(store.accounts, now, this.secrets, this.sessions, this.audit);
  }

  /** The code of the first set-up, to be shown where the server was started; undefined where somebody can sign in already. */
  async setupCode(): Promise<string | undefined> {
    return (await this.store.accounts.anybody()) ? undefined : this.code.make();
  }

  /** Makes the first person: foreman of the first site, and steward. @throws Problem 400, 403, 409, 429 */
  async setUp({ code, person, name, password, site }: First, from: From): Promise<void> {
    const { accounts } = this.store;
    const key = `address:set-up ${networkOf(from.address)}`;
    const now = this.now();
    const { shut } = await accounts.countTry([key], now, waitAfter, forgetAfter);
    if (shut !== undefined) {
      const after = Math.ceil((shut - now) / 1000);
      throw new Problem(429, "shut", `too many wrong codes; shut for ${after} s more`, "Wait.", { after });
    }
    if (!this.code.fits(code)) {
      await this.audit.write(person, "set-up", "wrong", from);
      throw forbidden(
        "this is not the code",
        "It stands where the server was started; started anew, it shows another.",
      );
    }
    checkPassword(password, [person, name]);
    const first = {
      person,
      name,
      skills: [],
      steward: true,
      sites: { [MAIN_SITE]: ["foreman"] },
      site: { id: MAIN_SITE, label: site, body: {} },
      password: await this.secrets.hash(password),
      at: now,
    };
    const isFirst = await accounts.setUp(first);
    this.code.spend();
    if (!isFirst) throw new Problem(409, "clash", "somebody has set it up already", "Sign in.");
    await this.audit.write(person, "set-up", "passed", from);
  }

  /** @throws Problem 401, 403, 429, 503 */
  signIn(given: Credentials, from: From, before: Session | undefined) {
    return this.signing.signIn(given, from, before);
  }

  /** Who shows these tokens, of a session and of a device. */
  whoIs(token: string | undefined, device: string | undefined): Promise<Found> {
    return this.sessions.find(token, device);
  }

  /**
   * A second person, another than who is signed in, with his own PIN at this moment, on a paired tablet of his site.
   * @throws Problem 401 wrong PIN, 403, 429 shut
   */
  async attest(person: string, pin: string, who: Who): Promise<void> {
    if (person === who.person) throw forbidden(`${who.name} is signed in himself`, "The second person is another one.");
    const pairing = who.device === undefined ? undefined : await this.store.accounts.pairing({ id: who.device });
    const device = sharedDevice(pairing?.withdrawn === undefined ? pairing : undefined);
    const from = { address: "", pairing: device };
    const rest = { again: true, by: who.person };
    const member = await this.signing.prove(person, "pin", pin, from, "second person", rest);
    if (member.pin?.start !== undefined)
      throw new Problem(403, "change-first", "this is a start PIN", `${member.name} signs in once and takes his own.`);
    await this.audit.write(person, "second person", "passed", from, who.person);
  }

  /** Whether a person was signed in on a device at a moment. @param at milliseconds since 1970 */
  async wasPresent(person: string, device: string, at: number): Promise<boolean> {
    return (await this.store.accounts.sessionsOn(device, at)).some((session) => session.person === person);
  }
}

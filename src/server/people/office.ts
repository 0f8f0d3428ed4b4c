// Owns what every route of people works with: the door, the cookies, where a request comes from.

import { z } from "@hono/zod-openapi";
import type { Context } from "hono";
import type { Member, Session } from "../../store/index.ts";
import { notFound, type Problem } from "../http/problem.ts";
import type { Carried } from "../http/who.ts";
import type { From } from "./audit.ts";
import { Cookies } from "./cookies.ts";
import type { Doorkeeper } from "./doorkeeper.ts";

/** What somebody or something is called: nothing that a screen, a log or a terminal could obey. */
export const nameShape = z
  .string()
  .trim()
  .min(1)
  .max(120)
  .regex(/^[^\p{C}\p{Zl}\p{Zp}]*$/u, "no control characters");

/** A password as it is typed; what is asked of a new one is said when it is taken. */
export const secretShape = z.string().min(1).max(400);

export class PeopleOffice {
  readonly door: Doorkeeper;
  readonly cookies: Cookies;
  private readonly addressOf: (c: Context) => string;

  /** @param isSecure whether the server is reached over HTTPS */
  constructor(door: Doorkeeper, isSecure: boolean, addressOf: (c: Context) => string) {
    this.door = door;
    this.cookies = new Cookies(isSecure);
    this.addressOf = addressOf;
  }

  from(c: Context<Carried>): From {
    return { address: this.addressOf(c).slice(0, 60), pairing: c.var.pairing };
  }

  /** Gives a browser its new session; a device that is at work keeps its own cookie for as long again. */
  begin(c: Context<Carried>, token: string, session: Session): void {
    this.cookies.giveSession(c, token, session.until - session.opened);
    const { device } = this.cookies.read(c);
    if (device !== undefined && c.var.pairing !== undefined) this.cookies.giveDevice(c, device);
  }

  /** @throws Problem 404 */
  async memberOf(person: string): Promise<Member> {
    const member = await this.door.store.accounts.member(person);
    if (member === undefined) throw this.nobody(person);
    return member;
  }

  /** Of whom one may not see he is not even told that he is there. */
  nobody(person: string): Problem {
    return notFound(["nobodyCalled", person], ["seePeople"]);
  }
}

// Owns who asks: the person behind a request, what he may do at which site, and what a route demands of him.

import type { Role } from "../../ledger/index.ts";
import type { Pairing, Session } from "../../store/index.ts";
import { forbidden, signInFirst } from "./problem.ts";

/** The person a request comes from. */
export interface Who {
  readonly person: string;
  readonly name: string;
  /** What he may do, by site. */
  readonly sites: ReadonlyMap<string, readonly Role[]>;
  /** He keeps the server: adds sites and people anywhere. */
  readonly steward: boolean;
  /** How he signed in; "token": a program of his. */
  readonly by: "pin" | "password" | "passkey" | "token";
  /** The device that he signed in on, where it is one of the shop's. */
  readonly device: string | undefined;
}

/** What every request carries inside the server. */
export interface Carried {
  Variables: {
    /** Nobody where it is undefined. */
    who: Who | undefined;
    /** By which he is signed in. */
    session: Session | undefined;
    /** The device that the request comes from, where it shows that it was paired, whoever is signed in on it. */
    pairing: Pairing | undefined;
    /** Names the request in log and answer. */
    request: string;
  };
}

/** @throws Problem 401 */
export const someone = (who: Who | undefined): Who => {
  if (who === undefined) throw signInFirst();
  return who;
};

/** Whether somebody has one of these roles at a site; any role at all where none is named. */
export const has = (who: Who, site: string, ...roles: readonly Role[]): boolean => {
  const own = who.sites.get(site);
  return own !== undefined && (roles.length === 0 || own.some((role) => roles.includes(role)));
};

/**
 * Somebody who belongs to a site and has one of these roles there. Of a site that he does not belong to he is not even told that it is there.
 * @throws Problem 401, 403
 */
export const demand = (who: Who | undefined, site: string, ...roles: readonly Role[]): Who => {
  const asked = someone(who);
  if (!has(asked, site)) throw forbidden(["notOfSite", asked.name], ["askItsForeman"]);
  if (!has(asked, site, ...roles)) throw forbidden(["noRoleHere", asked.name, roles], ["rolesMay", roles]);
  return asked;
};

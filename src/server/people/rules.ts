// Owns who may do what to whose account: foremen at their sites, stewards anywhere, nobody to lift himself.

import type { Member, MemberChange } from "../../store/index.ts";
import { forbidden } from "../http/problem.ts";
import { has, type Who } from "../http/who.ts";

/**
 * Somebody who signed in by more than a PIN: what a PIN opens is work, not the accounts of others. It is typed where others look on.
 * @throws Problem 403
 */
export const beyondPin = (who: Who): void => {
  if (who.by === "pin") throw forbidden(["afterPin"], ["byPassword"]);
};

/** @throws Problem 403 */
export const demandSteward = (who: Who): void => {
  beyondPin(who);
  if (!who.steward) throw forbidden(["noSteward", who.name], ["stewardMay"]);
};

/** Sites that he is foreman of. */
export const foremanAt = (who: Who): readonly string[] =>
  [...who.sites.keys()].filter((site) => has(who, site, "foreman"));

/** Whether he may see what is kept of somebody's account. */
export const maySee = (who: Who, { person, sites }: Member): boolean =>
  who.steward || who.person === person || foremanAt(who).some((site) => sites[site] !== undefined);

/**
 * Whether he may give somebody a start secret, see and end his sessions: foreman of every site that the other belongs to, since whoever sets a secret
 * could use it, at all of them.
 * @throws Problem 403
 */
export const mayReset = (who: Who, { name, person, steward, sites }: Member): void => {
  beyondPin(who);
  if (who.person === person) throw forbidden(["oneself"], ["ownSecret"]);
  if (who.steward) return;
  if (steward) throw forbidden(["isSteward", name], ["otherStewardMay"]);
  const own = foremanAt(who);
  const theirs = Object.keys(sites);
  if (theirs.length === 0 || !theirs.every((site) => own.includes(site)))
    throw forbidden(["otherForeman", name, who.name], ["stewardMay"]);
};

/** Whether he may open what wrong tries have shut; that gives him nothing that he could use himself. @throws Problem 403 */
export const mayOpen = (who: Who, { name, person, steward, sites }: Member): void => {
  if (who.person === person) throw forbidden(["oneself"], ["otherForemanMay"]);
  if (who.steward) return;
  if (steward || !foremanAt(who).some((site) => sites[site] !== undefined))
    throw forbidden(["notForemanOf", who.name, name], ["hisForemanMay"]);
};

/**
 * Whether he may make this change.
 * @param before undefined for somebody new
 * @throws Problem 403
 */
export const mayChange = (who: Who, before: Member | undefined, after: MemberChange): void => {
  beyondPin(who);
  const gained = (was: readonly string[] | undefined, is: readonly string[] | undefined) =>
    (is ?? []).filter((one) => !was?.includes(one));
  const allSites = [...new Set([...Object.keys(before?.sites ?? {}), ...Object.keys(after.sites)])];
  const same = (site: string) =>
    gained(before?.sites[site], after.sites[site]).length + gained(after.sites[site], before?.sites[site]).length === 0;
  const changed = allSites.filter((site) => !same(site));
  if (before?.person === who.person) {
    const lifted = allSites.some((site) => gained(before.sites[site], after.sites[site]).length > 0);
    if (lifted || gained(before.skills, after.skills).length > 0) throw forbidden(["ownRole"], ["otherForemanMay"]);
    if (before.steward !== after.steward) throw forbidden(["ownSteward"], ["otherMay"]);
  }
  if (who.steward) return;
  if (before?.steward === true && before.person !== who.person)
    throw forbidden(["isSteward", before.name], ["stewardMay"]);
  if (before?.steward !== after.steward && (before !== undefined || after.steward))
    throw forbidden(["onlyStewards"], ["stewardMay"]);
  const own = foremanAt(who);
  const foreign = changed.find((site) => !own.includes(site));
  if (foreign !== undefined) throw forbidden(["notForemanOf", who.name, foreign], ["itsForemanMay"]);
  const isOf = [...Object.keys(before?.sites ?? {}), ...Object.keys(after.sites)].some((site) => own.includes(site));
  if (!isOf) throw forbidden(["notForemanOf", who.name, after.name], ["hisForemanMay"]);
  // Name and skills count at every site: whoever has others' foremen as well is renamed by none of them alone.
  const touched =
    before !== undefined &&
    (before.name !== after.name ||
      gained(before.skills, after.skills).length + gained(after.skills, before.skills).length > 0);
  if (touched && !Object.keys(before.sites).every((site) => own.includes(site)))
    throw forbidden(["otherSites", before.name], ["stewardRenames"]);
};

// Whose account anybody may change, and which secrets are taken and how they are kept.
import { afterEach, beforeEach, expect, test } from "vitest";
import { type Browser, type Door, openShopDoor, PASSWORD, PIN, pairedTablet, signedIn } from "../../../test/door.ts";
import type { Store } from "../../store/index.ts";
import { Secrets } from "./secrets.ts";

let store: Store;
let at: Door;
let close: () => Promise<void>;

beforeEach(async () => {
  ({ store, at, close } = await openShopDoor());
});
afterEach(() => close());

interface Change {
  readonly name?: string;
  readonly skills?: readonly string[];
  readonly sites?: Readonly<Record<string, readonly string[]>>;
  readonly steward?: boolean;
}
/** Tries to change somebody as he is kept now. */
const change = async (by: Browser, person: string, { name, skills, sites, steward }: Change): Promise<number> => {
  const before = await store.accounts.member(person);
  const body = {
    name: name ?? before?.name ?? person,
    skills: skills ?? before?.skills ?? [],
    sites: sites ?? before?.sites ?? {},
    steward: steward ?? before?.steward ?? false,
  };
  const behind = before === undefined ? { "if-none-match": "*" } : { "if-match": `"r${before.revision}"` };
  const { status } = await by.ask("PUT", `/people/${person}`, body, behind as Record<string, string>);
  if (status !== 200) expect(await store.accounts.member(person)).toEqual(before);
  return status;
};

test("[P27] nobody gives himself a role, a skill or the keeping of the server, not even a foreman or a steward", async () => {
  const cy = await signedIn(at, "cy");
  expect(await change(cy, "cy", { sites: { main: ["mechanic", "lift approver"] } })).toBe(403);
  expect(await change(cy, "cy", { skills: ["rigger"] })).toBe(403);
  expect(await change(cy, "cy", { steward: true })).toBe(403);
  const dora = await signedIn(at, "dora");
  expect(await change(dora, "dora", { sites: { north: ["foreman", "lift approver"] } })).toBe(403);
  expect(await change(dora, "dora", { sites: { north: ["foreman"], main: ["foreman"] } })).toBe(403);
  expect(await change(dora, "dora", { steward: true })).toBe(403);
  const ada = await signedIn(at, "ada");
  expect(await change(ada, "ada", { sites: { main: ["foreman", "lift approver"] } })).toBe(403);
  // The server is never without somebody who keeps it.
  expect(await change(ada, "ada", { steward: false })).toBe(403);
});

test("[P27] a foreman changes his own site's people there, and nobody at another site", async () => {
  const dora = await signedIn(at, "dora");
  expect(await change(dora, "eve", { sites: { north: ["mechanic", "verifier"] } })).toBe(200);
  expect(await change(dora, "eve", { sites: { north: ["mechanic"], main: ["mechanic"] } })).toBe(403);
  expect(await change(dora, "ben", { sites: { main: ["mechanic"] } })).toBe(403);
  expect(await change(dora, "ben", { sites: { main: ["mechanic", "verifier"], north: ["mechanic"] } })).toBe(200);
  // Finn works at both: at the other site nothing, and nothing that counts there too.
  expect(await change(dora, "finn", { sites: { main: [], north: ["mechanic"] } })).toBe(403);
  expect(await change(dora, "finn", { name: "Finn the rigger" })).toBe(403);
  expect(await change(dora, "gil", { sites: { north: ["mechanic"] } })).toBe(200);
  expect(await change(dora, "hal", { sites: { main: ["mechanic"] } })).toBe(403);
  expect(await change(dora, "ada", { name: "Not Ada" })).toBe(403);
});

test("[P27] only a steward makes a steward; who only works changes nobody, and after a PIN nobody does", async () => {
  const [dora, cy] = [await signedIn(at, "dora"), await signedIn(at, "cy")];
  expect(await change(dora, "eve", { steward: true })).toBe(403);
  expect(await change(cy, "ben", { sites: { main: [] } })).toBe(403);
  const tablet = await pairedTablet(at, "dora");
  await store.accounts.setSecret(
    "dora",
    "pin",
    { hash: await at.door.secrets.hash(PIN), start: undefined },
    (await store.accounts.member("dora"))?.pin?.hash,
  );
  expect((await tablet.post("/sign-in", { person: "dora", pin: PIN })).status).toBe(200);
  expect(await change(tablet, "eve", { sites: { north: ["verifier"] } })).toBe(403);
  expect(await change(await signedIn(at, "ada"), "dora", { steward: true })).toBe(200);
});

test("[P27] a foreman sets no secret of who works elsewhere too, nor of a steward: he could use it there", async () => {
  const dora = await signedIn(at, "dora");
  const reset = async (person: string) =>
    (await dora.ask("PUT", `/people/${person}/password`, { new: "a start for the herons" })).status;
  expect(await reset("eve")).toBe(204);
  expect(await reset("finn")).toBe(403);
  expect(await reset("ada")).toBe(403);
  expect(await reset("ben")).toBe(403);
});

test("[P27] two who change the same person: what the second read is old, and he is told so", async () => {
  const ada = await signedIn(at, "ada");
  const before = await store.accounts.member("eve");
  const put = (name: string) =>
    ada.ask("PUT", "/people/eve", { name, skills: [], sites: before?.sites }, { "if-match": `"r${before?.revision}"` });
  expect((await put("Eve the first")).status).toBe(200);
  expect((await put("Eve the second")).status).toBe(412);
  expect((await ada.ask("PUT", "/people/eve", { name: "Eve", skills: [], sites: before?.sites })).status).toBe(400);
});

test("[P30] secrets that are tried first are not taken: short ones, one's own name, runs of digits", async () => {
  const cy = await signedIn(at, "cy");
  const password = async (secret: string) =>
    (await cy.ask("PUT", "/people/cy/password", { new: secret, password: PASSWORD })).status;
  for (const weak of ["", "short", "cycycycycy", "password12", "1234567890", "workshop2026", "aaaaaaaaaa"])
    expect([weak, await password(weak)]).toEqual([weak, 400]);
  const pin = async (secret: string) =>
    (await cy.ask("PUT", "/people/cy/pin", { new: secret, password: PASSWORD })).status;
  for (const weak of ["", "12", "1234", "0000", "4321", "12a4", "123456789"])
    expect([weak, await pin(weak)]).toEqual([weak, 400]);
  expect(await pin("4826")).toBe(204);
});

test("[P19] a secret is kept as scrypt with the cost that OWASP asks for, salted, and as slow for who is not there", async () => {
  const secrets = new Secrets(() => 0);
  const [one, two] = [await secrets.hash(PASSWORD), await secrets.hash(PASSWORD)];
  // OWASP Password Storage Cheat Sheet, scrypt: N = 2^14 with r = 8 goes with p = 5.
  expect(one).toMatch(/^scrypt\$16384\$8\$5\$[\w-]{22}\$[\w-]{43}$/);
  expect(two).not.toBe(one);
  expect(await secrets.check(one, PASSWORD)).toBe(true);
  expect(await secrets.check(one, `${PASSWORD} `)).toBe(false);
  expect(await secrets.check(undefined, PASSWORD)).toBe(false);
  const kept = JSON.stringify(await store.accounts.member("cy"));
  expect(kept).not.toContain(PASSWORD);
  expect(kept).not.toContain(`"${PIN}"`);
});

test("[P27] two stewards who unmake each other at the same moment leave one: the server is never without", async () => {
  const ada = await signedIn(at, "ada");
  expect(await change(ada, "dora", { steward: true })).toBe(200);
  const unmake = async (person: string) => {
    const there = await store.accounts.member(person);
    if (there === undefined) throw new Error(`${person} is not there`);
    return store.accounts.saveMember({ ...there, steward: false }, there.revision).then(
      () => "unmade",
      ({ code }) => code,
    );
  };
  expect((await Promise.all(["ada", "dora"].map(unmake))).sort()).toEqual(["last-steward", "unmade"]);
  expect((await store.accounts.members(50)).items.filter(({ steward }) => steward)).toHaveLength(1);
});

test("[P28] a session that is not fresh makes no passkey: who stole it gets no key that lasts", async () => {
  const cy = await signedIn(at, "cy");
  const begin = () => cy.post("/passkeys/options", {});
  expect((await begin()).status).toBe(200);
  at.clock.now += 11 * 60_000;
  expect(await begin()).toMatchObject({ status: 403, body: { mend: "Sign in again, then make the passkey." } });
});

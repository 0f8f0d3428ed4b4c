// The second person: another one, here, with his own PIN at this moment or sealed for one entry; and who was at a device when.
import { webcrypto } from "node:crypto";
import { v7 } from "uuid";
import { afterEach, beforeEach, expect, test } from "vitest";
import { type Browser, type Door, openShopDoor, PIN, pairedTablet } from "../../../test/door.ts";
import { type Subtle, seal } from "../../ledger/index.ts";
import type { Store } from "../../store/index.ts";
import type { Who } from "../http/who.ts";

let store: Store;
let at: Door;
let close: () => Promise<void>;
let tablet: Browser;
let device: string;

beforeEach(async () => {
  ({ store, at, close } = await openShopDoor());
  tablet = await pairedTablet(at, "ada");
  device = (await tablet.get("/door")).body.device.id;
});
afterEach(() => close());

/** Cy, signed in by PIN on a device. */
const cy = (on: string | undefined): Who => ({
  person: "cy",
  name: "Cy",
  sites: new Map([["main", ["mechanic"]]]),
  steward: false,
  by: "pin",
  device: on,
});
const attest = (person: string, pin: string, who: Who, site = "main"): Promise<number> =>
  at.door.attest(person, pin, who, site).then(
    () => 200,
    ({ status }) => status,
  );
const wrongPin = "0000";

test("[P21] the second person is another one, on the same tablet of the site, with his own PIN", async () => {
  expect(await attest("ben", PIN, cy(device))).toBe(200);
  expect(await attest("cy", PIN, cy(device))).toBe(403);
  expect(await attest("ben", wrongPin, cy(device))).toBe(401);
  expect(await attest("ben", PIN, cy(undefined))).toBe(403);
  expect(await attest("ben", PIN, cy("another tablet"))).toBe(403);
  expect(await attest("ben", PIN, cy(device), "north")).toBe(403);
  // Of the other site, and nobody at all.
  expect(await attest("eve", PIN, cy(device))).toBe(401);
  expect(await attest("nobody", PIN, cy(device))).toBe(401);
});

test("[P21] a tablet that was withdrawn confirms nothing more", async () => {
  await store.accounts.withdrawPairing(device, at.clock.now);
  expect(await attest("ben", PIN, cy(device))).toBe(403);
});

test("[P22] wrong PINs of a second person are counted as his, and shut the door as at sign-in", async () => {
  for (let i = 0; i < 5; i++) expect(await attest("ben", wrongPin, cy(device))).toBe(401);
  expect(await attest("ben", PIN, cy(device))).toBe(429);
  expect((await tablet.post("/sign-in", { person: "ben", pin: PIN })).status).toBe(429);
  const { items } = await store.accounts.signIns(50);
  expect(items.filter(({ person, how }) => person === "ben" && how === "second person")).toHaveLength(5);
});

test("[P22] a start PIN that somebody else gave confirms nothing", async () => {
  const hash = await at.door.secrets.hash(PIN);
  const { pin } = (await store.accounts.member("ben")) ?? {};
  await store.accounts.setSecret("ben", "pin", { hash, start: at.clock.now + 1000 }, pin?.hash);
  expect(await attest("ben", PIN, cy(device))).toBe(403);
});

const sealed = async (pin: string, person: string, entry: string) =>
  seal(webcrypto.subtle as unknown as Subtle, pin, { person, entry }, await at.door.sealing.publicKey());

test("[P23] a sealed PIN is good for the entry and the person that it was sealed for, and for no other", async () => {
  const [entry, other] = [v7(), v7()];
  const ofBen = await sealed(PIN, "ben", entry);
  const open = (seal: string, person = "ben", about = entry) =>
    at.door.attestSealed(person, seal, about, cy(device), "main");
  expect(await open(ofBen)).toBe(true);
  // Sent again, as a device does that got no answer.
  expect(await open(ofBen)).toBe(true);
  expect(await open(ofBen, "ben", other)).toBe(false);
  expect(await open(ofBen, "finn", entry)).toBe(false);
  expect(await open(await sealed(wrongPin, "ben", entry))).toBe(false);
  for (const at of [0, 70, 111]) {
    const digit = ofBen[at] === "0" ? "1" : "0";
    expect(await open(ofBen.slice(0, at) + digit + ofBen.slice(at + 1))).toBe(false);
  }
  for (const odd of ["", "00", "0".repeat(112), "z".repeat(112)]) expect(await open(odd)).toBe(false);
});

test("[P23] sealed PINs cannot be gone through: each is a try", async () => {
  const entry = v7();
  for (let i = 0; i < 5; i++)
    expect(await at.door.attestSealed("ben", await sealed(`000${i}`, "ben", entry), entry, cy(device), "main")).toBe(
      false,
    );
  const right = await sealed(PIN, "ben", entry);
  await expect(at.door.attestSealed("ben", right, entry, cy(device), "main")).rejects.toMatchObject({ status: 429 });
});

test("a PIN that was typed once for all that he looked at is one try, however many entries it is sealed for", async () => {
  const wrong = new Set<string>();
  for (let i = 0; i < 8; i++) {
    const entry = v7();
    const seal = await sealed(wrongPin, "ben", entry);
    expect(await at.door.attestSealed("ben", seal, entry, cy(device), "main", wrong)).toBe(false);
  }
  const entry = v7();
  expect(await at.door.attestSealed("ben", await sealed(PIN, "ben", entry), entry, cy(device), "main", wrong)).toBe(
    true,
  );
});

const takenUp = (person: string, seal: string, id: string, who = cy(device), site = "main") =>
  at.door.attestTakenUp(person, seal, id, who, site);

test("[P32] who took up a tablet while it was alone is believed by his PIN, sealed for that moment, and who had it before is not any more", async () => {
  at.clock.now += 1000;
  await tablet.post("/sign-in", { person: "cy", pin: PIN });
  const [before, moment] = [at.clock.now + 1000, at.clock.now + 60_000];
  const id = v7({ msecs: moment });
  const ofBen = await sealed(PIN, "ben", id);
  at.clock.now += 3_600_000;
  const was = (person: string, when: number) => at.door.wasPresent(person, device, when);
  expect(await was("ben", moment + 1000)).toBe(false);
  expect(await takenUp("ben", ofBen, id)).toBeUndefined();
  expect([await was("ben", moment + 1000), await was("cy", moment + 1000)]).toEqual([true, false]);
  expect([await was("ben", before), await was("cy", before)]).toEqual([false, true]);
  // For as long as a session that tells of nothing, and no longer than until the next one.
  expect([await was("ben", moment + 2 * 3_600_000), await was("ben", moment + 3 * 3_600_000)]).toEqual([true, false]);
  const next = v7({ msecs: moment + 600_000 });
  expect(await takenUp("cy", await sealed(PIN, "cy", next), next)).toBeUndefined();
  expect([await was("ben", moment + 700_000), await was("cy", moment + 700_000)]).toEqual([false, true]);
  // Cy's session of before is over, also for his cookie; nobody has one of what was sealed.
  expect((await tablet.get("/me")).status).toBe(401);
});

test("[P32] a taking up is good for its person, its moment and its tablet, is tried as any PIN, and is counted once", async () => {
  at.clock.now += 60_000;
  const id = v7({ msecs: at.clock.now - 1000 });
  const ofBen = await sealed(PIN, "ben", id);
  const other = v7({ msecs: at.clock.now - 30_000 });
  expect(await takenUp("ben", ofBen, other)).toContain("otherSeal");
  expect(await takenUp("finn", ofBen, id)).toContain("otherSeal");
  expect(await takenUp("ben", await sealed(wrongPin, "ben", id), id)).toContain("otherPin");
  await expect(takenUp("ben", ofBen, id, cy(device), "north")).rejects.toMatchObject({ status: 403 });
  await expect(takenUp("ben", ofBen, id, cy(undefined))).rejects.toMatchObject({ status: 403 });
  for (const moment of [at.clock.now - 86_400_000, at.clock.now + 3_600_000]) {
    const away = v7({ msecs: moment });
    expect(await takenUp("ben", await sealed(PIN, "ben", away), away)).toContain("otherSeal");
  }
  expect(await takenUp("ben", ofBen, id)).toBeUndefined();
  const tries = async () => (await store.accounts.signIns(50)).items.filter(({ how }) => how === "taken up, sealed");
  const { length } = await tries();
  expect(await takenUp("ben", ofBen, id)).toBeUndefined();
  expect(await tries()).toHaveLength(length);
  for (let i = 0; i < 6; i++) {
    const one = v7({ msecs: at.clock.now });
    const tried = takenUp("ben", await sealed(`000${i}`, "ben", one), one).catch(({ status }) => String(status));
    expect(await tried).toContain(i < 5 ? "otherPin" : "429");
  }
});

test("[P24] who was at a device is known for each moment, and only while his session was open there", async () => {
  const begin = at.clock.now;
  at.clock.now += 1000;
  expect((await tablet.post("/sign-in", { person: "cy", pin: PIN })).status).toBe(200);
  at.clock.now += 60_000;
  await tablet.post("/sign-out");
  const was = (person: string, moment: number, on = device) => at.door.wasPresent(person, on, moment);
  expect(await was("cy", begin + 30_000)).toBe(true);
  expect(await was("cy", begin)).toBe(false);
  expect(await was("cy", begin + 120_000)).toBe(false);
  expect(await was("ben", begin + 30_000)).toBe(false);
  expect(await was("cy", begin + 30_000, "another tablet")).toBe(false);
});

test("[P24] who only walked away is no longer at the tablet once another takes it up, nor hours later", async () => {
  const was = (person: string, moment: number) => at.door.wasPresent(person, device, moment);
  at.clock.now += 1000;
  await tablet.post("/sign-in", { person: "cy", pin: PIN });
  // Fifteen minutes without a touch: his session is over, and his cookie opens nothing.
  at.clock.now += 20 * 60_000;
  expect((await tablet.get("/me")).status).toBe(401);
  const later = at.clock.now;
  await tablet.post("/sign-in", { person: "ben", pin: PIN });
  at.clock.now += 60_000;
  expect(await was("ben", later + 30_000)).toBe(true);
  expect(await was("cy", later + 30_000)).toBe(false);
  // A tablet that is alone for an hour tells of no touch; one that tells of none for a shift is not believed.
  expect(await was("ben", later + 3_600_000)).toBe(true);
  expect(await was("ben", later + 4 * 3_600_000)).toBe(false);
});

test("[P24] a tablet that was paired anew, or withdrawn, speaks for nobody of before", async () => {
  at.clock.now += 1000;
  await tablet.post("/sign-in", { person: "cy", pin: PIN });
  const then = at.clock.now;
  at.clock.now += 60_000;
  expect(await at.door.wasPresent("cy", device, then)).toBe(true);
  const pairing = await store.accounts.pairing({ id: device });
  await store.accounts.withdrawPairing(device, at.clock.now);
  expect(await at.door.wasPresent("cy", device, then)).toBe(false);
  at.clock.now += 60_000;
  if (pairing !== undefined) await store.accounts.pair({ ...pairing, at: at.clock.now });
  expect(await at.door.wasPresent("cy", device, then)).toBe(false);
});

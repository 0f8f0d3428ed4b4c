import { afterEach, beforeEach, describe, expect, test } from "vitest";
import {
  type Browser,
  type Door,
  makeShop,
  openDoor,
  PASSWORD,
  PIN,
  pairedTablet,
  signedIn,
} from "../../../test/door.ts";
import { openStore, type Store } from "../../store/index.ts";

let store: Store;
let at: Door;
beforeEach(async () => {
  store = await openStore(":memory:");
  at = await openDoor(store);
});
afterEach(async () => {
  await at.close();
  await store.close();
});

const first = { person: "ada", name: "Ada", password: PASSWORD, site: "The shed" };
const signIn = (browser: Browser, person: string, password = PASSWORD, address = "192.0.2.1") =>
  browser.post("/sign-in", { person, password }, { "x-test-address": address });
const byPin = (browser: Browser, person: string, pin = PIN) => browser.post("/sign-in", { person, pin });

describe("the first set-up", () => {
  test("[P1] nobody is there by default, and nothing opens before the set-up", async () => {
    const browser = at.browser();
    expect((await browser.get("/door")).body).toEqual({ setup: true, device: null, signedIn: false });
    for (const person of ["admin", "root", "ada", "foreman"])
      for (const password of ["admin", "password", "unmoor", PASSWORD])
        expect((await signIn(browser, person, password, `192.0.2.${person.length}`)).status).toBeGreaterThan(400);
    for (const path of [
      "/me",
      "/people",
      "/people/ada",
      "/sites",
      "/sites/main/people",
      "/devices",
      "/sign-ins",
      "/sealing-key",
    ])
      expect((await browser.get(path)).status, path).toBe(401);
  });

  test("[P2] the code is good once, in the process that made it, and only as it was shown", async () => {
    const browser = at.browser();
    expect((await browser.post("/setup", { ...first, code: "" })).status).toBe(403);
    const code = await at.door.setupCode();
    expect(code).toMatch(/^([2-9A-HJ-NP-Z]{4}-){2}[2-9A-HJ-NP-Z]{4}$/);
    const anew = await at.door.setupCode();
    expect((await browser.post("/setup", { ...first, code })).status).toBe(403);
    const other = await openDoor(store);
    expect((await other.browser().post("/setup", { ...first, code: anew })).status).toBe(403);
    await other.close();
    expect(
      (await browser.post("/setup", { ...first, zone: "Pacific/Auckland", code: anew?.toLowerCase() })).status,
    ).toBe(200);
    expect((await (await signedIn(at, "ada")).get("/sites/main")).body.zone).toBe("Pacific/Auckland");
    expect((await browser.post("/setup", { ...first, person: "mallory", code: anew })).status).toBe(403);
    expect(await at.door.setupCode()).toBeUndefined();
    const { body } = await (await signedIn(at, "ada")).get("/me");
    expect(body).toMatchObject({ sites: { main: ["foreman"] }, steward: true });
  });

  test("[P2] of two processes that are set up at the same moment one is, whole", async () => {
    const other = await openDoor(store);
    const codes = [await at.door.setupCode(), await other.door.setupCode()];
    const answers = await Promise.all([
      at.browser().post("/setup", { ...first, code: codes[0] }),
      other.browser().post("/setup", { ...first, person: "mallory", code: codes[1] }),
    ]);
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 409]);
    expect((await store.accounts.members(10)).items).toHaveLength(1);
    await other.close();
  });

  test("[P2] codes cannot be gone through: after twenty wrong ones an address waits, even with the right one", async () => {
    const code = await at.door.setupCode();
    const browser = at.browser();
    for (let i = 0; i < 20; i++)
      expect((await browser.post("/setup", { ...first, code: "AAAA-BBBB-CCCC" })).status).toBe(403);
    expect((await browser.post("/setup", { ...first, code })).status).toBe(429);
    at.clock.now += 31_000;
    expect((await browser.post("/setup", { ...first, code })).status).toBe(200);
  });
});

describe("sign-in", () => {
  beforeEach(() => makeShop(store, at.door));

  test("[P3] whether a person exists is told neither by the words nor by the status nor by when the door shuts", async () => {
    const tried = async (person: string, address: string) => {
      const answers: unknown[] = [];
      for (let i = 0; i < 7; i++) {
        const { status, body } = await signIn(at.browser(), person, "not the password", address);
        answers.push({ status, body });
      }
      return answers;
    };
    const known = await tried("ben", "192.0.2.7");
    expect(await tried("nobody", "192.0.2.8")).toEqual(known);
    expect(known).toMatchObject([401, 401, 401, 401, 401, 429, 429].map((status) => ({ status })));
  });

  test("[P4] wrong tries shut the door for longer each time, for the right password as well, and it says until when", async () => {
    const browser = at.browser();
    for (let i = 0; i < 5; i++) await signIn(browser, "ben", "wrong one, twice");
    for (const seconds of [30, 60, 120, 240]) {
      const shut = await signIn(browser, "ben");
      expect(shut).toMatchObject({ status: 429, body: { after: seconds } });
      expect(shut.headers.get("retry-after")).toBe(String(seconds));
      at.clock.now += seconds * 1000 - 1;
      expect((await signIn(browser, "ben")).status).toBe(429);
      at.clock.now += 1;
      expect((await signIn(browser, "ben", "wrong one, twice")).status).toBe(401);
    }
    at.clock.now += 3_600_000;
    expect((await signIn(browser, "ben")).status).toBe(200);
    expect((await signIn(browser, "ben", "wrong one, twice")).status).toBe(401);
    expect((await signIn(browser, "ben")).status).toBe(200);
  });

  test("[P4] who is shut out by PIN gets in by password, and the other way about", async () => {
    const tablet = await pairedTablet(at, "ada");
    for (let i = 0; i < 5; i++) await byPin(tablet, "ben", "9999");
    expect((await byPin(tablet, "ben")).status).toBe(429);
    expect((await signIn(at.browser(), "ben")).status).toBe(200);
    for (let i = 0; i < 5; i++) await signIn(at.browser(), "cy", "wrong one, twice");
    expect((await signIn(at.browser(), "cy")).status).toBe(429);
    expect((await byPin(tablet, "cy")).status).toBe(200);
  });

  test("[P5] fifty tries at the same moment are fifty tries: no more than five are looked at", async () => {
    const tablet = await pairedTablet(at, "ada");
    const pins = Array.from({ length: 50 }, (_, i) => (i === 49 ? PIN : String(2000 + i)));
    const answers = await Promise.all(pins.map((pin) => byPin(tablet.copy(), "ben", pin)));
    expect(answers.filter(({ status }) => status !== 429).length).toBeLessThanOrEqual(5);
  });

  test("[P6] one PIN tried on everybody shuts the tablet, one password on everybody the address; others are not touched", async () => {
    const [tablet, other] = [await pairedTablet(at, "ada"), await pairedTablet(at, "ada", "Pit tablet")];
    const statuses: number[] = [];
    for (let i = 0; i < 22; i++) statuses.push((await byPin(tablet, `somebody-${i}`, "2580")).status);
    expect(statuses).toEqual([...Array.from({ length: 20 }, () => 401), 429, 429]);
    expect((await byPin(tablet, "ben")).status).toBe(429);
    expect((await byPin(other, "ben")).status).toBe(200);
    for (let i = 0; i < 20; i++) await signIn(at.browser(), `somebody-${i}`, "summer of 2026", "198.51.100.9");
    expect((await signIn(at.browser(), "cy", PASSWORD, "198.51.100.9")).status).toBe(429);
    expect((await signIn(at.browser(), "cy", PASSWORD, "198.51.100.10")).status).toBe(200);
    // Of an address of version 6 its network counts: one household has 2^64 of them.
    for (let i = 0; i < 20; i++) await signIn(at.browser(), `somebody-${i}`, "summer of 2026", `2001:db8::${i + 1}`);
    expect((await signIn(at.browser(), "cy", PASSWORD, "2001:db8:0:0:ffff::1")).status).toBe(429);
    expect((await signIn(at.browser(), "cy", PASSWORD, "2001:db8:0:1::1")).status).toBe(200);
  });

  test("[P6] one's own right password does not give tries on others back", async () => {
    for (let i = 0; i < 20; i++) {
      await signIn(at.browser(), `somebody-${i}`, "summer of 2026", "198.51.100.9");
      if (i < 19) expect((await signIn(at.browser(), "eve", PASSWORD, "198.51.100.9")).status).toBe(200);
    }
    expect((await signIn(at.browser(), "eve", PASSWORD, "198.51.100.9")).status).toBe(429);
  });

  test("[P7] a hundred wrong PINs in a row shut it until a foreman opens it; a password is never shut for good", async () => {
    const tablet = await pairedTablet(at, "ada");
    for (let i = 0; i < 100; i++) {
      expect((await byPin(tablet, "ben", "9999")).status).toBe(401);
      expect((await signIn(at.browser(), "cy", "wrong one, twice")).status).toBe(401);
      at.clock.now += 2 * 3_600_000;
    }
    at.clock.now += 366 * 86_400_000;
    expect(await byPin(tablet, "ben")).toMatchObject({ status: 429, body: { mend: "A foreman opens it." } });
    expect((await signIn(at.browser(), "cy")).status).toBe(200);
    const ada = await signedIn(at, "ada");
    expect((await ada.get("/people/ben")).body.pinShut).toBeGreaterThan(at.clock.now);
    expect((await ada.post("/people/ben/unlock")).status).toBe(204);
    expect((await byPin(tablet, "ben")).status).toBe(200);
  });

  test("[P8] only a foreman of his opens, not he himself, nor the foreman of another site", async () => {
    const ben = await signedIn(at, "ben");
    const wrong = async () => {
      for (let i = 0; i < 5; i++) await signIn(at.browser(), "ben", "wrong one, twice");
    };
    await wrong();
    for (const browser of [ben, await signedIn(at, "dora"), await signedIn(at, "cy")])
      expect((await browser.post("/people/ben/unlock")).status).toBe(403);
    expect((await at.browser().post("/people/ben/unlock")).status).toBe(401);
    expect((await signIn(at.browser(), "ben")).status).toBe(429);
    expect((await (await signedIn(at, "ada")).post("/people/ben/unlock")).status).toBe(204);
    expect((await signIn(at.browser(), "ben")).status).toBe(200);
  });

  test("[P9] a PIN is taken on a paired tablet of his site only", async () => {
    expect((await byPin(at.browser(), "ben")).status).toBe(403);
    const forged = at.browser();
    forged.jar.set("unmoor-device", "A".repeat(43));
    expect((await byPin(forged, "ben")).status).toBe(403);
    const own = await signedIn(at, "ben");
    expect((await own.post("/devices", { name: "Ben's phone", own: true })).status).toBe(200);
    await own.post("/sign-out");
    expect((await byPin(own, "ben")).status).toBe(403);
    const north = await pairedTablet(at, "dora");
    expect((await byPin(north, "ben")).status).toBe(401);
    expect((await byPin(north, "eve")).status).toBe(200);
    const token = await (await pairedTablet(at, "ada")).post("/sign-in", { person: "ben", pin: PIN, token: true });
    expect(token.status).toBe(400);
  });

  test("[P9] who works at two sites is by PIN at the tablet's site only, and nobody is steward by PIN", async () => {
    const tablet = await pairedTablet(at, "dora");
    await byPin(tablet, "finn");
    expect((await tablet.get("/me")).body).toMatchObject({ sites: { north: ["mechanic"] }, by: "pin" });
    const main = await pairedTablet(at, "ada");
    await byPin(main, "ada");
    expect((await main.get("/me")).body).toMatchObject({ steward: false, sites: { main: ["foreman"] } });
    expect((await main.put("/sites/west", { label: "West" }, { "if-none-match": "*" })).status).toBe(403);
  });

  test("[P20] a start PIN or password opens nothing before it is changed, is void afterwards, and after three days", async () => {
    const ada = await signedIn(at, "ada");
    const tablet = await pairedTablet(at, "ada");
    expect((await ada.put("/people/ben/pin", { new: "4826" })).status).toBe(204);
    expect((await ada.put("/people/ben/password", { new: "start of the week" })).status).toBe(204);
    expect((await ada.get("/people/ben")).body).toMatchObject({ pin: "start", password: "start" });
    expect(await byPin(tablet, "ben", "4826")).toMatchObject({ status: 403, body: { type: "/problems/change-first" } });
    expect((await tablet.get("/me")).status).toBe(401);
    const next = (value: string) => tablet.post("/sign-in", { person: "ben", pin: "4826", next: value });
    expect((await next("4826")).status).toBe(403);
    expect((await next("1234")).status).toBe(400);
    expect((await next("5937")).status).toBe(200);
    expect((await next("6048")).status).toBe(401);
    expect((await byPin(tablet, "ben", "4826")).status).toBe(401);
    expect((await byPin(tablet, "ben", "5937")).status).toBe(200);
    at.clock.now += 3 * 86_400_000 + 1;
    const late = { person: "ben", password: "start of the week", next: "four grey pelicans" };
    expect(await at.browser().post("/sign-in", late)).toMatchObject({
      status: 403,
      body: { mend: "Ask the foreman for another." },
    });
  });

  test("[P25] every try and every change is written, seen by the foreman of the site and by oneself, and holds no secret", async () => {
    const tablet = await pairedTablet(at, "ada");
    await byPin(tablet, "ben", "9999");
    await byPin(tablet, "ben");
    await signIn(at.browser(), "nobody", "wrong one, twice", "203.0.113.5");
    const ada = await signedIn(at, "ada");
    await ada.put("/people/cy/pin", { new: "4826" });
    const read = async (browser: Browser, path: string) =>
      (await browser.get(path)).body.signIns.map(
        ({ person, how, outcome, by }: Record<"person" | "how" | "outcome" | "by", string | null>) =>
          [person, how, outcome, by].join(" ").trim(),
      );
    expect(await read(ada, "/sign-ins")).toEqual([
      "cy pin changed ada",
      "ada password passed",
      "nobody password wrong",
      "ben pin passed",
      "ben pin wrong",
      "ada device paired",
      "ada password passed",
    ]);
    const { signIns } = (await ada.get("/sign-ins?limit=2")).body;
    const page = (await ada.get(`/sign-ins?limit=2&after=${signIns[1].id}`)).body;
    expect(page.signIns[0]).toMatchObject({ person: "nobody", address: "203.0.113.5", device: null });
    expect(page.signIns[1].device).toMatch(/^device-/);
    const dora = await signedIn(at, "dora");
    expect(await read(dora, "/sign-ins")).toEqual(["dora password passed"]);
    expect((await dora.get("/sign-ins?person=ben")).status).toBe(404);
    const ben = await signedIn(at, "ben");
    expect((await ben.get("/sign-ins")).status).toBe(403);
    expect(await read(ben, "/sign-ins?person=ben")).toHaveLength(3);
    const all = JSON.stringify((await ada.get("/sign-ins?limit=200")).body);
    for (const secret of [PIN, "9999", "4826", PASSWORD, "wrong one"]) expect(all).not.toContain(secret);
  });

  test("[P25] tries on a door that is shut are not written: nobody fills the disk", async () => {
    const browser = at.browser();
    for (let i = 0; i < 40; i++) await signIn(browser, "ben", "wrong one, twice");
    const { items } = await store.accounts.signIns(100);
    expect(items.map(({ outcome }) => outcome)).toEqual(["shut", "wrong", "wrong", "wrong", "wrong"]);
  });

  test("[P26] the names of a site are shown to its paired tablets and its people, and to nobody else", async () => {
    const tablet = await pairedTablet(at, "ada");
    const { body } = await tablet.get("/sites/main/people");
    expect(body.people).toContainEqual({ person: "ben", name: "Ben" });
    expect(JSON.stringify(body)).not.toMatch(/verifier|foreman|eve/);
    expect((await tablet.get("/sites/north/people")).status).toBe(401);
    expect((await at.browser().get("/sites/main/people")).status).toBe(401);
    expect((await (await signedIn(at, "eve")).get("/sites/main/people")).status).toBe(403);
    const seen = (await (await signedIn(at, "cy")).get("/sites/main/people")).body.people;
    expect(seen).toContainEqual({ person: "ben", name: "Ben", roles: ["mechanic", "verifier"], skills: [] });
  });

  test("[P31] who belongs to no site any more is let in nowhere, and out at once", async () => {
    const ben = await signedIn(at, "ben");
    const ada = await signedIn(at, "ada");
    const { headers } = await ada.get("/people/ben");
    const gone = { name: "Ben", skills: [], sites: {} };
    expect((await ada.put("/people/ben", gone, { "if-match": headers.get("etag")! })).status).toBe(200);
    expect((await ben.get("/me")).body.sites).toEqual({});
    expect((await ben.get("/sites/main/people")).status).toBe(403);
    expect((await signIn(at.browser(), "ben")).status).toBe(403);
    expect((await byPin(await pairedTablet(at, "ada"), "ben")).status).toBe(401);
  });
});

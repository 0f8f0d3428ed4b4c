import { afterEach, beforeEach, describe, expect, test } from "vitest";
import {
  type Browser,
  type Door,
  openDoor,
  openShopDoor,
  PASSWORD,
  PIN,
  pairedTablet,
  signedIn,
} from "../../../test/door.ts";
import { makeIdentity, signPairing } from "../../ledger/index.ts";
import type { Store } from "../../store/index.ts";
import { isLive, lifeOf } from "./session-life.ts";
import { digestOf } from "./tokens.ts";

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;

let store: Store;
let at: Door;
let close: () => Promise<void>;
beforeEach(async () => {
  ({ store, at, close } = await openShopDoor());
});
afterEach(() => close());

const isIn = async (browser: Browser) => (await browser.get("/me")).status === 200;
const byPin = (browser: Browser, person: string) => browser.post("/sign-in", { person, pin: PIN });

describe("sessions", () => {
  test("[P11] a session that somebody planted in a browser is not the one that signs in there", async () => {
    const browser = at.browser();
    browser.jar.set("unmoor", "A".repeat(43));
    await browser.post("/sign-in", { person: "ben", password: PASSWORD });
    expect(browser.jar.get("unmoor")).not.toBe("A".repeat(43));
    // The planter's own session, valid, in the other's browser: it ends where the other signs in.
    const planter = await signedIn(at, "cy");
    const victim = planter.copy();
    await victim.post("/sign-in", { person: "ben", password: PASSWORD });
    expect((await victim.get("/me")).body.person).toBe("ben");
    expect(await isIn(planter)).toBe(false);
  });

  test("[P12] on a shared tablet 15 minutes without a touch end it, and 12 hours in any case", async () => {
    const tablet = await pairedTablet(at, "ada");
    await byPin(tablet, "ben");
    at.clock.now += 15 * MINUTE - 1;
    expect(await isIn(tablet)).toBe(true);
    at.clock.now += 15 * MINUTE - 1;
    expect(await isIn(tablet)).toBe(true);
    at.clock.now += 15 * MINUTE;
    expect(await isIn(tablet)).toBe(false);
    // By password it is no longer: it is the tablet that is shared.
    await tablet.post("/sign-in", { person: "ben", password: PASSWORD });
    for (let i = 0; i < 71; i++) {
      at.clock.now += 10 * MINUTE;
      expect(await isIn(tablet)).toBe(true);
    }
    at.clock.now += 10 * MINUTE;
    expect(await isIn(tablet)).toBe(false);
  });

  test("[P12] on one's own device it is 12 hours and 30 days, for a program 30 days and a year; what was ended is over", () => {
    expect(lifeOf("password", false)).toEqual({ idle: 12 * HOUR, whole: 30 * DAY });
    expect(lifeOf("passkey", false)).toEqual(lifeOf("password", false));
    expect(lifeOf("token", false)).toEqual({ idle: 30 * DAY, whole: 365 * DAY });
    for (const by of ["pin", "password", "passkey"] as const)
      expect(lifeOf(by, true)).toEqual({ idle: 15 * MINUTE, whole: 12 * HOUR });
    const session = { digest: "", id: "", person: "", by: "pin", device: undefined, address: "", opened: 0 } as const;
    const life = { ...session, seen: 100, idle: 50, until: 1000, ended: undefined };
    expect(isLive(life, 149)).toBe(true);
    expect(isLive(life, 150)).toBe(false);
    expect(isLive({ ...life, seen: 999 }, 1000)).toBe(false);
    expect(isLive({ ...life, ended: 120 }, 121)).toBe(false);
    // A clock that was set back ends nothing and lengthens nothing beyond its whole life.
    expect(isLive(life, 20)).toBe(true);
  });

  test("[P13] signing out ends the session itself, not only the cookie: a copy of it opens nothing", async () => {
    const browser = await signedIn(at, "ben");
    const copy = browser.copy();
    expect(await isIn(copy)).toBe(true);
    expect((await browser.post("/sign-out")).status).toBe(204);
    expect(browser.jar.size).toBe(0);
    expect(await isIn(copy)).toBe(false);
  });

  test("[P13] everywhere means everywhere, programs as well; nobody ends another's by its name", async () => {
    const [one, two] = [await signedIn(at, "ben"), await signedIn(at, "ben")];
    const { body } = await at.browser().post("/sign-in", { person: "ben", password: PASSWORD, token: true });
    const program = () => at.browser().get("/me", { authorization: `Bearer ${body.token}` });
    expect((await program()).body).toMatchObject({ person: "ben", by: "token" });
    const { sessions } = (await one.get("/sessions")).body;
    expect(sessions.map(({ by }: { by: string }) => by)).toEqual(["password", "password", "token"]);
    const cy = await signedIn(at, "cy");
    for (const { id } of sessions) expect((await cy.delete(`/sessions/${id}`)).status).toBe(404);
    expect((await cy.delete(`/sessions/${sessions[0].id}?person=ben`)).status).toBe(403);
    expect((await (await signedIn(at, "dora")).get("/sessions?person=ben")).status).toBe(403);
    expect(await isIn(two)).toBe(true);
    expect((await one.delete(`/sessions/${sessions[1].id}`)).status).toBe(204);
    expect(await isIn(two)).toBe(false);
    await one.post("/sign-out-everywhere");
    expect([await isIn(one), (await program()).status]).toEqual([false, 401]);
  });

  test("[P13] a foreman ends a session of his people", async () => {
    const ben = await signedIn(at, "ben");
    const ada = await signedIn(at, "ada");
    const { sessions } = (await ada.get("/sessions?person=ben")).body;
    expect((await ada.delete(`/sessions/${sessions[0].id}?person=ben`)).status).toBe(204);
    expect(await isIn(ben)).toBe(false);
  });

  test("[P14] a new password ends all other sessions, needs the old one, and a foreman's start password ends all", async () => {
    const [one, two] = [await signedIn(at, "ben"), await signedIn(at, "ben")];
    const put = (browser: Browser, password: string | undefined) =>
      browser.put("/people/ben/password", { new: "four grey pelicans", password });
    expect((await put(one, undefined)).status).toBe(403);
    expect((await put(one, "not the old one")).status).toBe(401);
    expect((await put(await signedIn(at, "cy"), PASSWORD)).status).toBe(403);
    expect(await isIn(two)).toBe(true);
    expect((await put(one, PASSWORD)).status).toBe(204);
    expect([await isIn(one), await isIn(two)]).toEqual([true, false]);
    expect((await at.browser().post("/sign-in", { person: "ben", password: PASSWORD })).status).toBe(401);
    const ada = await signedIn(at, "ada");
    expect((await ada.put("/people/ben/password", { new: "start of the week" })).status).toBe(204);
    expect(await isIn(one)).toBe(false);
  });

  test("[P14] who knows a PIN alone cannot make a password of it", async () => {
    const tablet = await pairedTablet(at, "ada");
    await byPin(tablet, "ben");
    expect((await tablet.put("/people/ben/password", { new: "four grey pelicans", pin: PIN })).status).toBe(400);
    expect((await tablet.put("/people/ben/password", { new: "four grey pelicans" })).status).toBe(403);
    expect((await tablet.put("/people/ben/pin", { new: "4826", pin: "9999" })).status).toBe(401);
    expect((await tablet.put("/people/ben/pin", { new: "4826", pin: PIN })).status).toBe(204);
    // On a device of his own the PIN is no proof.
    expect((await (await signedIn(at, "ben")).put("/people/ben/pin", { new: "5937", pin: "4826" })).status).toBe(403);
  });

  test("[P15] what one process ends the others know of within two seconds", async () => {
    const other = await openDoor(store, false, at.clock);
    const browser = await signedIn(at, "ben");
    const there = other.browser();
    there.jar.set("unmoor", browser.jar.get("unmoor")!);
    expect(await isIn(there)).toBe(true);
    await browser.post("/sign-out");
    expect(await isIn(browser.copy())).toBe(false);
    at.clock.now += 1_000;
    expect(await isIn(there)).toBe(false);
    await other.close();
  });

  test("[P16] a program's token is no cookie and a cookie's no token; a wrong token is nobody, whatever cookie comes with it", async () => {
    const browser = await signedIn(at, "ben");
    const { body } = await at.browser().post("/sign-in", { person: "ben", password: PASSWORD, token: true });
    const thief = at.browser();
    thief.jar.set("unmoor", body.token);
    expect(await isIn(thief)).toBe(false);
    expect((await at.browser().get("/me", { authorization: `Bearer ${browser.jar.get("unmoor")}` })).status).toBe(401);
    expect((await browser.get("/me", { authorization: `Bearer ${"A".repeat(43)}` })).status).toBe(401);
  });

  test("[P16] the store holds no token, and 256 bits are in each", async () => {
    const { body } = await at.browser().post("/sign-in", { person: "ben", password: PASSWORD, token: true });
    expect(Buffer.from(body.token, "base64url")).toHaveLength(32);
    const [session] = await store.accounts.sessionsOf("ben");
    expect(session?.digest).toBe(digestOf(body.token));
    expect(JSON.stringify(session)).not.toContain(body.token);
    // What the store holds does not open.
    expect((await at.browser().get("/me", { authorization: `Bearer ${session?.digest}` })).status).toBe(401);
  });

  test("[P18] cookies are out of reach of scripts and other sites, and under HTTPS of every other way", async () => {
    const plain = await signedIn(at, "ada");
    expect(plain.set).toEqual([
      expect.stringMatching(/^unmoor=[\w-]{43}; Max-Age=2592000; Path=\/; HttpOnly; SameSite=Strict$/),
    ]);
    const secure = await openDoor(store, true);
    const tablet = await pairedTablet(secure, "ada");
    expect(tablet.set[0]).toMatch(
      /^__Host-unmoor-device=[\w-]{43}; Max-Age=34560000; Path=\/; HttpOnly; Secure; SameSite=Strict$/,
    );
    await byPin(tablet, "ben");
    expect(tablet.set[0]).toMatch(
      /^__Host-unmoor=[\w-]{43}; Max-Age=43200; Path=\/; HttpOnly; Secure; SameSite=Strict$/,
    );
    // A cookie that came over plain HTTP does not count there.
    const mixed = secure.browser();
    mixed.jar.set("unmoor", plain.jar.get("unmoor")!);
    expect(await isIn(mixed)).toBe(false);
    await secure.close();
  });
});

describe("another page", () => {
  const bad: readonly (readonly [string, Record<string, string>])[] = [
    ["another site", { "sec-fetch-site": "cross-site", origin: "https://evil.example" }],
    ["a neighbour of the same domain", { "sec-fetch-site": "same-site", origin: "https://other.example" }],
    ["another site in a browser without fetch metadata", { "sec-fetch-site": "", origin: "https://evil.example" }],
    ["another port", { "sec-fetch-site": "", origin: "http://localhost:1" }],
    ["a sandboxed frame", { "sec-fetch-site": "", origin: "null" }],
    ["somebody who types the address", { "sec-fetch-site": "none", origin: "" }],
    ["nobody says who", { "sec-fetch-site": "", origin: "" }],
    [
      "a lie in the header that scripts may set",
      { "sec-fetch-site": "cross-site", "x-requested-with": "XMLHttpRequest" },
    ],
  ];

  test.each(bad)("[P17] %s changes nothing in the name of who is signed in", async (_, headers) => {
    const ada = await signedIn(at, "ada");
    const asks: readonly (readonly [string, string, unknown])[] = [
      ["POST", "/sign-out", undefined],
      ["POST", "/sign-out-everywhere", undefined],
      ["PUT", "/people/ben/pin", { new: "4826" }],
      ["POST", "/people/ben/unlock", undefined],
      ["POST", "/devices", { name: "Mallory's" }],
      ["DELETE", "/sessions/session-1", undefined],
    ];
    for (const [method, path, body] of asks)
      expect(await ada.ask(method, path, body, headers), path).toMatchObject({
        status: 403,
        body: { type: "/problems/another-site" },
      });
    expect(await isIn(ada)).toBe(true);
  });

  test("[P17] nor does it sign anybody in as somebody else: no form of another page reaches the door", async () => {
    const form = { "sec-fetch-site": "cross-site", origin: "https://evil.example", "content-type": "text/plain" };
    const browser = at.browser();
    const said = JSON.stringify({ person: "cy", password: PASSWORD });
    expect((await browser.ask("POST", "/sign-in", said, form)).status).toBe(403);
    expect((await browser.ask("POST", "/sign-in", said, { "content-type": "text/plain" })).status).toBe(415);
    expect(browser.jar.size).toBe(0);
  });

  test("[P17] the server's own page and programs go through, in old browsers and new", async () => {
    for (const headers of [{ "sec-fetch-site": "same-origin", origin: "" }, { "sec-fetch-site": "" }] as const)
      expect((await (await signedIn(at, "ben")).ask("POST", "/sign-out", undefined, { ...headers })).status).toBe(204);
    const silent = { "sec-fetch-site": "", origin: "" };
    const { body } = await at.browser().post("/sign-in", { person: "ben", password: PASSWORD, token: true }, silent);
    const bearer = { ...silent, authorization: `Bearer ${body.token}` };
    expect((await at.browser().ask("POST", "/sign-out", undefined, bearer)).status).toBe(204);
  });
});

describe("devices", () => {
  test("[P9] a cookie that was stolen from a tablet gives names and tries at a PIN, and no session", async () => {
    const tablet = await pairedTablet(at, "ada");
    await byPin(tablet, "ben");
    const thief = at.browser();
    thief.jar.set("unmoor-device", tablet.jar.get("unmoor-device")!);
    expect(await isIn(thief)).toBe(false);
    for (let i = 0; i < 5; i++)
      expect((await thief.post("/sign-in", { person: "cy", pin: `80${i}1` })).status).toBe(401);
    expect((await byPin(thief, "cy")).status).toBe(429);
    // The other half alone, the session's cookie of a tablet, opens nothing elsewhere.
    const half = at.browser();
    half.jar.set("unmoor", tablet.jar.get("unmoor")!);
    expect(await isIn(half)).toBe(false);
    const other = await pairedTablet(at, "ada", "Pit tablet");
    other.jar.set("unmoor", tablet.jar.get("unmoor")!);
    expect(await isIn(other)).toBe(false);
    expect(await isIn(tablet)).toBe(true);
  });

  test("[P10] a tablet that is withdrawn is a stranger at once: no names, no PIN, its sessions over", async () => {
    const tablet = await pairedTablet(at, "ada");
    await byPin(tablet, "ben");
    const ada = await signedIn(at, "ada");
    const [device] = (await ada.get("/devices")).body.devices;
    for (const person of ["dora", "cy"])
      expect((await (await signedIn(at, person)).delete(`/devices/${device.id}`)).status).toBe(404);
    expect((await tablet.delete(`/devices/${device.id}`)).status).toBe(403);
    expect((await ada.put(`/devices/${device.id}`, { name: "Lost tablet" })).body.name).toBe("Lost tablet");
    expect((await ada.delete(`/devices/${device.id}`)).status).toBe(204);
    expect(await isIn(tablet)).toBe(false);
    expect((await tablet.get("/sites/main/people")).status).toBe(401);
    expect((await byPin(tablet, "ben")).status).toBe(403);
  });

  test("[P10] pairing leaves no foreman behind on the tablet, and only a foreman pairs", async () => {
    const tablet = await pairedTablet(at, "ada");
    expect(await isIn(tablet)).toBe(false);
    expect((await tablet.get("/door")).body.device).toMatchObject({ name: "Bench tablet", site: "main", own: false });
    expect((await (await signedIn(at, "cy")).post("/devices", { name: "x", site: "main" })).status).toBe(403);
    expect((await (await signedIn(at, "dora")).post("/devices", { name: "x", site: "main" })).status).toBe(403);
    await byPin(tablet, "ada");
    expect((await tablet.post("/devices", { name: "x" })).status).toBe(403);
  });

  test("[P29] a device that names a key shows that it has it, in this session; nobody takes another's device over", async () => {
    const identity = makeIdentity(new Uint8Array(32).fill(7));
    const ada = await signedIn(at, "ada");
    const { session } = (await ada.get("/me")).body;
    const pair = (browser: Browser, proof: string | undefined, own = false) =>
      browser.post("/devices", { name: "Bench tablet", key: identity.key, proof, own, site: "main" });
    const before = (await (await signedIn(at, "ada")).get("/me")).body.session;
    expect((await pair(ada, undefined)).status).toBe(400);
    expect((await pair(ada, signPairing(identity, before))).status).toBe(400);
    expect((await pair(ada, signPairing(makeIdentity(new Uint8Array(32).fill(8)), session))).status).toBe(400);
    expect(await pair(ada, signPairing(identity, session))).toMatchObject({
      status: 200,
      body: { id: identity.device },
    });
    expect(await store.device(identity.device)).toMatchObject({ key: identity.key });
    const cy = await signedIn(at, "cy");
    const own = (await cy.get("/me")).body.session;
    expect((await pair(cy, signPairing(identity, own), true)).status).toBe(409);
  });
});

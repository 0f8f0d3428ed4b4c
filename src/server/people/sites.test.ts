// What a site is called and which time its clocks show.
import { expect, test } from "vitest";
import { openShopDoor, pairedTablet, signedIn } from "../../../test/door.ts";

const OWN = Intl.DateTimeFormat().resolvedOptions().timeZone;

test("a site has the server's time zone until it is given one; its tablet is told before anybody signs in", async () => {
  const { at, close } = await openShopDoor();
  const ada = await signedIn(at, "ada");
  const { body, headers } = await ada.get("/sites/main");
  expect(body).toEqual({ site: "main", label: "The shed", zone: OWN });
  const behind = { "if-match": headers.get("etag") ?? "" };
  // Of neither is it said when summer begins; the second is not there.
  for (const zone of ["+02:00", "Europe/Nowhere", ""])
    expect((await ada.put("/sites/main", { label: "The shed", zone }, behind)).status).toBe(400);
  const given = await ada.put("/sites/main", { label: "The long shed", zone: "Pacific/Auckland" }, behind);
  expect(given.body).toEqual({ site: "main", label: "The long shed", zone: "Pacific/Auckland" });
  // What it is called alone is changed: its zone stays.
  const again = await ada.put("/sites/main", { label: "The shed" }, { "if-match": given.headers.get("etag") ?? "" });
  expect(again.body.zone).toBe("Pacific/Auckland");
  expect((await ada.get("/sites")).body.sites).toContainEqual(again.body);
  expect((await (await signedIn(at, "cy")).get("/sites")).body.sites).toEqual([again.body]);
  const tablet = await pairedTablet(at, "ada");
  expect((await tablet.get("/door")).body).toMatchObject({
    device: { name: "Bench tablet", label: "The shed", zone: "Pacific/Auckland", own: false },
    signedIn: false,
  });
  await close();
});

// The work in hand in real browsers, over HTTPS at the machine's own address: entered on the device first, arrived once, whatever the line, the server, the disk and other tabs do.
import { cpSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Browser, Page } from "playwright-core";
import { create } from "qrcode";
import { afterAll, beforeAll, describe, expect, inject, test } from "vitest";
import { tagPath, tagsOf } from "../src/tag/index.ts";
import { readVehicle } from "../src/vehicle/index.ts";
import { audit, overflows, SIZES, tooFaint, tooSmall } from "./screens.ts";
import { beginRun, type Client, setUp, temporaryFolder } from "./serving.ts";
import { givePins, openTablet, PINS, type Tablet } from "./tablets.ts";
import { canTrust, openBrowser, openSafeShop, type SafeShop, WHY_NOT } from "./trusting.ts";

const RUN = "pump-1";

describe.skipIf(!canTrust)(`the work in hand (${WHY_NOT})`, () => {
  let folder: Awaited<ReturnType<typeof temporaryFolder>>;
  let shop: SafeShop;
  let people: Readonly<Record<string, Client>>;
  let browser: Browser;
  /** The tablet of the pit, for many hands; and Dora's own. */
  let pit: Tablet;
  let doras: Tablet;

  beforeAll(async () => {
    folder = await temporaryFolder("work");
    shop = await openSafeShop(inject("bundle"), folder.path);
    people = await setUp(shop.origin, shop.serving.setupCode ?? "", shop.authority.authority);
    await givePins(people);
    await beginRun(people.frida as Client, RUN);
    // Its microphone hums instead of hearing, and its camera sees a tag; who may use them is each device's own.
    const film = join(folder.path, "tag.y4m");
    writeFileSync(film, filmOf(`${shop.origin}${tagOf("flange-bolts")}`));
    browser = await openBrowser(join(folder.path, "home"), shop.authority, true, [
      "--use-fake-device-for-media-stream",
      `--use-file-for-fake-video-capture=${film}`,
    ]);
    pit = await openTablet(browser, shop.origin, { run: RUN });
    doras = await openTablet(browser, shop.origin, { run: RUN, own: "dora" });
    await pit.take("emil");
  });
  afterAll(async () => {
    for (const client of Object.values(people ?? {})) client.close();
    await browser?.close();
    await shop?.stop();
    await folder.remove();
  });

  const standing = async () =>
    (await people.frida?.get(`/runs/${RUN}`)) as {
      readonly entries: number;
      readonly joints: readonly { readonly id: string; readonly state: string }[];
      readonly contradictions: readonly { readonly rule: string; readonly about: string }[];
    };
  const stateOf = async (id: string) => (await standing()).joints.find((one) => one.id === id)?.state ?? "tied";
  const soon = <T>(look: () => Promise<T>) => expect.poll(look, { timeout: 15_000, interval: 100 });
  const act = (page: Page) => page.locator("button.act").first();
  const said = (page: Page) => page.getByRole("status").last();
  /** Taps the one large button, and waits until it is on the device. */
  const tap = async (page: Page) => {
    const before = await said(page).textContent();
    await act(page).click();
    await soon(async () => (await said(page).textContent()) !== before).toBe(true);
  };
  const waits = async (page: Page) => Number((await page.locator(".line-mark b").allInnerTexts())[0] ?? 0);
  const steps = (page: Page) => page.goto(`/hand/${RUN}/steps`);
  const open = async (page: Page, step: string) => {
    await steps(page);
    await page.getByRole("button", { name: step }).first().click();
    await page.locator(".step-card").waitFor();
  };
  const cut = (tablet: Tablet) => tablet.context.setOffline(true);
  const mend = (tablet: Tablet) => tablet.context.setOffline(false);

  test("one tap is one entry: on the device, then at the server; a double tap is no second one", async () => {
    const { page } = pit;
    expect(await page.locator("h1").textContent()).toContain("Screws of the coupling guard");
    expect(await act(page).textContent()).toBe("Released");
    const { entries } = await standing();
    await act(page).dblclick();
    await soon(() => stateOf("guard-screws")).toBe("released");
    await page
      .getByText("All at the server")
      .or(page.locator(".line-mark[aria-label='All at the server']"))
      .first()
      .waitFor();
    expect((await standing()).entries).toBe(entries + 1);
    expect(await act(page).textContent()).toContain("4 × screw");
  });

  test("what was entered by mistake is taken back by an entry of its own", async () => {
    const { page } = pit;
    await page.getByRole("button", { name: /^Take back: Released/ }).click();
    await soon(() => stateOf("guard-screws")).toBe("tied");
    expect(await act(page).textContent()).toBe("Released");
  });

  test("by keys nobody waits: they go on at what comes next, and one that is held enters nothing more", async () => {
    const { page } = pit;
    const { entries } = await standing();
    await act(page).focus();
    for (let n = 0; n < 4; n += 1) await page.keyboard.down("Enter");
    await soon(() => page.evaluate("document.activeElement.textContent")).toContain("4 × screw");
    for (let n = 0; n < 4; n += 1) await page.keyboard.down("Enter");
    await page.keyboard.up("Enter");
    await soon(() => stateOf("guard-screws")).toBe("released");
    expect((await standing()).entries).toBe(entries + 1);
    expect(await act(page).textContent()).toContain("4 × screw");
  });

  test("a photo goes with the release, is small, and is shown where it goes back on", async () => {
    const { page } = pit;
    await open(page, "Suction hose");
    const picture = await page.evaluate(
      `(() => { const canvas = document.createElement("canvas"); canvas.width = 3000; canvas.height = 2000; canvas.getContext("2d").fillRect(0, 0, 2000, 900); return canvas.toDataURL("image/jpeg").split(",")[1]; })()`,
    );
    await steps(page);
    await page.goto(`/hand/${RUN}/next`);
    const hose = { name: "hose.jpg", mimeType: "image/jpeg", buffer: Buffer.from(String(picture), "base64") };
    await page.locator("input[type=file]").setInputFiles(hose);
    await page.getByRole("button", { name: "Photo (1)" }).waitFor();
    // Taken and not entered yet: it is on the disk, and a page that is loaded anew has it again.
    await page.reload();
    await page.getByRole("button", { name: "Photo (1)" }).waitFor();
    await tap(page); // counted: takes none
    await page.locator(".asking input").fill("tray 1");
    await tap(page); // laid aside
    await tap(page); // match marked
    await tap(page); // the coupling is released, with the photo
    // Neither the entry nor the photo need have arrived yet.
    await soon(async () => {
      const told = (await people.frida?.get(`/runs/${RUN}/entries?behind=0&limit=100`)) as {
        readonly entries: readonly { readonly text: string }[];
      };
      const digest = told.entries
        .map(({ text }) => /"photos":\["([0-9a-f]{64})"\]/.exec(text)?.[1])
        .find((one) => one !== undefined);
      return (await people.frida?.ask("GET", `/runs/${RUN}/photos/${digest}`))?.status;
    }).toBe(200);
    // One picture may show two things; left out of the second entry it stays in the first.
    await page.locator("input[type=file]").setInputFiles(hose);
    await page.getByRole("button", { name: "Photo (1)" }).waitFor();
    const without = page.getByRole("button", { name: "Leave the photo out" });
    await without.click();
    await without.waitFor({ state: "detached" });
    await doras.page.goto(`/hand/${RUN}/steps`);
    await doras.page.getByRole("button", { name: /Refit: Clamp screws/ }).click();
    await doras.page.getByRole("img", { name: "As it was at its release" }).waitFor();
    const wide = await doras.page
      .getByRole("img", { name: "As it was at its release" })
      .evaluate((node) => (node as unknown as { readonly naturalWidth: number }).naturalWidth);
    expect(wide).toBe(1600);
  });

  test("a note is spoken without the line, kept on the device, sent with its entry, and heard by others; where the microphone is refused it is said, and typing goes on", async () => {
    const { page } = pit;
    await pit.context.grantPermissions(["microphone"]);
    await page.goto(`/hand/${RUN}/next`);
    await page.evaluate("navigator.serviceWorker.ready.then(() => true)");
    await soon(() => page.evaluate("navigator.serviceWorker.controller !== null")).toBe(true);
    await cut(pit);
    const title = (await page.locator(".step-card h1").textContent()) ?? "";
    await page.getByRole("button", { name: "Note" }).click();
    await page.getByRole("button", { name: "Speak" }).click();
    await page.getByRole("button", { name: /^Stop 1 of 60 s/ }).click();
    await page.getByText("The spoken note is on this device.").waitFor();
    await page.getByLabel("What is to be remembered?").fill("half of a sen");
    await page.reload();
    // What was half done is there again, and back shuts it.
    await soon(() => page.getByLabel("What is to be remembered?").inputValue()).toBe("half of a sen");
    await page.goBack();
    await page.getByRole("button", { name: "Note (1)" }).click();
    await page.getByRole("button", { name: "Listen" }).click();
    await page.locator(".spoken").getByRole("button", { name: "Stop" }).waitFor();
    await page.getByRole("button", { name: "Enter", exact: true }).click();
    await soon(() => waits(page)).toBe(1);
    await mend(pit);
    await soon(() => waits(page)).toBe(0);
    const told = (await people.frida?.get(`/runs/${RUN}/entries?behind=0&limit=100`)) as {
      readonly entries: readonly { readonly text: string }[];
    };
    const digest = told.entries
      .map(({ text }) => /"voices":\["([0-9a-f]{64})"\]/.exec(text)?.[1])
      .find((one) => one !== undefined);
    await soon(async () => (await people.frida?.ask("GET", `/runs/${RUN}/voices/${digest}`))?.status).toBe(200);
    const other = doras.page;
    await open(other, title);
    await other.getByRole("button", { name: "Listen" }).click();
    await other.locator(".notes").getByRole("button", { name: "Stop" }).waitFor();
    await other.goto(`/hand/${RUN}/found`);
    await other.getByRole("button", { name: "Damaged" }).click();
    await other.getByRole("button", { name: "Speak" }).click();
    await other.getByText("The microphone may not be used here").waitFor();
    await other.getByLabel("In words").fill("a scratch");
    await other.getByRole("button", { name: "Enter the finding" }).click();
    await other.getByText("a scratch").waitFor();
    await other.getByRole("button", { name: "Dealt with" }).click();
    await other.getByLabel("How?").fill("wiped off");
    await other.getByRole("button", { name: "Enter", exact: true }).click();
    await other.getByText("Nothing was found that is still open").waitFor();
  });

  test("nobody looks at his own work: he is not among those asked, and the second person's wrong PIN enters nothing", async () => {
    const { page } = pit;
    await page.goto(`/hand/${RUN}/next`);
    // By keys alone: where what had them goes, they go on with what has come in its place.
    const hasKeys = () => page.evaluate("document.activeElement.className || document.activeElement.id");
    await page.getByRole("button", { name: /^Clamp screws of the shaft coupling.*: Looked: loose/ }).press("Enter");
    await page.getByText("Who looks?").waitFor();
    await soon(hasKeys).toBe("confirm");
    expect(await page.locator(".confirm .targets button").allInnerTexts()).toEqual(["Dora", "Frida"]);
    await page.getByRole("button", { name: "Frida" }).press("Enter");
    await soon(hasKeys).toBe("pin");
    for (const digit of "11111") await page.keyboard.press(digit);
    await page.keyboard.press("Enter");
    await soon(() => said(page).textContent()).toMatch(/not right|wrong|PIN/i);
    expect(await stateOf("coupling")).toBe("released");
    for (const digit of PINS.frida ?? "") await page.getByRole("button", { name: digit, exact: true }).click();
    await page.keyboard.press("Enter");
    await soon(() => stateOf("coupling")).toBe("loose");
    await soon(hasKeys).toBe("drawing");
  });

  test("the line is cut: the work goes on, also after a reload; what is entered arrives once when it is back, the second person's look with it", async () => {
    const { page } = pit;
    await page.goto(`/hand/${RUN}/next`);
    await page.evaluate("navigator.serviceWorker.ready.then(() => true)");
    await soon(() => page.evaluate("navigator.serviceWorker.controller !== null")).toBe(true);
    await cut(pit);
    await open(page, "Return hose at the relief valve");
    await tap(page); // released
    await soon(() => waits(page)).toBe(1);
    await page.reload();
    await page.locator(".step-card").waitFor();
    await soon(() => waits(page)).toBe(1);
    await tap(page); // plugged
    await page.goto(`/hand/${RUN}/next`);
    await page.getByRole("button", { name: /^Return hose.*: Looked: loose/ }).click();
    await page.getByRole("button", { name: "Dora" }).click();
    await page.locator(".pin-pad").waitFor();
    await page.getByText("Looked at by the server when it is reached").waitFor();
    for (const digit of PINS.dora ?? "") await page.keyboard.press(digit);
    await page.keyboard.press("Enter");
    await soon(() => waits(page)).toBe(3);
    // A page that is loaded anew may get a word out before it is cut off again: what matters is that each arrives once.
    expect(await stateOf("return-hose")).not.toBe("loose");
    await mend(pit);
    await soon(() => waits(page)).toBe(0);
    await soon(() => stateOf("return-hose")).toBe("loose");
    const told = (await people.frida?.get(`/runs/${RUN}/entries?behind=0&limit=500`)) as {
      readonly entries: readonly { readonly text: string }[];
    };
    const about = told.entries
      .map(({ text }) => JSON.parse(text) as { readonly body: { readonly kind: string; readonly at?: string } })
      .filter(({ body }) => body.at === "return-hose");
    expect(about.map(({ body }) => body.kind)).toEqual(["released", "plugged", "verified"]);
  });

  test("a second person's wrong PIN without the line stops what waits behind it, until it is entered again or left out", async () => {
    const { page } = pit;
    await cut(pit);
    await open(page, "Pressure hose at the relief valve");
    await tap(page);
    await page.goto(`/hand/${RUN}/next`);
    await page.getByRole("button", { name: /^Pressure hose.*: Looked: loose/ }).click();
    await page.getByRole("button", { name: "Dora" }).click();
    await page.locator(".pin-pad").waitFor();
    for (const digit of "99999") await page.keyboard.press(digit);
    await page.keyboard.press("Enter");
    await soon(() => waits(page)).toBe(2);
    await page.getByRole("button", { name: "Waiting", exact: true }).click();
    await page.getByRole("button", { name: "Goes on", exact: true }).click();
    await soon(() => waits(page)).toBe(4);
    await mend(pit);
    // Seen by who only glances, on each page; and one try of Dora's, however often it is loaded or something more is entered.
    const refused = page.getByRole("alert").filter({ hasText: "The PIN was not that of Dora." });
    await refused.waitFor();
    await page.reload();
    await refused.waitFor();
    await page.getByRole("button", { name: "Waiting", exact: true }).click();
    await soon(() => waits(page)).toBe(5);
    await page.getByRole("button", { name: "Goes on", exact: true }).click();
    await soon(() => waits(page)).toBe(6);
    const { signIns } = await (people.gwen as Client).get("/sign-ins");
    const tries = signIns.filter(
      (one: { readonly person: string; readonly how: string; readonly outcome: string }) =>
        one.person === "dora" && one.how === "second person, sealed" && one.outcome === "wrong",
    );
    expect(tries).toHaveLength(1);
    await refused.getByRole("button", { name: "What to do" }).click();
    await page.getByRole("button", { name: "Leave out what Dora looked at, and send the rest" }).click();
    await soon(() => waits(page)).toBe(0);
    expect(await stateOf("pressure-hose")).toBe("released");
  });

  test("another one takes up the tablet without the line: what is entered then is marked, and his when it arrives, for the PIN was his; with a wrong one it is refused, and may be left out", async () => {
    const { page } = pit;
    const taken = async (name: string, pin: string) => {
      await page.locator(".work > header a.button").click();
      await page.getByText("nobody can look at the PIN now").waitFor();
      await page.getByRole("button", { name }).click();
      for (const label of [`PIN of ${name}`, `The PIN of ${name} once more`]) {
        await page.getByText(label, { exact: true }).waitFor();
        for (const digit of pin) await page.keyboard.press(digit);
        await page.keyboard.press("Enter");
      }
      await page.getByText(`${name} took it up without the line`).waitFor();
    };
    const pause = async () => {
      await page.getByRole("button", { name: "Waiting", exact: true }).click();
      await page.getByRole("button", { name: "Goes on", exact: true }).click();
      await page.getByRole("button", { name: "Waiting", exact: true }).waitFor();
    };
    const authors = async () => {
      const told = (await people.frida?.get(`/runs/${RUN}/entries?behind=0&limit=500`)) as {
        readonly entries: readonly { readonly text: string }[];
      };
      return told.entries.slice(-2).map(({ text }) => (JSON.parse(text) as { readonly author: string }).author);
    };
    await page.goto(`/hand/${RUN}/next`);
    await cut(pit);
    await taken("Frida", PINS.frida ?? "");
    await page.reload();
    await page.locator(".work > header").getByText("PIN not looked at yet").waitFor();
    await pause();
    await soon(() => waits(page)).toBe(2);
    await mend(pit);
    await soon(() => waits(page)).toBe(0);
    expect(await authors()).toEqual(["frida", "frida"]);
    // Emil's session was over with it; Frida shows the server who she is, and goes on.
    await page.getByRole("link", { name: "The line is back: enter the PIN" }).click();
    await page.getByRole("heading", { name: "Frida" }).waitFor();
    for (const digit of PINS.frida ?? "") await page.keyboard.press(digit);
    await page.keyboard.press("Enter");
    await page.locator(".step-card").waitFor();
    expect(await page.locator(".notice").count()).toBe(0);
    await cut(pit);
    await taken("Emil", "99999");
    await pause();
    await soon(() => waits(page)).toBe(2);
    expect(await tooSmall(page, ".work > header")).toEqual([]);
    await mend(pit);
    await page.locator(".line-mark").click();
    await page.getByRole("button", { name: "Leave out what Emil entered without the line, and send the rest" }).click();
    await soon(() => waits(page)).toBe(0);
    expect(await authors()).toEqual(["frida", "frida"]);
    await pit.take("emil");
  });

  test("two who undo the same while one of them is alone contradict each other, and both see it", async () => {
    await cut(pit);
    await open(pit.page, "Case drain");
    await tap(pit.page);
    await open(doras.page, "Case drain");
    await tap(doras.page);
    await soon(() => stateOf("case-drain")).toBe("released");
    await mend(pit);
    await soon(async () => (await standing()).contradictions.map(({ rule, about }) => `${rule} ${about}`)).toEqual([
      "J3 case-drain",
    ]);
  });

  test("two tabs of one device write one chain: neither forks it, and each sees what the other entered", async () => {
    const { page } = pit;
    const other = await pit.context.newPage();
    await other.goto(`/hand/${RUN}/next`);
    await other.locator(".step-card").waitFor();
    await page.goto(`/hand/${RUN}/next`);
    await page.locator(".step-card").waitFor();
    const { entries } = await standing();
    for (let n = 0; n < 2; n++)
      for (const tab of [page, other]) {
        await tab.getByRole("button", { name: "Waiting", exact: true }).click();
        await tab.getByRole("button", { name: "Goes on", exact: true }).click();
        await tab.getByRole("button", { name: "Waiting", exact: true }).waitFor();
      }
    await soon(async () => (await standing()).entries).toBe(entries + 8);
    await soon(() => waits(other)).toBe(0);
    await other.close();
  });

  test("the server stops and comes again in the middle; what was entered meanwhile arrives", async () => {
    const { page } = pit;
    await shop.stop();
    await page.reload();
    await page.locator(".step-card").waitFor();
    await page.getByRole("button", { name: "Note" }).click();
    await page.getByLabel("What is to be remembered?").fill("the server was down");
    await page.getByRole("button", { name: "Enter", exact: true }).click();
    await soon(() => waits(page)).toBe(1);
    await shop.restart();
    await soon(() => waits(page)).toBe(0);
  });

  test("the device's disk is full: it is said, and nothing counts as entered", async () => {
    const { page } = doras;
    await page.goto(`/hand/${RUN}/next`);
    await page.locator(".step-card").waitFor();
    const { entries } = await standing();
    // A browser's own limit cannot be set from here, so its answer is put in the place of the disk.
    await page.evaluate(`{
      const put = IDBObjectStore.prototype.put;
      IDBObjectStore.prototype.put = () => { throw new DOMException("full", "QuotaExceededError"); };
      globalThis.makeRoom = () => { IDBObjectStore.prototype.put = put; };
    }`);
    await page.getByRole("button", { name: "Waiting", exact: true }).click();
    await page.getByText("This device has no room left: it was not entered").waitFor();
    expect(await page.getByRole("button", { name: "Goes on", exact: true }).count()).toBe(0);
    expect((await standing()).entries).toBe(entries);
    // With room again the same tap is taken: nothing of the one before is in the way.
    await page.evaluate("globalThis.makeRoom()");
    await page.getByRole("button", { name: "Waiting", exact: true }).click();
    await page.getByRole("button", { name: "Goes on", exact: true }).click();
    await soon(async () => (await standing()).entries).toBe(entries + 2);
  });

  test("a newer version is offered in the middle of a run, and is there only when it is taken", async () => {
    const { page } = pit;
    const web = join(folder.path, "newer");
    cpSync(join(dirname(inject("bundle")), "web"), web, { recursive: true });
    const keeper = join(web, "sw.js");
    writeFileSync(keeper, readFileSync(keeper, "utf8").replace(/unmoor-[0-9a-f]{16}/, "unmoor-0123456789abcdef"));
    await shop.stop();
    await shop.restart(pathToFileURL(`${web}/`));
    await cut(pit);
    await page.getByRole("button", { name: "Waiting", exact: true }).click();
    await soon(() => waits(page)).toBe(1);
    await page.evaluate(
      "navigator.serviceWorker.getRegistration().then((one) => { one.update().catch(() => undefined); })",
    );
    await mend(pit);
    await page.getByText("A newer version is on this device.").waitFor();
    await page.getByRole("button", { name: "Take it now" }).click();
    await page.getByRole("button", { name: "Goes on", exact: true }).waitFor();
    await soon(() => waits(page)).toBe(0);
    await page.getByRole("button", { name: "Goes on", exact: true }).click();
    // The browser lets the one before end what it is at, and only then has the new one clear its screens away.
    await expect
      .poll(() => page.evaluate("caches.keys()"), { timeout: 60_000, interval: 200 })
      .toEqual(["unmoor-0123456789abcdef"]);
  });

  test("pages fit, targets are large enough for gloves, and axe finds nothing", async () => {
    const { page } = pit;
    for (const leaf of ["next", "steps", "ties", "scan"]) {
      await page.goto(`/hand/${RUN}/${leaf}`);
      await page.locator(".work > nav").waitFor();
      await page.locator("h1, .all-steps, .parting").first().waitFor();
      for (const [size, viewport] of Object.entries(SIZES)) {
        await page.setViewportSize(viewport);
        expect(await overflows(page), `${leaf}, ${size}`).toBeLessThanOrEqual(0);
        for (const part of ["header", "main", "nav"])
          expect(await tooSmall(page, `.work > ${part}`), `${part} of ${leaf}, ${size}`).toEqual([]);
        if (size !== "tablet") continue;
        expect(await audit(page), leaf).toEqual([]);
        if (leaf !== "ties") expect(await tooFaint(page, ".work"), leaf).toEqual([]);
      }
    }
    await page.goto("/hand");
    await page.locator(".work-list .targets").waitFor();
    expect(await audit(page)).toEqual([]);
    // The pack to be read out, from the sheet of the order.
    await page.goto(`/runs/${RUN}/order`);
    const print = page.getByRole("region", { name: "Print the job pack" });
    await print.getByRole("combobox").selectOption("torque");
    const address =
      (await print.getByRole("link", { name: "Web page, to be read out", exact: true }).getAttribute("href")) ?? "";
    expect(address).toMatch(/pack\.html\?lang=en&only=torque$/);
    expect(await overflows(page)).toBeLessThanOrEqual(0);
    expect(await audit(page), "order").toEqual([]);
    await page.goto(address.replace("&only=torque", ""));
    await page.getByRole("heading", { name: "Torque sheet" }).waitFor();
    for (const [size, viewport] of Object.entries(SIZES)) {
      await page.setViewportSize(viewport);
      expect(await overflows(page), `pack, ${size}`).toBeLessThanOrEqual(0);
    }
    expect(await audit(page), "pack").toEqual([]);
    expect(pit.faults).toEqual([]);
    expect(doras.faults).toEqual([]);
  });

  test("a tag held before the camera opens the connection that it hangs on", async () => {
    const { page, context } = pit;
    await context.grantPermissions(["camera"], { origin: shop.origin });
    await page.goto(`/hand/${RUN}/scan`);
    await page.waitForURL(/\/steps\?step=\d+$/, { timeout: 20_000 });
    await page.getByRole("heading", { name: /Bolts of the pump flange/ }).waitFor();
  });
});

/** The path that is on the tag of a connection. */
function tagOf(connection: string): string {
  const { vehicle } = readVehicle("demo/bench-pump.vehicle.yaml", (path) => readFileSync(path, "utf8"));
  if (vehicle === undefined) throw new Error("the demo cannot be read");
  return tagPath({ code: tagsOf(vehicle).codeOf(connection) ?? "", half: "A" });
}

/** A film of one picture with a QR code on it, as a browser takes it in place of a camera (YUV4MPEG2, 4:2:0). */
function filmOf(text: string): Buffer {
  const [width, height, module] = [640, 480, 9];
  const { modules } = create(text, { errorCorrectionLevel: "M" });
  const light = Buffer.alloc(width * height, 235);
  const [left, top] = [(width - modules.size * module) >> 1, (height - modules.size * module) >> 1];
  for (let y = 0; y < modules.size * module; y++)
    for (let x = 0; x < modules.size * module; x++)
      if (modules.get(Math.floor(y / module), Math.floor(x / module))) light[(top + y) * width + left + x] = 16;
  const colours = Buffer.alloc((width * height) / 2, 128);
  return Buffer.concat([Buffer.from(`YUV4MPEG2 W${width} H${height} F10:1 Ip A1:1 C420jpeg\nFRAME\n`), light, colours]);
}

// The door in a real browser, with nothing from the command line but the code: a shop is set up, people are added, a tablet is paired, and each signs in with his PIN.
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, inject, test } from "vitest";
import { audit, findProgram, openScreens, overflows, type Screens, SIZES, tooFaint, tooSmall } from "./screens.ts";
import { PASSWORD, temporaryFolder } from "./serving.ts";

const browserPath = findProgram("chromium");
/** A folder that pictures are put into, for the docs: `npm run pictures`. */
const pictures = process.env.UNMOOR_PICTURES;
const soon = <T>(look: () => T | Promise<T>) => expect.poll(look, { timeout: 30_000 });

const SHOWN: ReadonlySet<string> = new Set(["door-names", "door-pin"]);

describe.skipIf(browserPath === undefined)("the door (chromium must be installed)", () => {
  let folder: Awaited<ReturnType<typeof temporaryFolder>>;
  let screens: Screens;

  beforeAll(async () => {
    folder = await temporaryFolder("door");
    screens = await openScreens(inject("bundle"), join(folder.path, "shop.db"), browserPath ?? "");
  });
  afterAll(async () => {
    await screens.close();
    await folder.remove();
  });

  /** What every page owes to everybody: nothing against it by axe, nothing wider than a phone. */
  const owes = async (page: Page, name: string) => {
    expect(await audit(page), name).toEqual([]);
    const before = page.viewportSize();
    await page.setViewportSize(SIZES.phone);
    expect(await overflows(page), name).toBe(0);
    if (before !== null) await page.setViewportSize(before);
    if (pictures !== undefined && SHOWN.has(name)) await page.screenshot({ path: join(pictures, `${name}.png`) });
  };
  /** What a page for gloves and sun owes beside. */
  const inHand = async (page: Page) => {
    expect(await tooSmall(page)).toEqual([]);
    for (const colorScheme of ["light", "dark"] as const) {
      await page.emulateMedia({ colorScheme });
      expect(await tooFaint(page)).toEqual([]);
    }
    await page.emulateMedia({ colorScheme: "light" });
  };
  const add = async (page: Page, name: string, pin: string) => {
    await page.getByLabel("Name", { exact: true }).fill(name);
    await page.getByLabel("Start PIN", { exact: true }).fill(pin);
    await page.getByRole("button", { name: "Add", exact: true }).click();
  };
  const type = async (page: Page, pin: string) => {
    await page.keyboard.type(pin);
    await page.keyboard.press("Enter");
  };

  test("a shop is set up, people added, a tablet paired; each signs in by PIN, and hands over in one touch", async () => {
    const { page, faults } = await screens.openPlain("tablet");
    await page.goto("/sign-in");
    await page.getByLabel("Set-up code").fill(screens.serving.setupCode ?? "");
    await page.getByLabel("Short name").fill("gwen");
    await page.getByLabel("Your name").fill("Gwen");
    await page.getByLabel("What the shop is called").fill("The shed");
    await page.getByLabel("Time zone").fill("Pacific/Auckland");
    await page.getByLabel("Password").fill(PASSWORD);
    await owes(page, "door-set-up");
    await page.getByRole("button", { name: "Set up this shop" }).click();

    // People. A refusal loses nothing that was typed, and what was kept is not made twice.
    await page.getByRole("link", { name: "People" }).click();
    await page.getByText("You are the only one here").waitFor();
    await page.getByRole("link", { name: "Add somebody" }).click();
    await page.getByRole("checkbox", { name: /^Verifier/ }).check();
    await add(page, "Emil", "1234");
    await soon(() => page.getByRole("alert").textContent()).toMatch(/tried first/);
    expect(await page.getByLabel("Name", { exact: true }).inputValue()).toBe("Emil");
    await owes(page, "door-people");
    await add(page, "Emil", "482615");
    await page.getByText("Emil is added.").waitFor();
    await add(page, "Dora", "591726");
    await page.getByText("Dora is added.").waitFor();
    await page.getByRole("link", { name: "Emil" }).click();
    await page.getByRole("button", { name: /^Send away from The shed/ }).waitFor();
    await owes(page, "door-person");
    // Nobody gives himself a role.
    await page.goto("/people/gwen");
    await page.getByRole("checkbox", { name: /^Lift approver/ }).check();
    await page.getByRole("button", { name: "Keep the changes" }).click();
    await soon(() => page.getByRole("alert").textContent()).toMatch(/Nobody gives himself a role/);
    await page.goto("/account");
    await page.getByRole("heading", { name: "Passkeys" }).waitFor();
    // The site's clock, not the browser's.
    const hour = new Date().toLocaleTimeString("en-GB", { timeZone: "Pacific/Auckland", hour: "2-digit" });
    await soon(() => page.getByText(/^since /).textContent()).toContain(`, ${hour}:`);
    await owes(page, "door-account");

    // The tablet: who paired it is signed out, and the names are there.
    await page.getByRole("link", { name: "This device" }).click();
    await page.getByRole("button", { name: "Pair it with the shop" }).waitFor();
    await owes(page, "door-pairing");
    await inHand(page);
    await page.getByLabel("What it is called").first().fill("Bay 2");
    await page.getByRole("button", { name: "Pair it with the shop" }).click();
    await page.getByText("The shed, Bay 2").waitFor();
    await owes(page, "door-names");
    await inHand(page);

    // A wrong PIN says so; the start PIN is changed at once, by the keys on the screen; another weak one is not taken.
    await page.getByRole("link", { name: "Emil" }).click();
    await page.getByRole("heading", { name: "Emil" }).waitFor();
    await type(page, "9090");
    await soon(() => page.getByRole("alert").textContent()).toMatch(/do not agree/);
    await owes(page, "door-pin");
    await inHand(page);
    for (const digit of "482615") await page.getByRole("button", { name: digit, exact: true }).click();
    await page.getByRole("button", { name: "Enter" }).click();
    await page.getByText("Choose one of your own").waitFor();
    for (const own of ["7391", "7392"]) await type(page, own);
    await page.getByText("not the same").waitFor();
    for (const own of ["7391", "7391"]) await type(page, own);
    await page.waitForURL("**/hand");
    await page.goto("/");
    await page.getByRole("button", { name: "Hand over" }).click();

    // The second person; wrong five times she waits, and is told how long, and the others do not.
    await page.getByRole("link", { name: "Dora" }).click();
    await page.getByRole("heading", { name: "Dora" }).waitFor();
    for (let tries = 1; tries <= 5; tries++) {
      const answered = page.waitForResponse("**/api/sign-in");
      await type(page, "4040");
      await answered;
      await soon(() => page.getByLabel("PIN of Dora").inputValue()).toBe("");
    }
    await soon(() => page.getByRole("alert").textContent()).toMatch(/Shut until \d\d:\d\d:\d\d/);
    expect(await page.getByRole("button", { name: "Enter" }).isDisabled()).toBe(true);
    await page.goBack();
    await page.getByRole("link", { name: "Emil" }).click();
    await page.getByRole("heading", { name: "Emil" }).waitFor();
    await type(page, "7391");
    await page.waitForURL("**/hand");
    // After a PIN nothing of accounts is changed.
    await page.goto("/device");
    await page.getByText("After a PIN nothing of accounts is changed").waitFor();
    expect(await page.getByRole("button", { name: /^Withdraw/ }).count()).toBe(0);
    expect(faults).toEqual([]);
    await page.context().close();
  });

  test("a foreman opens what is shut and withdraws a tablet, by a button that does nothing by accident", async () => {
    const { page, faults } = await screens.openPlain("desk");
    await page.goto("/sign-in?to=/people/dora");
    await page.getByLabel("Short name").fill("gwen");
    await page.getByLabel("Password").fill(PASSWORD);
    await page.getByRole("button", { name: "Sign in" }).click();
    await page.getByText(/PIN shut until/).waitFor();
    await page.getByRole("button", { name: "Open it" }).click();
    await page.getByText("It is open").waitFor();
    // A passkey in the password's place: the browser's own authenticator, with a finger that is always there.
    const authenticator = await page.context().newCDPSession(page);
    await authenticator.send("WebAuthn.enable");
    const options = {
      protocol: "ctap2",
      transport: "internal",
      hasResidentKey: true,
      hasUserVerification: true,
    } as const;
    await authenticator.send("WebAuthn.addVirtualAuthenticator", {
      options: { ...options, isUserVerified: true, automaticPresenceSimulation: true },
    });
    await page.goto("/account");
    await page.getByRole("button", { name: "Make a passkey" }).click();
    await page.getByText("It opens from now on").waitFor();
    await page.getByRole("button", { name: "Sign out", exact: true }).click();
    await page.goto("/sign-in?to=/device");
    await page.getByRole("button", { name: "By passkey" }).click();
    const withdraw = page.getByRole("button", { name: /^Withdraw.*Bay 2/ });
    // Touched in passing it asks; kept pressed it acts.
    await withdraw.click();
    await page.getByText("press once more").waitFor();
    await page.reload();
    await withdraw.click({ delay: 1_300 });
    await page.getByText("One that was withdrawn").waitFor();
    // Without the server the page says so.
    await page.route("**/api/**", (route) => route.abort());
    await page.goto("/people");
    await page.getByText("This page needs the server").waitFor();
    await owes(page, "door-away");
    expect(faults).toEqual([]);
    await page.context().close();
  });
});

// Owns devices of a shop's people in a browser for tests: PINs, a tablet of the site or somebody's own device, paired, and in somebody's hands.
import type { Browser, BrowserContext, Page } from "playwright-core";
import { signPairing } from "../src/ledger/index.ts";
import { SIZES, type Size } from "./screens.ts";
import { type Client, PASSWORD } from "./serving.ts";

export const PINS: Readonly<Record<string, string>> = { dora: "24687", emil: "13570", frida: "97531" };

/** Gives everybody the PIN of his own. */
export async function givePins(people: Readonly<Record<string, Client>>): Promise<void> {
  for (const [person, pin] of Object.entries(PINS))
    await people[person]?.send("PUT", `/people/${person}/pin`, { new: pin, password: PASSWORD });
}

export interface Tablet {
  readonly page: Page;
  readonly context: BrowserContext;
  /** Whatever the page's own script or policy complained of. */
  readonly faults: string[];
  /** Puts it into somebody's hands by his PIN. */
  take(person: string): Promise<void>;
}

const KEEPERS: readonly string[] = ["identity"];

/** @param own whose own device it is; without it the site's tablet, paired by Frida. @param run that it has with it from the beginning */
export async function openTablet(
  browser: Browser,
  origin: string,
  {
    own,
    run,
    size = "tablet",
    more = {},
  }: {
    readonly own?: string;
    readonly run: string;
    readonly size?: Size;
    readonly more?: Readonly<Record<string, unknown>>;
  },
): Promise<Tablet> {
  const context = await browser.newContext({
    viewport: SIZES[size],
    locale: "en-GB",
    baseURL: origin,
    reducedMotion: "reduce",
    ...more,
  });
  const page = await context.newPage();
  const faults: string[] = [];
  page.on("pageerror", (error) => faults.push(error.message));
  page.on("console", (message) => {
    if (message.type() === "error" && !/Failed to load resource/.test(message.text())) faults.push(message.text());
  });
  await page.goto("/");
  const post = async (path: string, body: object): Promise<void> => {
    const status = await page.evaluate(
      `fetch(${JSON.stringify(`/api${path}`)}, { method: "POST", headers: { "content-type": "application/json" }, body: ${JSON.stringify(JSON.stringify(body))} }).then(({ status }) => status)`,
    );
    if (status !== 200) throw new Error(`${path} is answered ${status}`);
  };
  await post("/sign-in", { person: own ?? "frida", password: PASSWORD });
  // The device makes its key as it opens its first run.
  await page.goto(`/hand/${run}/next`);
  await page.locator(".step-card").waitFor();
  const identity = (await page.evaluate(
    `new Promise((done) => { const opening = indexedDB.open("unmoor-device"); opening.onsuccess = () => { const asked = opening.result.transaction(${JSON.stringify(KEEPERS)}).objectStore("identity").get("own"); asked.onsuccess = () => { opening.result.close(); done(asked.result); }; }; })`,
  )) as Parameters<typeof signPairing>[0];
  const me = (await page.evaluate(`fetch("/api/me").then((answer) => answer.json())`)) as { readonly session: string };
  await post("/devices", {
    name: own === undefined ? "Tablet of the pit" : `${own}'s own`,
    site: "main",
    own: own !== undefined,
    key: identity.key,
    proof: signPairing(identity, me.session),
  });
  await page.goto(`/hand/${run}/next`);
  return {
    page,
    context,
    faults,
    async take(person) {
      await post("/sign-in", { person, pin: PINS[person] ?? "" });
      await page.goto(`/hand/${run}/next`);
      // Its step is drawn from what the device keeps: in whose hands it is, it learns from the server.
      await page.locator(`.work > header b:text-is("${person.charAt(0).toUpperCase()}${person.slice(1)}")`).waitFor();
      await page.locator(".step-card").waitFor();
    },
  };
}

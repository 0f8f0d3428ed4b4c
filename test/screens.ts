// Owns the screens in a real browser for tests and benches: the server as it is built, Chromium, and the audit of accessibility by axe.
import { existsSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { delimiter, dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import { type Browser, chromium, type Page } from "playwright-core";
import type { Serving } from "../src/server/index.ts";
import { serveShop } from "./serving.ts";

/** Where a program of the machine's own packages is. */
export const findProgram = (name: string): string | undefined =>
  (process.env.PATH ?? "")
    .split(delimiter)
    .map((folder) => join(folder, name))
    .find((path) => existsSync(path));

export const SIZES = {
  desk: { width: 1440, height: 900 },
  tablet: { width: 1024, height: 768 },
  phone: { width: 390, height: 844 },
} as const;

export type Size = keyof typeof SIZES;

export interface Screens {
  readonly origin: string;
  readonly serving: Serving;
  readonly browser: Browser;
  /** A page of a device of its own: nothing kept, nobody signed in. Whatever it complains of is in `faults`. */
  open(
    size?: Size,
    more?: Readonly<Record<string, unknown>>,
  ): Promise<{ readonly page: Page; readonly faults: string[] }>;
  /** The same of a browser that keeps no screens and moves nothing for show: to keep all of them anew for each page is most of its work. */
  openPlain: Screens["open"];
  close(): Promise<void>;
}

/** @param bundle the built command line's `unmoor.js`, with the screens beside it */
export async function openScreens(bundle: string, shop: string, executablePath: string): Promise<Screens> {
  const folder = dirname(bundle);
  const serving = await serveShop(pathToFileURL(join(folder, "question-thread.js")), {
    shop,
    screens: pathToFileURL(`${join(folder, "web")}/`),
  });
  const origin = `http://localhost:${serving.port}`;
  const browser = await chromium.launch({
    executablePath,
    args: [
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--use-fake-device-for-media-stream",
    ],
  });
  const screens: Screens = {
    origin,
    serving,
    browser,
    async open(size = "desk", more = {}) {
      const context = await browser.newContext({ viewport: SIZES[size], locale: "en-GB", baseURL: origin, ...more });
      const page = await context.newPage();
      const faults: string[] = [];
      page.on("pageerror", (error) => faults.push(error.message));
      // What the server refuses is told by the browser too; only what the page's own script or policy does is a fault here.
      page.on("console", (message) => {
        if (message.type() === "error" && !/Failed to load resource/.test(message.text())) faults.push(message.text());
      });
      return { page, faults };
    },
    async openPlain(size, more = {}) {
      const opened = await screens.open(size, { reducedMotion: "reduce", ...more });
      await opened.page.context().addInitScript("delete Navigator.prototype.serviceWorker");
      return opened;
    },
    async close() {
      await browser.close();
      await serving.stop();
    },
  };
  return screens;
}

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

interface Violation {
  readonly id: string;
  readonly nodes: readonly { readonly target: readonly string[]; readonly failureSummary: string }[];
}

/** What WCAG 2.2, levels A and AA, has against a page by axe: rule, place, why. */
export async function audit(page: Page): Promise<readonly string[]> {
  // Over the debugger's own channel: the page's policy lets no foreign script in.
  if (!(await page.evaluate("'axe' in globalThis"))) await page.evaluate(`${AXE};0`);
  const violations = (await page.evaluate(
    `axe.run({ runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] }).then(({ violations }) => violations.map(({ id, nodes }) => ({ id, nodes: nodes.map(({ target, failureSummary }) => ({ target, failureSummary })) })))`,
  )) as readonly Violation[];
  return violations.flatMap(({ id, nodes }) =>
    nodes.map(({ target, failureSummary }) => `${id}: ${target.join(" ")}: ${failureSummary.replace(/\s+/g, " ")}`),
  );
}

/** Whether anything is wider than the page, so that it scrolls sideways. */
export const overflows = (page: Page): Promise<number> =>
  page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth") as Promise<number>;

/** CSS pixels of a target, and between two: the width of a gloved finger. */
const [TARGET, BETWEEN] = [60, 8];

/** Texts of a part of a page that the sun would wash out: less than 7 : 1. Asked after an audit, which brings axe. */
export const tooFaint = (page: Page, part = "main"): Promise<readonly string[]> =>
  page.evaluate(`axe.run("${part}", { runOnly: ["color-contrast-enhanced"] }).then(({ violations }) =>
    violations.flatMap(({ nodes }) => nodes.map(({ html }) => html)))`);

/** Every target of a part of a page that a glove would miss, or two at once. */
export const tooSmall = (page: Page, part = "main"): Promise<readonly string[]> =>
  page.evaluate(`(() => {
    const all = [...document.querySelectorAll("${part} :is(button, a.button, input:not(.unseen), select, summary)")].map((target) => [
      target.getAttribute("aria-label") ?? target.textContent, target.getBoundingClientRect()]).filter(([, box]) => box.width > 0);
    return all.flatMap(([name, box], n) => [
      ...(box.width < ${TARGET} - 0.5 || box.height < ${TARGET} - 0.5 ? [name + ": " + box.width + " × " + box.height] : []),
      ...all.slice(n + 1).filter(([, other]) => Math.max(
        Math.max(box.left, other.left) - Math.min(box.right, other.right),
        Math.max(box.top, other.top) - Math.min(box.bottom, other.bottom)) < ${BETWEEN} - 0.5).map(([other]) => name + " is beside " + other)]);
  })()`);

// Owns the measure of the screens: what is loaded, how soon it can be used, how a click and a drag are answered, at several sizes of a chart.
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Page } from "playwright-core";
import { bundle, bundleScreens } from "../../build.ts";
import { findProgram, openScreens, type Screens } from "../../test/screens.ts";
import { measureHand } from "./hand.ts";
import { writeMoored } from "./moored.ts";

export interface WebRow {
  readonly what: string;
  readonly figure: string;
  readonly bar: string;
}

/** Connections of the charts that are measured. */
const SIZES = [100, 500, 2000];
/** How much slower than this machine a tablet is taken to be. */
const THROTTLED = 4;
const FRAMES = 120;

/** @throws where no Chromium is installed */
export async function measureWeb(say: (row: WebRow) => void): Promise<readonly WebRow[]> {
  const browser = findProgram("chromium");
  if (browser === undefined) throw new Error("chromium is not installed: apt-get install chromium");
  const built = fileURLToPath(new URL(`../../node_modules/.unmoor-web-${process.pid}`, import.meta.url));
  const folder = await mkdtemp(join(tmpdir(), "unmoor-web-"));
  const rows: WebRow[] = [];
  const note = (what: string, figure: string, bar: string) => {
    const row = { what, figure, bar };
    rows.push(row);
    say(row);
  };
  let screens: Screens | undefined;
  try {
    const tool = await bundle(built);
    await bundleScreens(join(built, "web"));
    screens = await openScreens(tool, join(folder, "shop.db"), browser);
    await measureLoad(screens, note);
    for (const size of SIZES) await measureChart(screens, size, note);
    await measureClicks(screens, note);
    await measureHand(screens, note);
  } finally {
    await screens?.close();
    await rm(built, { recursive: true, force: true });
    await rm(folder, { recursive: true, force: true });
  }
  return rows;
}

type Note = (what: string, figure: string, bar: string) => void;

/** Bytes of scripts that came over the wire, compressed, and how long until the page can be used. */
async function measureLoad(screens: Screens, note: Note): Promise<void> {
  for (const [path, ready] of [
    ["/", ".models a"],
    ["/demo/plover-28/order", ".comes-off button.row"],
    ["/demo/plover-28/ties", "svg.chart g.tie"],
  ] as const) {
    const { page } = await screens.open();
    // What is fetched ahead while nothing else is to do is no part of what the page waits for.
    await page.addInitScript("window.requestIdleCallback = () => 0");
    await page.goto(path);
    await page.locator(ready).first().waitFor();
    await page.waitForLoadState("networkidle");
    const bytes = (await page.evaluate(
      // Threads of the engine take the same file, once.
      `[...new Map(performance.getEntriesByType("resource").filter(({ name }) => name.endsWith(".js")).map((one) => [one.name, one])).values()].map(({ name, encodedBodySize }) => [name.includes("/engine-"), encodedBodySize])`,
    )) as readonly (readonly [boolean, number])[];
    const sum = (isEngine: boolean) =>
      Math.round(bytes.reduce((all, [engine, size]) => (engine === isEngine ? all + size : all), 0) / 1000);
    note(
      `${path}: scripts of the page, gzipped`,
      `${sum(false)} kB, and ${sum(true)} kB of the engine in its thread`,
      "250 kB",
    );
    await page.context().close();
    const times: number[] = [];
    const answers: number[] = [];
    for (let n = 0; n < 5; n += 1) {
      const { page: slow } = await screens.open();
      const throttle = await slow.context().newCDPSession(slow);
      await throttle.send("Emulation.setCPUThrottlingRate", { rate: THROTTLED });
      await slow.goto(path, { waitUntil: "commit" });
      // Drawn, and the thread free: a click is answered.
      times.push(await until(slow, ".title-block button"));
      answers.push(await until(slow, ready));
      await slow.context().close();
    }
    note(`${path}: to be used, ${THROTTLED} times slower`, spread(times), "1500 ms");
    note(`${path}: its answer drawn, ${THROTTLED} times slower`, spread(answers), "");
  }
}

/** Milliseconds since the page was asked for until something is drawn and the thread is free again. */
const until = async (page: Page, selector: string): Promise<number> => {
  await page.locator(selector).first().waitFor({ state: "attached" });
  return page.evaluate(
    "new Promise((over) => requestAnimationFrame(() => setTimeout(() => over(performance.now()), 0)))",
  ) as Promise<number>;
};

/** Frames while the chart is dragged, and while the plan is gone through. */
async function measureChart(screens: Screens, size: number, note: Note): Promise<void> {
  const { page } = await screens.open();
  await page.goto("/");
  const name = `moored-${size}`;
  await page.locator("input[type=file]").setInputFiles({
    name: `${name}.vehicle.yaml`,
    mimeType: "text/yaml",
    buffer: Buffer.from(writeMoored(size)),
  });
  await page.waitForURL(/\/mine\//);
  const began = performance.now();
  await page.goto(`/mine/${name}/ties`);
  await page.locator("svg.chart .tie").first().waitFor();
  note(
    `${size} connections: opened, read, planned and proved, drawn`,
    `${Math.round(performance.now() - began)} ms`,
    "",
  );
  await page.locator(".frame-of-chart .nearness button").first().click();
  await page.locator(".frame-of-chart .nearness button").first().click();
  const box = await page.locator(".frame-of-chart").boundingBox();
  if (box === null) throw new Error("the chart is not there");
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  const dragging = frames(page);
  for (let n = 0; n < FRAMES; n += 1) await page.mouse.move(x + 120 * Math.sin(n / 9), y + 80 * Math.cos(n / 7));
  await page.mouse.up();
  note(`${size} connections: a frame while it is moved`, spread(await dragging), "16.7 ms");
  await page.keyboard.press("0");
  const busy = await busyness(page);
  const before = await busy();
  const going = frames(page);
  for (let n = 0; n < STEPS; n += 1) await page.keyboard.press("ArrowRight");
  note(`${size} connections: a frame while the plan is gone through`, spread(await going), "16.7 ms");
  const each = (1000 * ((await busy()) - before)) / STEPS;
  note(`${size} connections: the page's thread busy for a step by key`, `${each.toFixed(1)} ms`, "100 ms");
  await page.context().close();
}

/** Steps of the plan gone through by key. */
const STEPS = 40;

/** Seconds that the page's own thread was busy so far: of a shared machine truer than the clock. */
const busyness = async (page: Page): Promise<() => Promise<number>> => {
  const session = await page.context().newCDPSession(page);
  await session.send("Performance.enable");
  return async () => {
    const { metrics } = await session.send("Performance.getMetrics");
    return metrics.find(({ name }) => name === "TaskDuration")?.value ?? 0;
  };
};

/** Milliseconds between frames, over so many of them. */
const frames = (page: Page): Promise<readonly number[]> =>
  page.evaluate(
    `new Promise((over) => {
      const found = [];
      let last;
      const next = (now) => {
        if (last !== undefined) found.push(now - last);
        last = now;
        if (found.length < ${FRAMES}) requestAnimationFrame(next);
        else over(found);
      };
      requestAnimationFrame(next);
    })`,
  ) as Promise<readonly number[]>;

/** From a click or a key to the next frame that shows its answer, as the browser itself counts it. */
async function measureClicks(screens: Screens, note: Note): Promise<void> {
  const { page } = await screens.open();
  await page.addInitScript(
    `window.answered = []; new PerformanceObserver((list) => { for (const one of list.getEntries()) if (/^(click|keydown|pointerup)$/.test(one.name)) window.answered.push(one.duration); }).observe({ type: "event", durationThreshold: 16, buffered: true });`,
  );
  const taken = async (what: string, act: () => Promise<unknown>) => {
    await page.evaluate("window.answered.length = 0");
    await act();
    await page.waitForTimeout(400);
    const found = (await page.evaluate("window.answered")) as readonly number[];
    note(`a click or key answered: ${what}`, found.length === 0 ? "below 16 ms" : spread(found), "100 ms");
  };
  await page.goto("/demo/plover-28/ties");
  await page.locator("svg.chart g.tie").first().waitFor();
  await taken("forty steps of the plan", async () => {
    for (let n = 0; n < 40; n += 1) await page.keyboard.press("ArrowRight");
  });
  await taken("ties chosen in the list", async () => {
    for (let n = 0; n < 8; n += 1) await page.locator(".tie-list button.row").nth(n).click();
  });
  await taken("from sheet to sheet", async () => {
    for (const name of ["Order", "Lift", "Ties", "Vehicle", "Ties"]) {
      await page.getByRole("navigation").getByRole("link", { name }).click();
      await page.waitForTimeout(300);
    }
  });
  await page.goto("/demo/plover-28/order");
  await page.locator(".comes-off button.row").first().waitFor();
  await taken("why, of lines of the order", async () => {
    for (let n = 0; n < 6; n += 1) await page.locator(".comes-off button.row").nth(n).click();
  });
  await page.context().close();
}

/** Middle, 95th percentile and most. */
const spread = (values: readonly number[]): string => {
  const sorted = values.toSorted((a, b) => a - b);
  const at = (share: number) => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? 0;
  return `${at(0.5).toFixed(1)} ms, 95 % ${at(0.95).toFixed(1)}, most ${(sorted.at(-1) ?? 0).toFixed(1)}`;
};

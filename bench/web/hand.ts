// Owns the measure of the work in hand: from a dark screen to an entry on the disk, a tap, a second person's look, a finding with its photo, on a slow tablet.
import type { Page } from "playwright-core";
import type { Screens } from "../../test/screens.ts";
import { beginRun, type Client, setUp } from "../../test/serving.ts";
import { givePins, openTablet, PINS } from "../../test/tablets.ts";

const RUN = "pump-1";
/** How much slower than this machine a tablet is taken to be. */
const THROTTLED = 4;
const TIMES = 12;

type Note = (what: string, figure: string, bar: string) => void;

/** Milliseconds that an act takes until the page has drawn what came of it. */
const timed = async (page: Page, act: () => Promise<unknown>): Promise<number> => {
  const before = performance.now();
  await act();
  await page.evaluate("new Promise((over) => requestAnimationFrame(() => setTimeout(over, 0)))");
  return performance.now() - before;
};

const middle = (values: readonly number[]): string => {
  const sorted = values.toSorted((a, b) => a - b);
  return `${((sorted[Math.floor(sorted.length / 2)] ?? 0) / 1000).toFixed(2)} s, most ${((sorted.at(-1) ?? 0) / 1000).toFixed(2)} s`;
};

export async function measureHand({ origin, serving, browser }: Screens, note: Note): Promise<void> {
  const people = await setUp(origin, serving.setupCode ?? "");
  await givePins(people);
  await beginRun(people.frida as Client, RUN);
  const tablet = await openTablet(browser, origin, { run: RUN });
  await tablet.take("emil");
  const { page } = tablet;
  await page.evaluate("navigator.serviceWorker.ready.then(() => true)");
  const throttle = await page.context().newCDPSession(page);
  await throttle.send("Emulation.setCPUThrottlingRate", { rate: THROTTLED });
  const act = page.locator("button.act").first();
  const takeBack = page.getByRole("button", { name: /^Take back/ });
  const entered = () => page.getByText("Entered: Released").waitFor();
  const undo = async () => {
    await takeBack.click();
    await page.getByText("Entered: Taken back").waitFor();
  };

  const fromDark: number[] = [];
  const taps: number[] = [];
  for (let n = 0; n < TIMES; n += 1) {
    fromDark.push(
      await timed(page, async () => {
        await page.reload();
        await act.click();
        await entered();
      }),
    );
    await undo();
    taps.push(
      await timed(page, async () => {
        await act.click();
        await entered();
      }),
    );
    await undo();
  }
  note(`screen on to recorded, one tap, ${THROTTLED} times slower`, middle(fromDark), "3 s");
  note(`a tap to recorded on the device's disk, ${THROTTLED} times slower`, middle(taps), "");

  const looks: number[] = [];
  for (const name of [
    "Case drain hose at the pump",
    "Pressure hose at the relief valve",
    "Return hose at the relief valve",
  ]) {
    await page.goto(`/hand/${RUN}/steps`);
    await page.getByRole("button", { name: new RegExp(`Release: ${name}`) }).click();
    await act.click();
    await entered();
    await page.goto(`/hand/${RUN}/next`);
    const look = page.getByRole("button", { name: new RegExp(`^${name}.*: Looked: loose`) });
    await look.waitFor();
    looks.push(
      await timed(page, async () => {
        await look.click();
        await page.getByRole("button", { name: "Frida" }).click();
        await page.locator(".pin-pad input").waitFor();
        await page.keyboard.type(PINS.frida ?? "");
        await page.keyboard.press("Enter");
        await page.getByText("Entered: Looked").waitFor();
      }),
    );
  }
  note(`a second person's look: 2 touches, a PIN of 5 digits, Enter; ${THROTTLED} times slower`, middle(looks), "6 s");
  const picture = Buffer.from(
    String(
      await page.evaluate(
        `(() => { const canvas = document.createElement("canvas"); canvas.width = 4000; canvas.height = 3000; canvas.getContext("2d").fillRect(0, 0, 3000, 900); return canvas.toDataURL("image/jpeg").split(",")[1]; })()`,
      ),
    ),
    "base64",
  );
  const findings: number[] = [];
  for (let n = 0; n < 3; n += 1) {
    await page.goto(`/hand/${RUN}/found?about=suction-hose`);
    await page.getByRole("button", { name: "Damaged" }).waitFor();
    findings.push(
      await timed(page, async () => {
        await page.getByRole("button", { name: "Damaged" }).click();
        await page
          .locator("input[type=file]")
          .setInputFiles({ name: "one.jpg", mimeType: "image/jpeg", buffer: picture });
        await page.getByRole("button", { name: "Photo (1)" }).waitFor();
        await page.getByRole("button", { name: "Enter the finding" }).click();
        await page.getByText("Entered: Damaged").waitFor();
      }),
    );
  }
  note(`a finding with a photo of 12 megapixels, 3 touches, ${THROTTLED} times slower`, middle(findings), "15 s");
  await tablet.context.close();
  for (const client of Object.values(people)) client.close();
}

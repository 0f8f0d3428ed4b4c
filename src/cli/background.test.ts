import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, expect, test } from "vitest";
import { computeAside } from "./background.ts";
import { PLAIN, type Terminal } from "./terminal.ts";

const folder = mkdtempSync(join(tmpdir(), "unmoor-thread-"));
afterAll(() => rmSync(folder, { recursive: true }));

/** A thread of its own making. */
function thread(name: string, text: string): URL {
  const path = join(folder, `${name}.mjs`);
  writeFileSync(path, `import { parentPort, workerData } from "node:worker_threads";\n${text}`);
  return pathToFileURL(path);
}

/** A terminal that keeps what progress it shows, and does something once at the first that tells of a best. */
function watch(atBest = (): unknown => undefined): { readonly terminal: Terminal; readonly shown: string[] } {
  const shown: string[] = [];
  let isTold = false;
  const progress = (text: string) => {
    shown.push(text);
    if (isTold || !text.includes(": best ")) return;
    isTold = true;
    atBest();
  };
  const silent = () => undefined;
  const nothing = { input: () => "", secret: async () => "" };
  return { terminal: { say: silent, warn: silent, progress, ...nothing, ink: PLAIN, width: 80 }, shown };
}

test("Ctrl-C asks the thread to stop and waits for what it has; long work shows its best so far and its bound", async () => {
  const busy = thread(
    "busy",
    `parentPort.postMessage({ kind: "best", of: "labour", best: 90, bound: 70.5 });
     while (Atomics.load(workerData.stop, 0) === 0) Atomics.wait(workerData.stop, 0, 0, 20);
     parentPort.postMessage({ kind: "answer", answer: workerData.asked + ", as far as it got" });`,
  );
  const { terminal, shown } = watch(() => process.emit("SIGINT"));
  const before = process.listenerCount("SIGINT");
  expect(await computeAside("a plan", terminal, busy)).toBe("a plan, as far as it got");
  expect(shown.join("\n")).toMatch(/searching \d+ s: best 90 .*none below 71; Ctrl-C takes the best so far/);
  expect(shown.at(-1)).toBe("");
  expect(process.listenerCount("SIGINT")).toBe(before);
}, 10_000);

test("a thread that fails, or ends without an answer, is an error and not a wait for ever", async () => {
  const { terminal } = watch();
  await expect(computeAside("x", terminal, thread("fails", 'throw new Error("no such thing");'))).rejects.toThrow(
    "no such thing",
  );
  await expect(computeAside("x", terminal, thread("ends", "process.exit(0);"))).rejects.toThrow(/no answer/);
});

// The whole job of docs/ledger.md, from the order to the hand-over, by its script and on both stores.
import { mkdtempSync, rmSync, symlinkSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { played } from "./command.ts";
import { startPostgres } from "./postgres.ts";

const root = new URL("..", import.meta.url).pathname;
const folder = mkdtempSync(join(tmpdir(), "unmoor-job-"));

beforeAll(() => {
  symlinkSync(join(root, "demo"), join(folder, "demo"));
  Object.assign(process.env, { NO_COLOR: "1", TZ: "UTC" });
  process.chdir(folder);
}, 60_000);
afterAll(() => {
  process.chdir(root);
  rmSync(folder, { recursive: true, force: true });
});

/** What the script says, without what differs from run to run: ids, times and places. */
const play = async (shop: string): Promise<string> => {
  const scratch = mkdtempSync(join(folder, "calls-"));
  return (await played(["demo/bench-pump.job.sh", shop], scratch))
    .replaceAll(shop, "SHOP")
    .replace(/\/\S+\/(?=(run\.jsonl|shop\.backup|copy\.db))/g, "")
    .replace(/\b[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}\b/g, "ENTRY")
    .replace(/\b(?:[0-9a-f]{8}|[0-9a-f]{64})\b/g, "DIGITS")
    .replace(/\d{4}-\d{2}-\d{2} \d{2}:\d{2}/g, "THEN");
};

test("three people, two findings, a change of shift: on a file and on a database it goes alike, to the letter", async () => {
  const server = await startPostgres();
  try {
    const database = await server.makeDatabase();
    const onFile = await play(join(folder, "shop.db"));
    const onDatabase = await play(database);
    expect(onDatabase).toBe(onFile);
    expect(onFile).toContain("Start-up gate: open by what is recorded.");
    expect(onFile).toContain("bench-pump-1  closed");
  } finally {
    await server.stop();
  }
}, 300_000);

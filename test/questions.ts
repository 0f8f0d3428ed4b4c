// Owns what tests of questions share: the computing thread as it is built, and the demo's smallest vehicle.
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import { inject } from "vitest";
import type { ModelFile } from "../src/store/index.ts";

export interface Works {
  /** Of the test's own. */
  readonly folder: string;
  readonly thread: URL;
  /** What a worker wrote for whoever keeps the server. */
  readonly logged: string[];
  /** What any that computes is opened with. */
  outfit(name: string): {
    readonly thread: URL;
    readonly threads: number;
    readonly name: string;
    now(): number;
    log(what: string, question: string): void;
  };
  close(): Promise<void>;
}

export async function openWorks(): Promise<Works> {
  const folder = await mkdtemp(join(tmpdir(), "unmoor-questions-"));
  const thread = pathToFileURL(join(dirname(inject("bundle")), "question-thread.js"));
  const logged: string[] = [];
  let names = 0;
  return {
    folder,
    thread,
    logged,
    outfit: (name) => ({
      thread,
      threads: 1,
      name: `${name}-${++names}`,
      now: () => Date.now(),
      log: (what, question) => logged.push(`${question}: ${what}`),
    }),
    close: () => rm(folder, { recursive: true, force: true }),
  };
}

export const SEAL = { jobs: ["shaft-seal"] };

/** The bench pump: read in a moment, and planned in another. */
export const benchPump = async (): Promise<readonly ModelFile[]> => [await demoFile("bench-pump.vehicle.yaml")];

/** The carrier, whose searches last as long as they may. */
export const plover = async (): Promise<readonly ModelFile[]> => [await demoFile("plover-28.vehicle.yaml")];

const demoFile = async (path: string): Promise<ModelFile> => ({
  path,
  text: await readFile(new URL(`../demo/${path}`, import.meta.url), "utf8"),
});

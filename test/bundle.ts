// Owns the bundle of the command line that all tests of one run share: made once before them, gone after them.
import { rm } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { TestProject } from "vitest/node";
import { bundle, bundleScreens } from "../build.ts";

declare module "vitest" {
  interface ProvidedContext {
    /** Its `unmoor.js`; the screens are in `web` beside it. */
    bundle: string;
  }
}

// Among the packages, so that those which are no part of it are found from there.
const folder = fileURLToPath(new URL(`../node_modules/.unmoor-${process.pid}`, import.meta.url));

export async function setup({ provide }: TestProject): Promise<void> {
  const [entry] = await Promise.all([bundle(folder), bundleScreens(join(folder, "web"))]);
  provide("bundle", entry);
}

export const teardown = (): Promise<void> => rm(folder, { recursive: true, force: true });

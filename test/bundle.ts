// Owns the bundle of the command line that all tests of one run share: the built one where nothing was written since, else made once before them, gone after them.
import { statSync } from "node:fs";
import { readdir, rm } from "node:fs/promises";
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

const root = fileURLToPath(new URL("..", import.meta.url));
// Among the packages, so that those which are no part of it are found from there.
const folder = join(root, `node_modules/.unmoor-${process.pid}`);

/** Whether something was written since `npm run build`, which makes this file last: `npm ci` has just done so. */
export async function isStale(): Promise<boolean> {
  const built = statSync(join(root, "dist/web/sw.js"), { throwIfNoEntry: false })?.mtimeMs ?? 0;
  const sources = ["src", "demo", "schema"].map(async (room) =>
    (await readdir(join(root, room), { recursive: true })).map((path) => join(room, path)),
  );
  const paths = ["build.ts", "package.json", ...(await Promise.all(sources)).flat()];
  return paths.some((path) => statSync(join(root, path)).mtimeMs > built);
}

export async function setup({ provide }: TestProject): Promise<void> {
  if (!(await isStale())) {
    provide("bundle", join(root, "dist/unmoor.js"));
    return;
  }
  const [entry] = await Promise.all([bundle(folder), bundleScreens(join(folder, "web"))]);
  provide("bundle", entry);
}

export const teardown = (): Promise<void> => rm(folder, { recursive: true, force: true });

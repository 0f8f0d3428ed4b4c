// Owns the bundle of the command line: one small file to start with, heavier commands in chunks beside it.
import { chmod } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

/** CommonJS packages inside the bundle ask for `require`, which a module does not have. */
const REQUIRE = 'import { createRequire } from "node:module"; const require = createRequire(import.meta.url);';

const source = (name: string) => fileURLToPath(new URL(`src/cli/${name}`, import.meta.url));

/** Bundles the command line into `folder`, whose `unmoor.js` can be run as it stands, with no packages beside it. */
export async function bundle(folder: string): Promise<string> {
  const entry = join(folder, "unmoor.js");
  await build({
    entryPoints: { unmoor: source("main.ts"), thread: source("thread.ts") },
    outdir: folder,
    bundle: true,
    splitting: true,
    minifySyntax: true,
    minifyWhitespace: true,
    platform: "node",
    format: "esm",
    target: "node20",
    banner: { js: REQUIRE },
    legalComments: "external",
    logLevel: "warning",
  });
  await chmod(entry, 0o755);
  return entry;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  await bundle(fileURLToPath(new URL("dist", import.meta.url)));
}

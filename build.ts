// Owns the bundle of the command line: one small file to start with, heavier commands in chunks beside it.
import { chmod, readFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { build, type Plugin } from "esbuild";

/** CommonJS packages inside the bundle ask for `require`, which a module does not have. */
const REQUIRE = 'import { createRequire } from "node:module"; const require = createRequire(import.meta.url);';

const source = (name: string) => fileURLToPath(new URL(`src/cli/${name}`, import.meta.url));

/**
 * js-yaml makes its schemas and the patterns of its writer as it is loaded, though only its events are used here: some milliseconds at every start.
 * Marked as pure they are left out of the bundle where nothing asks for them.
 */
const eventsOnly: Plugin = {
  name: "events-only",
  setup({ onLoad }) {
    onLoad({ filter: /js-yaml\.mjs$/ }, async ({ path }) => {
      const made = /^(var \w+ = )(?=new (?:Schema|RegExp)\(|define\w+Tag\(|\w+\.withTags\()/gm;
      return { contents: (await readFile(path, "utf8")).replace(made, "$1/* @__PURE__ */ "), loader: "js" };
    });
  },
};

/** Bundles the command line into `folder`, whose `unmoor.js` can be run as it stands; only what opens a store needs its driver's package beside it. */
export async function bundle(folder: string): Promise<string> {
  const entry = join(folder, "unmoor.js");
  await build({
    entryPoints: {
      unmoor: source("main.ts"),
      thread: source("thread.ts"),
      "crew-thread": source("crew-thread.ts"),
      "times-thread": source("times-thread.ts"),
      "question-thread": fileURLToPath(new URL("src/server/questions/thread.ts", import.meta.url)),
    },
    outdir: folder,
    bundle: true,
    splitting: true,
    minifySyntax: true,
    minifyWhitespace: true,
    platform: "node",
    format: "esm",
    target: "node20",
    banner: { js: REQUIRE },
    // The stores' drivers and the queue stay packages: one has a part compiled for each machine, one reads files of its own.
    external: ["@photostructure/sqlite", "pg", "graphile-worker"],
    plugins: [eventsOnly],
    legalComments: "external",
    logLevel: "warning",
  });
  await chmod(entry, 0o755);
  return entry;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  await bundle(fileURLToPath(new URL("dist", import.meta.url)));
}

// Owns what is built to be run: the bundle of the command line, heavier commands in chunks beside it, and the screens that its server gives out.
import { createHash } from "node:crypto";
import { chmod, copyFile, mkdir, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import { type BuildOptions, build, type Metafile, type Plugin } from "esbuild";

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
      // For whoever calls it in his own process.
      start: source("start.ts"),
      thread: source("thread.ts"),
      "crew-thread": source("crew-thread.ts"),
      "times-thread": source("times-thread.ts"),
      "pack-thread": source("pack-thread.ts"),
      "print-thread": fileURLToPath(new URL("src/server/print-thread.ts", import.meta.url)),
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
    external: ["@photostructure/sqlite", "pg", "graphile-worker", "@myriaddreamin/typst-ts-node-compiler"],
    plugins: [eventsOnly],
    legalComments: "external",
    logLevel: "warning",
  });
  await chmod(entry, 0o755);
  await layPress(join(folder, "press"));
  return entry;
}

/** The files that a pack is printed in, by their packages; both families are under the SIL Open Font License 1.1, which goes with them. */
const FONTS = {
  "atkinson-hyperlegible-next": [
    "400Regular/AtkinsonHyperlegibleNext_400Regular.ttf",
    "700Bold/AtkinsonHyperlegibleNext_700Bold.ttf",
  ],
  "noto-sans": ["400Regular/NotoSans_400Regular.ttf", "700Bold/NotoSans_700Bold.ttf"],
} as const;

/** Lays the template of the job pack and its fonts beside the bundle. */
async function layPress(folder: string): Promise<void> {
  await mkdir(join(folder, "fonts"), { recursive: true });
  await copyFile(fileURLToPath(new URL("src/press/pack.typ", import.meta.url)), join(folder, "pack.typ"));
  for (const [name, files] of Object.entries(FONTS)) {
    const from = new URL(`node_modules/@expo-google-fonts/${name}/`, import.meta.url);
    for (const file of files) await copyFile(new URL(file, from), join(folder, "fonts", basename(file)));
    await copyFile(new URL("LICENSE_FONT", from), join(folder, "fonts", `${name}.LICENSE`));
  }
}

const web = (name: string) => fileURLToPath(new URL(`src/web/${name}`, import.meta.url));
/** Browsers of the spring of 2024. */
const SCREENS = ["chrome123", "firefox125", "safari17.5"];
/** Files under names that change with their contents. */
const LASTING = /-[A-Z0-9]{8}\.(js|css|woff2)$/;
/** The threads of the engine. */
const THREADS = ["plan", "crew", "lift", "times", "draft"] as const;
/** What the demo is made of. */
const DEMO = [
  "plover-28.vehicle.yaml",
  "marten-t1.vehicle.yaml",
  "bench-pump.vehicle.yaml",
  "bench-pump.runs.jsonl",
  "shop.crew.yaml",
  "narrations/hauler.vtt",
];

/**
 * Builds the screens into `folder`: scripts, styles and fonts under names that change with their contents, one page, and the demo's files.
 * The engine is built first, for the page's script names it.
 */
export async function bundleScreens(folder: string): Promise<void> {
  await rm(folder, { recursive: true, force: true });
  const common: BuildOptions & { readonly metafile: true } = {
    outdir: join(folder, "app"),
    bundle: true,
    minify: true,
    format: "esm",
    target: SCREENS,
    jsx: "automatic",
    jsxImportSource: "preact",
    entryNames: "[name]-[hash]",
    chunkNames: "[name]-[hash]",
    assetNames: "[name]-[hash]",
    publicPath: "/app/",
    loader: { ".woff2": "file" },
    plugins: [eventsOnly],
    legalComments: "external",
    metafile: true,
    logLevel: "warning",
  };
  // One by one: each thread's script has what its own kinds need, and whoever looks at a chart loads no scheduler.
  const engines = await Promise.all(
    THREADS.map((name) =>
      build({ ...common, splitting: true, entryPoints: { [`engine-${name}`]: web(`engine/${name}-thread.ts`) } }),
    ),
  );
  const served = (outputs: Metafile["outputs"], entry: string, ending: string): string => {
    const found = Object.entries(outputs).find(
      ([path, { entryPoint }]) =>
        path.endsWith(ending) && (entryPoint?.endsWith(entry) || basename(path).startsWith("unmoor-")),
    );
    if (found === undefined) throw new Error(`the build made no ${entry}${ending}`);
    return `/app/${basename(found[0])}`;
  };
  const screens = await build({
    ...common,
    splitting: true,
    entryPoints: { unmoor: web("main.ts") },
    define: {
      ENGINE: JSON.stringify(
        Object.fromEntries(
          THREADS.map((name, n) => [
            name,
            served(engines[n]?.metafile.outputs ?? {}, `engine/${name}-thread.ts`, ".js"),
          ]),
        ),
      ),
    },
  });
  const { outputs } = screens.metafile;
  const script = served(outputs, "main.ts", ".js");
  // All that the page begins with is asked for at once, and not when the script before it was read.
  const small = beginningOf(outputs, basename(script));
  const first = basename(served(outputs, "page.tsx", ".js"));
  const joined = [first, ...beginningOf(outputs, first)].filter((name) => !small.includes(name));
  const ahead = [await joinScripts(join(folder, "app"), outputs, joined), ...small].map(
    (name) => `<link rel="modulepreload" href="/app/${name}">`,
  );
  const page = (await readFile(web("page.html"), "utf8"))
    .replace("AHEAD", ahead.join("\n"))
    .replace("SCRIPT", script)
    .replace("STYLE", served(outputs, "main.ts", ".css"));
  await writeFile(join(folder, "page.html"), page);
  for (const name of ["icon.svg", "manifest.webmanifest"]) await copyFile(web(name), join(folder, name));
  await mkdir(join(folder, "app", "demo"), { recursive: true });
  for (const name of DEMO)
    await copyFile(
      fileURLToPath(new URL(`demo/${name}`, import.meta.url)),
      join(folder, "app", "demo", basename(name)),
    );
  await bundleKeeper(folder, page);
}

/** The scripts that one needs before it runs, the first ones needed first. */
const beginningOf = (outputs: Metafile["outputs"], name: string): readonly string[] => {
  const found = new Set<string>();
  const add = (path: string): void => {
    for (const { path: needed, kind } of outputs[path]?.imports ?? [])
      if (kind === "import-statement" && !found.has(needed)) {
        found.add(needed);
        add(needed);
      }
  };
  add(Object.keys(outputs).find((path) => basename(path) === name) ?? "");
  return [...found].map((path) => basename(path));
};

/**
 * Puts these scripts into one, the first one's exports under their own names: each alone is a request, and thirty of them take a slow tablet most of a second.
 * What is loaded later takes from the one what it took from them.
 * @returns its name
 */
async function joinScripts(app: string, outputs: Metafile["outputs"], names: readonly string[]): Promise<string> {
  const places = new Map(names.map((name, n) => [`/app/${name}`, n]));
  const alias = (exported: string, n: number): string => (n === 0 ? exported : `${exported}_${n}`);
  const exportsOf = (name: string) =>
    Object.entries(outputs).find(([path]) => basename(path) === name)?.[1].exports ?? [];
  const contents = names.map((name, n) => {
    const given = exportsOf(name).map((one) => `${one} as ${alias(one, n)}`);
    return `export { ${given.join(", ")} } from "/app/${name}";`;
  });
  const apart: Plugin = {
    name: "apart",
    setup({ onResolve }) {
      onResolve({ filter: /^\/app\// }, ({ path }) =>
        places.has(path) ? { path: join(app, basename(path)) } : { path, external: true },
      );
    },
  };
  const { metafile } = await build({
    stdin: { contents: contents.join("\n"), resolveDir: app },
    outdir: app,
    entryNames: "first-[hash]",
    bundle: true,
    minify: true,
    format: "esm",
    target: SCREENS,
    plugins: [apart],
    metafile: true,
    logLevel: "warning",
  });
  const [joined = ""] = Object.keys(metafile.outputs).map((path) => basename(path));
  const others = Object.keys(outputs).filter((path) => path.endsWith(".js") && !names.includes(basename(path)));
  for (const name of others.map((path) => basename(path))) {
    const text = await readFile(join(app, name), "utf8");
    const taken = text
      .replace(/(import|export)\{([^}]*)\}from"(\/app\/[^"]+)"/g, (whole, verb: string, list: string, path: string) => {
        const n = places.get(path);
        if (n === undefined) return whole;
        const named = list.split(",").map((one) => {
          const [own = "", here = own] = one.split(" as ");
          return `${alias(own, n)} as ${here}`;
        });
        return `${verb}{${named.join(",")}}from"/app/${joined}"`;
      })
      .replace(/import(\(?)"(\/app\/[^"]+)"/g, (whole, open: string, path: string) =>
        // Whoever asks for it later asks by the exports' own names, which only the first has still.
        places.has(path) && (open === "" || places.get(path) === 0) ? `import${open}"/app/${joined}"` : whole,
      );
    const left = names.find((one) => taken.includes(`/app/${one}`));
    if (left !== undefined) throw new Error(`${name} takes from ${left} in a way that is not known here`);
    await writeFile(join(app, name), taken);
  }
  for (const name of names) await rm(join(app, name));
  return joined;
}

/** The worker that keeps the screens on a device. Its text names every file and changes with any, so that a browser sees that there is a newer version. */
async function bundleKeeper(folder: string, page: string): Promise<void> {
  const lasting = (await readdir(join(folder, "app"))).filter((name) => LASTING.test(name)).sort();
  const demo = DEMO.map((name) => `demo/${basename(name)}`);
  const digest = createHash("sha256").update(page).update(lasting.join());
  for (const name of demo) digest.update(await readFile(join(folder, "app", name)));
  await build({
    entryPoints: [web("sw.ts")],
    outfile: join(folder, "sw.js"),
    bundle: true,
    minify: true,
    format: "iife",
    target: SCREENS,
    define: {
      FILES: JSON.stringify([
        ...[...lasting, ...demo].map((name) => `/app/${name}`),
        "/icon.svg",
        "/manifest.webmanifest",
      ]),
      VERSION: JSON.stringify(digest.digest("hex").slice(0, 16)),
    },
    logLevel: "warning",
  });
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const folder = fileURLToPath(new URL("dist", import.meta.url));
  await bundle(folder);
  await bundleScreens(join(folder, "web"));
}

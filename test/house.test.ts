// The house rules on the house as it is, and each rule on a planted breach: a rule that cannot fail is no rule.
import { spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { findBreaches, ROOMS, sayBreach } from "./house.ts";

const root = new URL("..", import.meta.url).pathname;

function read(folder: string) {
  return readdirSync(join(root, folder), { recursive: true, encoding: "utf8" })
    .filter((name) => /\.tsx?$/.test(name))
    .map((name) => `${folder}/${name}`)
    .sort()
    .map((path) => ({ path, text: readFileSync(join(root, path), "utf8") }));
}

const OPENING = "// Owns a planted breach.\n";
const breach = (path: string, text: string) => findBreaches([{ path, text: OPENING + text }]).map(sayBreach);

test("the house keeps its rules", () => {
  const sources = ["src", "bench", "test"].flatMap(read);
  expect(sources.length).toBeGreaterThan(10);
  expect(findBreaches(sources).map(sayBreach)).toEqual([]);
});

describe("each rule fires, with its place and its reason", () => {
  test.each([
    [
      "a room below imports one above",
      "src/vehicle/read.ts",
      'import { solve } from "../release/index.ts";',
      /^src\/vehicle\/read\.ts:2 {2}vehicle imports release: .*knows units/,
    ],
    [
      "one computation imports another",
      "src/release/solve.ts",
      'import { curve } from "../crew/index.ts";',
      /release imports crew: the five computations never import one another/,
    ],
    [
      "a type is an import too",
      "src/quantity/read.ts",
      'import type { Vehicle } from "../vehicle/index.ts";',
      /quantity imports vehicle: .*at the bottom/,
    ],
    [
      "an import over several lines",
      "src/vehicle/read.ts",
      'import {\n  solve,\n  type Result,\n} from "../release/index.ts";',
      /vehicle imports release/,
    ],
    ["a re-export", "src/vehicle/index.ts", 'export { solve } from "../release/index.ts";', /vehicle imports release/],
    ["a lazy import", "src/vehicle/read.ts", 'const plan = await import("../plan/index.ts");', /vehicle imports plan/],
    [
      "past the door",
      "src/plan/plan.ts",
      'import { solve } from "../release/solve.ts";',
      /reaches past the door of release to src\/release\/solve\.ts: .*index\.ts/,
    ],
    [
      "Node in a pure room",
      "src/plan/plan.ts",
      'import { readFileSync } from "node:fs";',
      /imports node:fs: a pure room runs in the browser/,
    ],
    ["Node under its bare name", "src/plan/plan.ts", 'import { join } from "path";', /imports path: a pure room/],
    [
      "chance in a pure room",
      "src/release/solve.ts",
      "const x = Math.random();",
      /uses Math\.random: chance and the clock are arguments/,
    ],
    ["the clock in a pure room", "src/release/solve.ts", "const t = performance.now();", /uses performance\.now/],
    [
      "what ships leans on a test",
      "src/release/solve.ts",
      'import { brute } from "../../test/brute.ts";',
      /imports test\/brute\.ts: a room imports rooms/,
    ],
    [
      "a room that nobody entered in the table",
      "src/attic/box.ts",
      "export const a = 1;",
      /attic is no room of the house/,
    ],
    [
      "a server in the screens, but as types",
      "src/web/app.ts",
      'import { start } from "../server/index.ts";',
      /web imports server/,
    ],
    ["a name that says nothing", "src/plan/utils.ts", "export const a = 1;", /a name that says nothing/],
  ])("%s", (_, path, text, message) => {
    const said = breach(path, text);
    expect(said).toHaveLength(1);
    expect(said[0]).toMatch(message);
  });

  test("a module that does not say what it owns", () => {
    expect(findBreaches([{ path: "src/plan/plan.ts", text: "export const a = 1;\n" }]).map(sayBreach)).toEqual([
      expect.stringContaining('opens with "export const a = 1;": the first line of a module says what it owns'),
    ]);
  });

  test("what is allowed passes", () => {
    expect(
      breach("src/cli/main.ts", 'import { readFileSync } from "node:fs";\nimport { plan } from "../plan/index.ts";'),
    ).toEqual([]);
    expect(breach("src/cli/main.ts", 'import manifest from "../../package.json" with { type: "json" };')).toEqual([]);
    expect(breach("src/web/app.ts", 'import type { Route } from "../server/index.ts";')).toEqual([]);
    expect(breach("src/vehicle/read.test.ts", 'import { readFileSync } from "node:fs";')).toEqual([]);
  });

  test("no room may import itself through the table, and every named room exists in it", () => {
    for (const [room, { may, types }] of Object.entries(ROOMS)) {
      for (const other of [...may, ...(types ?? [])]) {
        expect(other).not.toBe(room);
        expect(Object.keys(ROOMS)).toContain(other);
      }
    }
  });
});

describe("the tools that keep the other rules do fire", () => {
  /** Runs a tool of the project on planted files in a folder outside it. */
  function plant(files: Readonly<Record<string, string>>, tool: string, args: readonly string[]) {
    const folder = mkdtempSync(join(tmpdir(), "planted-"));
    try {
      for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
      return spawnSync(join(root, "node_modules/.bin", tool), args, { cwd: folder, encoding: "utf8" });
    } finally {
      rmSync(folder, { recursive: true });
    }
  }

  test("a global of Node or of the browser in a pure room is a type error", () => {
    const run = plant(
      {
        "planted.ts": "export const here = [process.cwd(), document.title, fetch, setTimeout];\n",
        "tsconfig.json": JSON.stringify({ extends: join(root, "tsconfig.pure.json"), include: ["planted.ts"] }),
      },
      "tsc",
      ["-p", "."],
    );
    for (const name of ["process", "document", "fetch", "setTimeout"]) {
      expect(run.stdout).toContain(`Cannot find name '${name}'`);
    }
    expect(run.status).not.toBe(0);
  }, 30_000);

  test("modules that import each other in a circle, and `any`, are lint errors", () => {
    const run = plant(
      {
        "one.ts": 'import { two } from "./two.ts";\n\nexport const one = (): number => two();\n',
        "two.ts": 'import { one } from "./one.ts";\n\nexport const two = (): number => one();\n',
        "biome.jsonc": readFileSync(join(root, "biome.jsonc"), "utf8"),
        "loose.ts": "export const loose = (value: any) => value;\n",
      },
      "biome",
      ["lint"],
    );
    expect(run.stderr).toContain("noImportCycles");
    expect(run.stderr).toContain("noExplicitAny");
    expect(run.status).not.toBe(0);
  }, 30_000);
});

// The package as somebody else gets it: packed, installed in an empty folder, run and imported there.
import { execFileSync, spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { isStale } from "./bundle.ts";

const root = new URL("..", import.meta.url).pathname;
const folder = mkdtempSync(join(tmpdir(), "unmoor-package-"));
const npm = (args: readonly string[], cwd: string) =>
  execFileSync("npm", [...args, "--silent", "--prefer-offline", "--no-audit", "--no-fund"], { cwd, encoding: "utf8" });

beforeAll(async () => {
  if (await isStale()) npm(["run", "build"], root);
  const packed = npm(["pack", "--ignore-scripts", "--pack-destination", folder], root).trim().split("\n").at(-1) ?? "";
  mkdirSync(join(folder, "shop"));
  writeFileSync(
    join(folder, "shop/package.json"),
    '{ "name": "shop", "version": "1.0.0", "type": "module", "private": true }',
  );
  npm(["install", join(folder, packed)], join(folder, "shop"));
}, 120_000);

afterAll(() => rmSync(folder, { recursive: true, force: true }));

function run(...words: string[]) {
  return spawnSync(join(folder, "shop/node_modules/.bin/unmoor"), words, {
    cwd: join(folder, "shop"),
    encoding: "utf8",
  });
}

test("the command runs where it is installed, on the demo that comes with it", () => {
  expect(run("version").stdout.trim()).toBe(JSON.parse(readFileSync(join(root, "package.json"), "utf8")).version);
  const check = run("check", "node_modules/unmoor/demo/bench-pump.vehicle.yaml");
  expect(check.stderr).toBe("");
  expect(check.status).toBe(0);
});

test("the pack is printed there, with the template and the fonts that come with it", () => {
  const print = run(
    "print",
    "node_modules/unmoor/demo/bench-pump.vehicle.yaml",
    "--job",
    "shaft-seal",
    "-o",
    "pack.pdf",
  );
  expect(print.stderr).toContain("the QR codes hold no web address");
  expect(print.status).toBe(0);
  expect(readFileSync(join(folder, "shop/pack.pdf"), "latin1")).toMatch(/^%PDF-1\.7/);
});

test("each room is imported by its name, with its types, and nothing else is", () => {
  const script = `
    import { readVehicle } from "unmoor/vehicle";
    import { translate, orderFor } from "unmoor/plan";
    import { solve, check } from "unmoor/release";
    import { makeIdentity } from "unmoor/ledger";
    import { readFileSync } from "node:fs";
    const reading = readVehicle("node_modules/unmoor/demo/bench-pump.vehicle.yaml", (path) => readFileSync(path, "utf8"));
    if (reading.vehicle === undefined) throw new Error("the demo has faults");
    const { problem } = translate(reading.vehicle, orderFor("shaft-seal"));
    const { status, plan } = solve(problem);
    if (plan === undefined) throw new Error(status);
    console.log(status, plan.labour, check(problem, plan.order).legal);
    console.log(makeIdentity(new Uint8Array(32)).key);
  `;
  writeFileSync(join(folder, "shop/use.mts"), script);
  writeFileSync(join(folder, "shop/use.mjs"), script);
  const ran = spawnSync("node", ["use.mjs"], { cwd: join(folder, "shop"), encoding: "utf8" });
  expect(ran.stderr).toBe("");
  expect(ran.stdout).toMatch(/^optimal \d+ true$/m);
  // The public key of a secret of zeros, RFC 8032 by its library.
  expect(ran.stdout).toContain("3b6a27bcceb6a42d62a3a8d02a6f0d73653215771de243a63ac048a18b59da29");
  const types = spawnSync(
    join(root, "node_modules/.bin/tsc"),
    [
      "--noEmit",
      "--strict",
      "--module",
      "nodenext",
      "--target",
      "es2023",
      "--types",
      "node",
      "--typeRoots",
      join(root, "node_modules/@types"),
      "use.mts",
    ],
    { cwd: join(folder, "shop"), encoding: "utf8" },
  );
  expect(types.stdout).toBe("");
  const past = spawnSync("node", ["-e", 'import("unmoor/dist/rooms/release/solve.js")'], {
    cwd: join(folder, "shop"),
    encoding: "utf8",
  });
  expect(past.stderr).toContain("ERR_PACKAGE_PATH_NOT_EXPORTED");
}, 60_000);

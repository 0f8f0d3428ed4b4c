// The README and the docs show what the tool prints: every block that begins with a call is that call's real output.
import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterAll, describe, expect, inject, test } from "vitest";

const root = new URL("..", import.meta.url).pathname;
const folder = mkdtempSync(join(tmpdir(), "unmoor-documents-"));
const pages = ["README.md", ...readdirSync(join(root, "docs")).map((name) => `docs/${name}`)]
  .filter((name) => name.endsWith(".md"))
  .map((path) => ({ path, text: readFileSync(join(root, path), "utf8") }));
const entry = inject("bundle");

afterAll(() => rmSync(folder, { recursive: true, force: true }));

const shown = pages.flatMap(({ path, text }) =>
  [...text.matchAll(/```text\n\$ npx unmoor (.*)\n([\s\S]*?)```/g)].map(([, call = "", output = ""]) => ({
    path,
    call,
    output,
  })),
);

test("the README has a picture of real output", () => {
  expect(shown.filter(({ path }) => path === "README.md").length).toBeGreaterThan(0);
});

test.each(shown)(
  "$path: unmoor $call",
  ({ call, output }) => {
    const ran = spawnSync("node", [entry, ...call.split(" ")], { cwd: root, encoding: "utf8", timeout: 60_000 });
    expect(ran.stderr).toBe("");
    expect(ran.stdout).toBe(output);
  },
  60_000,
);

describe("every link to a file of the repository leads somewhere", () => {
  test.each(pages)("$path", ({ path, text }) => {
    const links = [...text.matchAll(/\]\(([^)#:]+)(?:#[^)]*)?\)/g)].map(([, to = ""]) => to);
    expect(links.filter((to) => !existsSync(join(root, dirname(path), to)))).toEqual([]);
  });
});

// The README and the docs show what the tool prints: every block that begins with a call is that call's real output.
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { describe, expect, test } from "vitest";
import { called } from "./command.ts";

const root = new URL("..", import.meta.url).pathname;
const pages = ["README.md", ...readdirSync(join(root, "docs")).map((name) => `docs/${name}`)]
  .filter((name) => name.endsWith(".md"))
  .map((path) => ({ path, text: readFileSync(join(root, path), "utf8") }));

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

test.each(shown)("$path: unmoor $call", async ({ call, output }) => {
  const { stdout, stderr } = await called(...call.split(" "));
  expect(stderr).toBe("");
  expect(stdout).toBe(output);
});

describe("every link to a file of the repository leads somewhere", () => {
  test.each(pages)("$path", ({ path, text }) => {
    const links = [...text.matchAll(/\]\(([^)#:]+)(?:#[^)]*)?\)/g)].map(([, to = ""]) => to);
    expect(links.filter((to) => !existsSync(join(root, dirname(path), to)))).toEqual([]);
  });
});

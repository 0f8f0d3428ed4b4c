// The list of attacks in docs/security.md and the tests that try them name each other, every one.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";

const here = new URL(".", import.meta.url).pathname;
const inOrder = (ids: Iterable<string>): readonly string[] =>
  [...new Set(ids)].sort((a, b) => a.charCodeAt(0) - b.charCodeAt(0) || Number(a.slice(1)) - Number(b.slice(1)));

test("every attack of the list has a test, and every test of one is in the list", () => {
  const doc = readFileSync(new URL("../../docs/security.md", import.meta.url), "utf8");
  const listed = [...doc.matchAll(/^\| ([PS]\d+) \|/gm)].map(([, id = ""]) => id);
  expect(new Set(listed).size).toBe(listed.length);
  const tried = readdirSync(here, { recursive: true, encoding: "utf8" })
    .filter((path) => path.endsWith(".test.ts"))
    .flatMap((path) => [...readFileSync(join(here, path), "utf8").matchAll(/\(\s*["'`]\[([PS]\d+)\] /g)])
    .map(([, id = ""]) => id);
  expect(inOrder(tried)).toEqual(inOrder(listed));
});

// The published schemas are those of the shapes that the commands write.
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { makeSchemas } from "../schema.ts";

test.each([...makeSchemas()])("schema/%s is up to date (npm run schema)", (name, text) => {
  expect(readFileSync(new URL(`../schema/${name}`, import.meta.url), "utf8")).toBe(text);
});

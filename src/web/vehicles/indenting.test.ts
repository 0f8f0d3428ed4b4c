// How far in the next line begins.
import { expect, test } from "vitest";
import { indentAfter } from "./indenting.ts";

test.each([
  ["parts:", 2],
  ["  pump:", 4],
  ["  pump: # the old one", 4],
  ["  pump: &base", 4],
  ["    mass: 4 kg", 4],
  ["      - at: side", 8],
  ["      - refit:", 10],
  ["  first:", 4],
  ["    - battery-earth", 4],
  ["    - { at: side, time: 3 min }", 4],
  ["    joins: [", 6],
  ["", 0],
])("after %j", (above, columns) => expect(indentAfter(above)).toBe(columns));

// Which lines are shown of two texts.
import fc from "fast-check";
import { expect, test } from "vitest";
import { compareLines } from "./line-changes.ts";

const files = (text: string, path = "a.yaml") => [{ path, text }];

test("a changed line stands with two around it, by its numbers in both", () => {
  const [change] = compareLines(files("a\nb\nc\nd\ne\nf\n"), files("a\nb\nc\nD\ne\nf\n"));
  expect(change?.stretches).toEqual([
    [
      { is: "same", was: 2, now: 2, text: "b" },
      { is: "same", was: 3, now: 3, text: "c" },
      { is: "removed", was: 4, text: "d", pieces: [{ text: "d", isSame: false }] },
      { is: "added", now: 4, text: "D", pieces: [{ text: "D", isSame: false }] },
      { is: "same", was: 5, now: 5, text: "e" },
      { is: "same", was: 6, now: 6, text: "f" },
    ],
  ]);
  expect([change?.added, change?.removed]).toEqual([1, 1]);
});

test("a line in place of another tells the words that differ, and its pieces are the line", () => {
  const [change] = compareLines(files("mass: 251 kg ± 3 %\n"), files("mass: 255 kg ± 3 %\n"));
  const [old, now] = change?.stretches.flat() ?? [];
  const differ = (pieces = old?.pieces) => pieces?.filter(({ isSame }) => !isSame).map(({ text }) => text);
  expect([differ(), differ(now?.pieces)]).toEqual([["251"], ["255"]]);
  for (const line of [old, now]) expect(line?.pieces?.map(({ text }) => text).join("")).toBe(line?.text);
});

test("files that are in one of the two only, and files that are the same", () => {
  const same = { path: "s.yaml", text: "s\n" };
  expect(
    compareLines([same, ...files("x\n", "old.yaml")], [same, ...files("y\n", "new.yaml")]).map(({ path, is }) => [
      path,
      is,
    ]),
  ).toEqual([
    ["new.yaml", "added"],
    ["old.yaml", "removed"],
  ]);
});

test("two texts that have nothing in common are not shown line by line", () => {
  const many = (word: string) => Array.from({ length: 5000 }, (_, n) => `${word}${n}`).join("\n");
  expect(compareLines(files(many("a")), files(many("b")))[0]?.is).toBe("too much");
});

test("what is added and removed leads from the one text to the other", () => {
  const text = fc.array(fc.constantFrom("a", "b", "c"), { maxLength: 12 }).map((lines) => `${lines.join("\n")}\n`);
  fc.assert(
    fc.property(text, text, (one, other) => {
      const lines = one.split("\n");
      const changed = compareLines(files(one), files(other))[0]?.stretches.flat() ?? [];
      const removed = new Set(changed.flatMap(({ is, was }) => (is === "removed" && was !== undefined ? [was] : [])));
      const left = lines.filter((_, n) => !removed.has(n + 1));
      for (const { is, now, text: added } of changed) if (is === "added") left.splice((now ?? 1) - 1, 0, added);
      expect(left.join("\n")).toBe(other);
    }),
  );
});

// Nearest names: against the plain table of distances, and quick however many names there are.
import fc from "fast-check";
import { expect, test } from "vitest";
import { indexWords } from "./nearest.ts";

/** Optimal string alignment by its definition: the whole table. */
function distance(a: string, b: string): number {
  const table = Array.from({ length: a.length + 1 }, (_, i) =>
    Array.from({ length: b.length + 1 }, (_, j) => (i === 0 ? j : j === 0 ? i : 0)),
  );
  for (let i = 1; i <= a.length; i++)
    for (let j = 1; j <= b.length; j++) {
      let least = Math.min(
        table[i - 1]![j]! + 1,
        table[i]![j - 1]! + 1,
        table[i - 1]![j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1),
      );
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        least = Math.min(least, table[i - 2]![j - 2]! + 1);
      table[i]![j] = least;
    }
  return table[a.length]![b.length]!;
}

test.each([
  ["gearbox-jak", "gearbox-jack"],
  ["Gearbox-Jack", "gearbox-jack"],
  ["gearobx-jack", "gearbox-jack"],
  ["bell-bolt", "bell-bolts"],
  ["sling-engine", undefined],
  ["", undefined],
])("%j means %j", (wanted, found) => {
  expect(indexWords(["bell-bolts", "gearbox-jack", "sling", "raise"])(wanted)).toBe(found);
});

test("nothing is nearer than what is found, and nothing is found only where all are too far", () => {
  const word = fc.string({ unit: fc.constantFrom("a", "b", "c"), minLength: 1, maxLength: 8 });
  fc.assert(
    fc.property(fc.uniqueArray(word, { minLength: 1, maxLength: 8 }), word, (words, wanted) => {
      const found = indexWords(words)(wanted);
      const least = Math.min(...words.map((each) => distance(each, wanted)));
      const limit = wanted.length <= 3 ? 1 : wanted.length <= 6 ? 2 : 3;
      if (found === undefined) expect(least).toBeGreaterThan(limit);
      else expect(distance(found, wanted)).toBe(least);
    }),
    { seed: 5, numRuns: 1000 },
  );
});

test("two thousand misspelt of twenty thousand", { timeout: 60_000 }, () => {
  const nearest = indexWords(Array.from({ length: 20_000 }, (_, i) => `hose-clamp-${i}`));
  for (let i = 0; i < 2000; i++) expect(nearest(`hose-clmap-${i}`)).toBe(`hose-clamp-${i}`);
});

// Lowpoints against taking each part away and looking what still hangs.
import { expect, test } from "vitest";
import { makeChance } from "../../bench/release/chance.ts";
import { hangsWithout, spineOf } from "./spine.ts";

test("what hangs from the hook without some part is what can be reached past it", () => {
  for (let seed = 0; seed < 500; seed++) {
    const chance = makeChance(seed);
    const count = chance.whole(2, 9);
    const near: number[][] = Array.from({ length: count }, () => []);
    for (let i = chance.whole(0, 2 * count); i > 0; i--) {
      const [a, b] = [chance.whole(0, count - 1), chance.whole(0, count - 1)];
      if (a === b) continue;
      near[a]?.push(b);
      near[b]?.push(a);
    }
    const parts = near.map((_, p) => p);
    const hook = chance.some(parts, chance.whole(1, 2));
    const spine = spineOf(count, hook, (p) => near[p] ?? []);
    const reached = (without: number): Set<number> => {
      const seen = new Set(hook);
      for (const p of seen) for (const q of near[p] ?? []) if (q !== without) seen.add(q);
      return seen;
    };
    for (const q of parts) {
      for (const p of parts) {
        // The hook itself is never out of the way.
        const truth = hook.includes(p) ? reached(-1).has(q) : q !== p && reached(p).has(q);
        if (q !== p) expect({ seed, q, p, hangs: hangsWithout(spine, q, p) }).toEqual({ seed, q, p, hangs: truth });
      }
    }
  }
});

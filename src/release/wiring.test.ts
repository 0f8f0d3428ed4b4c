// Needs as a circuit against reading each need afresh.
import { describe, expect, test } from "vitest";
import { makeChance } from "../../bench/release/chance.ts";
import { randomProblem } from "../../bench/release/random.ts";
import { compile, type Formula, sideAtom } from "./compile.ts";
import { given, holds, mentions, raise, start, wire } from "./wiring.ts";

describe("the circuit", () => {
  test("calls each step once, at the very atom with which its needs first hold", () => {
    for (let seed = 0; seed < 120; seed++) {
      const chance = makeChance(seed);
      const c = compile(randomProblem(seed));
      const count = sideAtom(c, c.contexts.length, 0);
      const w = wire(c, count);
      const missing = w.missing.slice();
      const called: number[] = [];
      const raised = new Set<number>();
      const should = () => c.steps.flatMap((s, i) => (holds(s.needs, (a) => raised.has(a)) ? [i] : []));
      start(w, missing, (s) => called.push(s));
      expect({ seed, at: "start", called: called.toSorted((a, b) => a - b) }).toEqual({
        seed,
        at: "start",
        called: should(),
      });
      const atoms = Array.from({ length: count }, (_, a) => a);
      for (const a of chance.some(atoms, count)) {
        raised.add(a);
        raise(w, missing, a, (s) => called.push(s));
        expect({ seed, a, called: called.toSorted((p, q) => p - q) }).toEqual({ seed, a, called: should() });
      }
    }
  });
});

describe("formulas", () => {
  const all = (...of: readonly Formula[]): Formula => ({ any: false, of });
  const any = (...of: readonly Formula[]): Formula => ({ any: true, of });

  test("all of nothing holds, any of nothing does not", () => {
    expect(holds(all(), () => false)).toBe(true);
    expect(holds(any(), () => true)).toBe(false);
  });

  test("with some atoms set, what is left says the same as the whole", () => {
    for (let seed = 0; seed < 150; seed++) {
      const chance = makeChance(seed);
      const draw = (depth: number): Formula =>
        depth === 0 || chance.hit(0.3)
          ? chance.whole(0, 4)
          : { any: chance.hit(0.5), of: Array.from({ length: chance.whole(0, 3) }, () => draw(depth - 1)) };
      const f = draw(3);
      const set = new Map(chance.some([0, 1, 2, 3, 4], 2).map((a) => [a, chance.hit(0.5)]));
      const left = given(f, (a) => set.get(a));
      for (let bits = 0; bits < 32; bits++) {
        const truth = (a: number) => set.get(a) ?? ((bits >> a) & 1) === 1;
        const same = typeof left === "boolean" ? left : holds(left, truth);
        expect({ seed, bits, same }).toEqual({ seed, bits, same: holds(f, truth) });
      }
      if (typeof left !== "boolean") expect(mentions(left, (a) => set.has(a))).toBe(false);
    }
  });
});

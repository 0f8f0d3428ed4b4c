// Which parts hang together while ties come and go, against a search from scratch.
import { describe, expect, test } from "vitest";
import { makeChance } from "../../bench/release/chance.ts";
import { Bodies } from "./check-bodies.ts";

const groups = (bodies: Bodies) =>
  bodies.members.filter((body) => body.size > 0).map((body) => [...body].sort().join(" "));

describe("a tie undone", () => {
  test("of a ring leaves one body, and then any other parts it in two", () => {
    const bodies = new Bodies(4);
    const ring = [0, 1, 2, 3].map((i) => bodies.make([i, (i + 1) % 4]));
    bodies.undo(ring[0] ?? 0);
    expect(groups(bodies)).toEqual(["0 1 2 3"]);
    bodies.undo(ring[2] ?? 0);
    expect(groups(bodies).sort()).toEqual(["0 3", "1 2"]);
    expect(bodies.joined([0, 1], [2])).toEqual([1, 2]);
    expect(bodies.joined([0, 3], [1, 2])).toBeUndefined();
  });

  test("of four parts at once leaves what other ties hold: here two and two singles", () => {
    const bodies = new Bodies(4);
    const flange = bodies.make([0, 1, 2, 3]);
    bodies.make([1, 3]);
    bodies.undo(flange);
    expect(groups(bodies).sort()).toEqual(["0", "1 3", "2"]);
  });

  test("tells of the parts that move, and of no others: the smaller side", () => {
    const moved: number[] = [];
    const bodies = new Bodies(6, (part) => moved.push(part));
    const row = [0, 1, 2, 3, 4].map((i) => bodies.make([i, i + 1]));
    moved.length = 0;
    bodies.undo(row[3] ?? 0);
    expect(moved.sort()).toEqual([4, 5]);
  });

  test("twice changes nothing the second time", () => {
    const bodies = new Bodies(3);
    const tie = bodies.make([0, 1]);
    bodies.make([1, 2]);
    bodies.undo(tie);
    bodies.undo(tie);
    expect(groups(bodies).sort()).toEqual(["0", "1 2"]);
  });
});

test("random ties of two to four parts made and undone: the same bodies as a search from scratch", () => {
  for (let seed = 0; seed < 60; seed++) {
    const chance = makeChance(seed);
    const parts = Array.from({ length: 12 }, (_, i) => i);
    const bodies = new Bodies(parts.length);
    const made = new Map<number, number[]>();
    for (let step = 0; step < 60; step++) {
      if (chance.hit(0.5) || made.size === 0) {
        const ends = chance.some(parts, chance.whole(2, 4));
        made.set(bodies.make(ends), ends);
      } else {
        const tie = chance.pick([...made.keys()]);
        bodies.undo(tie);
        made.delete(tie);
      }
      const found = parts.map((part) => parts.filter((other) => bodies.of[other] === bodies.of[part]));
      const sought = parts.map((part) => [...reach(part, [...made.values()])].sort((a, b) => a - b));
      expect({ seed, step, found }).toEqual({ seed, step, found: sought });
    }
  }
});

function reach(part: number, ties: readonly (readonly number[])[]): Set<number> {
  const seen = new Set([part]);
  for (const at of seen) for (const tie of ties) if (tie.includes(at)) for (const end of tie) seen.add(end);
  return seen;
}

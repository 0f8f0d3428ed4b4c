// What holds a body, against the plain reading of R5 in states drawn at will.
import { expect, test } from "vitest";
import { makeChance } from "../../bench/release/chance.ts";
import { Plain } from "../../bench/release/plain.ts";
import { randomProblem } from "../../bench/release/random.ts";
import { Load } from "./carrying.ts";
import { compile } from "./compile.ts";

test("parts without a hold are those that the plain reading finds, whatever is released, supported, strapped and up", () => {
  let dropped = 0;
  for (let seed = 0; seed < 600; seed++) {
    const [problem, chance] = [randomProblem(seed), makeChance(seed)];
    const [plain, c] = [new Plain(problem), compile(problem)];
    const load = new Load(c);
    let { released, on, up } = plain.start;
    problem.connections.forEach((_, t) => {
      if (!chance.hit(0.5)) return;
      released |= 1 << t;
      load.released[t] = 1;
    });
    problem.tasks.forEach(({ hang }, t) => {
      if (!chance.hit(0.3)) return;
      on |= 1 << t;
      for (const p of c.supports[t] ?? []) load.supported[p] = (load.supported[p] ?? 0) + 1;
      const own = hang && c.hangs.get(t);
      if (own) load.strap(own.part, own.to);
    });
    problem.parts.forEach((part, p) => {
      if (part.fixed || !chance.hit(0.1)) return;
      up |= 1 << p;
      load.up[p] = 1;
    });
    const truth = plain.dropped({ released, on, up, called: 0 });
    const parts = problem.parts.map((_, p) => p);
    const found = load.fallen(parts).reduce((mask, p) => mask | (1 << p), 0);
    expect({ seed, found }).toEqual({ seed, found: truth });
    if (truth !== 0) dropped++;
  }
  expect(dropped).toBeGreaterThan(100);
});

test("a copy of a load keeps its own straps and releases", () => {
  const c = compile(randomProblem(1));
  const load = new Load(c);
  const copy = new Load(c, load);
  copy.released.fill(1);
  copy.supported.fill(1);
  expect([...load.released]).toEqual([...c.released]);
  expect([...load.supported].every((n) => n === 0)).toBe(true);
});

test("how far inside the hull of its rests a centre of mass must lie, by hand", () => {
  const square: readonly Seat[] = [
    [0, 0],
    [2, 0],
    [2, 2],
    [0, 2],
    [1, 1],
  ];
  expect([restsAt(square, 1, 1, 1), restsAt(square, 1, 1, 1.001)]).toEqual([true, false]);
  expect([restsAt(square, 0.25, 1, 0.25), restsAt(square, 0.25, 1, 0.251)]).toEqual([true, false]);
  expect([restsAt(square, 2, 1, 0), restsAt(square, 2.001, 1, 0)]).toEqual([true, false]);
  // A triangle of legs 3 and 4: (1, 1) lies 1 from both legs and (12 − 7) / 5 = 1 from the long side.
  const triangle: readonly Seat[] = [
    [0, 0],
    [3, 0],
    [0, 4],
  ];
  expect([restsAt(triangle, 1, 1, 0.999), restsAt(triangle, 1, 1, 1.001)]).toEqual([true, false]);
  // Points on one line, or too few of them, bear nothing.
  expect(restsAt(square.slice(0, 2), 1, 0, 0)).toBe(false);
  expect(restsAt([...square.slice(0, 1), [1, 1], [2, 2]], 1, 1, 0)).toBe(false);
});

type Seat = readonly [number, number];

/** Whether a part with its centre at (x, y) rests on the seats at that margin. */
function restsAt(seats: readonly Seat[], x: number, y: number, margin: number): boolean {
  const c = compile({
    ...{ connections: [], tasks: [], handLimit: 0, margin, keep: [], take: [], released: [] },
    parts: [{ id: "unit", fixed: false, mass: 40, centre: [x, y, 0] }],
  });
  return new Load(c).couldRest([0], seats);
}

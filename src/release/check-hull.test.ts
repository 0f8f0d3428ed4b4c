// How far inside its rests a centre lies.
import { describe, expect, test } from "vitest";
import { makeChance } from "../../bench/release/chance.ts";
import { depthInHull } from "./check-hull.ts";

type Point = readonly [number, number];
const RECTANGLE: Point[] = [
  [0.5, 0.3],
  [0.5, -0.3],
  [-0.5, 0.3],
  [-0.5, -0.3],
];

describe("depth in the hull", () => {
  test.each<[string, Point[], Point, number | undefined]>([
    ["the middle of a rectangle of 1.0 by 0.6", RECTANGLE, [0, 0], 0.3],
    ["nearer its front edge", RECTANGLE, [0.4, 0], 0.1],
    ["on an edge", RECTANGLE, [0.5, 0.1], 0],
    ["ahead of it", RECTANGLE, [0.7, 0], -0.2],
    ["points inside and on the edges change nothing", [...RECTANGLE, [0, 0.3], [0.1, 0.1], [0.5, 0.3]], [0, 0], 0.3],
    // A right triangle with legs of 3 and 4: its inscribed circle has radius 1, about (1, 1).
    [
      "the inscribed circle of a triangle of 3, 4, 5",
      [
        [0, 0],
        [3, 0],
        [0, 4],
      ],
      [1, 1],
      1,
    ],
    [
      "two points",
      [
        [0, 0],
        [1, 0],
      ],
      [0.5, 0],
      undefined,
    ],
    [
      "points in line",
      [
        [0, 0],
        [1, 1],
        [3, 3],
      ],
      [1, 1],
      undefined,
    ],
    [
      "one point many times",
      [
        [1, 1],
        [1, 1],
        [1, 1],
      ],
      [1, 1],
      undefined,
    ],
    ["no points", [], [0, 0], undefined],
  ])("%s", (_, points, centre, depth) => {
    if (depth === undefined) expect(depthInHull(points, centre)).toBeUndefined();
    else expect(depthInHull(points, centre)).toBeCloseTo(depth, 12);
  });

  test("turned, moved and shuffled it stays", () => {
    for (let seed = 0; seed < 200; seed++) {
      const chance = makeChance(seed);
      const point = (): Point => [chance.next() * 2 - 1, chance.next() * 2 - 1];
      const [points, centre, angle, by] = [
        Array.from({ length: chance.whole(3, 8) }, point),
        point(),
        chance.next() * 7,
        point(),
      ];
      const turn = ([x, y]: Point): Point => [
        x * Math.cos(angle) - y * Math.sin(angle) + by[0],
        x * Math.sin(angle) + y * Math.cos(angle) + by[1],
      ];
      const turned = depthInHull(chance.some(points, points.length).map(turn), turn(centre));
      expect(turned).toBeCloseTo(depthInHull(points, centre) ?? Number.NaN, 9);
    }
  });
});

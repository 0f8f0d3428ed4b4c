// The sheets of a drawing that is larger than the paper: every place whole on one of them, the crosses of two that overlap on the same points.
import { expect, test } from "vitest";
import { tilesOf } from "./tiles.ts";

const room = { wide: 178, high: 215 };
const ring = Array.from({ length: 24 }, (_, n) => ({
  x: 316 + 300 * Math.cos((n * Math.PI) / 12),
  y: 316 + 300 * Math.sin((n * Math.PI) / 12),
  radius: 6,
}));

test("a ring of 632 mm: every bolt is whole on a sheet, no sheet is larger than the paper, the empty middle is left out", () => {
  const tiles = tilesOf({ wide: 632, high: 632 }, room, ring);
  // (632 − 22) / (178 − 22) = 3.9 across, (632 − 22) / (215 − 22) = 3.2 down: four by four, of which the four in the middle hold nothing.
  expect(tiles.length).toBe(12);
  for (const { wide, high } of tiles) {
    expect(wide).toBeLessThanOrEqual(room.wide);
    expect(high).toBeLessThanOrEqual(room.high);
  }
  for (const { x, y, radius } of ring)
    expect(
      tiles.some(
        ({ left, top, wide, high }) =>
          x - radius >= left && x + radius <= left + wide && y - radius >= top && y + radius <= top + high,
      ),
    ).toBe(true);
});

test("each cross lies on one of exactly one other sheet", () => {
  const tiles = tilesOf({ wide: 632, high: 632 }, room, ring);
  const points = tiles.flatMap(({ left, top, crosses }) =>
    crosses.map(([x, y]) => `${(left + x).toFixed(3)} ${(top + y).toFixed(3)}`),
  );
  for (const point of points) expect(points.filter((one) => one === point).length).toBe(2);
});

test("an empty sheet stays where it holds the others together", () => {
  const ends = [
    { x: 20, y: 20, radius: 5 },
    { x: 480, y: 20, radius: 5 },
  ];
  expect(tilesOf({ wide: 500, high: 40 }, room, ends).length).toBe(4);
});

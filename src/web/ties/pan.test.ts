// Moving and enlarging: what is under the finger stays there, and the frame is always full.
import fc from "fast-check";
import { expect, test } from "vitest";
import { WHOLE, within, zoomed } from "./pan.ts";

const frame = [800, 600] as const;
const view = fc
  .record({
    x: fc.double({ min: -5000, max: 5000, noNaN: true }),
    y: fc.double({ min: -5000, max: 5000, noNaN: true }),
    scale: fc.double({ min: 1, max: 24, noNaN: true }),
  })
  .map((one) => within(one, frame));
const spot = fc.tuple(fc.integer({ min: 0, max: 800 }), fc.integer({ min: 0, max: 600 }));

test("the drawing covers its frame, however it is moved", () => {
  fc.assert(
    fc.property(view, fc.double({ min: 0.2, max: 5, noNaN: true }), spot, (one, factor, at) => {
      const { x, y, scale } = zoomed(one, factor, at, frame);
      expect(scale).toBeGreaterThanOrEqual(1);
      expect(x).toBeLessThanOrEqual(0);
      expect(y).toBeLessThanOrEqual(0);
      expect(x + 800 * scale).toBeGreaterThanOrEqual(800 - 1e-6);
      expect(y + 600 * scale).toBeGreaterThanOrEqual(600 - 1e-6);
    }),
    { seed: 1 },
  );
});

test("nearer, what is pointed at stays under the finger", () => {
  const near = zoomed(WHOLE, 2, [200, 300], frame);
  expect(near).toEqual({ x: -200, y: -300, scale: 2 });
  expect(zoomed(near, 0.1, [200, 300], frame)).toEqual(WHOLE);
});

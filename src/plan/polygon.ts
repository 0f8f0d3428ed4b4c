// Owns how deep a point lies inside the convex hull of others, in a plane.

type Point = readonly [number, number];

const cross = (a: Point, b: Point, c: Point): number => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);

/** Half of a hull: the chain of points that turns left throughout. */
const chain = (points: readonly Point[]): Point[] => {
  const hull: Point[] = [];
  for (const point of points) {
    while (hull.length > 1 && cross(hull.at(-2)!, hull.at(-1)!, point) <= 0) hull.pop();
    hull.push(point);
  }
  return hull.slice(0, -1);
};

/**
 * How far a point lies inside the nearest edge of the convex hull of `points`, in their unit; negative outside,
 * −Infinity where the hull has no area. The hull is Andrew's monotone chain (Information Processing Letters 9, 1979).
 */
export const deepInside = (point: Point, points: readonly Point[]): number => {
  const sorted = points.toSorted((a, b) => a[0] - b[0] || a[1] - b[1]);
  const hull = [...chain(sorted), ...chain(sorted.toReversed())];
  if (hull.length < 3) return Number.NEGATIVE_INFINITY;
  return Math.min(
    ...hull.map((from, index) => {
      const to = hull[(index + 1) % hull.length]!;
      return cross(from, to, point) / Math.hypot(to[0] - from[0], to[1] - from[1]);
    }),
  );
};

// Owns how far inside the polygon of its rests a centre of mass lies, seen from above, for the checker.

type Point = readonly [number, number];

/** Square metres: three points whose cross product is no larger are in line. */
const IN_LINE = 1e-9;

/** Twice the area of the triangle, positive when it turns to the left. */
const turn = (o: Point, p: Point, q: Point) => (p[0] - o[0]) * (q[1] - o[1]) - (p[1] - o[1]) * (q[0] - o[0]);

/** One side of the convex hull of points that come in order of x (Andrew's monotone chain, Inf. Proc. Letters 9, 1979). */
function side(points: readonly Point[]): Point[] {
  const hull: Point[] = [];
  for (const point of points) {
    for (;;) {
      const [before, last] = [hull.at(-2), hull.at(-1)];
      if (!before || !last || turn(before, last, point) > IN_LINE) break;
      hull.pop();
    }
    hull.push(point);
  }
  return hull.slice(0, -1);
}

/**
 * Metres from `centre` to the nearest edge of the convex hull of `points`, negative when it lies outside that edge;
 * undefined when the hull has no area.
 */
export function depthInHull(points: readonly Point[], centre: Point): number | undefined {
  const sorted = [...points].sort((p, q) => p[0] - q[0] || p[1] - q[1]);
  const hull = [...side(sorted), ...side(sorted.toReversed())];
  if (hull.length < 3) return undefined;
  const depths = hull.map((corner, i) => {
    const next = hull[(i + 1) % hull.length] ?? corner;
    return turn(corner, next, centre) / Math.hypot(next[0] - corner[0], next[1] - corner[1]);
  });
  return Math.min(...depths);
}

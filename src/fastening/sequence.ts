// Owns the order in which the bolts of a layout are tightened, so that the clamp closes evenly.

import { along, type Bolt, polar, type Shape, shapeOf } from "./layout.ts";

/** How an order comes about: opposite and then square to it; from the middle to the ends; by balance alone. */
export const STYLES = ["cross", "centre outwards", "balanced"] as const;
export type Style = (typeof STYLES)[number];

const BY_SHAPE: Readonly<Record<Shape, Style>> = {
  "even circle": "cross",
  symmetric: "centre outwards",
  uneven: "balanced",
};

/** Figures closer than this, of figures about 1, are alike: the input is rounded, and a tie must stay a tie when the layout is turned. */
const ALIKE = 1e-6;
/** Harmonics of the layout that are looked at beyond its centroid: more tell nothing apart on a circle of up to so many bolts. */
const HARMONICS = 12;

/** The style that suits the layout, unless one is asked for. A cross over what is no even circle is made by balance. */
export function styleOf(bolts: readonly Bolt[], wanted?: Style): Style {
  const shape = shapeOf(bolts);
  if (wanted === "cross") return shape === "even circle" ? "cross" : "balanced";
  if (wanted !== undefined) return wanted;
  // Four at the corners of a square or rectangle: across, as on a flange.
  if (shape === "symmetric" && bolts.length <= 4 && polar(bolts).every(({ radius }) => radius > 0.98))
    return "balanced";
  return BY_SHAPE[shape];
}

/** The bolts in their order of tightening. */
export function sequence(bolts: readonly Bolt[], style: Style): readonly Bolt[] {
  if (style === "centre outwards") return centreOutwards(bolts);
  if (style === "balanced" || bolts.length % 2 === 1) return balanced(bolts);
  const round = clockwise(bolts);
  return crossOrder(round.length).map((place) => round[place] as Bolt);
}

/** The bolts clockwise, the first at the top or next after it. */
export const clockwise = (bolts: readonly Bolt[]): readonly Bolt[] =>
  [...polar(bolts)].sort((a, b) => a.angle - b.angle || a.radius - b.radius).map(({ bolt }) => bolt);

/**
 * Places 0 … n − 1 round an even circle in cross order. Of n = 4q: a bolt, its opposite, and the two square to them; the quads begin
 * in the cross order of a circle of q. It gives the published lists of ASME PCC-1 for 4, 8, 12, 16, 20 and 24. Of n = 2m, m odd: pairs, begun in
 * the order of a circle of m. Of odd n, by balance: the two that stand farthest from each other take turns.
 */
export function crossOrder(n: number): readonly number[] {
  if (n % 4 === 0) return crossOrder(n / 4).flatMap((s) => [s, s + n / 2, s + n / 4, s + (3 * n) / 4]);
  if (n % 2 === 0) return crossOrder(n / 2).flatMap((s) => [s, s + n / 2]);
  if (n < 4) return Array.from({ length: n }, (_, i) => i);
  const circle = Array.from({ length: n }, (_, i) => {
    const angle = (2 * Math.PI * i) / n;
    return { id: String(i), x: Math.sin(angle), y: Math.cos(angle) };
  });
  return balanced(circle).map(({ id }) => Number(id));
}

/**
 * Each next bolt keeps the centroid of those tightened nearest to the centre. Of equals the one that also evens out
 * the higher harmonics of the layout, then the farthest from the one just tightened, then the first clockwise from the top.
 */
function balanced(bolts: readonly Bolt[]): readonly Bolt[] {
  const left = [...polar(bolts)].sort((a, b) => a.angle - b.angle || a.radius - b.radius);
  const sums = Array.from({ length: HARMONICS }, () => ({ re: 0, im: 0 }));
  const done: Bolt[] = [];
  let last: { readonly radius: number; readonly angle: number } | undefined;
  while (left.length > 0) {
    let best = 0;
    let figures = figuresOf(left[0] as Spot, sums, last);
    for (let i = 1; i < left.length; i++) {
      const one = figuresOf(left[i] as Spot, sums, last);
      if (less(one, figures)) [best, figures] = [i, one];
    }
    const [chosen] = left.splice(best, 1) as [Spot & { readonly bolt: Bolt }];
    for (const [h, sum] of sums.entries()) {
      sum.re += chosen.radius ** (h + 1) * Math.cos((h + 1) * chosen.angle);
      sum.im += chosen.radius ** (h + 1) * Math.sin((h + 1) * chosen.angle);
    }
    done.push(chosen.bolt);
    last = chosen;
  }
  return done;
}

interface Spot {
  readonly radius: number;
  readonly angle: number;
}

/** What decides between bolts, the weightiest first; less is better. */
function figuresOf(spot: Spot, sums: readonly { readonly re: number; readonly im: number }[], last?: Spot): number[] {
  const figures = sums.map(({ re, im }, h) => {
    const r = spot.radius ** (h + 1);
    return Math.hypot(re + r * Math.cos((h + 1) * spot.angle), im + r * Math.sin((h + 1) * spot.angle));
  });
  if (last !== undefined) {
    const turn = spot.angle - last.angle;
    figures.push(
      -Math.sqrt(Math.max(0, spot.radius ** 2 + last.radius ** 2 - 2 * spot.radius * last.radius * Math.cos(turn))),
    );
  }
  return figures;
}

function less(one: readonly number[], other: readonly number[]): boolean {
  for (const [i, a] of one.entries()) {
    const b = other[i] as number;
    if (Math.abs(a - b) > ALIKE) return a < b;
  }
  return false;
}

/**
 * Nearest to the middle first. Of equally near ones: across the long axis from the one just tightened, then across the short
 * one, then the first clockwise.
 */
function centreOutwards(bolts: readonly Bolt[]): readonly Bolt[] {
  const spots = along(bolts);
  const size = Math.max(...spots.map(({ u, v }) => Math.hypot(u, v)), ALIKE);
  const rank = new Map(clockwise(bolts).map((bolt, i) => [bolt.id, i]));
  const left = spots
    .map(({ bolt, u, v }) => ({ bolt, u: u / size, v: v / size, far: Math.hypot(u, v) / size }))
    .sort((a, b) => (rank.get(a.bolt.id) as number) - (rank.get(b.bolt.id) as number));
  const done: Bolt[] = [];
  let last: (typeof left)[number] | undefined;
  while (left.length > 0) {
    const near = Math.min(...left.map(({ far }) => far));
    const figures = (spot: (typeof left)[number]): number[] => {
      if (last === undefined) return [0];
      const mirrored = Math.hypot(spot.u - last.u, spot.v + last.v) < 0.02;
      const beside = Math.hypot(spot.u + last.u, spot.v - last.v) < 0.02;
      return [mirrored ? 0 : beside ? 1 : 2];
    };
    let best: number | undefined;
    for (const [i, spot] of left.entries()) {
      if (spot.far > near + ALIKE) continue;
      if (best === undefined || less(figures(spot), figures(left[best] as typeof spot))) best = i;
    }
    const [chosen] = left.splice(best ?? 0, 1) as [(typeof left)[number]];
    done.push(chosen.bolt);
    last = chosen;
  }
  return done;
}

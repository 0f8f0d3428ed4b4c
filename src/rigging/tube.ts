// Owns the proof that a solution of equations keeps near what the first two degrees say of it, while the figures move anywhere within their bounds.
//
// With x₂(ε) the solution to the second degree and C the inverse of the equations' slope in the middle, put x = x₂(ε) + r. If r − C·F(x₂ + r, ε) keeps every r of a box within
// the inside of that box, then for every ε it holds a solution (Brouwer), and none lies on its edge: one that starts inside and changes steadily with the figures cannot
// leave. (Krawczyk's operator, worked out in Taylor models; Neumaier, Interval Methods for Systems of Equations, 1990, ch. 5.)

import type { Edges } from "./enclose.ts";
import { inverse } from "./matrix.ts";
import { type Arithmetic, type Model, Models, type Tangent, Tangents } from "./taylor.ts";

/** Equations `off` that are nought at the solution, and outputs that follow from it. */
export interface System {
  readonly unknowns: number;
  readonly at: <T>(
    m: Arithmetic<T>,
    x: readonly T[],
    figures: readonly T[],
  ) => { readonly off: readonly T[]; readonly out: readonly T[] };
}

export interface Tube {
  /** Which of the figures move: all models are of these, in this order. */
  readonly wide: readonly number[];
  readonly models: Models;
  /** Where the unknowns are for each case of the box, and the outputs. */
  readonly unknowns: readonly Model[];
  readonly outputs: readonly Model[];
}

/** Nothing is proved: the box is too wide, most of all in these of its figures, the worst first. */
export interface NoTube {
  readonly heavy: readonly number[];
}

const NEWTON = 12;
const ROUNDS = 8;
/** What is left over beside the second degree is first supposed to be so small a share of how far the unknown goes. */
const GUESS = 0.01;
/** Once it holds, it is asked again for less, so often at most and as long as that gains so much. */
const SHARPEN = 3;
const GAIN = 0.9;
/** Rounding and more, added to each thing left over. */
const HAIR = 1e-13;

/** The tube about the solution that Newton's steps find from `start`. */
export function tubeOf(system: System, start: ArrayLike<number>, box: Edges): Tube | NoTube {
  const wide = box.flatMap(([lo, hi], i) => (hi > lo ? [i] : []));
  const nw = wide.length;
  const still = newton(system, start, box);
  if (still === undefined) return { heavy: wide };
  const { x: middle, c } = still;
  const models = new Models(nw);
  const solved = toSecondDegree(system, models, middle, c, figuresOf(models, box, wide));
  const m = new Models(nw + system.unknowns);
  const lifted = solved.map((each) => m.taken(each, models));
  const figures = figuresOf(m, box, wide);
  const ask = (rest: readonly number[]): { readonly next: number[]; readonly out: readonly Model[] } => {
    const x = lifted.map((each, i) => m.sum(each, m.moving(0, rest[i]!, nw + i)));
    const { off, out } = system.at(m, x, figures);
    return { next: rest.map((own, i) => HAIR + sizeOf(off, c, i, 1 + nw + i, own)), out };
  };
  let rest = solved.map(({ c: [, ...way] }) => way.reduce((sum, each) => sum + GUESS * Math.abs(each), HAIR));
  for (let round = 0; round < ROUNDS; round++) {
    const { next } = ask(rest);
    if (!next.every((each) => each < LOST)) break;
    if (next.every((each, i) => each < rest[i]!)) return sharpened(next);
    rest = next.map((each) => 1.3 * each);
  }
  return { heavy: heaviest(solved, wide) };

  /** What is left over holds for all that was supposed, and so for what is left of it. */
  function sharpened(held: readonly number[]): Tube {
    let kept = held;
    for (let again = 0; ; again++) {
      const { next, out } = ask(kept);
      const less = next.map((each, i) => Math.min(each, kept[i]!));
      if (again < SHARPEN && less.some((each, i) => each < GAIN * kept[i]!)) {
        kept = less;
        continue;
      }
      const unknowns = solved.map(({ c: each }, i) => ({ c: each, over: less[i]! }));
      return { wide, models, unknowns, outputs: out.map((each) => models.taken(each, m)) };
    }
  }
}

/** Far beyond any pull a metre, newtons: nothing will come of it. */
const LOST = 1e6;

const figuresOf = (m: Models, box: Edges, wide: readonly number[]): Model[] =>
  box.map(([lo, hi], i) => (hi > lo ? m.moving((lo + hi) / 2, (hi - lo) / 2, wide.indexOf(i)) : m.plain(lo)));

/**
 * Whether the equations' slope is regular for every case of the tube: |1 − C·F′| < 1 in some norm of weights (Perron), C of the middle. Then nothing branches off, and what is
 * stable at one case is so at all.
 */
export function regular(system: System, { models, unknowns, wide }: Tube, box: Edges): boolean {
  const off = slopesOver(system, models, unknowns, box, wide);
  if (off === undefined) return false;
  let weights = off.map(() => 1);
  for (let round = 0; round < PERRON; round++) {
    const next = weights.map((_, i) => off.reduce((sum, column, l) => sum + column[i]! * weights[l]!, 1e-30));
    if (next.every((each, i) => each < weights[i]!)) return true;
    const most = Math.max(...next);
    if (!Number.isFinite(most)) return false;
    weights = next.map((each, i) => 0.5 * (each / most) + 0.5 * weights[i]!);
  }
  return false;
}
const PERRON = 30;

/** How far each entry of C·F′ may be from that of 1, over the whole tube, column by column; C the inverse of F′ in its middle. */
function slopesOver(
  system: System,
  m: Models,
  x: readonly Model[],
  box: Edges,
  wide: readonly number[],
): number[][] | undefined {
  const nx = x.length;
  const t = new Tangents(m);
  const [none, one] = [m.plain(0), m.plain(1)];
  const figures = figuresOf(m, box, wide).map((at): Tangent => ({ at, way: none }));
  const columns = x.map((_, l) =>
    system
      .at(
        t,
        x.map((at, i): Tangent => ({ at, way: i === l ? one : none })),
        figures,
      )
      .off.map(({ way }) => way),
  );
  const middle = new Float64Array(nx * nx);
  for (const [l, column] of columns.entries())
    for (const [i, each] of column.entries()) middle[i * nx + l] = each.c[0]!;
  const c = inverse(middle, nx);
  return c && columns.map((column, l) => column.map((_, i) => HAIR + sizeOf(column, c, i, 0, i === l ? 1 : 0)));
}

/** How far Σ C·column goes in row i, with `more` added to its k-th coefficient. */
function sizeOf(column: readonly Model[], c: Float64Array, i: number, k: number, more: number): number {
  const nx = column.length;
  const sum = column[0]!.c.map(() => 0);
  let size = 0;
  for (let l = 0; l < nx; l++) {
    const by = -c[i * nx + l]!;
    const each = column[l]!;
    for (let j = 0; j < sum.length; j++) sum[j] = sum[j]! + by * each.c[j]!;
    size += Math.abs(by) * each.over;
  }
  sum[k] = sum[k]! + more;
  for (let j = 0; j < sum.length; j++) size += Math.abs(sum[j]!);
  return size * (1 + 1e-12);
}

/** The figures by how much of the way that the unknowns go is theirs. */
function heaviest(solved: readonly Model[], wide: readonly number[]): number[] {
  const shares = wide.map((i, k) => {
    const share = solved.reduce((sum, { c }) => {
      const whole = wide.reduce((s, _, l) => s + Math.abs(c[1 + l]!), 1e-12);
      return sum + Math.abs(c[1 + k]!) / whole;
    }, 0);
    return { i, share };
  });
  return shares.sort((a, b) => b.share - a.share).map(({ i }) => i);
}

/** The solution at the middle of the box, and the inverse of the equations' slope there. */
function newton(
  system: System,
  start: ArrayLike<number>,
  box: Edges,
): { readonly x: Float64Array; readonly c: Float64Array } | undefined {
  const nx = system.unknowns;
  const m = new Models(nx, 1);
  const figures = box.map(([lo, hi]) => m.plain((lo + hi) / 2));
  const x = Float64Array.from(start);
  for (let step = 0; step < NEWTON; step++) {
    const { off } = system.at(
      m,
      Array.from(x, (each, i) => m.moving(each, NEAR, i)),
      figures,
    );
    const slope = new Float64Array(nx * nx);
    for (let i = 0; i < nx; i++) for (let l = 0; l < nx; l++) slope[i * nx + l] = off[i]!.c[1 + l]! / NEAR;
    const c = inverse(slope, nx);
    if (c === undefined) return undefined;
    const move = x.map((_, i) => off.reduce((sum, each, l) => sum - c[i * nx + l]! * each.c[0]!, 0));
    const far = move.reduce((most, each, i) => Math.max(most, Math.abs(each) / (1 + Math.abs(x[i]!))), 0);
    if (!Number.isFinite(far)) return undefined;
    if (far < 1e-11 && step > 0) return { x, c };
    const share = Math.min(1, 0.5 / far);
    for (let i = 0; i < nx; i++) x[i] = x[i]! + share * move[i]!;
  }
  return undefined;
}
/** The slope is read off the first degree, which is exact however short the way. */
const NEAR = 1e-6;

/** x₂: each step of x − C·F with the slope of the middle is right to one degree more. */
function toSecondDegree(
  system: System,
  m: Models,
  middle: Float64Array,
  c: Float64Array,
  figures: readonly Model[],
): Model[] {
  const nx = middle.length;
  let x = Array.from(middle, (each) => m.plain(each));
  for (let degree = 1; degree <= 2; degree++) {
    const { off } = system.at(m, x, figures);
    x = x.map((each, i) => {
      const made = each.c.slice();
      for (let l = 0; l < nx; l++) {
        const by = c[i * nx + l]!;
        for (let k = 1; k < made.length; k++) made[k] = made[k]! - by * off[l]!.c[k]!;
      }
      return { c: made, over: 0 };
    });
  }
  return x;
}

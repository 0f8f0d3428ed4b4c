// Owns numbers known between two bounds, with bounds on their slopes: what is proved about a function over a whole box.
//
// Each result is widened by more than its rounding, so the bounds hold in the machine's arithmetic too (R. E. Moore, Interval Analysis, 1966; slopes
// by forward differentiation, Griewank & Walther, Evaluating Derivatives, 2008).

/** lo ≤ value ≤ hi for every point of the box, and slope[2i] ≤ ∂value/∂xᵢ ≤ slope[2i+1]. */
export interface Bounded {
  readonly lo: number;
  readonly hi: number;
  readonly slope: number[];
}

/** Twice the spacing of numbers; figures of a rig are nowhere near the smallest there are, so a share is enough, and nought stays nought. */
const ULP = 2 ** -51;
const down = (x: number): number => x - Math.abs(x) * ULP;
const up = (x: number): number => x + Math.abs(x) * ULP;

const NONE: number[] = [];
/**
 * Room for slopes, to be written all over. Literals of fractions, because the engine makes plain lists of doubles of them many times faster than typed arrays,
 * and all of this is made by the thousand.
 */
function room(size: number): number[] {
  switch (size) {
    case 0:
      return NONE;
    case 2:
      return [0.5, 0.5];
    case 4:
      return [0.5, 0.5, 0.5, 0.5];
    case 6:
      return [0.5, 0.5, 0.5, 0.5, 0.5, 0.5];
    case 8:
      return [0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5];
    case 10:
      return [0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5];
    case 12:
      return [0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5];
    default:
      return new Array<number>(size).fill(0.5);
  }
}
function flat(size: number): number[] {
  const slope = room(size);
  for (let i = 0; i < size; i++) slope[i] = 0;
  return slope;
}

/** The i-th of n variables between two bounds. */
export function variable(lo: number, hi: number, i: number, n: number): Bounded {
  const slope = flat(2 * n);
  slope[2 * i] = 1;
  slope[2 * i + 1] = 1;
  return { lo, hi, slope };
}

/** What depends on none of the n variables. */
export const within = (lo: number, hi: number, n: number): Bounded => ({ lo, hi, slope: flat(2 * n) });

export function plus(a: Bounded, b: Bounded): Bounded {
  const slope = room(a.slope.length);
  for (let i = 0; i < slope.length; i += 2) {
    slope[i] = down(a.slope[i]! + b.slope[i]!);
    slope[i + 1] = up(a.slope[i + 1]! + b.slope[i + 1]!);
  }
  return { lo: down(a.lo + b.lo), hi: up(a.hi + b.hi), slope };
}

export function minus(a: Bounded, b: Bounded): Bounded {
  const slope = room(a.slope.length);
  for (let i = 0; i < slope.length; i += 2) {
    slope[i] = down(a.slope[i]! - b.slope[i + 1]!);
    slope[i + 1] = up(a.slope[i + 1]! - b.slope[i]!);
  }
  return { lo: down(a.lo - b.hi), hi: up(a.hi - b.lo), slope };
}

/** 0·∞ is 0 here: an end that is nought stays nought however far the other factor reaches. */
const product = (x: number, y: number): number => (x === 0 || y === 0 ? 0 : x * y);
function least(a: number, b: number, c: number, d: number): number {
  if (a >= 0 && c >= 0) return product(a, c);
  return Math.min(Math.min(product(a, c), product(a, d)), Math.min(product(b, c), product(b, d)));
}
function most(a: number, b: number, c: number, d: number): number {
  if (a >= 0 && c >= 0) return product(b, d);
  return Math.max(Math.max(product(a, c), product(a, d)), Math.max(product(b, c), product(b, d)));
}

export function times(a: Bounded, b: Bounded): Bounded {
  const { lo: al, hi: ah, slope: from } = a;
  const { lo: bl, hi: bh, slope: to } = b;
  const n = from.length;
  const slope = room(n);
  for (let i = 0; i < n; i += 2) {
    const [pl, ph, ql, qh] = [from[i]!, from[i + 1]!, to[i]!, to[i + 1]!];
    let [lo, hi] = [0, 0];
    if (pl !== 0 || ph !== 0) {
      lo = least(pl, ph, bl, bh);
      hi = most(pl, ph, bl, bh);
    }
    if (ql !== 0 || qh !== 0) {
      lo += least(ql, qh, al, ah);
      hi += most(ql, qh, al, ah);
    }
    slope[i] = down(down(lo));
    slope[i + 1] = up(up(hi));
  }
  return { lo: down(least(al, ah, bl, bh)), hi: up(most(al, ah, bl, bh)), slope };
}

/** With a plain number added: the slopes are the same ones. */
export const shifted = (a: Bounded, by: number): Bounded => ({
  lo: down(a.lo + by),
  hi: up(a.hi + by),
  slope: a.slope,
});

/** By a plain number. */
export function scaled(a: Bounded, by: number): Bounded {
  const slope = room(a.slope.length);
  const [first, last] = by < 0 ? [1, 0] : [0, 1];
  for (let i = 0; i < slope.length; i += 2) {
    slope[i] = down(product(a.slope[i + first]!, by));
    slope[i + 1] = up(product(a.slope[i + last]!, by));
  }
  const [x, y] = [product(a.lo, by), product(a.hi, by)];
  return { lo: down(Math.min(x, y)), hi: up(Math.max(x, y)), slope };
}

/** f(a) for a function that never falls or never rises, with its derivative's bounds over a. */
function through(a: Bounded, lo: number, hi: number, dlo: number, dhi: number): Bounded {
  const slope = room(a.slope.length);
  for (let i = 0; i < slope.length; i += 2) {
    if (a.slope[i] === 0 && a.slope[i + 1] === 0) {
      slope[i] = 0;
      slope[i + 1] = 0;
      continue;
    }
    slope[i] = down(least(a.slope[i]!, a.slope[i + 1]!, dlo, dhi));
    slope[i + 1] = up(most(a.slope[i]!, a.slope[i + 1]!, dlo, dhi));
  }
  return { lo, hi, slope };
}

export function squared(a: Bounded): Bounded {
  const [x, y] = [a.lo * a.lo, a.hi * a.hi];
  const lo = a.lo <= 0 && a.hi >= 0 ? 0 : Math.max(0, down(Math.min(x, y)));
  return through(a, lo, up(Math.max(x, y)), down(2 * a.lo), up(2 * a.hi));
}

/** The root of what is not negative anywhere it counts; undefined where it is negative everywhere. */
export function root(a: Bounded): Bounded | undefined {
  if (a.hi < 0) return undefined;
  const [lo, hi] = [Math.max(0, down(Math.sqrt(Math.max(0, a.lo)))), up(Math.sqrt(a.hi))];
  return through(a, lo, hi, down(0.5 / hi), lo === 0 ? Number.POSITIVE_INFINITY : up(0.5 / lo));
}

/** One over what is never nought; where it may be nought, everything. */
export function inverse(a: Bounded): Bounded {
  if (a.lo <= 0 && a.hi >= 0) {
    const slope = room(a.slope.length);
    for (let i = 0; i < slope.length; i += 2) {
      slope[i] = Number.NEGATIVE_INFINITY;
      slope[i + 1] = Number.POSITIVE_INFINITY;
    }
    return { lo: Number.NEGATIVE_INFINITY, hi: Number.POSITIVE_INFINITY, slope };
  }
  const [p, q] = [1 / a.lo ** 2, 1 / a.hi ** 2];
  return through(a, down(1 / a.hi), up(1 / a.lo), -up(Math.max(p, q)), -down(Math.min(p, q)));
}

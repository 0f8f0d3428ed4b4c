// Owns numbers known between two bounds, with bounds on their slopes: what is proved about a function over a whole box.
//
// Each result is widened by more than its rounding, so the bounds hold in the machine's arithmetic too (R. E. Moore, Interval Analysis, 1966; slopes
// by forward differentiation, Griewank & Walther, Evaluating Derivatives, 2008).

/** lo, hi, then of each variable the least and the greatest slope: lo ≤ value ≤ hi for every point of the box. One plain list of numbers, because thousands of them are made. */
export type Bounded = readonly number[];
type Room = number[];

/** Twice the spacing of numbers; figures of a rig are nowhere near the smallest there are, so a share is enough, and nought stays nought. */
const ULP = 2 ** -51;
const down = (x: number): number => x - Math.abs(x) * ULP;
const up = (x: number): number => x + Math.abs(x) * ULP;

/** Room to be written all over. Literals of fractions, because the engine makes plain lists of doubles of them many times faster than typed arrays. */
function room(size: number): Room {
  switch (size) {
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
    case 14:
      return [0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5];
    default:
      return new Array<number>(size).fill(0.5);
  }
}

/** What depends on none of the n variables. */
export function within(lo: number, hi: number, n: number): Bounded {
  const made = room(2 * n + 2);
  made[0] = lo;
  made[1] = hi;
  for (let i = 2; i < made.length; i++) made[i] = 0;
  return made;
}

/** The i-th of n variables between two bounds. */
export function variable(lo: number, hi: number, i: number, n: number): Bounded {
  const made = within(lo, hi, n) as Room;
  made[2 * i + 2] = 1;
  made[2 * i + 3] = 1;
  return made;
}

export function plus(a: Bounded, b: Bounded): Bounded {
  const made = room(a.length);
  for (let i = 0; i < made.length; i += 2) {
    made[i] = down(a[i]! + b[i]!);
    made[i + 1] = up(a[i + 1]! + b[i + 1]!);
  }
  return made;
}

export function minus(a: Bounded, b: Bounded): Bounded {
  const made = room(a.length);
  for (let i = 0; i < made.length; i += 2) {
    made[i] = down(a[i]! - b[i + 1]!);
    made[i + 1] = up(a[i + 1]! - b[i]!);
  }
  return made;
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
  const [al, ah, bl, bh] = [a[0]!, a[1]!, b[0]!, b[1]!];
  const made = room(a.length);
  made[0] = down(least(al, ah, bl, bh));
  made[1] = up(most(al, ah, bl, bh));
  for (let i = 2; i < made.length; i += 2) {
    const [pl, ph, ql, qh] = [a[i]!, a[i + 1]!, b[i]!, b[i + 1]!];
    let [lo, hi] = [0, 0];
    if (pl !== 0 || ph !== 0) {
      lo = least(pl, ph, bl, bh);
      hi = most(pl, ph, bl, bh);
    }
    if (ql !== 0 || qh !== 0) {
      lo += least(ql, qh, al, ah);
      hi += most(ql, qh, al, ah);
    }
    made[i] = down(down(lo));
    made[i + 1] = up(up(hi));
  }
  return made;
}

/** With a plain number added. */
export function shifted(a: Bounded, by: number): Bounded {
  const made = room(a.length);
  made[0] = down(a[0]! + by);
  made[1] = up(a[1]! + by);
  for (let i = 2; i < made.length; i++) made[i] = a[i]!;
  return made;
}

/** By a plain number. */
export function scaled(a: Bounded, by: number): Bounded {
  const made = room(a.length);
  const first = by < 0 ? 1 : 0;
  for (let i = 0; i < made.length; i += 2) {
    made[i] = down(product(a[i + first]!, by));
    made[i + 1] = up(product(a[i + 1 - first]!, by));
  }
  return made;
}

/** f(a) for a function that never falls or never rises, with its derivative's bounds over a. */
function through(a: Bounded, lo: number, hi: number, dlo: number, dhi: number): Bounded {
  const made = room(a.length);
  made[0] = lo;
  made[1] = hi;
  for (let i = 2; i < made.length; i += 2) {
    const [pl, ph] = [a[i]!, a[i + 1]!];
    const none = pl === 0 && ph === 0;
    made[i] = none ? 0 : down(least(pl, ph, dlo, dhi));
    made[i + 1] = none ? 0 : up(most(pl, ph, dlo, dhi));
  }
  return made;
}

export function squared(a: Bounded): Bounded {
  const [al, ah] = [a[0]!, a[1]!];
  const [x, y] = [al * al, ah * ah];
  const lo = al <= 0 && ah >= 0 ? 0 : Math.max(0, down(Math.min(x, y)));
  return through(a, lo, up(Math.max(x, y)), down(2 * al), up(2 * ah));
}

/** The root of what is not negative anywhere it counts; undefined where it is negative everywhere. */
export function root(a: Bounded): Bounded | undefined {
  const [al, ah] = [a[0]!, a[1]!];
  if (ah < 0) return undefined;
  const [lo, hi] = [Math.max(0, down(Math.sqrt(Math.max(0, al)))), up(Math.sqrt(ah))];
  return through(a, lo, hi, down(0.5 / hi), lo === 0 ? Number.POSITIVE_INFINITY : up(0.5 / lo));
}

/** One over what is never nought; where it may be nought, everything. */
export function inverse(a: Bounded): Bounded {
  const [al, ah] = [a[0]!, a[1]!];
  if (al <= 0 && ah >= 0) {
    const made = room(a.length);
    for (let i = 0; i < made.length; i += 2) {
      made[i] = Number.NEGATIVE_INFINITY;
      made[i + 1] = Number.POSITIVE_INFINITY;
    }
    return made;
  }
  const [p, q] = [1 / al ** 2, 1 / ah ** 2];
  return through(a, down(1 / ah), up(1 / al), -up(Math.max(p, q)), -down(Math.min(p, q)));
}

// Owns numbers that depend on others which move within bounds, as polynomials of the second degree with a bound on what is left over.
//
// The others are ε₁ … εₙ, each in [−1, 1]. A number is c + Σ lᵢεᵢ + Σ qᵢⱼεᵢεⱼ ± over. What sums of products cancel in the first two degrees is cancelled exactly, which bounds
// alone cannot do. Every result is widened by more than its rounding. (Taylor models: Berz & Makino, Reliable Computing 4, 1998.)

/** What equations need to be worked out in: with these figures, or with these and their slopes. */
export interface Arithmetic<T> {
  readonly plain: (value: number) => T;
  /** a + by·b */
  readonly sum: (a: T, b: T, by?: number) => T;
  readonly less: (a: T, b: T) => T;
  readonly scaled: (a: T, by: number) => T;
  readonly shifted: (a: T, by: number) => T;
  readonly times: (a: T, b: T) => T;
  readonly root: (a: T) => T;
  readonly inverse: (a: T) => T;
  /** The same as something that does not change with what slopes are taken of. */
  readonly held: (a: T) => T;
}

/** Coefficients: the constant, then the n linear ones, then the square ones row by row of the lower triangle; and what may come on top, ±. */
export interface Model {
  readonly c: number[];
  readonly over: number;
}

/** More than the rounding of a sum of as many terms as there ever are, as a share of the sizes summed. */
const ROUND = 2 ** -46;

export class Models implements Arithmetic<Model> {
  readonly n: number;
  private readonly degree: 1 | 2;
  private readonly size: number;
  private readonly blank: number[];

  /** @param degree 1: what is of the second degree is left over as well. */
  constructor(n: number, degree: 1 | 2 = 2) {
    this.n = n;
    this.degree = degree;
    this.size = degree === 1 ? 1 + n : 1 + n + (n * (n + 1)) / 2;
    // Of fractions first, so that the engine keeps plain lists of doubles, which it makes many times faster than typed arrays.
    this.blank = Array.from({ length: this.size }, () => 0.5);
    for (let i = 0; i < this.size; i++) this.blank[i] = 0;
  }

  private room(): number[] {
    return this.blank.slice();
  }

  plain(value: number): Model {
    const c = this.room();
    c[0] = value;
    return { c, over: 0 };
  }

  /** middle + half·εₖ */
  moving(middle: number, half: number, k: number): Model {
    const made = this.plain(middle);
    made.c[1 + k] = half;
    return made;
  }

  sum(a: Model, b: Model, by = 1): Model {
    const c = this.room();
    let sizes = 0;
    for (let i = 0; i < c.length; i++) {
      const value = a.c[i]! + by * b.c[i]!;
      c[i] = value;
      sizes += Math.abs(value);
    }
    return { c, over: a.over + Math.abs(by) * b.over + ROUND * sizes };
  }

  held(a: Model): Model {
    return a;
  }

  less(a: Model, b: Model): Model {
    return this.sum(a, b, -1);
  }

  scaled(a: Model, by: number): Model {
    const c = this.room();
    for (let i = 0; i < c.length; i++) c[i] = by * a.c[i]!;
    return { c, over: Math.abs(by) * a.over * (1 + ROUND) };
  }

  shifted(a: Model, by: number): Model {
    const c = a.c.slice();
    c[0] = c[0]! + by;
    return { c, over: a.over + ROUND * Math.abs(c[0]) };
  }

  /** How far the linear and the square part go. */
  private reach(a: Model): readonly [number, number] {
    let [linear, square] = [0, 0];
    for (let i = 1; i <= this.n; i++) linear += Math.abs(a.c[i]!);
    for (let i = 1 + this.n; i < a.c.length; i++) square += Math.abs(a.c[i]!);
    return [linear, square];
  }

  times(a: Model, b: Model): Model {
    const { n } = this;
    const c = this.room();
    const [a0, b0] = [a.c[0]!, b.c[0]!];
    for (let i = 0; i < c.length; i++) c[i] = a0 * b.c[i]! + b0 * a.c[i]!;
    c[0] = a0 * b0;
    let at = 1 + n;
    for (let i = 1; i <= n && this.degree === 2; i++) {
      const [ai, bi] = [a.c[i]!, b.c[i]!];
      if (ai === 0 && bi === 0) {
        at += i;
        continue;
      }
      for (let j = 1; j < i; j++, at++) c[at] = c[at]! + ai * b.c[j]! + bi * a.c[j]!;
      c[at] = c[at]! + ai * bi;
      at++;
    }
    const [al, aq] = this.reach(a);
    const [bl, bq] = this.reach(b);
    const whole = (Math.abs(a0) + al + aq) * (Math.abs(b0) + bl + bq);
    const higher = al * bq + aq * bl + aq * bq + (this.degree === 1 ? al * bl : 0);
    const over = (Math.abs(a0) + al + aq) * b.over + (Math.abs(b0) + bl + bq) * a.over + a.over * b.over;
    return { c, over: (higher + over) * (1 + ROUND) + ROUND * whole };
  }

  /** f(a) by Taylor's formula about its middle: f, f′, f″/2 there, and a bound on |f‴|/6 over all that it may be. */
  private through(
    a: Model,
    f: number,
    slope: number,
    half: number,
    third: (low: number, high: number) => number,
  ): Model {
    const [linear, square] = this.reach(a);
    const far = linear + square + a.over;
    const off = { c: a.c.slice(), over: a.over };
    off.c[0] = 0;
    const bent = this.sum(this.scaled(off, slope), this.scaled(this.times(off, off), half));
    const made = this.shifted(bent, f);
    return { c: made.c, over: made.over + third(a.c[0]! - far, a.c[0]! + far) * far ** 3 * (1 + ROUND) };
  }

  root(a: Model): Model {
    const r = Math.sqrt(a.c[0]!);
    return this.through(a, r, 0.5 / r, -0.125 / r ** 3, (low) =>
      low > 0 ? low ** -2.5 / 16 : Number.POSITIVE_INFINITY,
    );
  }

  inverse(a: Model): Model {
    const x = a.c[0]!;
    return this.through(a, 1 / x, -1 / x ** 2, 1 / x ** 3, (low, high) =>
      low > 0 || high < 0 ? Math.min(Math.abs(low), Math.abs(high)) ** -4 : Number.POSITIVE_INFINITY,
    );
  }

  /** A model of others, of which the first are these: what it has beyond them becomes part of what is left over. */
  taken(a: Model, from: Models): Model {
    const both = Math.min(this.n, from.n);
    const c = this.room();
    for (let i = 0; i <= both; i++) c[i] = a.c[i]!;
    let over = 0;
    for (let i = 1 + both; i <= from.n; i++) over += Math.abs(a.c[i]!);
    // Rows of the lower triangle: those of the first come first.
    const squares = (both * (both + 1)) / 2;
    for (let k = 0; k < squares; k++) c[1 + this.n + k] = a.c[1 + from.n + k]!;
    for (let k = 1 + from.n + squares; k < a.c.length; k++) over += Math.abs(a.c[k]!);
    return { c, over: a.over + over * (1 + ROUND) };
  }

  /** Its value without what is left over. */
  valueAt(a: Model, at: readonly number[]): number {
    let sum = a.c[0]!;
    let square = 1 + this.n;
    for (let i = 0; i < this.n; i++) {
      sum += a.c[1 + i]! * at[i]!;
      for (let j = 0; j <= i; j++, square++) sum += a.c[square]! * at[i]! * at[j]!;
    }
    return sum;
  }

  /**
   * The greatest (`sign` 1) or least that it may be: where it rises or falls with one of the others whatever the rest does, that one is at its end, which is the proof that it
   * is there; what remains is bounded term by term. And where each of the others is then, 0 where nothing tells.
   */
  end(a: Model, sign: 1 | -1): { readonly bound: number; readonly at: readonly number[] } {
    const { n } = this;
    const at = new Array<number>(n).fill(0);
    const square = (i: number, j: number): number =>
      a.c[1 + n + (Math.max(i, j) * (Math.max(i, j) + 1)) / 2 + Math.min(i, j)]!;
    for (let fixed = true; fixed; ) {
      fixed = false;
      for (let i = 0; i < n; i++) {
        if (at[i] !== 0) continue;
        let slope = a.c[1 + i]!;
        let play = 2 * Math.abs(square(i, i));
        for (let j = 0; j < n; j++) {
          if (j === i) continue;
          if (at[j] === 0) play += Math.abs(square(i, j));
          else slope += square(i, j) * at[j]!;
        }
        if (Math.abs(slope) < play || slope === 0) continue;
        at[i] = sign * Math.sign(slope);
        fixed = true;
      }
    }
    let bound = sign * a.c[0]! + a.over;
    let sizes = Math.abs(a.c[0]!);
    for (let i = 0; i < n; i++) {
      const rest = (value: number): void => {
        bound += value;
        sizes += Math.abs(value);
      };
      rest(at[i] === 0 ? Math.abs(a.c[1 + i]!) : sign * a.c[1 + i]! * at[i]!);
      for (let j = 0; j <= i; j++) {
        const q = sign * square(i, j);
        if (at[i] !== 0 && at[j] !== 0) rest(q * at[i]! * at[j]!);
        else rest(i === j ? Math.max(0, q) : Math.abs(q));
      }
    }
    return { bound: sign * (bound + ROUND * sizes), at };
  }
}

/** A model and its slope along one of what it is worked out from. */
export interface Tangent {
  readonly at: Model;
  readonly way: Model;
}

/** Models with their slopes, by the rules of differentiation (Griewank & Walther, Evaluating Derivatives, 2008). */
export class Tangents implements Arithmetic<Tangent> {
  private readonly m: Models;
  private readonly none: Model;

  constructor(m: Models) {
    this.m = m;
    this.none = m.plain(0);
  }

  plain(value: number): Tangent {
    return { at: this.m.plain(value), way: this.none };
  }

  held({ at }: Tangent): Tangent {
    return { at, way: this.none };
  }

  sum(a: Tangent, b: Tangent, by = 1): Tangent {
    return { at: this.m.sum(a.at, b.at, by), way: this.m.sum(a.way, b.way, by) };
  }

  less(a: Tangent, b: Tangent): Tangent {
    return this.sum(a, b, -1);
  }

  scaled(a: Tangent, by: number): Tangent {
    return { at: this.m.scaled(a.at, by), way: this.m.scaled(a.way, by) };
  }

  shifted(a: Tangent, by: number): Tangent {
    return { at: this.m.shifted(a.at, by), way: a.way };
  }

  times(a: Tangent, b: Tangent): Tangent {
    const { m } = this;
    return { at: m.times(a.at, b.at), way: m.sum(m.times(a.way, b.at), m.times(a.at, b.way)) };
  }

  root(a: Tangent): Tangent {
    const { m } = this;
    const at = m.root(a.at);
    return { at, way: m.scaled(m.times(a.way, m.inverse(at)), 0.5) };
  }

  inverse(a: Tangent): Tangent {
    const { m } = this;
    const at = m.inverse(a.at);
    return { at, way: m.scaled(m.times(a.way, m.times(at, at)), -1) };
  }
}

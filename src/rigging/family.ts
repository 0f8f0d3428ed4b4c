// Owns what a load on one, two or three given legs may do while its centre and the legs' lengths lie within bounds: attitude, shares and margin.
//
// However many legs there are, and however they stretch, every equilibrium has its pull in the hull of states in which at most three legs carry, each
// taut at its stretched length (docs/rigging.md, "Ranges"); so these families, with the lengths' bounds widened by the stretch, hold them all.

import type { Edges, Enclosure, Outputs } from "./enclose.ts";
import {
  type Bounded,
  inverse,
  minus,
  plus,
  root,
  scaled,
  shifted,
  squared,
  times,
  variable,
  within,
} from "./interval.ts";
import type { Vector } from "./problem.ts";
import { cross, distance, dot, scale, subtract } from "./vector.ts";

export interface FamilyLeg {
  readonly eye: Vector;
  /** Metres: the least and the greatest distance of its ends when it carries. */
  readonly lengths: readonly [number, number];
}

/** The outputs of a family: sines of pitch and roll as u_x and u_y/u_z, height, margin, then share and cosine from the vertical of each leg. */
export const OUTPUT = { forward: 0, aside: 1, height: 2, margin: 3, legs: 4 } as const;

type Triple = readonly [Bounded, Bounded, Bounded];

const less = (a: Triple, b: Triple): Triple => [minus(a[0], b[0]), minus(a[1], b[1]), minus(a[2], b[2])];
const dots = (a: Triple, b: Triple): Bounded => plus(plus(times(a[0], b[0]), times(a[1], b[1])), times(a[2], b[2]));
const byPlain = (a: Triple, v: Vector): Bounded =>
  plus(plus(scaled(a[0], v[0]), scaled(a[1], v[1])), scaled(a[2], v[2]));
const norm2 = (a: Triple): Bounded => plus(plus(squared(a[0]), squared(a[1])), squared(a[2]));
const grown = (a: Triple, by: Bounded): Triple => [times(a[0], by), times(a[1], by), times(a[2], by)];
const moved = (a: Triple, v: Vector, sign: 1 | -1): Triple => [
  shifted(a[0], sign * v[0]),
  shifted(a[1], sign * v[1]),
  shifted(a[2], sign * v[2]),
];
/** A plain direction, so far. */
const along = (v: Vector, by: Bounded): Triple => [scaled(by, v[0]), scaled(by, v[1]), scaled(by, v[2])];
const sum = (a: Triple, b: Triple): Triple => [plus(a[0], b[0]), plus(a[1], b[1]), plus(a[2], b[2])];
/** Square of the least distance from a point, from below. */
function nearest2(a: Triple, v: Vector): number {
  let square = 0;
  for (let i = 0; i < 3; i++) {
    const [own, at] = [a[i]!, v[i]!];
    const off = Math.max(own[0]! - at, at - own[1]!, 0);
    square += off * off;
  }
  return square * (1 - 1e-14);
}
/** Metres by which a leg that does not carry may seem overstretched before a state counts as impossible. */
const HAIR = 1e-9;

/** A state of a set of legs, whose plain figures are worked out once. */
type StateOf = (centre: Triple, reach: readonly Bounded[]) => State | undefined;

/**
 * The family of states that these legs (indices, one to three) carry, as outputs over the centre's three coordinates and then their lengths.
 *
 * @param legs all of the rig's; the others must not be stretched beyond their greatest length.
 */
export function familyOf(legs: readonly FamilyLeg[], support: readonly number[]): Outputs {
  const eyes = support.map((i) => legs[i]!.eye);
  const stateOf =
    eyes.length === 1 ? oneLeg(eyes[0]!) : eyes.length === 2 ? twoLegs(eyes[0]!, eyes[1]!) : threeLegs(eyes);
  const others = legs.filter((_, i) => !support.includes(i));
  return (box, steep = true) => {
    let n = 0;
    if (steep) for (const [lo, hi] of box) if (lo !== hi) n++;
    let k = 0;
    const x = box.map(([lo, hi]) => (lo === hi || !steep ? within(lo, hi, n) : variable(lo, hi, k++, n)));
    const reach = x.slice(3);
    const state = stateOf([x[0]!, x[1]!, x[2]!], reach);
    return state && new Found(others, state, reach);
  };
}

class Found implements Enclosure {
  private readonly others: readonly FamilyLeg[];
  private readonly state: State;
  private readonly reach: readonly Bounded[];
  private readonly known: (Bounded | undefined)[];
  private reaches: boolean | undefined = undefined;

  constructor(others: readonly FamilyLeg[], state: State, reach: readonly Bounded[]) {
    this.others = others;
    this.state = state;
    this.reach = reach;
    const none = undefined;
    this.known = [none, none, none, none, none, none, none, none, none, none];
  }

  value(output: number): Bounded {
    const known = this.known[output];
    if (known !== undefined) return known;
    const value = this.work(output);
    this.known[output] = value;
    return value;
  }

  possible(): boolean {
    for (let i = 0; i < this.reach.length; i++) if (!(this.state.lambda(i)[1]! >= 0)) return false;
    return this.reachable();
  }

  reachable(): boolean {
    this.reaches ??= this.seen();
    return this.reaches;
  }

  get limits(): number {
    return this.others.length + this.reach.length;
  }

  /** Another leg's overstretch, or a leg that would push. */
  limit(k: number): Bounded {
    const { others, state } = this;
    if (k >= others.length) return scaled(state.lambda(k - others.length), -1);
    const { eye, lengths } = others[k]!;
    return shifted(norm2(moved(state.hook, eye, -1)), -((lengths[1] + HAIR) ** 2));
  }

  private seen(): boolean {
    const { hook } = this.state;
    for (const { eye, lengths } of this.others) if (!(nearest2(hook, eye) <= (lengths[1] + HAIR) ** 2)) return false;
    return true;
  }

  private work(output: number): Bounded {
    const { state } = this;
    switch (output) {
      case OUTPUT.forward:
        return times(state.over[0], inverse(state.height));
      case OUTPUT.aside:
        return times(state.over[1], inverse(state.over[2]));
      case OUTPUT.height:
        return state.height;
      case OUTPUT.margin:
        return state.margin();
      default: {
        const i = (output - OUTPUT.legs) >> 1;
        return (output - OUTPUT.legs) % 2 === 0 ? state.share(i, this.reach[i]!) : state.cosine(i, this.reach[i]!);
      }
    }
  }
}

/** A state over a box: where the hook is. All else is worked out when it is asked for, because most of what is asked is whether it is possible at all. */
abstract class State {
  readonly hook: Triple;
  private readonly shares: (Bounded | undefined)[] = [undefined, undefined, undefined];
  private way: Triple | undefined = undefined;
  private far: Bounded | undefined = undefined;

  constructor(hook: Triple) {
    this.hook = hook;
  }

  /** From the centre to the hook. */
  get over(): Triple {
    this.way ??= this.overOf();
    return this.way;
  }

  get height(): Bounded {
    this.far ??= this.heightOf();
    return this.far;
  }

  /** Share × height / length of leg i. */
  lambda(i: number): Bounded {
    let known = this.shares[i];
    if (known === undefined) {
      known = this.lambdaOf(i);
      this.shares[i] = known;
    }
    return known;
  }

  /** Its tension, of the weight. */
  share(i: number, reach: Bounded): Bounded {
    return times(times(this.lambda(i), reach), inverse(this.height));
  }

  /** From the vertical. */
  cosine(i: number, reach: Bounded): Bounded {
    return times(times(this.along(i), inverse(reach)), inverse(this.height));
  }

  /** Its own way up times the height. */
  abstract along(i: number): Bounded;
  abstract margin(): Bounded;
  protected abstract overOf(): Triple;
  protected abstract heightOf(): Bounded;
  protected abstract lambdaOf(i: number): Bounded;
}

/** A plain number less a bounded one. */
const minusFrom = (x: number, a: Bounded): Bounded => shifted(scaled(a, -1), x);

class OnOne extends State {
  private readonly centre: Triple;
  private readonly size: Bounded;
  private readonly reach: Bounded;

  constructor(hook: Triple, centre: Triple, size: Bounded, reach: Bounded) {
    super(hook);
    this.centre = centre;
    this.size = size;
    this.reach = reach;
  }

  along(): Bounded {
    return times(this.height, this.reach);
  }
  /** A leg by itself hangs plumb and carries all, whatever its length and wherever the centre: no products of bounds needed. */
  override share(): Bounded {
    return this.one();
  }
  override cosine(): Bounded {
    return this.one();
  }
  margin(): Bounded {
    return this.size;
  }
  protected overOf(): Triple {
    return less(this.hook, this.centre);
  }
  protected heightOf(): Bounded {
    return plus(this.size, this.reach);
  }
  protected lambdaOf(): Bounded {
    return times(this.height, inverse(this.reach));
  }
  private one(): Bounded {
    return within(1, 1, this.reach.length / 2 - 1);
  }
}

function oneLeg(eye: Vector): StateOf {
  return (centre, [reach]) => {
    const away = moved(centre, eye, -1);
    const size = root(norm2(away));
    if (size === undefined) return undefined;
    const hook = moved(grown(away, scaled(times(reach!, inverse(size)), -1)), eye, 1);
    return new OnOne(hook, centre, size, reach!);
  };
}

/** In the plane of both eyes and the centre: from the first eye along the line, and up from it. */
interface InPlane {
  readonly span: number;
  readonly line: Vector;
  /** The hook (f, r), the centre (g, −ρ). */
  readonly f: Bounded;
  readonly r: Bounded;
  readonly g: Bounded;
  readonly rho: Bounded;
  /** From the line down to the centre; and r/ρ. */
  readonly below: Triple;
  readonly lift: Bounded;
}

class OnTwo extends State {
  private readonly at: InPlane;
  private readonly rise: Bounded;
  private readonly ahead: Bounded;

  constructor(hook: Triple, at: InPlane) {
    super(hook);
    this.at = at;
    this.rise = plus(at.r, at.rho);
    this.ahead = minus(at.f, at.g);
  }

  along(i: number): Bounded {
    const { f, r, span } = this.at;
    return plus(times(i === 0 ? f : shifted(f, -span), this.ahead), times(r, this.rise));
  }
  margin(): Bounded {
    return times(this.height, inverse(shifted(this.at.lift, 1)));
  }
  /** In body axes: along the line f − g, and up by r + ρ on below's far side. */
  protected overOf(): Triple {
    const { line, below, lift } = this.at;
    return less(along(line, this.ahead), grown(below, shifted(lift, 1)));
  }
  protected heightOf(): Bounded {
    return root(plus(squared(this.ahead), squared(this.rise)))!;
  }
  protected lambdaOf(i: number): Bounded {
    const { span, f, r, g, rho } = this.at;
    const lean = times(rho, inverse(r));
    const [own, hooks] = i === 0 ? [minusFrom(span, g), minusFrom(span, f)] : [g, f];
    return scaled(plus(own, times(lean, hooks)), 1 / span);
  }
}

/** Two legs: the hook in the plane of both eyes and the centre, on the far side of their line (see hookOfTwo). */
function twoLegs(a: Vector, b: Vector): StateOf {
  const span = distance(a, b);
  // At one and the same eye the two pull as either of them does, which is a family of its own.
  if (span < 1e-9) return () => undefined;
  const line = scale(subtract(b, a), 1 / span);
  return (centre, [la, lb]) => {
    const f = scaled(shifted(minus(squared(la!), squared(lb!)), span * span), 1 / (2 * span));
    const r = root(minus(squared(la!), squared(f)));
    if (r === undefined || r[1] === 0) return undefined;
    const from = moved(centre, a, -1);
    const g = byPlain(from, line);
    const below = less(from, along(line, g));
    const rho = root(norm2(below));
    if (rho === undefined) return undefined;
    const lift = times(r, inverse(rho));
    const hook = moved(less(along(line, f), grown(below, lift)), a, 1);
    return new OnTwo(hook, { span, line, f, r, g, rho, below, lift });
  };
}

/** Coordinates along the two sides from the first eye, and up from the plane of all three, as plain directions to take them by. */
interface Plane {
  readonly first: Vector;
  readonly onB: Vector;
  readonly onC: Vector;
  readonly up: Vector;
}

class OnThree extends State {
  private readonly eyes: readonly Vector[];
  private readonly plane: Plane;
  private readonly centre: Triple;
  /** The hook's coordinates in the plane and its height over it. */
  private readonly hb: Bounded;
  private readonly hc: Bounded;
  private readonly r: Bounded;
  private from: Triple | undefined = undefined;
  private lean: Bounded | undefined = undefined;

  constructor(
    eyes: readonly Vector[],
    plane: Plane,
    centre: Triple,
    hook: Triple,
    [hb, hc, r]: readonly [Bounded, Bounded, Bounded],
  ) {
    super(hook);
    this.eyes = eyes;
    this.plane = plane;
    this.centre = centre;
    this.hb = hb;
    this.hc = hc;
    this.r = r;
  }

  along(i: number): Bounded {
    return dots(moved(this.hook, this.eyes[i]!, -1), this.over);
  }
  margin(): Bounded {
    return this.height;
  }
  protected overOf(): Triple {
    return less(this.hook, this.centre);
  }
  protected heightOf(): Bounded {
    return root(norm2(this.over))!;
  }
  protected lambdaOf(i: number): Bounded {
    const { plane, hb, hc } = this;
    this.from ??= moved(this.centre, plane.first, -1);
    this.lean ??= times(scaled(byPlain(this.from, plane.up), -1), inverse(this.r));
    if (i === 1) return plus(byPlain(this.from, plane.onB), times(this.lean, hb));
    if (i === 2) return plus(byPlain(this.from, plane.onC), times(this.lean, hc));
    const [gb, gc] = [byPlain(this.from, plane.onB), byPlain(this.from, plane.onC)];
    return plus(minus(minusFrom(1, gb), gc), times(this.lean, minus(minusFrom(1, hb), hc)));
  }
}

/**
 * Three legs: where their spheres meet above the plane of the eyes (see hookOfThree), whatever the centre. With b the barycentric coordinates in that
 * plane, r the hook's height over it and t the centre's depth below: λ = b(centre) + (t/r)·b(hook).
 */
function threeLegs(eyes: readonly Vector[]): StateOf {
  const first = eyes[0]!;
  const [b, c] = [subtract(eyes[1]!, first), subtract(eyes[2]!, first)];
  const normal = cross(b, c);
  const square = dot(normal, normal);
  if (square < 1e-18) return () => undefined;
  const up = scale(normal, (normal[2] < 0 ? -1 : 1) / Math.sqrt(square));
  const plane: Plane = {
    first,
    onB: scale(cross(c, normal), 1 / square),
    onC: scale(cross(normal, b), 1 / square),
    up,
  };
  const [bb, bc, cc] = [dot(b, b), dot(b, c), dot(c, c)];
  return (centre, [l0, l1, l2]) => {
    const own = squared(l0!);
    const beta = scaled(shifted(minus(own, squared(l1!)), bb), 0.5);
    const gamma = scaled(shifted(minus(own, squared(l2!)), cc), 0.5);
    const hb = minus(scaled(beta, cc / square), scaled(gamma, bc / square));
    const hc = minus(scaled(gamma, bb / square), scaled(beta, bc / square));
    const flat = sum(along(b, hb), along(c, hc));
    const r = root(minus(own, norm2(flat)));
    if (r === undefined || r[1] === 0) return undefined;
    const hook = moved(sum(flat, along(up, r)), first, 1);
    return new OnThree(eyes, plane, centre, hook, [hb, hc, r]);
  };
}

/** The box of a family: the centre's bounds, then its legs'. */
export const boxOf = (centre: Edges, legs: readonly FamilyLeg[], support: readonly number[]): Edges => [
  ...centre,
  ...support.map((i) => legs[i]!.lengths),
];

/** Every set of one to three of so many legs. */
export function supportsOf(count: number): number[][] {
  const sets: number[][] = [];
  for (let i = 0; i < count; i++) {
    sets.push([i]);
    for (let j = i + 1; j < count; j++) {
      sets.push([i, j]);
      for (let k = j + 1; k < count; k++) sets.push([i, j, k]);
    }
  }
  return sets;
}

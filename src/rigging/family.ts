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
/** Metres by which a leg that does not carry may seem overstretched before a state counts as impossible. */
const HAIR = 1e-9;

/** A state: hook and height as they follow from the centre and the lengths, and per leg λ = share·height/length and the cosine's numerator. */
interface State {
  readonly hook: Triple;
  readonly over: Triple;
  readonly height: Bounded;
  readonly margin: Bounded;
  readonly lambda: readonly Bounded[];
  readonly alongs: readonly Bounded[];
}
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
  return (box, steep = true) => {
    let n = 0;
    if (steep) for (const [lo, hi] of box) if (lo !== hi) n++;
    let k = 0;
    const x = box.map(([lo, hi]) => (lo === hi || !steep ? within(lo, hi, n) : variable(lo, hi, k++, n)));
    const reach = x.slice(3);
    const state = stateOf([x[0]!, x[1]!, x[2]!], reach);
    if (state === undefined) return undefined;
    return new Found(legs, support, state, reach);
  };
}

class Found implements Enclosure {
  private readonly legs: readonly FamilyLeg[];
  private readonly support: readonly number[];
  private readonly state: State;
  private readonly reach: readonly Bounded[];
  private readonly known: (Bounded | undefined)[];
  private reaches: boolean | undefined = undefined;

  constructor(legs: readonly FamilyLeg[], support: readonly number[], state: State, reach: readonly Bounded[]) {
    this.legs = legs;
    this.support = support;
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
    for (const { hi } of this.state.lambda) if (!(hi >= 0)) return false;
    return this.reachable();
  }

  reachable(): boolean {
    this.reaches ??= this.seen();
    return this.reaches;
  }

  private seen(): boolean {
    const { hook } = this.state;
    for (let j = 0; j < this.legs.length; j++) {
      if (this.support.includes(j)) continue;
      const { eye, lengths } = this.legs[j]!;
      if (!(norm2(moved(hook, eye, -1)).lo <= (lengths[1] + HAIR) ** 2)) return false;
    }
    return true;
  }

  private work(output: number): Bounded {
    const { over, height, margin, lambda, alongs } = this.state;
    switch (output) {
      case OUTPUT.forward:
        return times(over[0], inverse(height));
      case OUTPUT.aside:
        return times(over[1], inverse(over[2]));
      case OUTPUT.height:
        return height;
      case OUTPUT.margin:
        return margin;
      default: {
        const i = (output - OUTPUT.legs) >> 1;
        return (output - OUTPUT.legs) % 2 === 0
          ? times(times(lambda[i]!, this.reach[i]!), inverse(height))
          : times(times(alongs[i]!, inverse(this.reach[i]!)), inverse(height));
      }
    }
  }
}

/** A plain number less a bounded one. */
const minusFrom = (x: number, a: Bounded): Bounded => shifted(scaled(a, -1), x);

function oneLeg(eye: Vector): StateOf {
  return (centre, [reach]) => {
    const away = moved(centre, eye, -1);
    const size = root(norm2(away));
    if (size === undefined) return undefined;
    const hook = moved(grown(away, scaled(times(reach!, inverse(size)), -1)), eye, 1);
    const height = plus(size, reach!);
    return {
      hook,
      over: less(hook, centre),
      height,
      margin: size,
      lambda: [times(height, inverse(reach!))],
      alongs: [times(height, reach!)],
    };
  };
}

/**
 * Two legs: the hook in the plane of both eyes and the centre, on the far side of their line (see hookOfTwo). In that plane, from the first eye along
 * the line and up from it, the hook is (f, r), the second eye (D, 0), the centre (g, −ρ).
 */
function twoLegs(a: Vector, b: Vector): StateOf {
  const span = distance(a, b);
  const line = scale(subtract(b, a), 1 / span);
  return (centre, [la, lb]) => {
    const f = scaled(shifted(minus(squared(la!), squared(lb!)), span * span), 1 / (2 * span));
    const r = root(minus(squared(la!), squared(f)));
    if (r === undefined || r.hi === 0) return undefined;
    const from = moved(centre, a, -1);
    const g = byPlain(from, line);
    const below = less(from, along(line, g));
    const rho = root(norm2(below));
    if (rho === undefined) return undefined;
    const lift = times(r, inverse(rho));
    const hook = moved(less(along(line, f), grown(below, lift)), a, 1);
    const ahead = minus(f, g);
    // The hook over the centre, in body axes: along the line f − g, and up by r + ρ on below's far side.
    const over = less(along(line, ahead), grown(below, shifted(lift, 1)));
    const rise = plus(r, rho);
    const height = root(plus(squared(ahead), squared(rise)))!;
    const lean = times(rho, inverse(r));
    const up = times(r, rise);
    return {
      hook,
      over,
      height,
      margin: times(height, inverse(shifted(lift, 1))),
      lambda: [
        scaled(plus(minusFrom(span, g), times(lean, minusFrom(span, f))), 1 / span),
        scaled(plus(g, times(lean, f)), 1 / span),
      ],
      alongs: [plus(times(f, ahead), up), plus(times(shifted(f, -span), ahead), up)],
    };
  };
}

/**
 * Three legs: where their spheres meet above the plane of the eyes (see hookOfThree), whatever the centre. With b the barycentric coordinates in that
 * plane, r the hook's height over it and t the centre's depth below: λ = b(centre) + (t/r)·b(hook).
 */
function threeLegs(eyes: readonly Vector[]): StateOf {
  const [b, c] = [subtract(eyes[1]!, eyes[0]!), subtract(eyes[2]!, eyes[0]!)];
  const normal = cross(b, c);
  const square = dot(normal, normal);
  if (square < 1e-18) return () => undefined;
  // v·onB is the coordinate of v along b, v·onC along c.
  const [onB, onC] = [scale(cross(c, normal), 1 / square), scale(cross(normal, b), 1 / square)];
  const up = scale(normal, (normal[2] < 0 ? -1 : 1) / Math.sqrt(square));
  const [bb, bc, cc] = [dot(b, b), dot(b, c), dot(c, c)];
  return (centre, [l0, l1, l2]) => {
    const first = squared(l0!);
    const beta = scaled(shifted(minus(first, squared(l1!)), bb), 0.5);
    const gamma = scaled(shifted(minus(first, squared(l2!)), cc), 0.5);
    const hb = minus(scaled(beta, cc / square), scaled(gamma, bc / square));
    const hc = minus(scaled(gamma, bb / square), scaled(beta, bc / square));
    const flat = sum(along(b, hb), along(c, hc));
    const r = root(minus(first, norm2(flat)));
    if (r === undefined || r.hi === 0) return undefined;
    const hook = moved(sum(flat, along(up, r)), eyes[0]!, 1);
    const from = moved(centre, eyes[0]!, -1);
    const [gb, gc] = [byPlain(from, onB), byPlain(from, onC)];
    const lean = times(scaled(byPlain(from, up), -1), inverse(r));
    const over = less(hook, centre);
    const height = root(norm2(over))!;
    const lambda = (own: Bounded, hooks: Bounded): Bounded => plus(own, times(lean, hooks));
    return {
      hook,
      over,
      height,
      margin: height,
      lambda: [lambda(minus(minusFrom(1, gb), gc), minus(minusFrom(1, hb), hc)), lambda(gb, hb), lambda(gc, hc)],
      alongs: eyes.map((eye) => dots(moved(hook, eye, -1), over)),
    };
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

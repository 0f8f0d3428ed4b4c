// Owns the coming to rest of a load under one hook: the least energy over where the hook is, in body axes.
//
// For a given hook p (body axes) the load hangs with its centre straight below p, so its weight has the energy −W·|p−G| and three unknowns
// are left: E(p) = Σ ½k·max(0, |p−eᵢ|−Lᵢ)² − W·|p−G|. A leg that does not stretch gets a multiplier beside a stiffness that is only a means
// (Hestenes and Powell's augmented energy), raised until its stretch is nil. docs/rigging.md, "One hook".

import { solvePositive, symmetricEigen } from "./matrix.ts";
import type { Vector } from "./problem.ts";
import { add, along, dot, length, scale, subtract, unit } from "./vector.ts";

/** A leg as the energy sees it. */
export interface Spring {
  readonly eye: Vector;
  readonly length: number;
  /** EA, newtons; absent: does not stretch. */
  readonly stiffness?: number;
}

export interface Rest {
  readonly hook: Vector;
  /** Newtons. */
  readonly tensions: readonly number[];
  /** Second derivative of the energy over the hook, 3×3 in flat rows, N/m. */
  readonly curvature: Float64Array;
  /** Legs that will not come down to their length: they are too short to reach. */
  readonly strained: boolean;
}

/** Share of the weight in a leg at which a leg that does not stretch may provisionally stretch by 1e-4 of its length. */
const MEANS = 1e4;
const STEPS = 200;

interface Pulls {
  readonly stiffness: readonly number[];
  readonly already: Float64Array;
}

function pullsOf(springs: readonly Spring[], weight: number): Pulls {
  return {
    stiffness: springs.map((s) => (s.stiffness ?? MEANS * weight) / s.length),
    already: new Float64Array(springs.length),
  };
}

function forceOf(pulls: Pulls, i: number, stretch: number): number {
  return Math.max(0, pulls.already[i]! + pulls.stiffness[i]! * stretch);
}

function energyAt(springs: readonly Spring[], pulls: Pulls, weight: number, centre: Vector, p: Vector): number {
  let energy = -weight * length(subtract(p, centre));
  for (const [i, spring] of springs.entries()) {
    const force = forceOf(pulls, i, length(subtract(p, spring.eye)) - spring.length);
    energy += (force * force) / (2 * pulls.stiffness[i]!);
  }
  return energy;
}

/** Gradient and second derivative of the energy. */
function slopeAt(
  springs: readonly Spring[],
  pulls: Pulls,
  weight: number,
  centre: Vector,
  p: Vector,
): { readonly slope: Vector; readonly curvature: Float64Array } {
  const curvature = new Float64Array(9);
  const curve = (u: Vector, lengthwise: number, across: number): void => {
    for (let i = 0; i < 3; i++)
      for (let j = 0; j < 3; j++)
        curvature[3 * i + j] = curvature[3 * i + j]! + (lengthwise - across) * u[i]! * u[j]! + (i === j ? across : 0);
  };
  const over = subtract(p, centre);
  const height = length(over);
  const up = unit(over);
  let slope = scale(up, -weight);
  if (height > 0) curve(up, 0, -weight / height);
  for (const [i, spring] of springs.entries()) {
    const arm = subtract(p, spring.eye);
    const reach = length(arm);
    const force = forceOf(pulls, i, reach - spring.length);
    if (force === 0 || reach === 0) continue;
    const u = scale(arm, 1 / reach);
    slope = along(slope, u, force);
    curve(u, pulls.stiffness[i]!, force / reach);
  }
  return { slope, curvature };
}

/** The step to the least of the quadratic model within a radius (Moré & Sorensen 1983), out of a saddle as well. */
function stepWithin(slope: Vector, curvature: Float64Array, radius: number): Vector {
  const { values, vectors } = symmetricEigen(curvature, 3);
  const axes = vectors as unknown as readonly Vector[];
  const parts = axes.map((axis) => dot(axis, slope));
  const stepAt = (shift: number): Vector =>
    axes.reduce<Vector>((sum, axis, i) => along(sum, axis, -parts[i]! / (values[i]! + shift)), [0, 0, 0]);
  const least = values[0]!;
  if (least > 0) {
    const free = stepAt(0);
    if (length(free) <= radius) return free;
  }
  const size = length(slope);
  let shift = Math.max(0, -least) + 1e-14 * (Math.abs(values[2]!) + size / radius);
  const shortest = stepAt(shift);
  if (least <= 0 && length(shortest) < radius) {
    // The slope has nothing along the way down: take that way all the same.
    const rest = Math.sqrt(Math.max(0, radius ** 2 - dot(shortest, shortest)));
    return along(shortest, axes[0]!, rest);
  }
  // Newton on 1/‖step‖, from the left, so it never passes the radius's shift: a step a thousandth too long is as good.
  for (let i = 0; i < 40; i++) {
    let square = 0;
    let fall = 0;
    for (let k = 0; k < 3; k++) {
      const part = parts[k]! / (values[k]! + shift);
      square += part * part;
      fall += (part * part) / (values[k]! + shift);
    }
    const far = Math.sqrt(square);
    if (far <= 1.001 * radius) break;
    shift += ((square / fall) * (far - radius)) / radius;
  }
  return stepAt(shift);
}

/** Downhill from a hook to where the load rests. Stays in the valley it starts in, as far as steps of a tenth of the rig go. */
function descend(
  springs: readonly Spring[],
  pulls: Pulls,
  weight: number,
  centre: Vector,
  from: Vector,
  largest: number,
): Vector {
  let p = from;
  let energy = energyAt(springs, pulls, weight, centre, p);
  let radius = largest;
  let best = Number.POSITIVE_INFINITY;
  let idle = 0;
  for (let step = 0; step < STEPS; step++) {
    const { slope, curvature } = slopeAt(springs, pulls, weight, centre, p);
    const size = length(slope);
    const move = stepWithin(slope, curvature, radius);
    const stays = length(move) < radius * 0.99;
    if (size < 1e-14 * weight && stays) return p;
    if (stays && size < 1e-9 * weight) {
      // So near that energies no longer tell points apart: Newton's steps, while they still help.
      if (size >= best * 0.5 && ++idle > 2) return p;
      best = Math.min(best, size);
      p = add(p, move);
      energy = energyAt(springs, pulls, weight, centre, p);
      continue;
    }
    const next = add(p, move);
    const there = energyAt(springs, pulls, weight, centre, next);
    const bend = move.reduce(
      (sum, m, i) =>
        sum + m * (curvature[3 * i]! * move[0] + curvature[3 * i + 1]! * move[1] + curvature[3 * i + 2]! * move[2]),
      0,
    );
    const hoped = -(dot(slope, move) + bend / 2);
    const got = energy - there;
    // Energies that differ by rounding only are as good as equal.
    const noise = 1e-13 * (Math.abs(energy) + weight * largest);
    if (got > 0.1 * hoped || (hoped < noise && got > -noise)) {
      p = next;
      energy = there;
      if (got > 0.7 * hoped) radius = Math.min(largest, radius * 2);
    } else radius = Math.max(length(move) * 0.3, 1e-13);
  }
  return p;
}

const tensionsAt = (springs: readonly Spring[], pulls: Pulls, p: Vector): number[] =>
  springs.map((spring, i) => forceOf(pulls, i, length(subtract(p, spring.eye)) - spring.length));

/** Size of the rig, metres: what steps are measured by. */
const sizeOf = (springs: readonly Spring[]): number => Math.max(...springs.map((spring) => spring.length));

/**
 * Where the load comes to rest when the hook starts at `from` (body axes), hanging free.
 *
 * @param weight newtons, above 0.
 * @param rounds how often at most the multipliers of legs that do not stretch are raised; 0: they are left stretched by some 1e-4.
 */
export function settle(springs: readonly Spring[], weight: number, centre: Vector, from: Vector, rounds = 30): Rest {
  const pulls = pullsOf(springs, weight);
  const largest = 0.1 * sizeOf(springs);
  const rigid = springs.flatMap((spring, i) => (spring.stiffness === undefined ? [i] : []));
  let p = descend(springs, pulls, weight, centre, from, largest);
  let worst = 0;
  if (rigid.length > 0) {
    for (let round = 0; round < rounds; round++) {
      worst = 0;
      const tensions = tensionsAt(springs, pulls, p);
      for (const i of rigid) {
        const before = pulls.already[i]!;
        worst = Math.max(worst, Math.abs(tensions[i]! - before) / pulls.stiffness[i]! / springs[i]!.length);
        pulls.already[i] = tensions[i]!;
      }
      if (worst < 1e-15) break;
      p = descend(springs, pulls, weight, centre, p, largest);
    }
  }
  return {
    hook: p,
    tensions: tensionsAt(springs, pulls, p),
    curvature: slopeAt(springs, pulls, weight, centre, p).curvature,
    strained: worst > 1e-7,
  };
}

/**
 * Tensions of legs that do not stretch, when more of them are taut than statics alone can tell: what stretch would choose as it goes to nothing,
 * the same EA in all, the least of ΣT²L with Σ T·u = W·up (the least complementary energy). The dual has three unknowns.
 */
export function shareOut(
  springs: readonly Spring[],
  weight: number,
  centre: Vector,
  hook: Vector,
): number[] | undefined {
  const up = unit(subtract(hook, centre));
  const u = springs.map((spring) => unit(subtract(hook, spring.eye)));
  const taut = springs.map((spring) => length(subtract(hook, spring.eye)) > spring.length * (1 - 1e-9));
  let dual: Vector = scale(up, weight);
  const pullAt = (way: Vector): number[] =>
    springs.map((spring, i) => (taut[i] ? Math.max(0, dot(u[i]!, way)) / spring.length : 0));
  for (let step = 0; step < 100; step++) {
    const pull = pullAt(dual);
    const off = pull.reduce<Vector>((sum, t, i) => along(sum, u[i]!, t), scale(up, -weight));
    if (length(off) < 1e-14 * weight) return pull;
    const curve = new Float64Array(9);
    let stiffest = 0;
    for (const [i, spring] of springs.entries()) {
      if (pull[i] === 0) continue;
      stiffest = Math.max(stiffest, 1 / spring.length);
      for (let a = 0; a < 3; a++)
        for (let b = 0; b < 3; b++) curve[3 * a + b] = curve[3 * a + b]! + (u[i]![a]! * u[i]![b]!) / spring.length;
    }
    for (let a = 0; a < 3; a++) curve[4 * a] = curve[4 * a]! + 1e-13 * stiffest;
    const move = solvePositive(curve, Float64Array.from(off));
    if (move === undefined) return undefined;
    dual = along(dual, move as unknown as Vector, -1);
  }
  const pull = pullAt(dual);
  const off = pull.reduce<Vector>((sum, t, i) => along(sum, u[i]!, t), scale(up, -weight));
  return length(off) < 1e-11 * weight ? pull : undefined;
}

/** The energy's curvature at given tensions; legs that do not stretch count as the means they are settled by. */
export function curvatureAt(
  springs: readonly Spring[],
  tensions: readonly number[],
  weight: number,
  centre: Vector,
  hook: Vector,
): Float64Array {
  const pulls = pullsOf(springs, weight);
  for (const [i, spring] of springs.entries())
    pulls.already[i] = tensions[i]! - pulls.stiffness[i]! * (length(subtract(hook, spring.eye)) - spring.length);
  return slopeAt(springs, pulls, weight, centre, hook).curvature;
}

/** The equilibrium near `from`, stable or not, by Newton's steps on the forces. */
export function balance(springs: readonly Spring[], weight: number, centre: Vector, from: Vector): Rest {
  const pulls = pullsOf(springs, weight);
  // A little above the place where nothing is stretched yet, so that the legs that hold are felt.
  const stretch = weight / pulls.stiffness.reduce((sum, k) => sum + k, 0);
  let p = along(from, unit(subtract(from, centre)), stretch);
  for (let round = 0; round < 12; round++) {
    for (let step = 0; step < 20; step++) {
      const { slope, curvature } = slopeAt(springs, pulls, weight, centre, p);
      if (length(slope) < 1e-13 * weight) break;
      const { values, vectors } = symmetricEigen(curvature, 3);
      for (const [i, axis] of (vectors as unknown as readonly Vector[]).entries())
        if (Math.abs(values[i]!) > 1e-12 * Math.abs(values[2]!)) p = along(p, axis, -dot(axis, slope) / values[i]!);
    }
    const tensions = tensionsAt(springs, pulls, p);
    for (const [i, spring] of springs.entries()) if (spring.stiffness === undefined) pulls.already[i] = tensions[i]!;
  }
  return {
    hook: p,
    tensions: tensionsAt(springs, pulls, p),
    curvature: slopeAt(springs, pulls, weight, centre, p).curvature,
    strained: false,
  };
}

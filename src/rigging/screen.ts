// Owns the first look at all pairs of ties: which of them could explain the readings at all, by the freed load's compliance taken as it stands.
//
// A stiff point drawn from its place by d pulls with (1/k + A)⁻¹·d, where A is how the load gives there; two ties give six equations. It is rough
// (legs that go slack, turns that are not small), so it only chooses what is weighed in full.

import type { Vector } from "./problem.ts";
import type { Drawn, Scene } from "./scene.ts";

const LOG_STEPS = [-1, 0.8] as const;
/** Share of a change that the rough forecast may be out by. */
const ROUGH = 0.25;
const DEGREES = 180 / Math.PI;

interface Point {
  readonly drawn: Drawn;
  /** How far it has moved freed, beyond its slack; metres. */
  readonly out: Vector;
  /** compliance·[1, arm×]ᵀ, 6 × 3: what the load does when this point is pulled. */
  readonly reply: Float64Array;
  /** World arm from the body's origin. */
  readonly arm: Vector;
  readonly logOdds: number;
  /** One over its stiffness at each of the steps. */
  readonly soft: Float64Array;
}

/** The pairs that a rough forecast finds likeliest, at most so many. */
export function pairsWorthALook(scene: Scene, most: number): (readonly [Drawn, Drawn])[] {
  const { compliance, pose, offset, error } = scene.lookout();
  const points = scene.told.map((drawn) => pointOf(drawn, compliance, pose));
  const gives = points.map((point) => give(point, point));
  const kept: { readonly score: number; readonly pair: readonly [Drawn, Drawn] }[] = [];
  let worst = Number.NEGATIVE_INFINITY;
  const work = new Float64Array(36);
  const force = new Float64Array(6);
  const cross = new Float64Array(9);
  for (let i = 0; i < points.length; i++) {
    const a = points[i]!;
    const own = gives[i]!;
    for (let j = i + 1; j < points.length; j++) {
      const b = points[j]!;
      const other = gives[j]!;
      giveInto(a, b, cross);
      let best = Number.NEGATIVE_INFINITY;
      for (let s = 0; s < LOG_STEPS.length; s++)
        for (let t = 0; t < LOG_STEPS.length; t++) {
          const [softA, softB] = [a.soft[s]!, b.soft[t]!];
          for (let p = 0; p < 3; p++)
            for (let q = 0; q < 3; q++) {
              work[p * 6 + q] = own[p * 3 + q]! + (p === q ? softA : 0);
              work[(p + 3) * 6 + q + 3] = other[p * 3 + q]! + (p === q ? softB : 0);
              work[p * 6 + q + 3] = cross[p * 3 + q]!;
              work[(q + 3) * 6 + p] = cross[p * 3 + q]!;
            }
          for (let p = 0; p < 3; p++) {
            force[p] = -a.out[p]!;
            force[p + 3] = -b.out[p]!;
          }
          if (!solveSix(work, force)) continue;
          let [roll, pitch] = [0, 0];
          for (let p = 0; p < 3; p++) {
            roll += a.reply[9 + p]! * force[p]! + b.reply[9 + p]! * force[p + 3]!;
            pitch += a.reply[12 + p]! * force[p]! + b.reply[12 + p]! * force[p + 3]!;
          }
          const load = -force[2]! - force[5]!;
          let sum = miss(offset.load, load, error.load) + LOG_STEPS[s]! ** 2 + LOG_STEPS[t]! ** 2;
          if (offset.pitch !== undefined) sum += miss(offset.pitch, pitch * DEGREES, error.pitch);
          if (offset.roll !== undefined) sum += miss(offset.roll, roll * DEGREES, error.roll);
          best = Math.max(best, -sum / 2);
        }
      const score = best + a.logOdds + b.logOdds;
      if (kept.length >= most && score <= worst) continue;
      kept.push({ score, pair: [a.drawn, b.drawn] });
      if (kept.length >= 2 * most) {
        kept.sort((x, y) => y.score - x.score).length = most;
        worst = kept.at(-1)!.score;
      }
    }
  }
  return kept
    .sort((x, y) => y.score - x.score)
    .slice(0, most)
    .map(({ pair }) => pair);
}

/** Squared distance, with what the rough forecast may be out by, and the logarithm of that width. */
function miss(wanted: number, got: number, error: number): number {
  const wide = error * error + (ROUGH * got) ** 2;
  return (wanted - got) ** 2 / wide + Math.log(wide / (error * error));
}

function pointOf(drawn: Drawn, compliance: Float64Array, pose: Float64Array): Point {
  const { at, slack, chance, stiffness } = drawn.tie;
  const row = (i: number): number => pose[3 * i]! * at[0] + pose[3 * i + 1]! * at[1] + pose[3 * i + 2]! * at[2];
  const arm: Vector = [row(0), row(1), row(2)];
  const move = arm.map((x, i) => x + pose[9 + i]! - at[i]!);
  const size = Math.hypot(...move);
  const share = size > slack ? 1 - slack / size : 0;
  const reply = new Float64Array(18);
  // The point follows a shift, and w × arm of a turn; a force on it is that force and arm × force.
  const [x, y, z] = arm;
  const jacobian = [
    [1, 0, 0, 0, z, -y],
    [0, 1, 0, -z, 0, x],
    [0, 0, 1, y, -x, 0],
  ] as const;
  for (let i = 0; i < 6; i++)
    for (let p = 0; p < 3; p++) {
      let sum = 0;
      for (let k = 0; k < 6; k++) sum += compliance[6 * i + k]! * jacobian[p]![k]!;
      reply[3 * i + p] = sum;
    }
  return {
    drawn,
    out: move.map((m) => m * share) as unknown as Vector,
    reply,
    arm,
    logOdds: Math.log(chance / (1 - chance)),
    soft: Float64Array.from(LOG_STEPS, (z) => 1 / (stiffness.likely * Math.exp(z * stiffness.spread))),
  };
}

function give(a: Point, b: Point): Float64Array {
  const into = new Float64Array(9);
  giveInto(a, b, into);
  return into;
}

/** How point a moves when point b is pulled, 3 × 3. */
function giveInto({ arm: [x, y, z] }: Point, { reply }: Point, into: Float64Array): void {
  for (let q = 0; q < 3; q++) {
    const [wx, wy, wz] = [reply[9 + q]!, reply[12 + q]!, reply[15 + q]!];
    into[q] = reply[q]! + wy * z - wz * y;
    into[3 + q] = reply[3 + q]! + wz * x - wx * z;
    into[6 + q] = reply[6 + q]! + wx * y - wy * x;
  }
}

/** A·x = b by Cholesky in place, 6 × 6. */
function solveSix(a: Float64Array, b: Float64Array): boolean {
  for (let i = 0; i < 6; i++)
    for (let j = 0; j <= i; j++) {
      let sum = a[6 * i + j]!;
      for (let k = 0; k < j; k++) sum -= a[6 * i + k]! * a[6 * j + k]!;
      if (i !== j) a[6 * i + j] = sum / a[7 * j]!;
      else if (sum > 0) a[7 * i] = Math.sqrt(sum);
      else return false;
    }
  for (let i = 0; i < 6; i++) {
    let sum = b[i]!;
    for (let k = 0; k < i; k++) sum -= a[6 * i + k]! * b[k]!;
    b[i] = sum / a[7 * i]!;
  }
  for (let i = 5; i >= 0; i--) {
    let sum = b[i]!;
    for (let k = i + 1; k < 6; k++) sum -= a[6 * k + i]! * b[k]!;
    b[i] = sum / a[7 * i]!;
  }
  return true;
}

// Owns the coming to rest of several rigid bodies that hang, stand and are tied: the least energy over the pose of each.
//
// Unknowns are a small shift and a small turn of each body in world axes (a body on a pin only turns). Energies are those of weight, of links
// that only pull, and of rests that only push upwards. docs/rigging.md, "Several bodies".

import { solvePositive } from "./matrix.ts";
import type { Vector } from "./problem.ts";
import { add, along, cross, dot, length, scale, subtract } from "./vector.ts";

/** Rows of the matrix from body to world axes. */
export type Turn = readonly [Vector, Vector, Vector];
export interface Pose {
  readonly turn: Turn;
  /** Where the body's origin is, world axes. */
  readonly at: Vector;
}

export interface Body {
  /** Newtons, at this point of the body. */
  readonly weight: number;
  readonly centre: Vector;
  readonly start: Pose;
  /** A point of the body that cannot leave its place in the world. */
  readonly pin?: Vector;
}

/** A point of a body, or of the world when no body is named. */
export interface End {
  readonly body?: number;
  readonly at: Vector;
}

/** Pulls its ends together once they are farther apart than `length`. */
export interface Link {
  readonly lower: End;
  readonly upper: End;
  readonly length: number;
  /** N/m; with `firm`, only a means: the link does not stretch. */
  readonly stiffness: number;
  readonly firm: boolean;
}

/** Pushes a point of a body up once it is below `height`. */
export interface Stand {
  readonly body: number;
  readonly at: Vector;
  readonly height: number;
  /** N/m */
  readonly stiffness: number;
}

export interface Stillness {
  readonly poses: readonly Pose[];
  /** Newtons, in the order of the links and of the stands. */
  readonly pulls: readonly number[];
  readonly pushes: readonly number[];
  /** Second derivative over the shifts and turns of all bodies, six each, flat rows; a pinned body's shifts are nought. */
  readonly curvature: Float64Array;
  /** Largest force left over, over the whole weight, moments by the size of the rig. */
  readonly residual: number;
  readonly strained: boolean;
}

const ROUNDS = 20;
/** Weights at which a softened link stretches by the size of the rig; and the share of the weight left over that is near enough there. */
const SOFT = 60;
const NEAR = 1e-3;
const STEPS = 300;

export const turnBy = (turn: Turn, v: Vector): Vector => [dot(turn[0], v), dot(turn[1], v), dot(turn[2], v)];
export const placeOf = (pose: Pose, at: Vector): Vector => add(pose.at, turnBy(pose.turn, at));

/** The world direction v in the body's axes. */
export const turnBack = (turn: Turn, v: Vector): Vector => [
  turn[0][0] * v[0] + turn[1][0] * v[1] + turn[2][0] * v[2],
  turn[0][1] * v[0] + turn[1][1] * v[1] + turn[2][1] * v[2],
  turn[0][2] * v[0] + turn[1][2] * v[1] + turn[2][2] * v[2],
];

/** Turned further by the vector w (radians, world axes), by Rodrigues' formula. */
function turnOn(turn: Turn, w: Vector): Turn {
  const angle = length(w);
  if (angle === 0) return turn;
  const axis = scale(w, 1 / angle);
  const [s, c] = [Math.sin(angle), Math.cos(angle)];
  const column = (j: 0 | 1 | 2): Vector => {
    const v: Vector = [turn[0][j], turn[1][j], turn[2][j]];
    return add(along(scale(v, c), cross(axis, v), s), scale(axis, dot(axis, v) * (1 - c)));
  };
  const [x, y, z] = [column(0), column(1), column(2)];
  return [
    [x[0], y[0], z[0]],
    [x[1], y[1], z[1]],
    [x[2], y[2], z[2]],
  ];
}

/** The bodies' energy, its slope and curvature, about one set of poses. */
class Field {
  private readonly bodies: readonly Body[];
  private readonly links: readonly Link[];
  private readonly stands: readonly Stand[];
  /** What a firm link pulled at the end of the last round. */
  readonly already: Float64Array;

  constructor(bodies: readonly Body[], links: readonly Link[], stands: readonly Stand[]) {
    this.bodies = bodies;
    this.links = links;
    this.stands = stands;
    this.already = new Float64Array(links.length);
  }

  private endOf(end: End, poses: readonly Pose[]): Vector {
    return end.body === undefined ? end.at : placeOf(poses[end.body]!, end.at);
  }

  pullOf(i: number, poses: readonly Pose[]): number {
    const link = this.links[i]!;
    const reach = length(subtract(this.endOf(link.upper, poses), this.endOf(link.lower, poses)));
    return Math.max(0, this.already[i]! + link.stiffness * (reach - link.length));
  }

  pushOf(stand: Stand, poses: readonly Pose[]): number {
    return Math.max(0, stand.stiffness * (stand.height - placeOf(poses[stand.body]!, stand.at)[2]));
  }

  energy(poses: readonly Pose[]): number {
    let sum = 0;
    for (const [i, body] of this.bodies.entries()) sum += body.weight * placeOf(poses[i]!, body.centre)[2];
    for (const [i, link] of this.links.entries()) sum += this.pullOf(i, poses) ** 2 / (2 * link.stiffness);
    for (const stand of this.stands) sum += this.pushOf(stand, poses) ** 2 / (2 * stand.stiffness);
    return sum;
  }

  /** Adds what a force (the energy's gradient at a point of a body) does to slope and to the turning part of the curvature. */
  private feel(slope: Float64Array, curvature: Float64Array, body: number, arm: Vector, force: Vector): void {
    const n = slope.length;
    const moment = cross(arm, force);
    const lean = dot(force, arm);
    const o = 6 * body;
    for (let i = 0; i < 3; i++) {
      slope[o + i] = slope[o + i]! + force[i]!;
      slope[o + 3 + i] = slope[o + 3 + i]! + moment[i]!;
      for (let j = 0; j < 3; j++) {
        const k = (o + 3 + i) * n + o + 3 + j;
        curvature[k] = curvature[k]! + (force[i]! * arm[j]! + force[j]! * arm[i]!) / 2 - (i === j ? lean : 0);
      }
    }
  }

  /** From the body's turning middle (its origin, or its pin) to the point. */
  private armOf(body: number, at: Vector, poses: readonly Pose[]): Vector {
    return turnBy(poses[body]!.turn, subtract(at, this.bodies[body]!.pin ?? [0, 0, 0]));
  }

  slope(poses: readonly Pose[]): { readonly slope: Float64Array; readonly curvature: Float64Array } {
    const n = 6 * this.bodies.length;
    const slope = new Float64Array(n);
    const curvature = new Float64Array(n * n);
    for (const [i, body] of this.bodies.entries())
      this.feel(slope, curvature, i, this.armOf(i, body.centre, poses), [0, 0, body.weight]);
    for (const [i, link] of this.links.entries()) {
      const pull = this.pullOf(i, poses);
      if (pull === 0) continue;
      const arm = subtract(this.endOf(link.upper, poses), this.endOf(link.lower, poses));
      const reach = length(arm);
      const u = reach === 0 ? ([0, 0, 1] as const) : scale(arm, 1 / reach);
      // A link of no length pulls alike in all directions.
      const across = reach < 1e-12 ? link.stiffness : pull / reach;
      const ends = [
        { end: link.lower, sign: -1 },
        { end: link.upper, sign: 1 },
      ].flatMap(({ end, sign }) => {
        if (end.body === undefined) return [];
        const from = this.armOf(end.body, end.at, poses);
        // How the link's length vector follows each motion of the body, [1, −arm×], and how much of that is along the link.
        const follows = MOTIONS.map((i) => column(i, from));
        return [{ body: end.body, sign, arm: from, follows, along: follows.map((way) => dot(way, u)) }];
      });
      for (const { body, sign, arm } of ends) this.feel(slope, curvature, body, arm, scale(u, sign * pull));
      for (const p of ends)
        for (const q of ends) {
          const lengthwise = p.sign * q.sign * (link.stiffness - across);
          const sideways = p.sign * q.sign * across;
          for (let i = 0; i < 6; i++) {
            const [x, y, z] = p.follows[i]!;
            const ui = lengthwise * p.along[i]!;
            const row = (6 * p.body + i) * n + 6 * q.body;
            for (let j = 0; j < 6; j++) {
              const dj = q.follows[j]!;
              curvature[row + j] =
                curvature[row + j]! + ui * q.along[j]! + sideways * (x * dj[0] + y * dj[1] + z * dj[2]);
            }
          }
        }
    }
    for (const stand of this.stands) {
      const push = this.pushOf(stand, poses);
      if (push === 0) continue;
      const arm = this.armOf(stand.body, stand.at, poses);
      this.feel(slope, curvature, stand.body, arm, [0, 0, -push]);
      for (let i = 0; i < 6; i++)
        for (let j = 0; j < 6; j++) {
          const k = (6 * stand.body + i) * n + 6 * stand.body + j;
          curvature[k] = curvature[k]! + stand.stiffness * column(i, arm)[2] * column(j, arm)[2];
        }
    }
    for (const [i, body] of this.bodies.entries()) {
      if (body.pin === undefined) continue;
      for (let a = 6 * i; a < 6 * i + 3; a++) {
        slope[a] = 0;
        for (let b = 0; b < n; b++) {
          curvature[a * n + b] = 0;
          curvature[b * n + a] = 0;
        }
      }
    }
    return { slope, curvature };
  }

  moved(poses: readonly Pose[], step: Float64Array): Pose[] {
    return poses.map((pose, i) => {
      const body = this.bodies[i]!;
      const o = 6 * i;
      const { turn, at } = turnedBy(body, pose, [step[o + 3]!, step[o + 4]!, step[o + 5]!]);
      return { turn, at: body.pin === undefined ? add(at, [step[o]!, step[o + 1]!, step[o + 2]!]) : at };
    });
  }
}

/** The body turned about its pin, or its origin, by the vector w (radians, world axes). */
export function turnedBy({ pin }: Body, pose: Pose, w: Vector): Pose {
  const turn = turnOn(pose.turn, w);
  return { turn, at: pin === undefined ? pose.at : subtract(placeOf(pose, pin), turnBy(turn, pin)) };
}

const MOTIONS = [0, 1, 2, 3, 4, 5] as const;

/** How a point follows the i-th of a body's six motions. */
function column(i: number, arm: Vector): Vector {
  switch (i) {
    case 0:
      return [1, 0, 0];
    case 1:
      return [0, 1, 0];
    case 2:
      return [0, 0, 1];
    case 3:
      return [0, -arm[2], arm[1]];
    case 4:
      return [arm[2], 0, -arm[0]];
    default:
      return [-arm[1], arm[0], 0];
  }
}

/**
 * Where the bodies come to rest from where they start.
 *
 * @param size metres: how large the rig is, by which turns are weighed against shifts.
 */
export function settleBodies(
  bodies: readonly Body[],
  links: readonly Link[],
  stands: readonly Stand[],
  size: number,
): Stillness {
  const field = new Field(bodies, links, stands);
  const weight = bodies.reduce((sum, body) => sum + body.weight, 0);
  let poses: readonly Pose[] = bodies.map((body) => body.start);
  // Stiff links make a narrow crooked valley that takes many small steps; on soft ones the load comes near to where it will rest in a few.
  const soft = (SOFT * weight) / size;
  if (links.some(({ stiffness }) => stiffness > soft)) {
    const softened = links.map((link) => (link.stiffness > soft ? { ...link, stiffness: soft } : link));
    poses = descend(new Field(bodies, softened, stands), poses, weight, size, NEAR);
  }
  const firm = links.flatMap((link, i) => (link.firm ? [i] : []));
  let worst = 0;
  for (let round = 0; round < ROUNDS; round++) {
    poses = descend(field, poses, weight, size);
    worst = 0;
    for (const i of firm) {
      const pull = field.pullOf(i, poses);
      worst = Math.max(worst, Math.abs(pull - field.already[i]!) / links[i]!.stiffness);
      field.already[i] = pull;
    }
    if (worst < 1e-14 * size) break;
  }
  const { slope, curvature } = field.slope(poses);
  return {
    poses,
    pulls: links.map((_, i) => field.pullOf(i, poses)),
    pushes: stands.map((stand) => field.pushOf(stand, poses)),
    curvature,
    residual: sizeOf(slope, size) / weight,
    strained: worst > 1e-6 * size,
  };
}

/** Forces as they are, moments by the size of the rig. */
function sizeOf(slope: Float64Array, size: number): number {
  return slope.reduce((most, each, i) => Math.max(most, Math.abs(each) / (i % 6 < 3 ? 1 : size)), 0);
}

/** Levenberg's descent: Newton's step with as much of the identity added as makes the energy fall. */
function descend(field: Field, from: readonly Pose[], weight: number, size: number, near = 1e-14): readonly Pose[] {
  let poses = from;
  let energy = field.energy(poses);
  let damp = weight / size;
  let at = field.slope(poses);
  let best = sizeOf(at.slope, size);
  let idle = 0;
  for (let step = 0; step < STEPS && best > near * weight; step++) {
    const n = at.slope.length;
    const damped = Float64Array.from(at.curvature);
    for (let i = 0; i < n; i++) damped[i * n + i] = damped[i * n + i]! + damp * (i % 6 < 3 ? 1 : size * size);
    const move = solvePositive(
      damped,
      at.slope.map((each) => -each),
    );
    const largest = move?.reduce((most, each, i) => Math.max(most, Math.abs(each) * (i % 6 < 3 ? 1 : size)), 0) ?? 0;
    if (move === undefined || largest > 0.2 * size) {
      damp = Math.max(damp * 4, 1e-9 * (weight / size));
      continue;
    }
    const next = field.moved(poses, move);
    const there = field.energy(next);
    const falls = there < energy - 1e-13 * weight * size;
    const level = Math.abs(there - energy) <= 1e-12 * weight * size;
    const slopes = falls || level ? field.slope(next) : undefined;
    const left = slopes === undefined ? Number.POSITIVE_INFINITY : sizeOf(slopes.slope, size);
    // Where energies are equal to the last digit, the forces left over tell.
    if (slopes !== undefined && (falls || left < best)) {
      idle = 0;
      poses = next;
      energy = there;
      at = slopes;
      best = left;
      damp = Math.max(damp / 8, 1e-12 * (weight / size));
    } else {
      if (best < 1e-11 * weight && ++idle > 3) break;
      damp = Math.max(damp * 4, 1e-9 * (weight / size));
      if (damp > 1e15 * (weight / size)) break;
    }
  }
  return poses;
}

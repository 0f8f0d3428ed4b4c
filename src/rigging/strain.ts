// Owns the energy of load and beam on their legs and ties, with its slope and curvature over small shifts and turns, in flat arrays that are used again and again.

import type { Vector } from "./problem.ts";

export const LOAD = 0;
export const BEAM = 1;
export type BodyIndex = typeof LOAD | typeof BEAM;

/** A leg from an eye of the load, or a point of the beam, up to a hook (its index) or a point of the beam. */
export interface HeldLeg {
  readonly on: BodyIndex;
  readonly eye: Vector;
  readonly to: number | Vector;
  readonly length: number;
  /** N/m */
  readonly stiffness: number;
}

/** A tie from a point of the load to where that point was built in: pulls once it is drawn out by more than its slack. */
export interface HeldTie {
  readonly at: Vector;
  readonly slack: number;
  /** N/m */
  readonly stiffness: number;
}

export interface HeldBeam {
  readonly weight: number;
  readonly centre: Vector;
  /** The point that is on the first hook. */
  readonly pin?: Vector;
}

/** Everything that may differ from one explanation to the next. Newtons, metres; `hooks` in the axes the load was built in. */
export interface Case {
  readonly weight: number;
  readonly centre: Vector;
  readonly legs: readonly HeldLeg[];
  readonly ties: readonly HeldTie[];
  readonly hooks: readonly Vector[];
  readonly beam?: HeldBeam;
}

/** For each body rows of the turn from its axes to the world's, then where its origin is, or its pin. */
export type Poses = Float64Array;

/** What a spring is at a pose: which way it pulls, how stiff it is along that and across, N/m, and how far it reaches and is drawn out, metres. */
export interface Stretch {
  x: number;
  y: number;
  z: number;
  along: number;
  across: number;
  far: number;
  out: number;
}

export class Strain {
  /** Unknowns: six to a body, shifts before turns about its origin or pin. */
  readonly n: number;
  energy = 0;
  readonly slope: Float64Array;
  /** Only the lower triangle is kept. */
  readonly curve: Float64Array;
  /** The pull on each hook, two of them. */
  readonly onHooks = new Float64Array(6);
  /** Metres by which the slackest leg is too long. */
  slack = 0;
  /** How far each leg is drawn out, and how that follows the motions, a row each. */
  outs = new Float64Array(0);
  rows = new Float64Array(0);
  /** Of the spring that was looked at last: its two ends' arms in their bodies and places in the world, and what it is. */
  readonly arms = new Float64Array(6);
  private readonly places = new Float64Array(6);
  private readonly k = new Float64Array(6);
  readonly stretch: Stretch = { x: 0, y: 0, z: 0, along: 0, across: 0, far: 0, out: 0 };

  constructor(bodies: 1 | 2) {
    this.n = 6 * bodies;
    this.slope = new Float64Array(this.n);
    this.curve = new Float64Array(this.n * this.n);
  }

  /** @param foreseen what each leg is said to pull, for its stiffness across; absent: what it pulls. */
  feel(asked: Case, p: Poses, foreseen?: Float64Array): void {
    const { weight, centre, legs, ties, hooks, beam } = asked;
    this.slope.fill(0);
    this.curve.fill(0);
    this.onHooks.fill(0);
    this.energy = 0;
    this.slack = 0;
    if (this.outs.length < legs.length) {
      this.outs = new Float64Array(legs.length);
      this.rows = new Float64Array(legs.length * this.n);
    }
    const pin = beam?.pin;
    if (pin) for (let i = 0; i < 3; i++) p[21 + i] = hooks[0]![i]!;
    this.weigh(p, LOAD, centre, undefined, weight);
    if (beam) this.weigh(p, BEAM, beam.centre, pin, beam.weight);
    for (let s = 0; s < legs.length; s++) {
      this.lookAtLeg(asked, p, s);
      const { out } = this.stretch;
      this.outs[s] = out;
      this.rows.fill(0, s * this.n, (s + 1) * this.n);
      this.slack = Math.max(this.slack, -out);
      if (out <= 0) continue;
      const { on, to, stiffness } = legs[s]!;
      const upper = typeof to === "number" ? undefined : BEAM;
      this.pull(on, upper, stiffness * out, hookOf(asked, s));
      if (foreseen !== undefined) this.stretch.across = foreseen[s]! / this.stretch.far;
      this.note(s, on, upper);
      this.bend(on, upper);
    }
    for (let k = 0; k < ties.length; k++) {
      this.lookAtTie(asked, p, k);
      if (this.stretch.out <= 0) continue;
      this.pull(LOAD, undefined, ties[k]!.stiffness * this.stretch.out, undefined);
      this.bend(LOAD, undefined);
    }
    if (pin) this.fasten(weight);
  }

  /** A leg as it is at the poses. */
  lookAtLeg({ legs, hooks, beam }: Case, p: Poses, s: number): void {
    const { on, eye, to, length, stiffness } = legs[s]!;
    this.reach(p, 0, on, eye, on === BEAM ? beam?.pin : undefined);
    if (typeof to === "number") this.fix(hooks[to]!);
    else this.reach(p, 1, BEAM, to, beam?.pin);
    this.draw(length, stiffness);
  }

  /** A tie as it is at the poses. */
  lookAtTie({ ties }: Case, p: Poses, k: number): void {
    const { at, slack, stiffness } = ties[k]!;
    this.reach(p, 0, LOAD, at, undefined);
    this.fix(at);
    this.draw(slack, stiffness);
  }

  /** Puts an end's arm and place where they are worked on. */
  reach(p: Poses, end: 0 | 1, body: BodyIndex, at: Vector, from: Vector | undefined): void {
    const x = at[0] - (from === undefined ? 0 : from[0]);
    const y = at[1] - (from === undefined ? 0 : from[1]);
    const z = at[2] - (from === undefined ? 0 : from[2]);
    const o = 12 * body;
    for (let i = 0; i < 3; i++) {
      const arm = p[o + 3 * i]! * x + p[o + 3 * i + 1]! * y + p[o + 3 * i + 2]! * z;
      this.arms[3 * end + i] = arm;
      this.places[3 * end + i] = arm + p[o + 9 + i]!;
    }
  }

  private fix(at: Vector): void {
    for (let i = 0; i < 3; i++) this.places[3 + i] = at[i]!;
  }

  private draw(free: number, k: number): void {
    const { places, stretch } = this;
    const dx = places[0]! - places[3]!;
    const dy = places[1]! - places[4]!;
    const dz = places[2]! - places[5]!;
    const far = Math.sqrt(dx * dx + dy * dy + dz * dz);
    const by = far > 0 ? 1 / far : 0;
    stretch.x = dx * by;
    stretch.y = dy * by;
    stretch.z = dz * by;
    stretch.far = far;
    stretch.out = far - free;
    stretch.along = k;
    stretch.across = far > 1e-12 ? (k * stretch.out) / far : k;
  }

  private weigh(p: Poses, body: BodyIndex, centre: Vector, from: Vector | undefined, weight: number): void {
    this.reach(p, 0, body, centre, from);
    this.energy += weight * this.places[2]!;
    this.push(body, 0, 0, 0, weight);
  }

  /** What the spring that was looked at pulls, on its ends and on the hook whose forces begin there. */
  private pull(on: BodyIndex, to: BodyIndex | undefined, newtons: number, hook: number | undefined): void {
    const { onHooks } = this;
    const { x, y, z, out } = this.stretch;
    this.energy += (newtons * out) / 2;
    const [fx, fy, fz] = [newtons * x, newtons * y, newtons * z];
    if (hook !== undefined) {
      onHooks[hook] = onHooks[hook]! + fx;
      onHooks[hook + 1] = onHooks[hook + 1]! + fy;
      onHooks[hook + 2] = onHooks[hook + 2]! + fz;
    }
    this.push(on, 0, fx, fy, fz);
    if (to !== undefined) this.push(to, 1, -fx, -fy, -fz);
  }

  /** The force at an end's arm, as the energy's gradient there, with what it changes by as the arm turns. */
  private push(body: BodyIndex, end: 0 | 1, fx: number, fy: number, fz: number): void {
    const { curve, arms, n } = this;
    const o = 6 * body;
    const [ax, ay, az] = [arms[3 * end]!, arms[3 * end + 1]!, arms[3 * end + 2]!];
    addForce(this.slope, o, ax, ay, az, fx, fy, fz);
    const lean = fx * ax + fy * ay + fz * az;
    const [p, q, r] = [(o + 3) * n + o + 3, (o + 4) * n + o + 3, (o + 5) * n + o + 3];
    curve[p] = curve[p]! + fx * ax - lean;
    curve[q + 1] = curve[q + 1]! + fy * ay - lean;
    curve[r + 2] = curve[r + 2]! + fz * az - lean;
    curve[q] = curve[q]! + (fx * ay + fy * ax) / 2;
    curve[r] = curve[r]! + (fx * az + fz * ax) / 2;
    curve[r + 1] = curve[r + 1]! + (fy * az + fz * ay) / 2;
  }

  /** Keeps how a leg's length follows the motions. */
  private note(s: number, on: BodyIndex, to: BodyIndex | undefined): void {
    const { rows, arms, n } = this;
    const { x, y, z } = this.stretch;
    const o = s * n;
    addForce(rows, o + 6 * on, arms[0]!, arms[1]!, arms[2]!, x, y, z);
    if (to !== undefined) addForce(rows, o + 6 * to, arms[3]!, arms[4]!, arms[5]!, -x, -y, -z);
  }

  /** Adds the stiffness K = (along − across)·uuᵀ + across·1 of the spring that was looked at, between the motions [1, −arm×] of its ends. */
  private bend(on: BodyIndex, to: BodyIndex | undefined): void {
    const { k } = this;
    const { x, y, z, along, across } = this.stretch;
    const more = along - across;
    k[0] = more * x * x + across;
    k[1] = more * x * y;
    k[2] = more * x * z;
    k[3] = more * y * y + across;
    k[4] = more * y * z;
    k[5] = more * z * z + across;
    this.block(on, 0, on, 0, 1);
    if (to === undefined) return;
    this.block(to, 1, on, 0, -1);
    this.block(to, 1, to, 1, 1);
  }

  /** The rows of one end's shifts and turns against the other's, or its own. */
  private block(row: BodyIndex, rowEnd: 0 | 1, column: BodyIndex, columnEnd: 0 | 1, sign: 1 | -1): void {
    const { arms, k, n } = this;
    const ax = sign * arms[3 * rowEnd]!;
    const ay = sign * arms[3 * rowEnd + 1]!;
    const az = sign * arms[3 * rowEnd + 2]!;
    const [xx, xy, xz, yy, yz, zz] = [k[0]!, k[1]!, k[2]!, k[3]!, k[4]!, k[5]!];
    const o = 6 * row * n + 6 * column;
    const end = 3 * columnEnd;
    const whole = row !== column;
    this.line(o, whole ? 5 : 0, end, sign * xx, sign * xy, sign * xz);
    this.line(o + n, whole ? 5 : 1, end, sign * xy, sign * yy, sign * yz);
    this.line(o + 2 * n, whole ? 5 : 2, end, sign * xz, sign * yz, sign * zz);
    this.line(o + 3 * n, whole ? 5 : 3, end, ay * xz - az * xy, ay * yz - az * yy, ay * zz - az * yz);
    this.line(o + 4 * n, whole ? 5 : 4, end, az * xx - ax * xz, az * xy - ax * yz, az * xz - ax * zz);
    this.line(o + 5 * n, 5, end, ax * xy - ay * xx, ax * yy - ay * xy, ax * yz - ay * xz);
  }

  /** A force that answers one motion, and its moment about the other end, as far as the diagonal. */
  private line(o: number, last: number, end: number, fx: number, fy: number, fz: number): void {
    const { curve, arms } = this;
    curve[o] = curve[o]! + fx;
    if (last > 0) curve[o + 1] = curve[o + 1]! + fy;
    if (last > 1) curve[o + 2] = curve[o + 2]! + fz;
    if (last < 3) return;
    const bx = arms[end]!;
    const by = arms[end + 1]!;
    const bz = arms[end + 2]!;
    curve[o + 3] = curve[o + 3]! + by * fz - bz * fy;
    if (last > 3) curve[o + 4] = curve[o + 4]! + bz * fx - bx * fz;
    if (last > 4) curve[o + 5] = curve[o + 5]! + bx * fy - by * fx;
  }

  /** The pinned beam does not shift. */
  private fasten(weight: number): void {
    const { slope, curve, n } = this;
    for (let i = 6; i < 9; i++) {
      slope[i] = 0;
      for (let j = 0; j < n; j++) curve[Math.max(i, j) * n + Math.min(i, j)] = i === j ? weight : 0;
    }
  }
}

/** Where the forces begin of the hook that a leg pulls on: its own, or the first, on which the beam is that it leads to. */
export function hookOf({ legs, beam }: Case, s: number): number | undefined {
  const { on, to } = legs[s]!;
  if (typeof to === "number") return 3 * to;
  return beam?.pin && on === LOAD ? 0 : undefined;
}

/** A force at an arm, added to the six of its body that begin at `o`. */
export function addForce(
  into: Float64Array,
  o: number,
  ax: number,
  ay: number,
  az: number,
  fx: number,
  fy: number,
  fz: number,
): void {
  into[o] = into[o]! + fx;
  into[o + 1] = into[o + 1]! + fy;
  into[o + 2] = into[o + 2]! + fz;
  into[o + 3] = into[o + 3]! + ay * fz - az * fy;
  into[o + 4] = into[o + 4]! + az * fx - ax * fz;
  into[o + 5] = into[o + 5]! + ax * fy - ay * fx;
}

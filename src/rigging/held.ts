// Owns the quick statics of a load with ties still on it, hung from a hook, a beam or two hooks: springs and Newton's steps in flat arrays that are used again and again.
//
// The same energy as pose.ts has, for one body or two; a trial lift is weighed against hundreds of explanations, and each needs several of these.

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

export interface Rested {
  /** Newtons on the hooks less the beam's weight; degrees. */
  readonly load: number;
  readonly pitch: number;
  readonly roll: number;
  /** Newtons in each tie. */
  readonly pulls: readonly number[];
  /** Metres by which each tie's point has moved. */
  readonly moves: readonly number[];
  /** Metres by which the slackest leg is too long. */
  readonly slack: number;
}

const STEPS = 60;
const NEAR = 1e-7;

/** For each body rows of the turn from its axes to the world's, then where its origin is, or its pin. */
export type Poses = Float64Array;

/** Holds the arrays; one at a time may be used by one caller. */
export class HeldLoad {
  private readonly n: number;
  private readonly slope: Float64Array;
  private readonly curve: Float64Array;
  private readonly lower: Float64Array;
  private readonly step: Float64Array;
  private readonly pose: Poses;
  private readonly next: Poses;
  /** How the length of a link follows the motions, one row; and which of them it follows at all. */
  private readonly row: Float64Array;
  private readonly touched = new Int32Array(12);
  /** Of a link's two ends: the arm in its body and the place in the world. */
  private readonly arms = new Float64Array(6);
  private readonly places = new Float64Array(6);
  private energy = 0;
  private slack = 0;
  /** The pull on each hook, two of them. */
  private readonly onHooks = new Float64Array(6);

  constructor(bodies: 1 | 2 = 1) {
    this.n = 6 * bodies;
    this.slope = new Float64Array(this.n);
    this.curve = new Float64Array(this.n * this.n);
    this.lower = new Float64Array(this.n * this.n);
    this.step = new Float64Array(this.n);
    this.row = new Float64Array(this.n);
    this.pose = new Float64Array(12 * bodies);
    this.next = new Float64Array(12 * bodies);
  }

  /** Where it rests when it starts at `from`; the poses come back in `into`. */
  rest(asked: Case, from: Poses, into: Poses): Rested {
    const { n } = this;
    const weight = asked.weight + (asked.beam?.weight ?? 0);
    this.pose.set(from);
    this.feel(asked, this.pose);
    let energy = this.energy;
    let damp = 1e-6 * weight;
    for (let round = 0; round < STEPS; round++) {
      let left = 0;
      for (let i = 0; i < n; i++) left = Math.max(left, Math.abs(this.slope[i]!));
      if (left < NEAR * weight) break;
      if (!this.solve(damp)) {
        damp = Math.max(8 * damp, 1e-3 * weight);
        continue;
      }
      let far = 0;
      for (let i = 0; i < n; i++) far = Math.max(far, Math.abs(this.step[i]!));
      if (far > 0.3) for (let i = 0; i < n; i++) this.step[i] = (this.step[i]! * 0.3) / far;
      this.move(this.pose, this.next);
      this.feel(asked, this.next);
      if (this.energy <= energy + 1e-11 * weight) {
        energy = this.energy;
        this.pose.set(this.next);
        damp = Math.max(damp / 10, 1e-8 * weight);
      } else {
        damp = Math.max(10 * damp, 1e-3 * weight);
        this.feel(asked, this.pose);
        if (damp > 1e12 * weight) break;
      }
    }
    into.set(this.pose);
    return this.read(asked);
  }

  /** How the load gives at a pose: its part of the inverse of the curvature, 6 × 6, the heading that nothing holds made very soft. */
  compliance(asked: Case, at: Poses): Float64Array {
    const { n } = this;
    this.pose.set(at);
    this.feel(asked, this.pose);
    const inverse = new Float64Array(36);
    const curve = Float64Array.from(this.curve);
    for (let j = 0; j < 6; j++) {
      this.curve.set(curve);
      this.slope.fill(0);
      this.slope[j] = -1;
      let damp = 1e-4 * asked.weight;
      while (!this.solve(damp)) damp *= 10;
      for (let i = 0; i < 6; i++) inverse[6 * i + j] = this.step[i]!;
    }
    this.curve.set(curve.subarray(0, n * n));
    return inverse;
  }

  /** What was last felt, read off. */
  private read(asked: Case): Rested {
    const p = this.pose;
    const pulls: number[] = [];
    const moves: number[] = [];
    for (const { at, slack, stiffness } of asked.ties) {
      const far = Math.hypot(
        p[0]! * at[0] + p[1]! * at[1] + p[2]! * at[2] + p[9]! - at[0],
        p[3]! * at[0] + p[4]! * at[1] + p[5]! * at[2] + p[10]! - at[1],
        p[6]! * at[0] + p[7]! * at[1] + p[8]! * at[2] + p[11]! - at[2],
      );
      moves.push(far);
      pulls.push(stiffness * Math.max(0, far - slack));
    }
    const f = this.onHooks;
    const own = asked.beam?.weight ?? 0;
    // A pinned beam's weight is on the hook besides what it holds.
    const pinned = asked.beam?.pin === undefined ? 0 : own;
    return {
      load: Math.hypot(f[0]!, f[1]!, f[2]! - pinned) + Math.hypot(f[3]!, f[4]!, f[5]!) - own,
      // World-up in body axes is the third row.
      pitch: (-Math.asin(Math.max(-1, Math.min(1, p[6]!))) * 180) / Math.PI,
      roll: (Math.atan2(p[7]!, p[8]!) * 180) / Math.PI,
      pulls,
      moves,
      slack: this.slack,
    };
  }

  /** Energy, slope and curvature at the poses, over shifts and then turns of each body about its origin or pin. */
  private feel({ weight, centre, legs, ties, hooks, beam }: Case, p: Poses): void {
    this.slope.fill(0);
    this.curve.fill(0);
    this.onHooks.fill(0);
    this.energy = 0;
    this.slack = 0;
    const pin = beam?.pin;
    if (beam && pin) {
      const [hook] = hooks;
      for (let i = 0; i < 3; i++) p[21 + i] = hook![i]!;
    }
    this.weigh(p, LOAD, centre, undefined, weight);
    if (beam) this.weigh(p, BEAM, beam.centre, pin, beam.weight);
    for (const { on, eye, to, length, stiffness } of legs) {
      this.reach(p, 0, on, eye, on === BEAM ? pin : undefined);
      const hooked = typeof to === "number";
      if (hooked) this.fix(1, hooks[to]!);
      else this.reach(p, 1, BEAM, to, pin);
      const hook = hooked ? 3 * to : pin && on === LOAD ? 0 : undefined;
      const out = this.spring(on, hooked ? undefined : BEAM, length, stiffness, hook);
      this.slack = Math.max(this.slack, -out);
    }
    for (const { at, slack, stiffness } of ties) {
      this.reach(p, 0, LOAD, at, undefined);
      this.fix(1, at);
      this.spring(LOAD, undefined, slack, stiffness, undefined);
    }
    if (pin)
      for (let i = 6; i < 9; i++) {
        this.slope[i] = 0;
        for (let j = 0; j < this.n; j++) this.curve[Math.max(i, j) * this.n + Math.min(i, j)] = i === j ? weight : 0;
      }
  }

  /** Puts an end's arm and place where they are worked on. */
  private reach(p: Poses, end: 0 | 1, body: BodyIndex, at: Vector, from: Vector | undefined): void {
    const [x, y, z] = from === undefined ? at : [at[0] - from[0], at[1] - from[1], at[2] - from[2]];
    const o = 12 * body;
    for (let i = 0; i < 3; i++) {
      const arm = p[o + 3 * i]! * x + p[o + 3 * i + 1]! * y + p[o + 3 * i + 2]! * z;
      this.arms[3 * end + i] = arm;
      this.places[3 * end + i] = arm + p[o + 9 + i]!;
    }
  }

  private fix(end: 0 | 1, at: Vector): void {
    for (let i = 0; i < 3; i++) this.places[3 * end + i] = at[i]!;
  }

  private weigh(p: Poses, body: BodyIndex, centre: Vector, from: Vector | undefined, weight: number): void {
    this.reach(p, 0, body, centre, from);
    this.energy += weight * this.places[2]!;
    this.push(body, 0, 0, 0, weight);
  }

  /** The force at an end's arm, as the energy's gradient there. Of the curvature only the lower triangle is kept. */
  private push(body: BodyIndex, end: 0 | 1, fx: number, fy: number, fz: number): void {
    const { slope, curve, arms, n } = this;
    const o = 6 * body;
    const [ax, ay, az] = [arms[3 * end]!, arms[3 * end + 1]!, arms[3 * end + 2]!];
    slope[o] = slope[o]! + fx;
    slope[o + 1] = slope[o + 1]! + fy;
    slope[o + 2] = slope[o + 2]! + fz;
    slope[o + 3] = slope[o + 3]! + ay * fz - az * fy;
    slope[o + 4] = slope[o + 4]! + az * fx - ax * fz;
    slope[o + 5] = slope[o + 5]! + ax * fy - ay * fx;
    const lean = fx * ax + fy * ay + fz * az;
    const [p, q, r] = [(o + 3) * n + o + 3, (o + 4) * n + o + 3, (o + 5) * n + o + 3];
    curve[p] = curve[p]! + fx * ax - lean;
    curve[q + 1] = curve[q + 1]! + fy * ay - lean;
    curve[r + 2] = curve[r + 2]! + fz * az - lean;
    curve[q] = curve[q]! + (fx * ay + fy * ax) / 2;
    curve[r] = curve[r]! + (fx * az + fz * ax) / 2;
    curve[r + 1] = curve[r + 1]! + (fy * az + fz * ay) / 2;
  }

  /** A spring between the two ends, and how far it is drawn out; what it pulls counts on the hook whose forces begin there. */
  private spring(on: BodyIndex, to: BodyIndex | undefined, free: number, k: number, hook: number | undefined): number {
    const { places, onHooks } = this;
    const [dx, dy, dz] = [places[0]! - places[3]!, places[1]! - places[4]!, places[2]! - places[5]!];
    const far = Math.sqrt(dx * dx + dy * dy + dz * dz);
    const out = far - free;
    if (out <= 0) return out;
    const pull = k * out;
    this.energy += (pull * out) / 2;
    const by = far > 0 ? 1 / far : 0;
    const [ux, uy, uz] = [dx * by, dy * by, dz * by];
    if (hook !== undefined) {
      onHooks[hook] = onHooks[hook]! + pull * ux;
      onHooks[hook + 1] = onHooks[hook + 1]! + pull * uy;
      onHooks[hook + 2] = onHooks[hook + 2]! + pull * uz;
    }
    this.push(on, 0, pull * ux, pull * uy, pull * uz);
    if (to !== undefined) this.push(to, 1, -pull * ux, -pull * uy, -pull * uz);
    // k lengthwise, pull/far across: (k − t)·uuᵀ + t·1, between the motions [1, −arm×] of both ends.
    const t = far > 1e-12 ? pull / far : k;
    this.follow(on, to, ux, uy, uz, k - t);
    this.follow(on, to, 1, 0, 0, t);
    this.follow(on, to, 0, 1, 0, t);
    this.follow(on, to, 0, 0, 1, t);
    return out;
  }

  /** Adds a stiffness along u between the ends: its row of motions, [u, arm × u], squared. */
  private follow(
    on: BodyIndex,
    to: BodyIndex | undefined,
    ux: number,
    uy: number,
    uz: number,
    stiffness: number,
  ): void {
    const { row, arms, curve, touched, n } = this;
    let count = 0;
    for (let end = 0; end < (to === undefined ? 1 : 2); end++) {
      const o = 6 * (end === 0 ? on : to!);
      const sign = end === 0 ? 1 : -1;
      const [ax, ay, az] = [arms[3 * end]!, arms[3 * end + 1]!, arms[3 * end + 2]!];
      row[o] = sign * ux;
      row[o + 1] = sign * uy;
      row[o + 2] = sign * uz;
      row[o + 3] = sign * (ay * uz - az * uy);
      row[o + 4] = sign * (az * ux - ax * uz);
      row[o + 5] = sign * (ax * uy - ay * ux);
      for (let i = 0; i < 6; i++) if (row[o + i] !== 0) touched[count++] = o + i;
    }
    for (let a = 0; a < count; a++) {
      const i = touched[a]!;
      const si = stiffness * row[i]!;
      for (let b = 0; b < count; b++) {
        const j = touched[b]!;
        if (j <= i) curve[i * n + j] = curve[i * n + j]! + si * row[j]!;
      }
    }
  }

  /** (curvature + damp)·step = −slope by Cholesky; false when it is not positive definite. */
  private solve(damp: number): boolean {
    const { curve, lower, slope, step, n } = this;
    for (let i = 0; i < n; i++) {
      for (let j = 0; j <= i; j++) {
        let sum = curve[i * n + j]! + (i === j ? damp : 0);
        for (let k = 0; k < j; k++) sum -= lower[i * n + k]! * lower[j * n + k]!;
        if (i !== j) lower[i * n + j] = sum / lower[j * n + j]!;
        else if (sum > 0) lower[i * n + i] = Math.sqrt(sum);
        else return false;
      }
    }
    for (let i = 0; i < n; i++) {
      let sum = -slope[i]!;
      for (let k = 0; k < i; k++) sum -= lower[i * n + k]! * step[k]!;
      step[i] = sum / lower[i * n + i]!;
    }
    for (let i = n - 1; i >= 0; i--) {
      let sum = step[i]!;
      for (let k = i + 1; k < n; k++) sum -= lower[k * n + i]! * step[k]!;
      step[i] = sum / lower[i * n + i]!;
    }
    return true;
  }

  /** The poses after the step: shifted, and turned about origin or pin by Rodrigues' formula. */
  private move(p: Poses, into: Poses): void {
    for (let o = 0, s6 = 0; o < p.length; o += 12, s6 += 6) {
      const [wx, wy, wz] = [this.step[s6 + 3]!, this.step[s6 + 4]!, this.step[s6 + 5]!];
      const angle = Math.sqrt(wx * wx + wy * wy + wz * wz);
      const s = angle < 1e-9 ? 1 : Math.sin(angle) / angle;
      const c = angle < 1e-9 ? 0.5 : (1 - Math.cos(angle)) / (angle * angle);
      for (let j = 0; j < 3; j++) {
        const [x, y, z] = [p[o + j]!, p[o + 3 + j]!, p[o + 6 + j]!];
        const [tx, ty, tz] = [wy * z - wz * y, wz * x - wx * z, wx * y - wy * x];
        into[o + j] = x + s * tx + c * (wy * tz - wz * ty);
        into[o + 3 + j] = y + s * ty + c * (wz * tx - wx * tz);
        into[o + 6 + j] = z + s * tz + c * (wx * ty - wy * tx);
      }
      for (let i = 0; i < 3; i++) into[o + 9 + i] = p[o + 9 + i]! + this.step[s6 + i]!;
    }
  }
}

// Owns the quick statics of one load on one hook with ties still on it: six freedoms, springs, Newton's steps in flat arrays that are used again and again.
//
// The same energy as pose.ts has, for one body; a trial lift is weighed against hundreds of explanations, and each needs several of these.

import type { Vector } from "./problem.ts";

/** A leg from an eye to the hook. */
export interface HeldLeg {
  readonly eye: Vector;
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

/** Everything that may differ from one explanation to the next. Newtons, metres; `hook` in the axes the load was built in. */
export interface Case {
  readonly weight: number;
  readonly centre: Vector;
  readonly legs: readonly HeldLeg[];
  readonly ties: readonly HeldTie[];
  readonly hook: Vector;
}

export interface Rested {
  /** Newtons on the hook; degrees. */
  readonly load: number;
  readonly pitch: number;
  readonly roll: number;
  /** Newtons in each tie. */
  readonly pulls: readonly number[];
  /** Metres by which each tie's point has moved. */
  readonly moves: readonly number[];
}

const N = 6;
const STEPS = 60;
const NEAR = 1e-7;

/** Rows of the turn from body to world axes, then the place of the body's origin. */
export type Pose12 = Float64Array;

/** Holds the arrays; one at a time may be used by one caller. */
export class HeldLoad {
  private readonly slope = new Float64Array(N);
  private readonly curve = new Float64Array(N * N);
  private readonly lower = new Float64Array(N * N);
  private readonly step = new Float64Array(N);
  private readonly pose: Pose12 = new Float64Array(12);
  private readonly next: Pose12 = new Float64Array(12);
  private readonly arm = new Float64Array(3);
  private readonly force = new Float64Array(3);
  private energy = 0;
  /** The sum of the legs' pulls on the hook. */
  private readonly onHook = new Float64Array(3);

  /** Where the load rests when it starts at `from`; the pose comes back in `into`. */
  rest(asked: Case, from: Pose12, into: Pose12): Rested {
    const { weight } = asked;
    this.pose.set(from);
    this.feel(asked, this.pose);
    let energy = this.energy;
    let damp = 1e-6 * weight;
    for (let round = 0; round < STEPS; round++) {
      let left = 0;
      for (let i = 0; i < N; i++) left = Math.max(left, Math.abs(this.slope[i]!));
      if (left < NEAR * weight) break;
      if (!this.solve(damp)) {
        damp = Math.max(8 * damp, 1e-3 * weight);
        continue;
      }
      let far = 0;
      for (let i = 0; i < N; i++) far = Math.max(far, Math.abs(this.step[i]!));
      if (far > 0.3) for (let i = 0; i < N; i++) this.step[i] = (this.step[i]! * 0.3) / far;
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

  /** How the load gives at a pose: the inverse of its curvature, 6 × 6, the heading that nothing holds made very soft. */
  compliance(asked: Case, at: Pose12): Float64Array {
    this.pose.set(at);
    this.feel(asked, this.pose);
    const inverse = new Float64Array(N * N);
    const curve = Float64Array.from(this.curve);
    for (let j = 0; j < N; j++) {
      this.curve.set(curve);
      this.slope.fill(0);
      this.slope[j] = -1;
      let damp = 1e-4 * asked.weight;
      while (!this.solve(damp)) damp *= 10;
      for (let i = 0; i < N; i++) inverse[N * i + j] = this.step[i]!;
    }
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
    const { onHook } = this;
    return {
      load: Math.hypot(onHook[0]!, onHook[1]!, onHook[2]!),
      // World-up in body axes is the third row.
      pitch: (-Math.asin(Math.max(-1, Math.min(1, p[6]!))) * 180) / Math.PI,
      roll: (Math.atan2(p[7]!, p[8]!) * 180) / Math.PI,
      pulls,
      moves,
    };
  }

  /** Energy, slope and curvature at a pose, over shifts and then turns about the origin of the body. */
  private feel({ weight, centre, legs, ties, hook }: Case, p: Pose12): void {
    this.slope.fill(0);
    this.curve.fill(0);
    this.onHook.fill(0);
    const cx = p[0]! * centre[0] + p[1]! * centre[1] + p[2]! * centre[2];
    const cy = p[3]! * centre[0] + p[4]! * centre[1] + p[5]! * centre[2];
    const cz = p[6]! * centre[0] + p[7]! * centre[1] + p[8]! * centre[2];
    this.energy = weight * (cz + p[11]!);
    const { arm, force } = this;
    arm[0] = cx;
    arm[1] = cy;
    arm[2] = cz;
    force[0] = 0;
    force[1] = 0;
    force[2] = weight;
    this.push();
    for (const { eye, length, stiffness } of legs) this.spring(p, eye, hook, length, stiffness, true);
    for (const { at, slack, stiffness } of ties) this.spring(p, at, at, slack, stiffness, false);
  }

  /** The force at the arm, as the energy's gradient there. Of the curvature only the lower triangle is kept. */
  private push(): void {
    const { slope, curve, arm, force } = this;
    const [ax, ay, az] = [arm[0]!, arm[1]!, arm[2]!];
    const [fx, fy, fz] = [force[0]!, force[1]!, force[2]!];
    slope[0] = slope[0]! + fx;
    slope[1] = slope[1]! + fy;
    slope[2] = slope[2]! + fz;
    slope[3] = slope[3]! + ay * fz - az * fy;
    slope[4] = slope[4]! + az * fx - ax * fz;
    slope[5] = slope[5]! + ax * fy - ay * fx;
    const lean = fx * ax + fy * ay + fz * az;
    curve[21] = curve[21]! + fx * ax - lean;
    curve[28] = curve[28]! + fy * ay - lean;
    curve[35] = curve[35]! + fz * az - lean;
    curve[27] = curve[27]! + (fx * ay + fy * ax) / 2;
    curve[33] = curve[33]! + (fx * az + fz * ax) / 2;
    curve[34] = curve[34]! + (fy * az + fz * ay) / 2;
  }

  private spring(p: Pose12, at: Vector, to: Vector, free: number, k: number, hooked: boolean): void {
    const ax = p[0]! * at[0] + p[1]! * at[1] + p[2]! * at[2];
    const ay = p[3]! * at[0] + p[4]! * at[1] + p[5]! * at[2];
    const az = p[6]! * at[0] + p[7]! * at[1] + p[8]! * at[2];
    const [dx, dy, dz] = [ax + p[9]! - to[0], ay + p[10]! - to[1], az + p[11]! - to[2]];
    const far = Math.sqrt(dx * dx + dy * dy + dz * dz);
    const out = far - free;
    if (out <= 0) return;
    const pull = k * out;
    this.energy += (pull * out) / 2;
    const by = far > 0 ? 1 / far : 0;
    const [ux, uy, uz] = [dx * by, dy * by, dz * by];
    if (hooked) {
      this.onHook[0] = this.onHook[0]! + pull * ux;
      this.onHook[1] = this.onHook[1]! + pull * uy;
      this.onHook[2] = this.onHook[2]! + pull * uz;
    }
    const { arm, force, curve, step: row } = this;
    arm[0] = ax;
    arm[1] = ay;
    arm[2] = az;
    force[0] = pull * ux;
    force[1] = pull * uy;
    force[2] = pull * uz;
    this.push();
    // k lengthwise, pull/far across: (k − t)·uuᵀ + t·1, between the motions [1, −arm×].
    const t = far > 1e-12 ? pull / far : k;
    const s = k - t;
    row[0] = ux;
    row[1] = uy;
    row[2] = uz;
    row[3] = ay * uz - az * uy;
    row[4] = az * ux - ax * uz;
    row[5] = ax * uy - ay * ux;
    for (let i = 0; i < N; i++) {
      const si = s * row[i]!;
      for (let j = 0; j <= i; j++) {
        const at6 = i * N + j;
        curve[at6] = curve[at6]! + si * row[j]!;
      }
    }
    curve[0] = curve[0]! + t;
    curve[7] = curve[7]! + t;
    curve[14] = curve[14]! + t;
    curve[21] = curve[21]! + t * (ay * ay + az * az);
    curve[28] = curve[28]! + t * (ax * ax + az * az);
    curve[35] = curve[35]! + t * (ax * ax + ay * ay);
    curve[27] = curve[27]! - t * ax * ay;
    curve[33] = curve[33]! - t * ax * az;
    curve[34] = curve[34]! - t * ay * az;
    // Shift against turn: a turn w moves the point by w × arm.
    curve[19] = curve[19]! - t * az;
    curve[20] = curve[20]! + t * ay;
    curve[24] = curve[24]! + t * az;
    curve[26] = curve[26]! - t * ax;
    curve[30] = curve[30]! - t * ay;
    curve[31] = curve[31]! + t * ax;
  }

  /** (curvature + damp)·step = −slope by Cholesky; false when it is not positive definite. */
  private solve(damp: number): boolean {
    const { curve, lower, slope, step } = this;
    for (let i = 0; i < N; i++) {
      for (let j = 0; j <= i; j++) {
        let sum = curve[i * N + j]! + (i === j ? damp : 0);
        for (let k = 0; k < j; k++) sum -= lower[i * N + k]! * lower[j * N + k]!;
        if (i !== j) lower[i * N + j] = sum / lower[j * N + j]!;
        else if (sum > 0) lower[i * N + i] = Math.sqrt(sum);
        else return false;
      }
    }
    for (let i = 0; i < N; i++) {
      let sum = -slope[i]!;
      for (let k = 0; k < i; k++) sum -= lower[i * N + k]! * step[k]!;
      step[i] = sum / lower[i * N + i]!;
    }
    for (let i = N - 1; i >= 0; i--) {
      let sum = step[i]!;
      for (let k = i + 1; k < N; k++) sum -= lower[k * N + i]! * step[k]!;
      step[i] = sum / lower[i * N + i]!;
    }
    return true;
  }

  /** The pose after the step: shifted, and turned about the origin by Rodrigues' formula. */
  private move(p: Pose12, into: Pose12): void {
    const [wx, wy, wz] = [this.step[3]!, this.step[4]!, this.step[5]!];
    const angle = Math.sqrt(wx * wx + wy * wy + wz * wz);
    const s = angle < 1e-9 ? 1 : Math.sin(angle) / angle;
    const c = angle < 1e-9 ? 0.5 : (1 - Math.cos(angle)) / (angle * angle);
    for (let j = 0; j < 3; j++) {
      const [x, y, z] = [p[j]!, p[3 + j]!, p[6 + j]!];
      const [tx, ty, tz] = [wy * z - wz * y, wz * x - wx * z, wx * y - wy * x];
      into[j] = x + s * tx + c * (wy * tz - wz * ty);
      into[3 + j] = y + s * ty + c * (wz * tx - wx * tz);
      into[6 + j] = z + s * tz + c * (wx * ty - wy * tx);
    }
    for (let i = 0; i < 3; i++) into[9 + i] = p[9 + i]! + this.step[i]!;
  }
}

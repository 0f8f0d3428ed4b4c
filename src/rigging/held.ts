// Owns the quick statics of a load with ties still on it, hung from a hook, a beam or two hooks: springs and Newton's steps in flat arrays that are used again and again.
//
// The same energy as pose.ts has, for one body or two; a trial lift is weighed against hundreds of explanations, and each needs several of these.
// Legs are stiff: a turn draws them out by its square, and what they would pull then says nothing of what they will. So a step takes the stiffness of a leg across from the pull
// that the step before foresaw (Newton on places and pulls together); where that does not come to rest, the energy is descended.

import { addForce, BEAM, type Case, hookOf, LOAD, type Poses, Strain } from "./strain.ts";

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

/** By how much what is read changes for one unit of something: newtons and degrees. */
export interface Reply {
  readonly load: number;
  readonly pitch: number;
  readonly roll: number;
}

/** How the readings at rest follow each figure by itself: newtons of weight, metres of centre, of each leg and of rise, and the logarithm of each tie's stiffness. */
export interface Replies {
  readonly weight: Reply;
  readonly centre: readonly Reply[];
  readonly lengths: readonly Reply[];
  readonly rise: Reply;
  readonly stiffness: readonly Reply[];
}

/** Steps of Newton before the energy is descended, and of that. */
const QUICK = 12;
const STEPS = 60;
/** Share of the weight that may be left over, and the farthest that a step may go, metres or radians. */
const NEAR = 1e-7;
const FARTHEST = 0.3;
const DEGREES = 180 / Math.PI;

/** Holds the arrays; one at a time may be used by one caller. */
export class HeldLoad {
  private readonly n: number;
  private readonly strain: Strain;
  private readonly lower: Float64Array;
  private readonly step: Float64Array;
  private readonly right: Float64Array;
  private readonly pose: Poses;
  private readonly next: Poses;
  /** What each leg will pull after the step, as far as its length follows it straight. */
  private foreseen = new Float64Array(0);

  constructor(bodies: 1 | 2 = 1) {
    this.strain = new Strain(bodies);
    this.n = this.strain.n;
    this.lower = new Float64Array(this.n * this.n);
    this.step = new Float64Array(this.n);
    this.right = new Float64Array(this.n);
    this.pose = new Float64Array(12 * bodies);
    this.next = new Float64Array(12 * bodies);
  }

  /** Where it rests when it starts at `from`; the poses come back in `into`. */
  rest(asked: Case, from: Poses, into: Poses): Rested {
    this.pose.set(from);
    if (!this.settles(asked)) {
      this.pose.set(from);
      this.descend(asked);
    }
    into.set(this.pose);
    return this.read(asked);
  }

  /** Newton's steps on places and pulls; false when they do not come to rest in a few, or not where it is stable. */
  private settles(asked: Case): boolean {
    const { strain } = this;
    const weight = asked.weight + (asked.beam?.weight ?? 0);
    const damp = 1e-8 * weight;
    strain.feel(asked, this.pose);
    if (this.left() < NEAR * weight) return true;
    for (let round = 0; round < QUICK; round++) {
      if (!this.factor(damp)) return false;
      this.downhill();
      this.foresee(asked);
      this.move(this.pose, this.pose);
      strain.feel(asked, this.pose, this.foreseen);
      if (this.left() < NEAR * weight) return this.factor(damp);
    }
    return false;
  }

  /** Levenberg's descent of the energy. */
  private descend(asked: Case): void {
    const { strain } = this;
    const weight = asked.weight + (asked.beam?.weight ?? 0);
    strain.feel(asked, this.pose);
    let { energy } = strain;
    let damp = 1e-6 * weight;
    for (let round = 0; round < STEPS && this.left() >= NEAR * weight; round++) {
      if (!this.factor(damp)) {
        damp = Math.max(8 * damp, 1e-3 * weight);
        continue;
      }
      this.downhill();
      this.move(this.pose, this.next);
      strain.feel(asked, this.next);
      if (strain.energy <= energy + 1e-11 * weight) {
        energy = strain.energy;
        this.pose.set(this.next);
        damp = Math.max(damp / 10, 1e-8 * weight);
      } else {
        damp = Math.max(10 * damp, 1e-3 * weight);
        strain.feel(asked, this.pose);
        if (damp > 1e12 * weight) break;
      }
    }
  }

  /** The greatest force or moment left over. */
  private left(): number {
    const { slope } = this.strain;
    let most = 0;
    for (let i = 0; i < slope.length; i++) most = Math.max(most, Math.abs(slope[i]!));
    return most;
  }

  /** The step against the slope, no farther than small turns hold for. */
  private downhill(): void {
    const { right, step, n } = this;
    for (let i = 0; i < n; i++) right[i] = -this.strain.slope[i]!;
    this.solve(right, step);
    let far = 0;
    for (let i = 0; i < n; i++) far = Math.max(far, Math.abs(step[i]!));
    if (far > FARTHEST) for (let i = 0; i < n; i++) step[i] = (step[i]! * FARTHEST) / far;
  }

  private foresee({ legs }: Case): void {
    const { step, n } = this;
    const { outs, rows } = this.strain;
    if (this.foreseen.length < legs.length) this.foreseen = new Float64Array(legs.length);
    for (let s = 0; s < legs.length; s++) {
      let out = outs[s]!;
      for (let i = 0; i < n; i++) out += rows[s * n + i]! * step[i]!;
      this.foreseen[s] = Math.max(0, legs[s]!.stiffness * out);
    }
  }

  /** How the load gives at a pose: its part of the inverse of the curvature, 6 × 6, the heading that nothing holds made very soft. */
  compliance(asked: Case, at: Poses): Float64Array {
    this.pose.set(at);
    this.strain.feel(asked, this.pose);
    this.surelyFactor(1e-4 * asked.weight);
    const inverse = new Float64Array(36);
    for (let j = 0; j < 6; j++) {
      this.right.fill(0);
      this.right[j] = 1;
      this.solve(this.right, this.step);
      for (let i = 0; i < 6; i++) inverse[6 * i + j] = this.step[i]!;
    }
    return inverse;
  }

  /** How what was read follows each figure, where it came to rest last: the curvature turns what a figure adds to the forces into motions. */
  replies(asked: Case): Replies {
    const { strain, pose, right } = this;
    const { weight, centre, legs, ties, beam } = asked;
    strain.feel(asked, pose);
    this.surelyFactor(1e-8 * weight);
    const replyTo = (add: () => void, leg?: number): Reply => {
      right.fill(0);
      add();
      if (beam?.pin) right.fill(0, 6, 9);
      for (let i = 0; i < right.length; i++) right[i] = -right[i]!;
      this.solve(right, this.step);
      return this.replyOf(asked, leg);
    };
    const { arms, stretch } = strain;
    const push = (fx: number, fy: number, fz: number): void =>
      addForce(right, 0, arms[0]!, arms[1]!, arms[2]!, fx, fy, fz);
    return {
      weight: replyTo(() => {
        strain.reach(pose, 0, LOAD, centre, undefined);
        push(0, 0, 1);
      }),
      centre: [0, 1, 2].map((i) =>
        replyTo(() => {
          // The weight's moment about where the centre was.
          right[3] = weight * pose[3 + i]!;
          right[4] = -weight * pose[i]!;
        }),
      ),
      lengths: legs.map(({ on, to, stiffness }, s) =>
        replyTo(() => {
          strain.lookAtLeg(asked, pose, s);
          const { x, y, z, out } = stretch;
          if (out <= 0) return;
          const k = -shortening(stiffness, stretch.far, legs[s]!.length);
          addForce(right, 6 * on, arms[0]!, arms[1]!, arms[2]!, k * x, k * y, k * z);
          if (typeof to !== "number") addForce(right, 6 * BEAM, arms[3]!, arms[4]!, arms[5]!, -k * x, -k * y, -k * z);
        }, s),
      ),
      // Hooks that rise are ties' ends that sink.
      rise: replyTo(() => {
        for (let k = 0; k < ties.length; k++) {
          strain.lookAtTie(asked, pose, k);
          const { x, y, z, along, across, out } = stretch;
          if (out <= 0) continue;
          const lengthwise = (along - across) * z;
          push(lengthwise * x, lengthwise * y, lengthwise * z + across);
        }
      }),
      stiffness: ties.map((_, k) =>
        replyTo(() => {
          strain.lookAtTie(asked, pose, k);
          const pull = stretch.along * Math.max(0, stretch.out);
          push(pull * stretch.x, pull * stretch.y, pull * stretch.z);
        }),
      ),
    };
  }

  /** What the step changes of what is read; and the metre by which one leg is longer. */
  private replyOf(asked: Case, longer: number | undefined): Reply {
    const { strain, step: d, pose: p } = this;
    const { arms, stretch, onHooks } = strain;
    const pinned = asked.beam?.pin === undefined ? 0 : asked.beam.weight;
    let load = 0;
    for (let s = 0; s < asked.legs.length; s++) {
      const hook = hookOf(asked, s);
      if (hook === undefined || strain.outs[s]! <= 0) continue;
      const { on, to, stiffness, length } = asked.legs[s]!;
      strain.lookAtLeg(asked, p, s);
      const { x, y, z, along, across, far } = stretch;
      const go = [0, 0, 0];
      for (let end = 0; end < (typeof to === "number" ? 1 : 2); end++) {
        const o = 6 * (end === 0 ? on : BEAM);
        const sign = end === 0 ? 1 : -1;
        const [ax, ay, az] = [arms[3 * end]!, arms[3 * end + 1]!, arms[3 * end + 2]!];
        go[0]! += sign * (d[o]! + d[o + 4]! * az - d[o + 5]! * ay);
        go[1]! += sign * (d[o + 1]! + d[o + 5]! * ax - d[o + 3]! * az);
        go[2]! += sign * (d[o + 2]! + d[o + 3]! * ay - d[o + 4]! * ax);
      }
      const drawn = (along - across) * (x * go[0]! + y * go[1]! + z * go[2]!);
      const lengthwise = drawn - (s === longer ? shortening(stiffness, far, length) : 0);
      const [hx, hy, hz] = [onHooks[hook]!, onHooks[hook + 1]!, onHooks[hook + 2]! - (hook === 0 ? pinned : 0)];
      const size = Math.sqrt(hx * hx + hy * hy + hz * hz);
      const ahead = hx * (lengthwise * x + across * go[0]!) + hy * (lengthwise * y + across * go[1]!);
      load += (ahead + hz * (lengthwise * z + across * go[2]!)) / size;
    }
    // World-up in body axes, the third row, turns by the turn's share of the other two.
    const [x, y, z] = [0, 1, 2].map((i) => d[3]! * p[3 + i]! - d[4]! * p[i]!);
    const level = p[7]! * p[7]! + p[8]! * p[8]!;
    return {
      load,
      pitch: (-x! / Math.sqrt(Math.max(1e-12, 1 - p[6]! * p[6]!))) * DEGREES,
      roll: ((y! * p[8]! - z! * p[7]!) / Math.max(1e-12, level)) * DEGREES,
    };
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
    const f = this.strain.onHooks;
    const own = asked.beam?.weight ?? 0;
    // A pinned beam's weight is on the hook besides what it holds.
    const pinned = asked.beam?.pin === undefined ? 0 : own;
    return {
      load: Math.hypot(f[0]!, f[1]!, f[2]! - pinned) + Math.hypot(f[3]!, f[4]!, f[5]!) - own,
      // World-up in body axes is the third row.
      pitch: -Math.asin(Math.max(-1, Math.min(1, p[6]!))) * DEGREES,
      roll: Math.atan2(p[7]!, p[8]!) * DEGREES,
      pulls,
      moves,
      slack: this.strain.slack,
    };
  }

  /** Cholesky's triangle of the curvature with so much added; false when it is not positive definite. */
  private factor(damp: number): boolean {
    const { lower, n } = this;
    const { curve } = this.strain;
    for (let i = 0; i < n; i++) {
      for (let j = 0; j <= i; j++) {
        let sum = curve[i * n + j]! + (i === j ? damp : 0);
        for (let k = 0; k < j; k++) sum -= lower[i * n + k]! * lower[j * n + k]!;
        if (i !== j) lower[i * n + j] = sum / lower[j * n + j]!;
        else if (sum > 0) lower[i * n + i] = Math.sqrt(sum);
        else return false;
      }
    }
    return true;
  }

  private surelyFactor(damp: number): void {
    while (!this.factor(damp)) damp *= 10;
  }

  private solve(right: Float64Array, into: Float64Array): void {
    const { lower, n } = this;
    for (let i = 0; i < n; i++) {
      let sum = right[i]!;
      for (let k = 0; k < i; k++) sum -= lower[i * n + k]! * into[k]!;
      into[i] = sum / lower[i * n + i]!;
    }
    for (let i = n - 1; i >= 0; i--) {
      let sum = into[i]!;
      for (let k = i + 1; k < n; k++) sum -= lower[k * n + i]! * into[k]!;
      into[i] = sum / lower[i * n + i]!;
    }
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

/** N/m: by how much less a leg pulls that is longer; its stiffness is EA over its length. */
const shortening = (stiffness: number, far: number, length: number): number => (stiffness * far) / length;

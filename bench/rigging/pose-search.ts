// Owns an independent way to the hanging pose: position and quaternion of the load under a fixed hook, by descent on the energy with differences
// taken numerically and at last Newton on the sums of force and moment. Shares nothing with the rigging room.

type Triple = readonly [number, number, number];

export interface Slung {
  readonly weight: number;
  readonly centre: Triple;
  readonly legs: readonly { readonly eye: Triple; readonly length: number; readonly stiffness: number }[];
}

export interface Found {
  readonly pitch: number;
  readonly roll: number;
  readonly tensions: readonly number[];
}

/** Position, then rotation vector applied on top of `base`. */
type Pose = readonly number[];

const rotate = (w: Triple, v: Triple): Triple => {
  const angle = Math.hypot(...w);
  if (angle < 1e-300) return v;
  const [x, y, z] = [w[0] / angle, w[1] / angle, w[2] / angle];
  const [s, h] = [Math.sin(angle / 2), Math.cos(angle / 2)];
  const [a, b, c] = [x * s, y * s, z * s];
  const [tx, ty, tz] = [2 * (b * v[2] - c * v[1]), 2 * (c * v[0] - a * v[2]), 2 * (a * v[1] - b * v[0])];
  return [v[0] + h * tx + (b * tz - c * ty), v[1] + h * ty + (c * tx - a * tz), v[2] + h * tz + (a * ty - b * tx)];
};

const place = (pose: Pose, v: Triple): Triple => {
  const [x, y, z] = rotate([pose[3]!, pose[4]!, pose[5]!], v);
  return [x + pose[0]!, y + pose[1]!, z + pose[2]!];
};

const stretchOf = (leg: Slung["legs"][number], pose: Pose): { pull: number; along: Triple; at: Triple } => {
  const at = place(pose, leg.eye);
  const reach = Math.hypot(...at);
  const pull = (leg.stiffness / leg.length) * Math.max(0, reach - leg.length);
  return { pull, along: [-at[0] / reach, -at[1] / reach, -at[2] / reach], at };
};

const energy = (slung: Slung, pose: Pose): number =>
  slung.weight * place(pose, slung.centre)[2] +
  slung.legs.reduce((sum, leg) => sum + (stretchOf(leg, pose).pull ** 2 * leg.length) / (2 * leg.stiffness), 0);

/** Force and moment about the hook, which stands at the origin. */
const unbalance = (slung: Slung, pose: Pose): number[] => {
  const centre = place(pose, slung.centre);
  const sum = [0, 0, -slung.weight, -slung.weight * centre[1], slung.weight * centre[0], 0];
  for (const leg of slung.legs) {
    const { pull, along, at } = stretchOf(leg, pose);
    for (let i = 0; i < 3; i++) {
      const [j, k] = [(i + 1) % 3, (i + 2) % 3];
      sum[i] = sum[i]! + pull * along[i]!;
      sum[3 + i] = sum[3 + i]! + pull * (at[j]! * along[k]! - at[k]! * along[j]!);
    }
  }
  return sum;
};

/** Solves (A + damp)·x = b by elimination with pivots. */
const solve = (a: number[][], b: number[]): number[] => {
  const n = b.length;
  const m = a.map((row, i) => [...row, b[i]!]);
  for (let c = 0; c < n; c++) {
    let p = c;
    for (let r = c + 1; r < n; r++) if (Math.abs(m[r]![c]!) > Math.abs(m[p]![c]!)) p = r;
    [m[c], m[p]] = [m[p]!, m[c]!];
    for (let r = 0; r < n; r++) {
      if (r === c) continue;
      const f = m[r]![c]! / m[c]![c]!;
      for (let k = c; k <= n; k++) m[r]![k] = m[r]![k]! - f * m[c]![k]!;
    }
  }
  return m.map((row, i) => row[n]! / row[i]!);
};

/** Where the load comes to rest, begun level with its centre under the hook and the legs about taut. */
export function searchPose(slung: Slung): Found {
  const height = Math.min(
    ...slung.legs.map((leg) => {
      const off = Math.hypot(leg.eye[0] - slung.centre[0], leg.eye[1] - slung.centre[1]);
      return leg.eye[2] + Math.sqrt(Math.max(0, leg.length ** 2 - off ** 2));
    }),
  );
  let pose: Pose = [-slung.centre[0], -slung.centre[1], -height, 0, 0, 0];
  let damp = slung.weight * 10;
  for (let step = 0; step < 3000; step++) {
    // The unbalance is minus the slope of the energy for shifts, and for turns about the hook.
    const off = unbalance(slung, pose);
    if (Math.max(...off.map(Math.abs)) < 1e-12 * slung.weight) break;
    const matrix = Array.from({ length: 6 }, () => new Array<number>(6).fill(0));
    for (let j = 0; j < 6; j++) {
      const h = 1e-6;
      const [plus, minus] = [h, -h].map((d) => unbalance(slung, moved(pose, unitStep(j, d))));
      for (let i = 0; i < 6; i++) matrix[i]![j] = -(plus![i]! - minus![i]!) / (2 * h);
    }
    for (let i = 0; i < 6; i++) matrix[i]![i] = matrix[i]![i]! + damp;
    const step6 = solve(matrix, off);
    const next = moved(pose, step6);
    const calm = Math.max(...unbalance(slung, next).map(Math.abs)) < Math.max(...off.map(Math.abs));
    const short = Math.max(...step6.map(Math.abs)) < 0.2;
    const lower = energy(slung, next) < energy(slung, pose) - 1e-12 * slung.weight;
    const level = Math.abs(energy(slung, next) - energy(slung, pose)) <= 1e-12 * slung.weight;
    if (short && (lower || (level && calm))) {
      pose = next;
      damp = Math.max(damp / 5, 1e-7 * slung.weight);
    } else {
      damp *= 4;
      if (damp > 1e18) break;
    }
  }
  const up = rotate([-pose[3]!, -pose[4]!, -pose[5]!], [0, 0, 1]);
  return {
    pitch: (-Math.asin(up[0]) * 180) / Math.PI,
    roll: (Math.atan2(up[1], up[2]) * 180) / Math.PI,
    tensions: slung.legs.map((leg) => stretchOf(leg, pose).pull),
  };
}

const unitStep = (j: number, d: number): number[] => Array.from({ length: 6 }, (_, i) => (i === j ? d : 0));

/** Shifted, and turned about the hook. */
function moved(pose: Pose, step: readonly number[]): Pose {
  const turn: Triple = [step[3]!, step[4]!, step[5]!];
  const [x, y, z] = rotate(turn, [pose[0]!, pose[1]!, pose[2]!]);
  // The composed rotation vector, by quaternions.
  const quaternion = (w: Triple): readonly [number, number, number, number] => {
    const angle = Math.hypot(...w);
    const s = angle < 1e-300 ? 0.5 : Math.sin(angle / 2) / angle;
    return [Math.cos(angle / 2), w[0] * s, w[1] * s, w[2] * s];
  };
  const [aw, ax, ay, az] = quaternion(turn);
  const [bw, bx, by, bz] = quaternion([pose[3]!, pose[4]!, pose[5]!]);
  const w = aw * bw - ax * bx - ay * by - az * bz;
  const v: Triple = [
    aw * bx + ax * bw + ay * bz - az * by,
    aw * by - ax * bz + ay * bw + az * bx,
    aw * bz + ax * by - ay * bx + az * bw,
  ];
  const s = Math.hypot(...v);
  const angle = 2 * Math.atan2(s, w);
  const k = s < 1e-300 ? 2 : angle / s;
  return [x + step[0]!, y + step[1]!, z + step[2]!, v[0] * k, v[1] * k, v[2] * k];
}

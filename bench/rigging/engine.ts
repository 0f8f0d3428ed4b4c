// Owns the comparison with a rigid-body engine of general purpose: the same load on the same springs, simulated with damping until it rests.
//
// The engine's spring also pushes, so a leg that comes out pushed is taken off and the load settles again; one taken off that is drawn out again is put back.

import RAPIER from "@dimforge/rapier3d-compat";
import { type Hanging, hang, type Rig } from "../../src/rigging/index.ts";
import { randomRig } from "./rigs.ts";

const GRAVITY = 9.80665;
const STEP = 1 / 1000;
const SMOOTH = 500;

export interface Simulated {
  readonly pitch: number;
  readonly roll: number;
  readonly tensions: readonly number[];
  /** Metres a second when it was stopped. */
  readonly speed: number;
}

let ready: Promise<void> | undefined;
const loadEngine = (): Promise<void> => {
  ready ??= RAPIER.init();
  return ready;
};

/** Rests the rig in the engine; call `loadEngine` before. Legs need a stiffness. */
function simulate(rig: Rig, seconds = 25): Simulated | undefined {
  const world = new RAPIER.World({ x: 0, y: 0, z: -GRAVITY });
  world.timestep = STEP;
  const hook = world.createRigidBody(RAPIER.RigidBodyDesc.fixed());
  const [cx, cy] = rig.load.centre;
  const height = Math.min(
    ...rig.legs.map((leg, i) => {
      const [x, y, z] = rig.eyes[i]!.at;
      return z + Math.sqrt(Math.max(0, leg.length ** 2 - (x - cx) ** 2 - (y - cy) ** 2));
    }),
  );
  const mass = rig.load.mass.nominal;
  const load = world.createRigidBody(
    RAPIER.RigidBodyDesc.dynamic()
      .setTranslation(-cx, -cy, -height)
      .setLinearDamping(1.2)
      .setAngularDamping(1.2)
      .setCanSleep(false)
      .setAdditionalMassProperties(
        mass,
        { x: cx, y: cy, z: rig.load.centre[2] },
        { x: mass * 0.06, y: mass * 0.1, z: mass * 0.12 },
        { x: 0, y: 0, z: 0, w: 1 },
      ),
  );
  const stiffness = rig.legs.map((leg) => leg.stiffness! / leg.length);
  const join = (i: number) => {
    const [x, y, z] = rig.eyes[i]!.at;
    const data = RAPIER.JointData.spring(
      rig.legs[i]!.length,
      stiffness[i]!,
      2 * Math.sqrt(stiffness[i]! * mass) * 0.3,
      { x: 0, y: 0, z: 0 },
      { x, y, z },
    );
    return world.createImpulseJoint(data, hook, load, true);
  };
  const joints: (ReturnType<typeof join> | undefined)[] = rig.legs.map((_, i) => join(i));
  const stretchOf = (i: number): number => {
    const { x: qx, y: qy, z: qz, w } = load.rotation();
    const [x, y, z] = rig.eyes[i]!.at;
    const [tx, ty, tz] = [2 * (qy * z - qz * y), 2 * (qz * x - qx * z), 2 * (qx * y - qy * x)];
    const at = load.translation();
    return (
      Math.hypot(
        x + w * tx + (qy * tz - qz * ty) + at.x,
        y + w * ty + (qz * tx - qx * tz) + at.y,
        z + w * tz + (qx * ty - qy * tx) + at.z,
      ) - rig.legs[i]!.length
    );
  };
  const speed = (): number => {
    const [v, a] = [load.linvel(), load.angvel()];
    return Math.hypot(v.x, v.y, v.z) + Math.hypot(a.x, a.y, a.z);
  };
  let changed = true;
  for (let round = 0; round < 8 && changed; round++) {
    for (let step = 0; step < seconds / STEP; step++) {
      world.step();
      if (step > 2000 && speed() < 1e-5) break;
    }
    changed = false;
    for (let i = 0; i < joints.length; i++) {
      const stretch = stretchOf(i);
      const joint = joints[i];
      if (joint && stretch < -1e-7) {
        world.removeImpulseJoint(joint, true);
        joints[i] = undefined;
        changed = true;
      } else if (!joint && stretch > 1e-7) {
        joints[i] = join(i);
        changed = true;
      }
    }
  }
  // The engine reckons in single precision, in which a stiff leg's stretch is a few of the last digits: its mean over half a second is steadier.
  const stretches = rig.legs.map(() => 0);
  for (let step = 0; step < SMOOTH; step++) {
    world.step();
    for (const i of stretches.keys()) stretches[i] = stretches[i]! + stretchOf(i) / SMOOTH;
  }
  const { x, y, z, w } = load.rotation();
  const up = [2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y)] as const;
  const answer: Simulated = {
    pitch: (-Math.asin(Math.max(-1, Math.min(1, up[0]))) * 180) / Math.PI,
    roll: (Math.atan2(up[1], up[2]) * 180) / Math.PI,
    tensions: joints.map((joint, i) => (joint ? Math.max(0, stretches[i]!) * stiffness[i]! : 0)),
    speed: speed(),
  };
  world.free();
  return changed ? undefined : answer;
}

export interface Comparison {
  readonly rigs: number;
  /** Rigs on which some leg hangs slack. */
  readonly slack: number;
  /** Rigs that the engine did not bring to rest in its time: named, not counted. */
  readonly unsettled: readonly number[];
  /** Greatest difference of pitch or roll, degrees; of a tension, as a share of the greatest in the rig; and the seeds. */
  readonly degrees: number;
  readonly degreesSeed: number;
  readonly tension: number;
  readonly tensionSeed: number;
}

/** Newtons of EA: stiffer legs stretch by less than the engine's single precision can tell under a light load. */
const STIFFEST = 8e5;
const softened = (rig: Rig): Rig => ({
  ...rig,
  legs: rig.legs.map((leg) => ({ ...leg, stiffness: Math.min(leg.stiffness!, STIFFEST) })),
});

/** As many random rigs as asked, hung by both. */
export async function compareWithEngine(rigs: number, from = 1): Promise<Comparison> {
  await loadEngine();
  let [degrees, degreesSeed, tension, tensionSeed, slack] = [0, 0, 0, 0, 0];
  const unsettled: number[] = [];
  for (let seed = from; seed < from + rigs; seed++) {
    const rig = softened(randomRig(seed));
    const ours = hang(rig);
    if (ours.kind !== "hangs") continue;
    const theirs = simulate(rig);
    if (theirs === undefined || theirs.speed > 2e-3) {
      unsettled.push(seed);
      continue;
    }
    if (ours.legs.some((leg) => leg.tension === 0)) slack++;
    const off = Math.max(Math.abs(ours.pitch - theirs.pitch), Math.abs(ours.roll - theirs.roll));
    if (off > degrees) [degrees, degreesSeed] = [off, seed];
    const share = tensionOff(ours, theirs);
    if (share > tension) [tension, tensionSeed] = [share, seed];
  }
  return { rigs, slack, unsettled, degrees, degreesSeed, tension, tensionSeed };
}

function tensionOff(ours: Hanging, theirs: Simulated): number {
  const greatest = Math.max(...ours.legs.map((leg) => leg.tension));
  return Math.max(...ours.legs.map((leg, i) => Math.abs(leg.tension - theirs.tensions[i]!))) / greatest;
}

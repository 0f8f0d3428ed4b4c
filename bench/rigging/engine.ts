// Owns the comparison with a rigid-body engine of general purpose: the same load on the same springs, simulated with damping until it rests.
//
// The engine's spring also pushes, so a leg that comes out pushed is taken off and the load settles again; one taken off that is drawn out again is put back.

import RAPIER from "@dimforge/rapier3d-compat";
import { type Hanging, hang, type Rig } from "../../src/rigging/index.ts";
import { randomBodies, randomRig } from "./rigs.ts";

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

type Point = readonly [number, number, number];
type EngineBody = ReturnType<InstanceType<typeof RAPIER.World>["createRigidBody"]>;
/** An end of a leg: a body of the engine, and where on it. */
interface EngineEnd {
  readonly body: EngineBody;
  readonly at: Point;
}

/** A point of a body, where the engine has it now. */
function placeOf({ body, at: [x, y, z] }: EngineEnd): Point {
  const { x: qx, y: qy, z: qz, w } = body.rotation();
  const [tx, ty, tz] = [2 * (qy * z - qz * y), 2 * (qz * x - qx * z), 2 * (qx * y - qy * x)];
  const at = body.translation();
  return [
    x + w * tx + (qy * tz - qz * ty) + at.x,
    y + w * ty + (qz * tx - qx * tz) + at.y,
    z + w * tz + (qx * ty - qy * tx) + at.z,
  ];
}

const vector = ([x, y, z]: Point) => ({ x, y, z });

/** The rig's bodies and hooks in the engine: load and beam level, the load's centre under the middle of the hooks, all legs about as long as they are. */
function stand(
  world: InstanceType<typeof RAPIER.World>,
  rig: Rig,
): {
  readonly load: EngineBody;
  readonly moving: readonly EngineBody[];
  readonly ends: ReadonlyMap<string, EngineEnd>;
} {
  const hooks = rig.hooks.map(
    ({ id, at }) =>
      [id, { body: world.createRigidBody(RAPIER.RigidBodyDesc.fixed()), at: at ?? ([0, 0, 0] as const) }] as const,
  );
  const middle = hooks.reduce<Point>(
    (sum, [, { at }]) => [sum[0] + at[0] / hooks.length, sum[1] + at[1] / hooks.length, sum[2] + at[2] / hooks.length],
    [0, 0, 0],
  );
  const dynamic = (mass: number, centre: Point, [x, y, z]: Point, share: Point): EngineBody =>
    world.createRigidBody(
      RAPIER.RigidBodyDesc.dynamic()
        .setTranslation(x, y, z)
        .setLinearDamping(1.2)
        .setAngularDamping(1.2)
        .setCanSleep(false)
        .setAdditionalMassProperties(
          mass,
          vector(centre),
          vector([mass * share[0], mass * share[1], mass * share[2]]),
          { x: 0, y: 0, z: 0, w: 1 },
        ),
    );
  const lower = new Map<string, Point>([
    ...rig.eyes.map(({ id, at }) => [id, at] as const),
    ...(rig.beam?.points ?? []).map(({ id, at }) => [id, at] as const),
  ]);
  /** How high a body stands whose legs go up to points that are known. */
  const under = (
    ids: readonly string[],
    over: ReadonlyMap<string, Point>,
    [dx, dy]: readonly [number, number],
  ): number =>
    Math.max(
      ...rig.legs
        .filter((leg) => ids.includes(leg.lower) && over.has(leg.upper))
        .map((leg) => {
          const [from, to] = [lower.get(leg.lower)!, over.get(leg.upper)!];
          return (
            to[2] -
            from[2] -
            Math.sqrt(Math.max(0, leg.length ** 2 - (to[0] - from[0] - dx) ** 2 - (to[1] - from[1] - dy) ** 2))
          );
        }),
    );
  const over = new Map<string, Point>(hooks.map(([id, { at }]) => [id, at]));
  const ends = new Map<string, EngineEnd>(hooks);
  const moving: EngineBody[] = [];
  const { beam } = rig;
  if (beam) {
    const pin = beam.points.find(({ id }) => id === beam.pin)?.at;
    const at: Point = pin
      ? [middle[0] - pin[0], middle[1] - pin[1], middle[2] - pin[2]]
      : [
          middle[0],
          middle[1],
          under(
            beam.points.map(({ id }) => id),
            over,
            [middle[0], middle[1]],
          ),
        ];
    const body = dynamic(beam.mass, beam.centre, at, [0.05, 0.2, 0.2]);
    moving.push(body);
    for (const point of beam.points) {
      ends.set(point.id, { body, at: point.at });
      over.set(point.id, [point.at[0] + at[0], point.at[1] + at[1], point.at[2] + at[2]]);
    }
    if (pin)
      world.createImpulseJoint(RAPIER.JointData.spherical(vector(middle), vector(pin)), hooks[0]![1].body, body, true);
  }
  const [cx, cy] = rig.load.centre;
  const plan = [middle[0] - cx, middle[1] - cy] as const;
  const load = dynamic(
    rig.load.mass.nominal,
    rig.load.centre,
    [
      plan[0],
      plan[1],
      under(
        rig.eyes.map(({ id }) => id),
        over,
        plan,
      ),
    ],
    [0.06, 0.1, 0.12],
  );
  moving.push(load);
  for (const { id, at } of rig.eyes) ends.set(id, { body: load, at });
  return { load, moving, ends };
}

/** Rests the rig in the engine; call `loadEngine` before. Legs need a stiffness. */
function simulate(rig: Rig, seconds = 25): Simulated | undefined {
  const world = new RAPIER.World({ x: 0, y: 0, z: -GRAVITY });
  world.timestep = STEP;
  const { load, moving, ends } = stand(world, rig);
  const stiffness = rig.legs.map((leg) => leg.stiffness! / leg.length);
  const lightest = Math.min(rig.load.mass.nominal, rig.beam?.mass ?? Number.POSITIVE_INFINITY);
  const join = (i: number) => {
    const leg = rig.legs[i]!;
    const [lower, upper] = [ends.get(leg.lower)!, ends.get(leg.upper)!];
    const data = RAPIER.JointData.spring(
      leg.length,
      stiffness[i]!,
      2 * Math.sqrt(stiffness[i]! * lightest) * 0.3,
      vector(upper.at),
      vector(lower.at),
    );
    return world.createImpulseJoint(data, upper.body, lower.body, true);
  };
  const joints: (ReturnType<typeof join> | undefined)[] = rig.legs.map((_, i) => join(i));
  const stretchOf = (i: number): number => {
    const leg = rig.legs[i]!;
    const [a, b] = [placeOf(ends.get(leg.lower)!), placeOf(ends.get(leg.upper)!)];
    return Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]) - leg.length;
  };
  const speed = (): number =>
    Math.max(
      ...moving.map((body) => {
        const [v, a] = [body.linvel(), body.angvel()];
        return Math.hypot(v.x, v.y, v.z) + Math.hypot(a.x, a.y, a.z);
      }),
    );
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
  /** Those with a beam or two hooks. */
  readonly bodies: number;
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

/** Newtons of EA: stiffer legs stretch by less than the engine's single precision can tell under a light load; and less still where a light beam trembles on its pin. */
const STIFFEST = { one: 8e5, bodies: 5e4 } as const;
const softened = (rig: Rig): Rig => ({
  ...rig,
  legs: rig.legs.map((leg) => ({
    ...leg,
    stiffness: Math.min(leg.stiffness!, rig.beam || rig.hooks.length > 1 ? STIFFEST.bodies : STIFFEST.one),
  })),
});
/** Metres or radians a second at which it counts as at rest: what is left is the trembling of its last digits. */
const STILL = 1e-2;

/** As many random rigs as asked, hung by both; every other one has a beam or two hooks. */
export async function compareWithEngine(rigs: number, from = 1): Promise<Comparison> {
  await loadEngine();
  let [degrees, degreesSeed, tension, tensionSeed, slack, bodies] = [0, 0, 0, 0, 0, 0];
  const unsettled: number[] = [];
  for (let seed = from; seed < from + rigs; seed++) {
    const rig = softened(seed % 2 === 0 ? randomBodies(seed / 2) : randomRig(seed));
    const ours = hang(rig);
    if (ours.kind !== "hangs") continue;
    const theirs = simulate(rig);
    if (theirs === undefined || theirs.speed > STILL) {
      unsettled.push(seed);
      continue;
    }
    if (ours.legs.some((leg) => leg.tension === 0)) slack++;
    if (rig.beam || rig.hooks.length > 1) bodies++;
    const off = Math.max(Math.abs(ours.pitch - theirs.pitch), Math.abs(ours.roll - theirs.roll));
    if (off > degrees) [degrees, degreesSeed] = [off, seed];
    const share = tensionOff(ours, theirs);
    if (share > tension) [tension, tensionSeed] = [share, seed];
  }
  return { rigs, bodies, slack, unsettled, degrees, degreesSeed, tension, tensionSeed };
}

function tensionOff(ours: Hanging, theirs: Simulated): number {
  const greatest = Math.max(...ours.legs.map((leg) => leg.tension));
  return Math.max(...ours.legs.map((leg, i) => Math.abs(leg.tension - theirs.tensions[i]!))) / greatest;
}

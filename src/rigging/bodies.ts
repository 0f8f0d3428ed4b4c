// Owns how a load comes to rest under a beam or two hooks: load and beam each with a pose of its own.

import { attitudeOf, DEGREES } from "./attitude.ts";
import { GRAVITY } from "./gravity.ts";
import type { HangOptions } from "./hang-options.ts";
import { madeLength, stiffnessIn } from "./leg.ts";
import { symmetricEigen } from "./matrix.ts";
import {
  type Body,
  type End,
  type Link,
  type Pose,
  placeOf,
  type Stillness,
  settleBodies,
  turnBack,
  turnedBy,
} from "./pose.ts";
import type { Rig, Vector } from "./problem.ts";
import type { Hanging, LegState } from "./result.ts";
import { add, between, cross, distance, length, scale, subtract, unit } from "./vector.ts";

export const LEVEL: Pose["turn"] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];
const LOAD = 0;
const BEAM = 1;
/** Weights of the load at which a leg that does not stretch may provisionally stretch by its length, and how stiff nothing-long links are. */
const MEANS = 1e4;

/** Load and beam at rest, and all that it took to find it. */
export interface Rested {
  readonly weight: number;
  readonly centre: Vector;
  readonly lengths: readonly number[];
  readonly hooks: readonly HookPlace[];
  readonly links: readonly Link[];
  readonly bodies: readonly Body[];
  readonly still: Stillness;
}

/** Where the bodies of a sound rig come to rest. */
export function restBodies(rig: Rig, { sample = {}, stands }: HangOptions = {}): Rested {
  const centre = sample.centre ?? rig.load.centre;
  const weight = (sample.mass ?? rig.load.mass.nominal) * GRAVITY;
  const lengths = sample.lengths ?? rig.legs.map(madeLength);
  const hooks = hookPlaces(rig, stands ?? [centre[0], centre[1]]);
  const ends = endsOf(rig, hooks);
  const links: Link[] = rig.legs.map((leg, i) => ({
    lower: ends.get(leg.lower)!,
    upper: ends.get(leg.upper)!,
    length: lengths[i]!,
    stiffness: (stiffnessIn(sample, leg, i) ?? MEANS * weight) / lengths[i]!,
    firm: leg.stiffness === undefined,
  }));
  const bodies = bodiesOf(rig, hooks, weight, centre, lengths);
  return { weight, centre, lengths, hooks, links, bodies, still: settled(bodies, links, lengths) };
}

/** Forces left over, of the weight, below which bodies are at rest; and how often they are let go on. */
const AT_REST = 1e-9;
const ROUNDS = 10;

/** At rest; where a leg goes slack and taut by turns one descent may stop short of it. */
function settled(bodies: readonly Body[], links: readonly Link[], lengths: readonly number[]): Stillness {
  let still = settleBodies(bodies, links, [], sizeOf(lengths));
  for (let round = 0; round < ROUNDS && still.residual > AT_REST && !still.strained; round++) {
    const { poses } = still;
    still = settleBodies(
      bodies.map((body, i) => ({ ...body, start: poses[i]! })),
      links,
      [],
      sizeOf(lengths),
    );
  }
  return still;
}

/** Metres: how large a rig of such legs is. */
const sizeOf = (lengths: readonly number[]): number => Math.max(...lengths, 0.1);

/** Where the bodies come to rest when each is turned a little out of where it is, by the vector w. */
export function restBeside({ bodies, still, ...rested }: Rested, w: Vector): Rested {
  const beside = bodies.map((body, i) => ({ ...body, start: turnedBy(body, still.poses[i]!, w) }));
  return { ...rested, bodies, still: settled(beside, rested.links, rested.lengths) };
}

/** The bodies at rest, or in balance, as the answer has them. */
export function hangingOf(
  rig: Rig,
  { weight, centre, lengths, hooks, links, bodies, still }: Rested,
  stands: HangOptions["stands"],
): Hanging {
  const load = still.poses[LOAD]!;
  const up = turnBack(load.turn, [0, 0, 1]);
  const middle = scale(
    hooks.reduce<Vector>((sum, { at }) => add(sum, at), [0, 0, 0]),
    1 / hooks.length,
  );
  const inBody = (world: Vector): Vector => turnBack(load.turn, subtract(world, load.at));
  const point = (end: End): Vector => (end.body === undefined ? end.at : placeOf(still.poses[end.body]!, end.at));
  const legs = rig.legs.map((leg, i): LegState => {
    const arm = subtract(point(links[i]!.upper), point(links[i]!.lower));
    const body = links[i]!.lower.body;
    return {
      id: leg.id,
      tension: still.pulls[i]!,
      length: length(arm),
      slack: still.pulls[i]! > 0 ? 0 : Math.max(0, lengths[i]! - length(arm)),
      angle: 90 - between(arm, [0, 0, 1]) * DEGREES,
      direction: unit(body === undefined ? arm : turnBack(still.poses[body]!.turn, arm)),
    };
  });
  const world = placeOf(load, centre);
  return {
    kind: "hangs",
    ...attitudeOf(up),
    hook: inBody(middle),
    overCentre: middle[2] - world[2],
    hooks: hooks.map(({ id, at }) => ({ id, load: hookLoad(rig, id, at, bodies, links, still, point) })),
    legs,
    ...(rig.beam ? { beam: attitudeOf(turnBack(still.poses[BEAM]!.turn, [0, 0, 1])) } : {}),
    stability: { ...marginOf(still, weight, load, centre), others: [] },
    liftOff: {
      over: [centre[0], centre[1]],
      overCentre: middle[2] - world[2],
      ...(stands === undefined ? {} : { swing: [middle[0] - centre[0], middle[1] - centre[1]] as const }),
    },
    residual: residualOf(bodies, links, still, point),
  };
}

export interface HookPlace {
  readonly id: string;
  readonly at: Vector;
}

/** One hook stands at the height nought of the world, over the place asked for; two stand where the rig says. */
function hookPlaces(rig: Rig, over: readonly [number, number]): HookPlace[] {
  return rig.hooks.map(({ id, at }) => ({
    id,
    at: rig.hooks.length === 1 || at === undefined ? [over[0], over[1], 0] : at,
  }));
}

export function endsOf(rig: Rig, hooks: readonly HookPlace[]): ReadonlyMap<string, End> {
  return new Map<string, End>([
    ...rig.eyes.map(({ id, at }) => [id, { body: LOAD, at }] as const),
    ...(rig.beam?.points ?? []).map(({ id, at }) => [id, { body: BEAM, at }] as const),
    ...hooks.map(({ id, at }) => [id, { at }] as const),
  ]);
}

/** Load and beam level, as high as their legs let them, the load's centre under the middle of the hooks. */
export function bodiesOf(
  rig: Rig,
  hooks: readonly HookPlace[],
  weight: number,
  centre: Vector,
  lengths: readonly number[],
): Body[] {
  const middle = scale(
    hooks.reduce<Vector>((sum, { at }) => add(sum, at), [0, 0, 0]),
    1 / hooks.length,
  );
  const beam = rig.beam;
  const beamIds = new Set(beam?.points.map(({ id }) => id));
  const mean = (points: readonly Vector[]): Vector =>
    scale(
      points.reduce<Vector>((sum, each) => add(sum, each), [0, 0, 0]),
      1 / Math.max(1, points.length),
    );
  const drop = (upper: (id: string) => boolean): number =>
    Math.max(0, ...rig.legs.flatMap((leg, i) => (upper(leg.upper) ? [0.8 * lengths[i]!] : [])));
  const pin = beam?.points.find(({ id }) => id === beam.pin)?.at;
  const beamAt: Vector | undefined =
    beam &&
    (pin
      ? subtract(middle, pin)
      : subtract(add(middle, [0, 0, -drop((id) => !beamIds.has(id))]), mean(beam.points.map(({ at }) => at))));
  const eyes = new Map(rig.eyes.map(({ id, at }) => [id, at]));
  const held = rig.legs.map((leg) => eyes.get(leg.lower)).filter((at) => at !== undefined);
  const below = beamAt ? mean(beam!.points.map(({ at }) => add(at, beamAt)))[2] : middle[2];
  const height = below - drop((id) => beamIds.has(id) || beam === undefined) - mean(held)[2];
  const load: Body = {
    weight,
    centre,
    start: { turn: LEVEL, at: [middle[0] - centre[0], middle[1] - centre[1], height] },
  };
  if (!beam || !beamAt) return [load];
  return [
    load,
    {
      weight: beam.mass * GRAVITY,
      centre: beam.centre,
      start: { turn: LEVEL, at: beamAt },
      ...(pin ? { pin } : {}),
    },
  ];
}

/** Newtons on a hook: the legs that go to it, and for a pinned beam what its own balance leaves to the pin. */
function hookLoad(
  rig: Rig,
  id: string,
  at: Vector,
  bodies: readonly Body[],
  links: readonly Link[],
  still: Stillness,
  point: (end: End) => Vector,
): number {
  let sum: Vector = [0, 0, 0];
  for (const [i, link] of links.entries()) {
    const arm = unit(subtract(point(link.upper), point(link.lower)));
    if (rig.legs[i]!.upper === id) sum = add(sum, scale(arm, -still.pulls[i]!));
  }
  if (rig.beam?.pin !== undefined && distance(at, placeOf(still.poses[BEAM]!, bodies[BEAM]!.pin!)) < 1e-9) {
    sum = add(sum, [0, 0, -bodies[BEAM]!.weight]);
    for (const [i, link] of links.entries()) {
      const arm = unit(subtract(point(link.upper), point(link.lower)));
      if (link.upper.body === BEAM) sum = add(sum, scale(arm, -still.pulls[i]!));
    }
  }
  return length(sum);
}

/** Largest force and moment left over on any body, over the whole weight, from places and pulls alone. */
function residualOf(
  bodies: readonly Body[],
  links: readonly Link[],
  still: Stillness,
  point: (end: End) => Vector,
): number {
  const weight = bodies.reduce((sum, body) => sum + body.weight, 0);
  return bodies.reduce((worst, body, b) => {
    const pose = still.poses[b]!;
    const middle = placeOf(pose, body.pin ?? body.centre);
    let force: Vector = [0, 0, -body.weight];
    let moment = cross(subtract(placeOf(pose, body.centre), middle), force);
    let size = 0;
    for (const [i, link] of links.entries()) {
      const arm = unit(subtract(point(link.upper), point(link.lower)));
      for (const [end, sign] of [
        [link.lower, 1],
        [link.upper, -1],
      ] as const) {
        if (end.body !== b) continue;
        const pull = scale(arm, sign * still.pulls[i]!);
        force = add(force, pull);
        moment = add(moment, cross(subtract(point(end), middle), pull));
        size = Math.max(size, length(subtract(point(end), middle)));
      }
    }
    const off = body.pin === undefined ? length(force) / weight : 0;
    return Math.max(worst, off, length(moment) / (weight * Math.max(size, 0.01)));
  }, 0);
}

/**
 * Raising the load's centre by s along the plumb line takes W·s from the curvature of turning about each level axis and changes nothing else. What
 * is left of that curvature when all other motions are free has a least value κ; it tips at s = κ/W.
 */
function marginOf(
  still: Stillness,
  weight: number,
  load: Pose,
  centre: Vector,
): { readonly margin: number; readonly axis: Vector; readonly righting: number } {
  const n = Math.sqrt(still.curvature.length);
  // Turning about the load's centre: the shift of its origin goes with the turn.
  const arm = subtract(load.at, placeOf(load, centre));
  const about = (w: Vector): number[] => {
    const way = new Array<number>(n).fill(0);
    const shift = cross(w, arm);
    for (let i = 0; i < 3; i++) {
      way[i] = shift[i]!;
      way[3 + i] = w[i]!;
    }
    return way;
  };
  const [a, b] = [about([1, 0, 0]), about([0, 1, 0])];
  const rest: number[][] = [];
  for (let i = 0; i < n; i++) {
    if (i === 3 || i === 4) continue;
    const way = new Array<number>(n).fill(0);
    way[i] = 1;
    if (i === 5) {
      const yaw = about([0, 0, 1]);
      for (let j = 0; j < n; j++) way[j] = yaw[j]!;
    }
    rest.push(way);
  }
  const of = (v: readonly number[], w: readonly number[]): number => {
    let sum = 0;
    for (let i = 0; i < n; i++) {
      if (v[i] === 0) continue;
      for (let j = 0; j < n; j++) sum += v[i]! * still.curvature[i * n + j]! * w[j]!;
    }
    return sum;
  };
  const m = rest.length;
  const block = rest.flatMap((v) => rest.map((w) => of(v, w)));
  const { values, vectors } = symmetricEigen(block, m);
  const largest = Math.max(...values.map(Math.abs));
  let loose = false;
  const pinv = (v: readonly number[]): number[] => {
    const right = rest.map((w) => of(v, w));
    return values.map((value, i) => {
      const part = vectors[i]!.reduce((sum, each, j) => sum + each * right[j]!, 0);
      // Heading is free, and so is what turns no height; a motion that falls by itself has no margin at all.
      if (Math.abs(value) < 1e-10 * largest) return 0;
      if (value < 0) loose = true;
      return part / Math.sqrt(Math.abs(value));
    });
  };
  const [pa, pb] = [pinv(a), pinv(b)];
  const folded = (v: readonly number[], w: readonly number[], pv: readonly number[], pw: readonly number[]): number =>
    of(v, w) - pv.reduce((sum, each, i) => sum + each * pw[i]!, 0);
  const eigen = symmetricEigen(
    [folded(a, a, pa, pa), folded(a, b, pa, pb), folded(b, a, pb, pa), folded(b, b, pb, pb)],
    2,
  );
  const kappa = loose ? Number.NEGATIVE_INFINITY : eigen.values[0]!;
  const axis = turnBack(load.turn, [eigen.vectors[0]![0]!, eigen.vectors[0]![1]!, 0]);
  return { margin: kappa / weight, axis, righting: kappa / DEGREES };
}

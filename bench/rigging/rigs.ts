// Owns the rigs of tests and benches: the worked ones, each called by what it shows, and random ones by seed.

import type { Leg, Rig, Vector } from "../../src/rigging/index.ts";
import { makeChance } from "../release/chance.ts";

export interface Hung {
  readonly eye: Vector;
  readonly length: number;
  /** EA, newtons; absent: does not stretch. */
  readonly stiffness?: number;
}

/** One hook, legs straight to it, everything known exactly. Eyes and legs are called 1, 2, 3 … */
export function rigOf(mass: number, centre: Vector, hung: readonly Hung[]): Rig {
  return {
    load: { mass: { nominal: mass, low: mass, high: mass }, centre, within: [0, 0, 0], outline: [] },
    eyes: hung.map(({ eye }, i) => ({ id: `eye-${i + 1}`, at: eye })),
    legs: hung.map(
      ({ length, stiffness }, i): Leg => ({
        id: `leg-${i + 1}`,
        lower: `eye-${i + 1}`,
        upper: "hook",
        length,
        within: 0,
        gear: [],
        ...(stiffness === undefined ? {} : { stiffness }),
      }),
    ),
    hooks: [{ id: "hook" }],
  };
}

const withStiffness = (hung: Omit<Hung, "stiffness">[], stiffness: number | undefined): Hung[] =>
  hung.map((each) => (stiffness === undefined ? each : { ...each, stiffness }));

/** Two legs of 0.8 m, the centre off the middle. */
export const twoLegs = (stiffness?: number): Rig =>
  rigOf(
    262,
    [0.5, 0, 0.12],
    withStiffness(
      [
        { eye: [0.2, 0, 0.5], length: 0.8 },
        { eye: [0.9, 0, 0.44], length: 0.8 },
      ],
      stiffness,
    ),
  );

/** Four legs that do not fit one another: the fourth goes slack. */
export const oneSlack = (stiffness?: number): Rig =>
  rigOf(
    350,
    [0.06, 0.01, 0.05],
    withStiffness(
      [
        { eye: [0.62, 0.22, 0.46], length: 0.9 },
        { eye: [0.58, -0.25, 0.44], length: 0.9 },
        { eye: [-0.55, -0.18, 0.3], length: 1.05 },
        { eye: [-0.5, 0.2, 0.31], length: 1.05 },
      ],
      stiffness,
    ),
  );

/** Four legs of 1 m from level eyes; `longer` metres more in each, in the order front left, front right, rear right, rear left. */
export const fourLegs = (
  stiffness?: number,
  longer: readonly number[] = [],
  centre: Vector = [0.04, -0.02, 0.1],
): Rig =>
  rigOf(
    350,
    centre,
    withStiffness(
      (
        [
          [0.5, 0.3, 0.4],
          [0.5, -0.3, 0.4],
          [-0.5, -0.3, 0.4],
          [-0.5, 0.3, 0.4],
        ] as const
      ).map((eye, i) => ({ eye, length: 1 + (longer[i] ?? 0) })),
      stiffness,
    ),
  );

/** The two legs below a beam that is pinned to the hook. */
export function onBeam(stiffness?: number): Rig {
  const rig = twoLegs(stiffness);
  return {
    ...rig,
    legs: rig.legs.map((leg, i) => ({ ...leg, upper: i === 0 ? "behind" : "ahead" })),
    beam: {
      mass: 20,
      centre: [0, 0, 0],
      pin: "lug",
      points: [
        { id: "behind", at: [-0.35, 0, 0] },
        { id: "ahead", at: [0.35, 0, 0] },
        { id: "lug", at: [0, 0, 0.1] },
      ],
    },
  };
}

/** A spreader held up by two legs of its own, with four legs below it in pairs. */
export function underSpreader(stiffness?: number): Rig {
  const stretch = stiffness === undefined ? {} : { stiffness };
  const leg = (id: string, lower: string, upper: string, length: number): Leg => ({
    id,
    lower,
    upper,
    length,
    within: 0,
    gear: [],
    ...stretch,
  });
  const ends = ["ahead", "behind"] as const;
  const sides = ["left", "right"] as const;
  return {
    load: { mass: { nominal: 500, low: 500, high: 500 }, centre: [0.05, 0.01, 0.2], within: [0, 0, 0], outline: [] },
    eyes: ends.flatMap((end) =>
      sides.map((side) => ({
        id: `${end}-${side}`,
        at: [end === "ahead" ? 0.6 : -0.6, side === "left" ? 0.3 : -0.3, 0.5] as const,
      })),
    ),
    hooks: [{ id: "hook" }],
    beam: {
      mass: 30,
      centre: [0, 0, 0],
      points: ends.flatMap((end) => [
        { id: end, at: [end === "ahead" ? 0.6 : -0.6, 0, 0] },
        { id: `${end}-top`, at: [end === "ahead" ? 0.6 : -0.6, 0, 0.05] },
      ]),
    },
    legs: [
      ...ends.flatMap((end) => sides.map((side) => leg(`leg-${end}-${side}`, `${end}-${side}`, end, 0.7))),
      ...ends.map((end) => leg(`up-${end}`, `${end}-top`, "hook", 0.9)),
    ],
  };
}

/** Four upright legs below a frame that is pinned to the hook: one more than statics can tell. */
export function underFrame(stiffness?: number): Rig {
  const rig = fourLegs(stiffness);
  return {
    ...rig,
    legs: rig.legs.map((leg, i) => ({ ...leg, length: 0.8, upper: `corner-${i + 1}` })),
    beam: {
      mass: 25,
      centre: [0, 0, 0],
      pin: "lug",
      points: [
        ...rig.eyes.map(({ at: [x, y] }, i) => ({ id: `corner-${i + 1}`, at: [x, y, 0] as const })),
        { id: "lug", at: [0, 0, 0.4] },
      ],
    },
  };
}

/** The four legs in pairs to two hooks. */
export function onTwoHooks(stiffness?: number): Rig {
  const rig = fourLegs(stiffness);
  return {
    ...rig,
    legs: rig.legs.map((leg, i) => ({ ...leg, upper: i < 2 ? "fore" : "aft" })),
    hooks: [
      { id: "fore", at: [0.5, 0, 1.3] },
      { id: "aft", at: [-0.5, 0, 1.3] },
    ],
  };
}

/**
 * A random rig that hangs: two to six legs on eyes round the centre and above it, made up to reach one hook from a pose near level and then each
 * put out by some millimetres, so that slack legs are common.
 */
export function randomRig(seed: number, legs?: number): Rig {
  const chance = makeChance(seed);
  const between = (low: number, high: number): number => low + (high - low) * chance.next();
  const count = legs ?? chance.pick([2, 3, 4, 4, 4, 5, 6]);
  const [long, wide] = [between(0.3, 0.8), between(0.15, 0.5)];
  const hook: Vector = [between(-0.05, 0.05), between(-0.05, 0.05), between(0.9, 1.6)];
  const stiffness = 10 ** between(5, 6.7);
  const misfit = chance.pick([0.0002, 0.002, 0.02]);
  const start = between(0, 2 * Math.PI);
  const hung = Array.from({ length: count }, (_, i): Hung => {
    const angle = start + ((i + between(-0.2, 0.2)) * 2 * Math.PI) / count;
    const eye: Vector = [long * Math.cos(angle), wide * Math.sin(angle), between(0.25, 0.45)];
    const reach = Math.hypot(hook[0] - eye[0], hook[1] - eye[1], hook[2] - eye[2]);
    return { eye, length: reach + between(-misfit, misfit), stiffness: stiffness * between(0.8, 1.25) };
  });
  return rigOf(between(60, 900), [between(-0.06, 0.06), between(-0.05, 0.05), between(-0.1, 0.15)], hung);
}

/** What a random rig of bodies hangs from. */
const BODIES = ["pinned bar", "spreader", "frame", "two hooks"] as const;

/**
 * A random rig with a beam or two hooks: made up to hang near level, then each leg put out by some millimetres, the centre by some centimetres. Frames and three legs to a
 * hook are held by more than they need, and some of their legs hang slack.
 */
export function randomBodies(seed: number): Rig {
  const chance = makeChance(seed);
  const between = (low: number, high: number): number => low + (high - low) * chance.next();
  const kind = BODIES[seed % BODIES.length]!;
  const [long, wide, top] = [between(0.4, 0.8), between(0.2, 0.45), between(0.3, 0.5)];
  const [below, above] = [between(0.5, 0.9), between(0.8, 1.2)];
  const misfit = chance.pick([0.0005, 0.006, 0.03]);
  const stiffness = 10 ** between(5, 6.5);
  const mass = between(100, 800);
  const inward = between(0, 0.15);
  const legs: Leg[] = [];
  const eyes: { readonly id: string; readonly at: Vector }[] = [];
  const join = (lower: string, from: Vector, upper: string, to: Vector): void => {
    const length = Math.hypot(to[0] - from[0], to[1] - from[1], to[2] - from[2]) + between(-misfit, misfit);
    const id = `leg-${legs.length + 1}`;
    legs.push({ id, lower, upper, length, within: 0, gear: [], stiffness: stiffness * between(0.8, 1.25) });
  };
  const eye = (at: Vector): string => {
    eyes.push({ id: `eye-${eyes.length + 1}`, at });
    return eyes.at(-1)!.id;
  };
  const load = {
    mass: { nominal: mass, low: mass, high: mass },
    centre: [between(-0.05, 0.05), between(-0.03, 0.03), between(0, 0.15)] as const,
    within: [0, 0, 0] as const,
    outline: [],
  };
  const height = top + below;
  const ends = [long, -long];
  if (kind === "two hooks") {
    const places = ends.map((x): Vector => [x * (1 - inward), 0, height]);
    const sides = chance.pick([
      [1, -1],
      [1, 0.1, -1],
    ] as const);
    for (const [e, x] of ends.entries())
      for (const side of sides) {
        const at: Vector = [x, side * wide, top];
        join(eye(at), at, `hook-${e + 1}`, places[e]!);
      }
    return { load, eyes, legs, hooks: places.map((at, e) => ({ id: `hook-${e + 1}`, at })) };
  }
  const corners =
    kind === "frame"
      ? ends.flatMap((x) => [wide, -wide].map((y): Vector => [x, y, 0]))
      : ends.map((x): Vector => [x, 0, 0]);
  const points = corners.map((at, i) => ({ id: `point-${i + 1}`, at }));
  const world = ([x, y, z]: Vector): Vector => [x, y, z + height];
  for (const { id, at } of points) {
    const sides = kind === "frame" ? [at[1]] : [wide, -wide];
    for (const y of sides) {
      const foot: Vector = [at[0] * (1 + inward), y, top];
      join(eye(foot), foot, id, world(at));
    }
  }
  const beam = { mass: between(10, 60), centre: [0, 0, 0] as const };
  if (kind === "spreader") {
    // Lugs above the bar and below it: one line of them all would let it turn about itself.
    const tops = points.map(({ id, at: [x, y] }) => ({ id: `${id}-top`, at: [x, y, 0.1] as const }));
    for (const { id, at } of tops) join(id, world(at), "hook", [0, 0, height + above]);
    return { load, eyes, legs, hooks: [{ id: "hook" }], beam: { ...beam, points: [...points, ...tops] } };
  }
  const lug = { id: "lug", at: [between(-0.02, 0.02), 0, between(0.1, 0.4)] as const };
  return { load, eyes, legs, hooks: [{ id: "hook" }], beam: { ...beam, points: [...points, lug], pin: "lug" } };
}

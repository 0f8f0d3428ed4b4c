// Owns pitch and roll: from world-up in body axes, and back.

import type { Vector } from "./problem.ts";
import type { Attitude } from "./result.ts";
import { between, unit } from "./vector.ts";

export const DEGREES = 180 / Math.PI;

/** ISO 8855: positive pitch is nose down, positive roll lifts the left side. `up` is world-up in body axes, of any length. */
export function attitudeOf(up: Vector): Attitude {
  const u = unit(up);
  return {
    pitch: -Math.asin(Math.max(-1, Math.min(1, u[0]))) * DEGREES,
    roll: Math.atan2(u[1], u[2]) * DEGREES,
    up: u,
  };
}

/** World-up in body axes for a pitch and a roll in degrees. */
export function upOf(pitch: number, roll: number): Vector {
  const [p, r] = [pitch / DEGREES, roll / DEGREES];
  return [-Math.sin(p), Math.cos(p) * Math.sin(r), Math.cos(p) * Math.cos(r)];
}

/** Degrees between the body's z and world-up. */
export const tiltOf = (up: Vector): number => between(up, [0, 0, 1]) * DEGREES;

/** The body's x, y, z as world directions with the heading kept: rows of the matrix that takes body to world. */
export function turnOf(up: Vector): readonly [Vector, Vector, Vector] {
  const [ux, uy, uz] = unit(up);
  const side = Math.hypot(uy, uz);
  // Roll about the body's x first, pitch about the level y after: Ry(pitch)·Rx(roll).
  const [cosRoll, sinRoll] = side === 0 ? [1, 0] : [uz / side, uy / side];
  const [cosPitch, sinPitch] = [side, -ux];
  return [
    [cosPitch, sinPitch * sinRoll, sinPitch * cosRoll],
    [0, cosRoll, -sinRoll],
    [-sinPitch, cosPitch * sinRoll, cosPitch * cosRoll],
  ];
}

/** A body vector in world axes. */
export const turned = (turn: readonly [Vector, Vector, Vector], v: Vector): Vector => [
  turn[0][0] * v[0] + turn[0][1] * v[1] + turn[0][2] * v[2],
  turn[1][0] * v[0] + turn[1][1] * v[1] + turn[1][2] * v[2],
  turn[2][0] * v[0] + turn[2][1] * v[1] + turn[2][2] * v[2],
];

// Owns the arithmetic of points and directions in space.

import type { Vector } from "./problem.ts";

export const add = (a: Vector, b: Vector): Vector => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
export const subtract = (a: Vector, b: Vector): Vector => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const scale = (a: Vector, by: number): Vector => [a[0] * by, a[1] * by, a[2] * by];
/** a + by·b */
export const along = (a: Vector, b: Vector, by: number): Vector => [
  a[0] + by * b[0],
  a[1] + by * b[1],
  a[2] + by * b[2],
];
export const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
export const length = (a: Vector): number => Math.sqrt(dot(a, a));
export const distance = (a: Vector, b: Vector): number => length(subtract(a, b));
/** The direction of a; of nothing, nothing. */
export const unit = (a: Vector): Vector => {
  const size = length(a);
  return size === 0 ? [0, 0, 0] : scale(a, 1 / size);
};
/** Some unit square to a. */
export const square = (a: Vector): Vector => {
  const [x, y, z] = [Math.abs(a[0]), Math.abs(a[1]), Math.abs(a[2])];
  return unit(cross(a, x <= y && x <= z ? [1, 0, 0] : y <= z ? [0, 1, 0] : [0, 0, 1]));
};
/** Angle between two directions, radians, exact near 0 and π as well. */
export const between = (a: Vector, b: Vector): number => Math.atan2(length(cross(a, b)), dot(a, b));

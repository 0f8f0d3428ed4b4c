// Owns the preload that an angle brings: the stretch of the bolt and the squeeze of what it clamps, against the thread's lead.

import { type Metres, type Newtons, newtons } from "../quantity/index.ts";
import { rootDiameter, stressArea, type Thread } from "./thread.ts";

/** Young's modulus of steel, Pa; parts of aluminium squeeze three times as much, which makes an angle bring less. */
const STEEL = 205e9;

/**
 * Stretch of the bolt per newton, m/N: half a diameter of head, the clamped length by its stress area, half a
 * diameter of engaged thread by its root and 0.4 of nut by its full section (VDI 2230, 5.1.1, hexagon head; from memory).
 */
export function boltCompliance(thread: Thread, grip: Metres): number {
  const d = thread.diameter;
  const full = (Math.PI / 4) * d ** 2;
  const root = (Math.PI / 4) * rootDiameter(thread) ** 2;
  return (
    (0.5 * d) / (STEEL * full) +
    grip / (STEEL * stressArea(thread)) +
    (0.5 * d) / (STEEL * root) +
    (0.4 * d) / (STEEL * full)
  );
}

/**
 * Squeeze of the clamped parts per newton, m/N: two cones of 30° half angle from a face of 1.5 d, hole d, of one
 * material: k = 0.5774·π·E·d / (2·ln(5·(0.5774·l + 0.5·d)/(0.5774·l + 2.5·d))) (Shigley, Mechanical Engineering Design, bolted
 * joints; from memory, held in the tests against the integral of the cones).
 */
export function partsCompliance(thread: Thread, grip: Metres): number {
  const d = thread.diameter;
  const cone = Math.tan(Math.PI / 6);
  return (2 * Math.log((5 * (cone * grip + 0.5 * d)) / (cone * grip + 2.5 * d))) / (cone * Math.PI * STEEL * d);
}

/** Preload that a turn adds while everything stays elastic: (angle/360°)·P shared by bolt and parts. */
export const preloadOfTurn = (thread: Thread, grip: Metres, degrees: number): Newtons =>
  newtons(((degrees / 360) * thread.pitch) / (boltCompliance(thread, grip) + partsCompliance(thread, grip)));

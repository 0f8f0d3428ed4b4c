// Owns the two ways between torque and preload: the nut factor, and the form of thread and head friction; and the preload at which tightening reaches yield.

import { type NewtonMetres, type Newtons, newtonMetres, newtons } from "../quantity/index.ts";
import type { Friction } from "./friction.ts";
import { type Bearing, bearingDiameter } from "./head.ts";
import type { Split } from "./joint.ts";
import type { Span } from "./span.ts";
import type { Strength } from "./strength.ts";
import { pitchDiameter, stressArea, stressDiameter, type Thread } from "./thread.ts";

/** Which end of a friction's doubt is reckoned with. */
export type End = keyof Span;

const COS30 = Math.cos(Math.PI / 6);

/** The three parts of T/F, metres: P/2π, (d2/2)·μG/cos 30°, (Dkm/2)·μK (Motosh; VDI 2230). */
const arms = (thread: Thread, bearing: Bearing, inThread: number, underHead: number) => ({
  pitch: thread.pitch / (2 * Math.PI),
  thread: ((pitchDiameter(thread) / 2) * inThread) / COS30,
  head: (bearingDiameter(bearing) / 2) * underHead,
});

/** Torque for one newton of preload, in metres: K·d of the short form, the sum of the three parts of the long one. */
export function armOf(thread: Thread, bearing: Bearing, friction: Friction, end: End = "nominal"): number {
  if ("factor" in friction) return friction.factor[end] * thread.diameter;
  const parts = arms(thread, bearing, friction.thread[end], friction.head[end]);
  return parts.pitch + parts.thread + parts.head;
}

/** The parts of the torque at this preload; undefined for a nut factor. */
export function splitOf(thread: Thread, bearing: Bearing, friction: Friction, preload: Newtons): Split | undefined {
  if ("factor" in friction) return undefined;
  const parts = arms(thread, bearing, friction.thread.nominal, friction.head.nominal);
  return {
    pitch: newtonMetres(parts.pitch * preload),
    thread: newtonMetres(parts.thread * preload),
    head: newtonMetres(parts.head * preload),
  };
}

/** Torque to break it loose: as to tighten it, with the thread's slope helping. */
export const looseningOf = ({ pitch, thread, head }: Split): NewtonMetres => newtonMetres(thread + head - pitch);

/**
 * The coefficient in the thread. Of a nut factor: the one that gives that factor when thread and head rub alike, never
 * below nothing.
 */
export function threadCoefficient(thread: Thread, bearing: Bearing, friction: Friction, end: End = "nominal"): number {
  if (!("factor" in friction)) return friction.thread[end];
  const unit = arms(thread, bearing, 1, 1);
  return Math.max(0, (friction.factor[end] * thread.diameter - unit.pitch) / (unit.thread + unit.head));
}

/**
 * Preload at which tightening brings the shank to this share of its yield point, by equivalent stress of tension and
 * torsion: F = ν·Rp·As / √(1 + 3·[1.5·(d2/ds)·(P/(π·d2) + μG/cos 30°)]²) (VDI 2230 from 2001; 1.5 for the fully plastic shank).
 */
export function yieldPreload(thread: Thread, strength: Strength, inThread: number, share: number): Newtons {
  const d2 = pitchDiameter(thread);
  const twist = 1.5 * (d2 / stressDiameter(thread)) * (thread.pitch / (Math.PI * d2) + inThread / COS30);
  return newtons((share * strength.yield * stressArea(thread)) / Math.sqrt(1 + 3 * twist ** 2));
}

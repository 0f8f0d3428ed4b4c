// Owns what a reading of a torque may be: as its source in the file allows, else by common practice.

import type { Torque } from "../vehicle/index.ts";

/** Newton-metres at the fastener. */
export interface TorqueLimits {
  readonly low: number;
  readonly high: number;
}

/** Share of its aim by which a torque may be off where its source allows none: common practice. */
export const TORQUE_SHARE = 0.05;

/** Of a limit: what two ways through units of measurement may round apart. */
const ROUNDING = 1e-9;

/**
 * What the file allows; undefined where it states no tolerance.
 *
 * @param running newton-metres of a locknut or insert, which the wrench shows besides
 */
export const statedLimits = (torque: Torque | undefined, running = 0): TorqueLimits | undefined =>
  torque === undefined || torque.low === torque.high
    ? undefined
    : { low: torque.low + running, high: torque.high + running };

/** @param stated what the file allows, where it says */
export const torqueLimits = (aim: number, stated: TorqueLimits | undefined): TorqueLimits =>
  stated ?? { low: aim * (1 - TORQUE_SHARE), high: aim * (1 + TORQUE_SHARE) };

/** Whether a reading lies within; one that is no number does not. */
export const isWithin = (reading: number, { low, high }: TorqueLimits): boolean =>
  reading >= low * (1 - ROUNDING) && reading <= high * (1 + ROUNDING);

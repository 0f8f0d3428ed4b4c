// Owns the question that is asked at once of a torque that does not fit: was it read in another unit?

import { isWithin, torqueLimits } from "../plan/index.ts";
import { findUnit, newtonMetres, readQuantity, unitsOf, writeLimits, writeQuantity } from "../quantity/index.ts";
import type { BriefTorque } from "./brief.ts";

export interface TorqueDoubt {
  /** What was read, and what is wanted with its limits in the reader's unit. */
  readonly read: string;
  readonly wanted: string;
  /** The same number in the units in which it would fit: "35.4 lbf·ft". */
  readonly fits: readonly string[];
}

/** Undefined where the reading fits, or is no torque at all. */
export const doubtTorque = (
  { aim, limits: stated }: Pick<BriefTorque, "aim" | "limits">,
  written: string,
): TorqueDoubt | undefined => {
  const reading = readQuantity(written, "torque");
  if ("fault" in reading) return undefined;
  const limits = torqueLimits(aim, stated);
  const fits = (value: number) => isWithin(value, limits);
  const { nominal, unit } = reading.value;
  if (fits(nominal)) return undefined;
  const own = findUnit(unit)?.name ?? "N·m";
  const number = writeQuantity(nominal, "torque", own, 6).split(" ")[0] ?? "";
  return {
    read: written,
    wanted: `${writeQuantity(newtonMetres(aim), "torque", own, 1)} (${writeLimits(newtonMetres(limits.low), newtonMetres(limits.high), "torque", own)})`,
    fits: unitsOf("torque").flatMap(({ name }) => {
      const other = readQuantity(`${number} ${name}`, "torque");
      return name !== own && "value" in other && fits(other.value.nominal) ? [`${number} ${name}`] : [];
    }),
  };
};

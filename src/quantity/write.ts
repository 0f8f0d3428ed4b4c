// Owns the writing of quantities: a base value in the unit asked for, with the digits asked for; limits rounded inwards.

import type { Quantity } from "./quantity.ts";
import { BASE_UNITS, type Dimension, findUnit, fromBase, type Unit } from "./unit.ts";

/**
 * Writes a value with its unit, as `readQuantity` reads it again.
 *
 * `unit` is a unit of that dimension (default: the base unit); `digits` are decimals at most (default: all that it
 * takes to read the same number again). Throws a RangeError when the unit is not one of the dimension: that is a
 * mistake of the program, not of a file.
 */
export function writeQuantity<D extends Dimension>(
  value: Quantity<D>,
  dimension: D,
  unit: string = BASE_UNITS[dimension],
  digits?: number,
): string {
  const found = unitNamed(unit, dimension);
  const number = fromBase(value, found);
  // Number(… toFixed) drops the zeros at the end: 0.400 L is 0.4 L.
  const shown = digits === undefined ? number : Number(number.toFixed(digits));
  return `${shown === 0 ? 0 : shown} ${found.name}`;
}

const unitNamed = (unit: string, dimension: Dimension): Unit => {
  const found = findUnit(unit);
  if (found !== undefined && found.dimension === dimension) return found;
  throw new RangeError(`"${unit}" is no unit of ${dimension}; its base unit is ${BASE_UNITS[dimension]}`);
};

/** So many digits are enough for whatever two doubles can be apart. */
const MOST_DIGITS = 15;
/** Of what is rounded: what the conversion from another unit may have left behind its last digit. */
const ROUNDING = 1e-9;

/**
 * Two limits to so many decimals, the lower rounded up and the upper down: whoever keeps to what he reads keeps to the limits. Limits that
 * lie closer together than that get as many decimals as it takes.
 */
export function inwards(low: number, high: number, digits: number): readonly [low: number, high: number] {
  const scale = 10 ** digits;
  const slack = ROUNDING * Math.max(Math.abs(low), Math.abs(high)) * scale;
  const [from, to] = [Math.ceil(low * scale - slack) / scale, Math.floor(high * scale + slack) / scale];
  return from <= to || digits >= MOST_DIGITS ? [from, to] : inwards(low, high, digits + 1);
}

/** Limits in the unit asked for, rounded inwards: "104.5–115.5 N·m". Throws as `writeQuantity` does. */
export function writeLimits<D extends Dimension>(
  low: Quantity<D>,
  high: Quantity<D>,
  dimension: D,
  unit: string = BASE_UNITS[dimension],
  digits = 1,
): string {
  const found = unitNamed(unit, dimension);
  return `${inwards(fromBase(low, found), fromBase(high, found), digits).join("–")} ${found.name}`;
}

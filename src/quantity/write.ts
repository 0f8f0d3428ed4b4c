// Owns the writing of quantities: a base value in the unit asked for, with the digits asked for.

import type { Quantity } from "./quantity.ts";
import { BASE_UNITS, type Dimension, findUnit, fromBase } from "./unit.ts";

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
  const found = findUnit(unit);
  if (found === undefined || found.dimension !== dimension)
    throw new RangeError(
      `writeQuantity: "${unit}" is no unit of ${dimension}; its base unit is ${BASE_UNITS[dimension]}`,
    );
  const number = fromBase(value, found);
  // Number(… toFixed) drops the zeros at the end: 0.400 L is 0.4 L.
  const shown = digits === undefined ? number : Number(number.toFixed(digits));
  return `${shown === 0 ? 0 : shown} ${found.name}`;
}

// The door of quantity: units in and out, and a type for each thing measured.

export {
  type Celsius,
  celsius,
  type Kilograms,
  kilograms,
  type Litres,
  litres,
  type Metres,
  type Minutes,
  metres,
  minutes,
  type NewtonMetres,
  type Newtons,
  type NewtonsPerMetre,
  newtonMetres,
  newtons,
  newtonsPerMetre,
  type Pascals,
  pascals,
  type Quantity,
  type Radians,
  radians,
  type Volts,
  volts,
} from "./quantity.ts";
export { type Measure, type QuantityFault, type QuantityReading, readQuantity } from "./read.ts";
export { BASE_UNITS, type Dimension, findUnit, fromBase, type Unit, unitsOf } from "./unit.ts";
export { inwards, writeLimits, writeQuantity } from "./write.ts";

// Owns the branded numbers: one type for each thing measured, so that newtons never meet newton-metres.

import type { Dimension } from "./unit.ts";

declare const dimension: unique symbol;

/** A number in the base unit of its dimension. Two dimensions do not mix: the compiler refuses. */
export type Quantity<D extends Dimension> = number & { readonly [dimension]: D };

export type Kilograms = Quantity<"mass">;
export type Metres = Quantity<"length">;
export type Minutes = Quantity<"time">;
export type Newtons = Quantity<"force">;
export type NewtonMetres = Quantity<"torque">;
export type Litres = Quantity<"volume">;
export type Pascals = Quantity<"pressure">;
export type Celsius = Quantity<"temperature">;
export type Radians = Quantity<"angle">;
export type Volts = Quantity<"voltage">;
export type NewtonsPerMetre = Quantity<"stiffness">;

/** Says of a plain number that it is in this unit; the one way in that is not text. */
export const kilograms = (value: number): Kilograms => value as Kilograms;
export const metres = (value: number): Metres => value as Metres;
export const minutes = (value: number): Minutes => value as Minutes;
export const newtons = (value: number): Newtons => value as Newtons;
export const newtonMetres = (value: number): NewtonMetres => value as NewtonMetres;
export const litres = (value: number): Litres => value as Litres;
export const pascals = (value: number): Pascals => value as Pascals;
export const celsius = (value: number): Celsius => value as Celsius;
export const radians = (value: number): Radians => value as Radians;
export const volts = (value: number): Volts => value as Volts;
export const newtonsPerMetre = (value: number): NewtonsPerMetre => value as NewtonsPerMetre;

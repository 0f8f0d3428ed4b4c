// Owns the units: what each is called, what it measures, and its exact factor to the house's own unit.
//
// Source of the factors: NIST Special Publication 811 (2008 edition), Appendix B.8. The inch (0.0254 m), the
// avoirdupois pound (0.453 592 37 kg), the standard acceleration of free fall (9.806 65 m/s²) and the US gallon
// (231 in³) are exact by definition there; every other factor below is an exact product or quotient of them. The
// imperial gallon (4.546 09 L) is exact by the same table.

/** What can be measured, each with the unit in which the house reckons. */
export const BASE_UNITS = {
  mass: "kg",
  length: "m",
  time: "min",
  force: "N",
  torque: "N·m",
  volume: "L",
  pressure: "Pa",
  temperature: "°C",
  angle: "rad",
  voltage: "V",
  stiffness: "N/m",
} as const;
export type Dimension = keyof typeof BASE_UNITS;

/** value in the base unit = value × times / over + plus, where times and over are exact and each division is one rounding. */
export interface Unit {
  readonly name: string;
  readonly dimension: Dimension;
  readonly times: number;
  readonly over: number;
  readonly plus: number;
  /** Other spellings that are understood. */
  readonly also: readonly string[];
}

/** Numerator and denominator, whole numbers below 2^53 each: a conversion is then rounded twice at most. */
type Ratio = readonly [number, number];
const INCH: Ratio = [254, 1e4];
const FOOT: Ratio = [3048, 1e4];
const POUND: Ratio = [45_359_237, 1e8];
const GRAVITY: Ratio = [980_665, 1e5];
/** 0.453 592 37 × 9.806 65 = 4.448 221 615 260 5 */
const POUND_FORCE: Ratio = [44_482_216_152_605, 1e13];
/** 4.448 221 615 260 5 × 0.0254 = 0.112 984 829 027 616 7 */
const POUND_FORCE_INCH: Ratio = [1_129_848_290_276_167, 1e16];
/** 4.448 221 615 260 5 × 0.3048 = 1.355 817 948 331 400 4, both sides divided by four */
const POUND_FORCE_FOOT: Ratio = [3_389_544_870_828_501, 2.5e15];
/** 4.448 221 615 260 5 N / 0.000 645 16 m² */
const PSI: Ratio = [44_482_216_152_605, 6_451_600_000];
const US_GALLON: Ratio = [3_785_411_784, 1e9];
const IMPERIAL_GALLON: Ratio = [454_609, 1e5];

const unit = (dimension: Dimension, name: string, ratio: number | Ratio = 1, also: readonly string[] = []): Unit => ({
  name,
  dimension,
  times: typeof ratio === "number" ? ratio : ratio[0],
  over: typeof ratio === "number" ? 1 : ratio[1],
  plus: 0,
  also,
});

const part = ([times, over]: Ratio, share: number): Ratio => [times, over * share];

export const UNITS: readonly Unit[] = [
  unit("mass", "kg"),
  unit("mass", "g", [1, 1000]),
  unit("mass", "t", 1000),
  unit("mass", "lb", POUND, ["lbs", "lbm"]),
  unit("mass", "oz", part(POUND, 16)),

  unit("length", "m"),
  unit("length", "cm", [1, 100]),
  unit("length", "mm", [1, 1000]),
  unit("length", "µm", [1, 1e6], ["μm", "um"]),
  unit("length", "in", INCH, ["inch", "inches"]),
  unit("length", "ft", FOOT, ["foot", "feet"]),

  unit("time", "min", 1, ["minute", "minutes"]),
  unit("time", "s", [1, 60], ["second", "seconds"]),
  unit("time", "h", 60, ["hour", "hours"]),

  unit("force", "N"),
  unit("force", "kN", 1000),
  unit("force", "daN", 10),
  unit("force", "lbf", POUND_FORCE),
  unit("force", "kgf", GRAVITY, ["kp"]),

  unit("torque", "N·m", 1, ["Nm"]),
  unit("torque", "kN·m", 1000, ["kNm"]),
  unit("torque", "N·cm", [1, 100], ["Ncm"]),
  unit("torque", "lbf·ft", POUND_FORCE_FOOT, ["ft·lbf", "ft·lb", "lb·ft"]),
  unit("torque", "lbf·in", POUND_FORCE_INCH, ["in·lbf", "in·lb", "lb·in"]),
  unit("torque", "kgf·m", GRAVITY, ["kp·m"]),

  unit("volume", "L", 1, ["l", "litre", "litres"]),
  unit("volume", "mL", [1, 1000], ["ml", "cm³", "cc"]),
  unit("volume", "m³", 1000),
  unit("volume", "US gal", US_GALLON),
  unit("volume", "US qt", part(US_GALLON, 4)),
  unit("volume", "US pt", part(US_GALLON, 8)),
  unit("volume", "US fl oz", part(US_GALLON, 128)),
  unit("volume", "imp gal", IMPERIAL_GALLON),
  unit("volume", "imp pt", part(IMPERIAL_GALLON, 8)),

  unit("pressure", "Pa"),
  unit("pressure", "kPa", 1000),
  unit("pressure", "MPa", 1e6, ["N/mm²"]),
  unit("pressure", "GPa", 1e9),
  unit("pressure", "bar", 1e5),
  unit("pressure", "mbar", 100),
  unit("pressure", "psi", PSI, ["lbf/in²"]),
  unit("pressure", "ksi", [PSI[0], PSI[1] / 1000]),

  unit("temperature", "°C", 1, ["degC"]),
  // NIST SP 811, B.8: t/°C = (t/°F − 32) / 1.8
  { ...unit("temperature", "°F", [5, 9], ["degF"]), plus: -32 },
  { ...unit("temperature", "K"), plus: -273.15 },

  unit("angle", "rad"),
  unit("angle", "mrad", [1, 1000]),
  unit("angle", "°", [Math.PI, 180], ["deg"]),

  unit("voltage", "V"),
  unit("voltage", "mV", [1, 1000]),
  unit("voltage", "kV", 1000),

  unit("stiffness", "N/m"),
  unit("stiffness", "kN/m", 1000),
  unit("stiffness", "N/mm", 1000),
  unit("stiffness", "lbf/in", [44_482_216_152_605, 254e9]),
];

/** Spellings that people write and that could mean more than one thing, with what to write instead. */
export const AMBIGUOUS: ReadonlyMap<string, string> = new Map([
  ["gal", "Write US gal or imp gal: they differ by a fifth."],
  ["qt", "Write US qt, or the amount in L."],
  ["pt", "Write US pt or imp pt: they differ by a fifth."],
  ["ton", "Write t for 1000 kg, or the mass in lb."],
  ["tons", "Write t for 1000 kg, or the mass in lb."],
  ["C", "Write °C."],
  ["F", "Write °F."],
  ["M", "Write m for metres or min for minutes."],
]);

/** One spelling for the joins that people use in "N·m": a point, a cross, a star, a hyphen, a space. */
const join = (text: string): string =>
  text
    .replace(/\s*[·⋅∙•×*.]\s*/gu, "·")
    .replace(/(?<=[a-z])\s*-\s*(?=[a-z])/giu, "·")
    .replace(/\s+/gu, " ")
    .trim();

const table = new Map<string, Unit>();
for (const one of UNITS)
  for (const name of [one.name, ...one.also]) {
    table.set(name, one);
    // "N m" and "lbf ft" are the same product written with a space, as the SI brochure allows.
    if (name.includes("·")) table.set(name.replace("·", " "), one);
  }

/** The unit that is written so, or undefined. Case matters: mN is no MN. */
export const findUnit = (written: string): Unit | undefined => table.get(written) ?? table.get(join(written));

/** The units of a dimension, its base unit first. */
export const unitsOf = (dimension: Dimension): readonly Unit[] => UNITS.filter((one) => one.dimension === dimension);

/** From the written unit to the base unit of its dimension. */
export const toBase = (value: number, from: Unit): number =>
  from.name === "°F" ? ((value + from.plus) * from.times) / from.over : (value * from.times) / from.over + from.plus;

/** From the base unit to the unit named. */
export const fromBase = (value: number, to: Unit): number =>
  to.name === "°F" ? (value * to.over) / to.times - to.plus : ((value - to.plus) * to.over) / to.times;

// Quantities: exact factors (NIST SP 811, 2008, Appendix B.8 and B.9), what is understood, what is refused and why.
import fc from "fast-check";
import { describe, expect, expectTypeOf, test } from "vitest";
import {
  BASE_UNITS,
  type Dimension,
  findUnit,
  type NewtonMetres,
  type Newtons,
  type Quantity,
  readQuantity,
  unitsOf,
  writeQuantity,
} from "./index.ts";
import { fromBase, toBase, UNITS } from "./unit.ts";

const value = (text: string, dimension: Dimension): number => {
  const reading = readQuantity(text, dimension);
  if ("fault" in reading) throw new Error(reading.fault.what);
  return reading.value.nominal;
};
const limits = (text: string, dimension: Dimension): readonly number[] => {
  const reading = readQuantity(text, dimension);
  return "fault" in reading ? [] : [reading.value.low, reading.value.nominal, reading.value.high];
};
const fault = (text: string, dimension: Dimension) => {
  const reading = readQuantity(text, dimension);
  return "fault" in reading ? reading.fault : undefined;
};

/** A decimal as a ratio of whole numbers. */
const exact = (decimal: string): readonly [bigint, bigint] => {
  const [whole = "", part = ""] = decimal.split(".");
  return [BigInt(whole + part), 10n ** BigInt(part.length)];
};
const times = ([a, b]: readonly [bigint, bigint], [c, d]: readonly [bigint, bigint]): readonly [bigint, bigint] => [
  a * c,
  b * d,
];
const over = ([a, b]: readonly [bigint, bigint], [c, d]: readonly [bigint, bigint]): readonly [bigint, bigint] => [
  a * d,
  b * c,
];

/** By definition: the international foot and inch, the pound, the standard fall, the US gallon of 231 cubic inches. */
const INCH = exact("0.0254");
const FOOT = exact("0.3048");
const POUND = exact("0.45359237");
const LBF = times(POUND, exact("9.80665"));
const LITRE_OF_CUBIC_INCHES = times(times(times(INCH, INCH), INCH), exact("1000"));
const FACTORS: readonly (readonly [string, readonly [bigint, bigint]])[] = [
  ["in", INCH],
  ["ft", FOOT],
  ["lb", POUND],
  ["oz", over(POUND, exact("16"))],
  ["lbf", LBF],
  ["lbf·ft", times(LBF, FOOT)],
  ["lbf·in", times(LBF, INCH)],
  ["psi", over(LBF, times(INCH, INCH))],
  ["ksi", times(over(LBF, times(INCH, INCH)), exact("1000"))],
  ["lbf/in", over(LBF, INCH)],
  ["kgf", exact("9.80665")],
  ["kgf·m", exact("9.80665")],
  ["US gal", times(LITRE_OF_CUBIC_INCHES, exact("231"))],
  ["US qt", over(times(LITRE_OF_CUBIC_INCHES, exact("231")), exact("4"))],
  ["US fl oz", over(times(LITRE_OF_CUBIC_INCHES, exact("231")), exact("128"))],
  ["imp gal", exact("4.54609")],
];

describe("factors", () => {
  test.each(FACTORS)("%s is exact", (name, [numerator, denominator]) => {
    const unit = findUnit(name)!;
    // Both sides as whole numbers: no rounding takes part in the comparison.
    const scale = 1000n; // psi and ksi have a denominator that is whole only in thousandths
    expect(BigInt(unit.times) * denominator * scale).toBe(numerator * BigInt(Math.round(unit.over * 1000)));
  });

  // The factors as the table prints them, to seven digits.
  test.each([
    ["1 lbf·ft", "torque", 1.355818],
    ["1 lbf·in", "torque", 0.1129848],
    ["1 lbf", "force", 4.448222],
    ["1 psi", "pressure", 6894.757],
    ["1 US gal", "volume", 3.785412],
    ["1 US fl oz", "volume", 0.02957353],
    ["1 lb", "mass", 0.4535924],
    ["1 oz", "mass", 0.02834952],
    ["1 kgf·m", "torque", 9.80665],
    ["1 bar", "pressure", 1e5],
  ] as const)("%s in the table of NIST SP 811", (text, dimension, printed) => {
    expect(Math.abs(value(text, dimension) / printed - 1)).toBeLessThan(5e-7);
  });

  test.each([
    ["32 °F", 0],
    ["212 °F", 100],
    ["-40 °F", -40],
    ["273.15 K", 0],
  ] as const)("%s is %d °C", (text, celsius) => expect(value(text, "temperature")).toBeCloseTo(celsius, 12));

  test("there and back is the same within a few roundings, for every unit", () => {
    fc.assert(
      fc.property(fc.constantFrom(...UNITS), fc.double({ min: -1e6, max: 1e6, noNaN: true }), (unit, x) => {
        const back = fromBase(toBase(x, unit), unit);
        const size = Math.abs(x) + (unit.plus === 0 ? 1e-300 : 1000);
        expect(Math.abs(back - x)).toBeLessThanOrEqual(4 * Number.EPSILON * size);
      }),
      { seed: 811 },
    );
  });

  test("a decimal in inches is the nearest double to the true length", () => {
    // x/1000 in = x × 254 / 10^7 m; the one division of whole numbers is rounded once and right.
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1_000_000 }), (x) => {
        expect(value(`${x} in`, "length")).toBe((x * 254) / 1e4);
      }),
      { seed: 254 },
    );
  });

  test("the first unit of a dimension is the one the house reckons in", () => {
    for (const [dimension, base] of Object.entries(BASE_UNITS)) {
      const [first] = unitsOf(dimension as Dimension);
      expect([first?.name, first?.times, first?.over, first?.plus]).toEqual([base, 1, 1, 0]);
    }
  });

  test("no spelling means two units", () => {
    const names = UNITS.flatMap((unit) => [unit.name, ...unit.also]);
    expect(new Set(names).size).toBe(names.length);
  });
});

describe("what is understood", () => {
  test.each([
    ["34 N·m", "torque", 34],
    ["34 Nm", "torque", 34],
    ["34N·m", "torque", 34],
    ["34 N m", "torque", 34],
    ["34 N.m", "torque", 34],
    ["34 N*m", "torque", 34],
    ["100 lbf·ft", "torque", 135.58179483314004],
    ["100 lbf ft", "torque", 135.58179483314004],
    ["100 ft-lb", "torque", 135.58179483314004],
    ["100 lb-ft", "torque", 135.58179483314004],
    ["100 in-lb", "torque", 11.29848290276167],
    ["3/8 in", "length", 0.009525],
    ["1 1/2 in", "length", 0.0381],
    ["1-1/2 in", "length", 0.0381],
    ["-0.2 m", "length", -0.2],
    ["−0.2 m", "length", -0.2],
    [".5 m", "length", 0.5],
    ["1.2e3 kg", "mass", 1200],
    ["1 h 30 min", "time", 90],
    ["90 s", "time", 1.5],
    ["6 US qt", "volume", 5.678117676],
    ["24V", "voltage", 24],
    ["800 N/mm²", "pressure", 8e8],
    ["180 °", "angle", Math.PI],
  ] as const)("%s", (text, dimension, expected) => expect(value(text, dimension)).toBeCloseTo(expected, 12));

  test.each([
    ["262 kg ± 5 %", "mass", [248.9, 262, 275.1]],
    ["262 kg ±5%", "mass", [248.9, 262, 275.1]],
    ["262 kg ± 3 kg", "mass", [259, 262, 265]],
    ["262 ± 3 kg", "mass", [259, 262, 265]],
    ["262 kg +/- 3 kg", "mass", [259, 262, 265]],
    ["262 kg ± 500 g", "mass", [261.5, 262, 262.5]],
    ["2..3 mm", "length", [0.002, 0.0025, 0.003]],
    ["2 mm .. 3 mm", "length", [0.002, 0.0025, 0.003]],
    ["80 °C ± 9 °F", "temperature", [75, 80, 85]],
    ["-2 m ± 10 %", "length", [-2.2, -2, -1.8]],
  ] as const)("%s", (text, dimension, expected) => {
    limits(text, dimension).forEach((each, i) => {
      expect(each).toBeCloseTo(expected[i]!, 12);
    });
  });
});

describe("what is refused, and the mend", () => {
  test.each([
    ["12", "time", "no-unit", "Write the unit: 12 min"],
    ["3..4", "length", "no-unit", "Write the unit"],
    ["soon", "time", "no-number", "Write a number and a unit"],
    ["", "time", "no-number", "Write a number and a unit"],
    ["0,45 m", "length", "no-number", "0.45 m"],
    ["1e999 kg", "mass", "no-number", "Write a number"],
    ["1/0 in", "length", "no-number", "Write a number"],
    ["12 KG", "mass", "unknown-unit", "Write kg."],
    ["2 gal", "volume", "unknown-unit", "US gal or imp gal"],
    ["12 furlong", "length", "unknown-unit", "m, cm, mm"],
    ["34 N", "torque", "wrong-dimension", "N·m"],
    ["34 N·m", "force", "wrong-dimension", "N"],
    ["5 lb", "force", "wrong-dimension", "lbf"],
    ["3..2 mm", "length", "tolerance", "lower limit first"],
    ["20 °C ± 5 %", "temperature", "tolerance", "degrees"],
    ["20 kg ± 5 % ± 2 kg", "mass", "tolerance", "Write one"],
    ["20 kg ± -2 kg", "mass", "tolerance", "without its sign"],
    ["10 °C 5 °F", "temperature", "no-number", "Write one value"],
  ] as const)("%j as a %s: %s", (text, dimension, rule, mend) => {
    expect(fault(text, dimension)).toMatchObject({ rule, text });
    expect(fault(text, dimension)?.mend).toContain(mend);
  });

  test("no text throws or takes long, and what is read has its limits in order", () => {
    const piece = fc.constantFrom(
      "1",
      "2.5",
      " ",
      "kg",
      "±",
      "..",
      "%",
      "/",
      "-",
      "e",
      "m",
      "N·m",
      "°F",
      ",",
      "min",
      "US gal",
    );
    fc.assert(
      fc.property(
        fc.array(piece, { maxLength: 12 }),
        fc.constantFrom(...(Object.keys(BASE_UNITS) as Dimension[])),
        (pieces, dimension) => {
          const [low, nominal, high] = limits(pieces.join(""), dimension);
          if (nominal !== undefined) expect(low! <= nominal && nominal <= high!).toBe(true);
        },
      ),
      { seed: 2008, numRuns: 2000 },
    );
    const start = Date.now();
    readQuantity("1 ".repeat(100_000), "time");
    readQuantity(`1${" ".repeat(100_000)}x`, "time");
    readQuantity("9".repeat(100_000), "time");
    expect(Date.now() - start).toBeLessThan(1000);
  });
});

describe("writing", () => {
  test("what is written is read again as the same number", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...(Object.keys(BASE_UNITS) as Dimension[])),
        fc.double({ min: -1e9, max: 1e9, noNaN: true }),
        (dimension, x) => {
          expect(value(writeQuantity(x as Quantity<Dimension>, dimension), dimension)).toBe(x === 0 ? 0 : x);
        },
      ),
      { seed: 34 },
    );
  });
  test("in the unit and with the digits asked for", () => {
    expect(writeQuantity(48 as NewtonMetres, "torque", "lbf·ft", 1)).toBe("35.4 lbf·ft");
    expect(writeQuantity(0.4 as Quantity<"volume">, "volume", "L", 3)).toBe("0.4 L");
    expect(writeQuantity(-0.0001 as Quantity<"length">, "length", "m", 2)).toBe("0 m");
  });
  test("a unit of another dimension is a mistake of the program", () => {
    expect(() => writeQuantity(48 as NewtonMetres, "torque", "N")).toThrow(/"N" is no unit of torque/);
  });
});

test("newtons never meet newton-metres", () => {
  expectTypeOf<Newtons>().not.toExtend<NewtonMetres>();
  expectTypeOf<number>().not.toExtend<Newtons>();
  expectTypeOf<Newtons>().toExtend<number>();
});

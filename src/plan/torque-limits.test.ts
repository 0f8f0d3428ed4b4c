import fc from "fast-check";
import { expect, test } from "vitest";
import { inwards, newtonMetres, readQuantity, unitsOf, writeQuantity } from "../quantity/index.ts";
import { readVehicle, type Torque } from "../vehicle/index.ts";
import { isWithin, statedLimits, TORQUE_SHARE, torqueLimits } from "./torque-limits.ts";

/** The torque as the file's own reader takes it. */
const inFile = (torque: string): Torque | undefined =>
  readVehicle(
    "rig.vehicle.yaml",
    () => `format: unmoor/1
vehicle: { name: Rig }
positions: { side: { label: Side } }
parts: { frame: { fixed: true }, pump: { mass: 40 kg } }
connections:
  bolts: { joins: [pump, frame], kind: bolted joint, release: { at: side, time: 1 min }, refit: { torque: "${torque}" } }
jobs: { off: { needs: [bolts] } }`,
  ).vehicle?.connections[0]?.refit.torque;

/** As read off a wrench, in N·m. */
const read = (text: string): number => {
  const reading = readQuantity(text, "torque");
  return "value" in reading ? reading.value.nominal : Number.NaN;
};

const units = unitsOf("torque").map(({ name }) => name);
/** Tenths: what people write. */
const tenths = (min: number, max: number) => fc.integer({ min: 10 * min, max: 10 * max }).map((n) => n / 10);

test("written in whatever form and unit, the ends fit as they are written, in any unit; a thousandth further does not", () => {
  fc.assert(
    fc.property(
      tenths(1, 999),
      tenths(1, 90),
      fc.constantFrom("percent", "off", "off once", "ends"),
      fc.constantFrom(...units),
      fc.constantFrom(...units),
      (value, width, form, unit, other) => {
        const off = form === "percent" ? (value * width) / 100 : Math.min(width, value / 2);
        const text = {
          percent: `${value} ${unit} ± ${width} %`,
          off: `${value} ${unit} ± ${off} ${unit}`,
          "off once": `${value} ± ${off} ${unit}`,
          ends: `${value - off}..${value + off} ${unit}`,
        }[form];
        const torque = inFile(text);
        const stated = statedLimits(torque);
        if (torque === undefined || stated === undefined) throw new Error(`${text} is not read`);
        const limits = torqueLimits(torque.nominal, stated);
        for (const end of [value - off, value, value + off]) {
          expect(isWithin(read(`${end} ${unit}`), limits)).toBe(true);
          const inOther = writeQuantity(newtonMetres(read(`${end} ${unit}`)), "torque", other);
          expect(isWithin(read(inOther), limits)).toBe(true);
        }
        const step = value / 1000;
        expect(isWithin(read(`${value - off - step} ${unit}`), limits)).toBe(false);
        expect(isWithin(read(`${value + off + step} ${unit}`), limits)).toBe(false);
      },
    ),
    { numRuns: 300 },
  );
}, 20_000);

test("without a tolerance common practice is taken, five parts in a hundred, and nothing counts as stated", () => {
  const torque = inFile("48 N·m");
  expect(statedLimits(torque)).toBeUndefined();
  const limits = torqueLimits(48, statedLimits(torque));
  expect([limits.low, limits.high]).toEqual([48 * (1 - TORQUE_SHARE), 48 * (1 + TORQUE_SHARE)]);
  expect(isWithin(45.6, limits) && isWithin(50.4, limits)).toBe(true);
  expect(isWithin(45.5, limits) || isWithin(50.5, limits) || isWithin(Number.NaN, limits)).toBe(false);
});

test("the running torque of a locknut moves both ends", () => {
  expect(statedLimits(inFile("70 N·m ± 5 N·m"), 4)).toEqual({ low: 69, high: 79 });
});

test("limits are shown so that whoever keeps to what he reads keeps to them", () => {
  expect(inwards(109.25, 120.75, 1)).toEqual([109.3, 120.7]);
  expect(inwards(104.5, 115.5, 1)).toEqual([104.5, 115.5]);
  expect(inwards(9.92, 9.98, 1)).toEqual([9.92, 9.98]);
  fc.assert(
    fc.property(
      fc.double({ min: 0.1, max: 1000, noNaN: true }),
      fc.double({ min: 0.001, max: 0.5, noNaN: true }),
      (value, share) => {
        const [low, high] = [value * (1 - share), value * (1 + share)];
        const shown = inwards(low, high, 1);
        const limits = { low, high };
        expect(shown[0] <= shown[1] && shown.every((end) => isWithin(end, limits))).toBe(true);
        expect(shown[0] - low < 0.1 && high - shown[1] < 0.1).toBe(true);
      },
    ),
  );
});

// The measured files are what they are said to be, and reading one of four times the size takes about four times as long.
import { expect, test } from "vitest";
import { readVehicle, sentence } from "../../src/vehicle/index.ts";
import { doubtFile, spoilFile, writeFile } from "./file.ts";
import { measureReading } from "./read.ts";

const read = (text: string) => readVehicle("measured.vehicle.yaml", () => text);

test("the sound file has the connections asked for, no fault and no doubt", () => {
  const { vehicle, faults, warnings } = read(writeFile(1000));
  expect([...faults, ...warnings].map(sentence)).toEqual([]);
  expect(vehicle?.connections).toHaveLength(1001);
});

test("the doubtful file has doubts of every sort in every assembly, the spoilt one faults", () => {
  const doubtful = read(doubtFile(writeFile(80)));
  expect(doubtful.faults.map(sentence)).toEqual([]);
  expect(new Set(doubtful.warnings.map(({ rule }) => rule))).toEqual(
    new Set(["no-drain", "no-plug", "no-torque", "need-never-holds"]),
  );
  expect(doubtful.warnings.length).toBeGreaterThanOrEqual(40);
  const spoilt = read(spoilFile(writeFile(80)));
  expect(new Set(spoilt.faults.map(({ rule }) => rule))).toEqual(
    new Set(["unknown-id", "unknown-word", "quantity-wrong-dimension", "quantity-no-unit", "unknown-key", "no-room"]),
  );
  expect(spoilt.faults.length).toBeGreaterThanOrEqual(70);
});

test("the time grows as the file does, not as its square", () => {
  const [small, large] = [60, 960];
  const rows = measureReading(() => performance.now(), { sizes: [small, large], repeats: 3, warm: 1 });
  for (const row of rows.filter(({ connections }) => connections === small)) {
    const other = rows.find(({ family, connections }) => family === row.family && connections === large);
    // Sixteen times as much: the square would take 256 times as long. The least of three is the least disturbed.
    expect((other?.least ?? Number.POSITIVE_INFINITY) / row.least, row.family).toBeLessThan(80);
  }
}, 30_000);

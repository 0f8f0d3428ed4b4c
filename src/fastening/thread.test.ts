// Owns the checks of threads: published stress areas, designations read, threads that do not exist.

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  findThread,
  pitchDiameter,
  readThread,
  rootDiameter,
  stressArea,
  THREADS,
  type ThreadReading,
} from "./thread.ts";

const read = (text: string): ThreadReading => {
  const reading = readThread(text);
  if ("fault" in reading) throw new Error(reading.fault.what);
  return reading;
};
const fault = (text: string) => {
  const reading = readThread(text);
  if (!("fault" in reading)) throw new Error(`${text} was read as ${reading.thread.name}`);
  return reading.fault;
};
const SQUARE_INCH = 0.0254 ** 2;

describe("the stress area", () => {
  // ISO 898-1, As,nom, two published tables agree; the standard gives three figures.
  it.each([
    ["M5", 14.2],
    ["M6", 20.1],
    ["M8", 36.6],
    ["M10", 58.0],
    ["M12", 84.3],
    ["M14", 115],
    ["M16", 157],
    ["M18", 192],
    ["M20", 245],
    ["M22", 303],
    ["M24", 353],
  ])("of %s is the %f mm² of ISO 898-1 to its three figures", (name, area) => {
    expect(Number((stressArea(read(name).thread) * 1e6).toPrecision(3))).toBe(area);
  });

  // Worked from the profile beforehand, to eight figures.
  it.each([
    ["M10", 57.989593],
    ["M8×1", 39.167101],
    ["M10×1.25", 61.198595],
    ["M12×1.25", 92.071834],
    ["M12×1.5", 88.125976],
    ["M14×1.5", 124.545545],
    ["M16×1.5", 167.248299],
    ["M20×1.5", 271.503362],
    ["M24×2", 384.416423],
  ])("of %s is %f mm²", (name, area) => {
    expect(stressArea(read(name).thread) * 1e6).toBeCloseTo(area, 6);
  });

  // A published table of ASME B1.1 fine threads, in².
  it.each([
    ["#0-80", 0.0018],
    ["#4-48", 0.00661],
    ["#10-32", 0.02],
    ["1/4-28", 0.0364],
    ["5/16-24", 0.058],
    ["3/8-24", 0.0878],
    ["7/16-20", 0.1187],
    ["1/2-20", 0.1599],
    ["9/16-18", 0.203],
    ["5/8-18", 0.256],
    ["3/4-16", 0.373],
    ["7/8-14", 0.509],
    ["1-12", 0.663],
    ["1 1/4-12", 1.073],
    ["1 1/2-12", 1.581],
  ])("of %s is %f in², as ASME B1.1 has it", (name, area) => {
    // The table has three or four figures; the last of them may be rounded either way.
    const unit = area < 0.01 ? 0.00001 : area < 0.03 ? 0.0001 : area < 0.2 ? 0.0001 : 0.001;
    expect(Math.abs(stressArea(read(name).thread) / SQUARE_INCH - area)).toBeLessThan(1.01 * unit);
  });

  // Worked beforehand from 0.7854·(D − 0.9743/n)², in².
  it.each([
    ["1/4-20", 0.03182],
    ["3/8-16", 0.07749],
    ["1/2-13", 0.1419],
    ["5/8-11", 0.226],
    ["3/4-10", 0.33446],
  ])("of %s is %f in²", (name, area) => {
    expect(stressArea(read(name).thread) / SQUARE_INCH).toBeCloseTo(area, 5);
  });

  it("stands on d2 and d3 of the 60° profile", () => {
    const { thread } = read("M10");
    expect(pitchDiameter(thread) * 1000).toBeCloseTo(9.025721, 6);
    expect(rootDiameter(thread) * 1000).toBeCloseTo(8.159696, 6);
  });
});

describe("a designation", () => {
  it.each([
    ["M10x1.5", "M10×1.5", undefined],
    ["M10×1.25", "M10×1.25", undefined],
    ["m8 x 1", "M8×1", undefined],
    ["M10×45", "M10×1.5", 0.045],
    ["wheel bolt M14×1.5×35", "M14×1.5", 0.035],
    ["collar nut M22×1.5", "M22×1.5", undefined],
    ["M5×14", "M5×0.8", 0.014],
    ["M3×6", "M3×0.5", 0.006],
    ["3/8-16 UNC", "3/8-16 UNC", undefined],
    ["bolt 3/8-16 x 1 1/2", "3/8-16 UNC", 0.0381],
    ["1/2-20", "1/2-20 UNF", undefined],
    ["1 1/8-7 UNC", "1 1/8-7 UNC", undefined],
    ["#10-32", "#10-32 UNF", undefined],
    ["10-24", "#10-24 UNC", undefined],
    ["1-8", "1-8 UNC", undefined],
  ])("%s is %s", (text, name, length) => {
    const reading = read(text);
    expect(reading.thread.name).toBe(name);
    if (length === undefined) expect(reading.length).toBeUndefined();
    else expect(reading.length).toBeCloseTo(length, 9);
  });

  it("without a pitch is taken as coarse, and says so", () => {
    expect(read("M10").assumed).toBe("M10×1.5: coarse pitch, as none is written");
    expect(read("M10×45").assumed).toBeDefined();
    expect(read("M10×1.5").assumed).toBeUndefined();
  });

  it.each([
    ["M10×1.75", "M10×1.5"],
    ["M12×2", "M12×1.75"],
    ["M11", "M10×1.5"],
    ["M13×1.5", "M12×1.5"],
    ["M14×3×40", "M14×2"],
    ["3/8-18", "3/8-16 UNC"],
    ["1/2-20 UNC", "1/2-20 UNF"],
    ["13/32-16", "3/8-16 UNC"],
  ])("%s does not exist, and the nearest is %s", (text, near) => {
    expect(fault(text)).toMatchObject({ rule: "unknown-thread", at: "thread", values: { nearest: near } });
    expect(fault(text).mend).toContain(near);
  });

  it.each(["", "bolt", "10.9", "N·m", "M"])("%j names no thread", (text) => {
    expect(fault(text).rule).toBe("no-thread");
  });

  it("is read or is a fault, whatever the text", () => {
    const sign = fc.constantFrom(..."M#×x-/ .1234567890UNCF ");
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.array(sign, { maxLength: 14 }).map((signs) => signs.join("")),
        ),
        (text) => {
          const reading = readThread(text);
          if ("thread" in reading) expect(THREADS).toContain(reading.thread);
          else expect(reading.fault.mend).not.toBe("");
        },
      ),
    );
  });

  it("reads its own name back, for every thread of the tables", () => {
    for (const thread of THREADS) expect(readThread(thread.name)).toEqual({ thread });
  });

  it("is found in the name of an item, and only there where one is", () => {
    expect(findThread("countersunk screw M8×20")?.name).toBe("M8×1.25");
    expect(findThread("cap screw 5/16-18")?.name).toBe("5/16-18 UNC");
    for (const item of ["hose clamp 16-27", "hose clamp 40-60", "O-ring 190×3", "pin 5-40", "strap 25 mm"])
      expect(findThread(item), item).toBeUndefined();
  });
});

// Owns the checks of classes and grades: published proof loads, names read, names that do not fit the thread.

import { describe, expect, it } from "vitest";
import { exactly } from "./friction.ts";
import { proofLoad, readStrength, type Strength, yieldLoad } from "./strength.ts";
import { readThread, type Thread } from "./thread.ts";
import { tighten } from "./tighten.ts";

const thread = (text: string): Thread => {
  const reading = readThread(text);
  if ("fault" in reading) throw new Error(reading.fault.what);
  return reading.thread;
};
const strength = (text: string, of: Thread): Strength => {
  const reading = readStrength(text, of);
  if ("fault" in reading) throw new Error(reading.fault.what);
  return reading.strength;
};
const LBF = 4.4482216152605;

describe("the proof load", () => {
  // ISO 898-1, proof loads of coarse threads, N: two published tables agree. As,nom × Sp in three figures, some rounded down: M6 8.8 is printed 0.6 % under.
  it.each([
    ["M5", 8230, 11800, 13800],
    ["M6", 11600, 16700, 19500],
    ["M8", 21200, 30400, 35500],
    ["M10", 33700, 48100, 56300],
    ["M12", 48900, 70000, 81800],
    ["M14", 66700, 95500, 112000],
    ["M16", 91000, 130000, 152000],
    ["M18", 115000, 159000, 186000],
    ["M20", 147000, 203000, 238000],
    ["M22", 182000, 252000, 294000],
    ["M24", 212000, 293000, 342000],
  ])("of %s is that of ISO 898-1 to its three figures: %i, %i, %i N", (name, ...loads) => {
    const of = thread(name);
    for (const [index, one] of ["8.8", "10.9", "12.9"].entries())
      expect(Math.abs(proofLoad(of, strength(one, of)) / (loads[index] as number) - 1)).toBeLessThan(0.0065);
  });

  // SAE J429 stresses on ASME B1.1 areas, lbf.
  it.each([
    ["1/4-20", 2705, 3819],
    ["5/16-18", 4457, 6292],
    ["3/8-16", 6587, 9299],
    ["7/16-14", 9036, 12757],
    ["1/2-13", 12061, 17028],
    ["1/2-20", 13596, 19194],
    ["5/8-11", 19210, 27120],
    ["3/4-10", 28429, 40135],
  ])("of %s is %i lbf in grade 5 and %i lbf in grade 8", (name, five, eight) => {
    const of = thread(name);
    expect(Math.abs(proofLoad(of, strength("grade 5", of)) / LBF / five - 1)).toBeLessThan(0.0005);
    expect(Math.abs(proofLoad(of, strength("grade 8", of)) / LBF / eight - 1)).toBeLessThan(0.0005);
  });

  // Industrial Fasteners Institute tables: 75 % of proof, 3/8-16 grade 5: 4950 lbf; 5/8-11: 14 400; grade 8: 20 325.
  it.each([
    ["3/8-16", "5", 4950],
    ["5/8-11", "5", 14400],
    ["5/8-11", "8", 20325],
  ])("three quarters of that of %s grade %s is the printed %i lbf to 0.5 %%", (name, grade, printed) => {
    const of = thread(name);
    expect(Math.abs((0.75 * proofLoad(of, strength(grade, of))) / LBF / printed - 1)).toBeLessThan(0.005);
  });

  it("lies below the load at the yield point, for every class and grade", () => {
    for (const [name, classes] of [
      ["M10", ["4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9"]],
      ["3/8-16", ["2", "5", "8"]],
    ] as const)
      for (const one of classes) {
        const of = thread(name);
        const bears = strength(one, of);
        expect(proofLoad(of, bears)).toBeLessThan(yieldLoad(of, bears));
        expect(bears.yield).toBeLessThan(bears.tensile);
      }
  });
});

describe("the name of a class", () => {
  it("is read in its usual spellings", () => {
    const metric = thread("M10");
    expect(strength("class 8.8", metric).name).toBe("8.8");
    expect(strength("property class 10.9", metric).name).toBe("10.9");
    expect(strength("SAE J429 grade 8", thread("3/8-16")).name).toBe("grade 8");
    expect(strength("Gr. 5", thread("3/8-16")).name).toBe("grade 5");
  });

  it("stands for other stresses above M16, and above one inch", () => {
    expect(strength("8.8", thread("M16")).proof).toBe(580e6);
    expect(strength("8.8", thread("M18")).proof).toBe(600e6);
    expect(strength("5", thread("1-8")).proof).toBeCloseTo(85 * 6894757.293168361, 0);
    expect(strength("5", thread("1 1/8-7")).proof).toBeCloseTo(74 * 6894757.293168361, 0);
  });

  it("of a nut stands for the bolt it pairs with, and says so", () => {
    expect(readStrength("10", thread("M22×1.5"))).toMatchObject({
      strength: { name: "10.9" },
      assumed: expect.stringContaining("nut of class 10"),
    });
  });

  it("of inch bolts on a metric thread is named as such, and the other way round", () => {
    expect(readStrength("2", thread("M10"))).toMatchObject({ fault: { rule: "class-of-other-thread" } });
    expect(readStrength("8.8", thread("3/8-16"))).toMatchObject({
      fault: { rule: "class-of-other-thread", mend: "For 3/8-16 UNC give one of 2, 5, 8." },
    });
  });

  it("that does not exist, or not at that size, is told with those that do", () => {
    expect(readStrength("8.9", thread("M10"))).toMatchObject({
      fault: { rule: "unknown-class", mend: expect.stringContaining("8.8") },
    });
    expect(readStrength("9.8", thread("M20"))).toMatchObject({
      fault: { rule: "unknown-class", what: "9.8 is not given for M20×2.5" },
    });
    expect(readStrength("8.8", thread("M64"))).toMatchObject({
      fault: { mend: "Give a torque by the maker's book." },
    });
  });
});

describe("stainless classes of ISO 3506-1", () => {
  // Torques by VDI 2230 at μ 0.10 and 90 % of the 0.2 % stress, as a maker of industrial controllers prints them for mounting his cabinets.
  const PRINTED: readonly (readonly [string, number, number, number])[] = [
    ["M5", 1.72, 3.68, 4.91],
    ["M6", 2.95, 6.4, 8.4],
    ["M8", 7.2, 15.2, 20.5],
    ["M10", 14, 30, 40],
    ["M12", 24, 51.5, 69],
    ["M16", 59, 127, 169],
    ["M20", 115, 248, 330],
    ["M24", 199, 425, 570],
  ];
  it.each(PRINTED)("%s: the printed torques of -50, -70 and -80, to 3 %", (size, ...printed) => {
    for (const [i, name] of ["A2-50", "A2-70", "A4-80"].entries()) {
      const friction = { thread: exactly(0.1), head: exactly(0.1) };
      const one = tighten({
        thread: thread(size),
        strength: strength(name, thread(size)),
        friction,
        aim: { yield: 0.9 },
      });
      if ("faults" in one) throw new Error("no answer");
      expect(Math.abs(one.answer.torque / (printed[i] as number) - 1)).toBeLessThan(0.03);
    }
  });
  it("a steel without a strength is no class, and says which there are", () => {
    const answer = readStrength("A2", thread("M10"));
    expect("fault" in answer && answer.fault.what).toBe("A2 names the steel and not how strong it is");
    expect("fault" in answer && answer.fault.mend).toContain("A2-50, A2-70, A2-80");
  });
  it("none of them on an inch thread", () => {
    const answer = readStrength("A4-70", thread("3/8-16 UNC"));
    expect("fault" in answer && answer.fault.rule).toBe("class-of-other-thread");
  });

  it("a grade of inch bolts on a metric thread is no nut of that class", () => {
    for (const text of ["grade 5", "grade5", "SAE 8", "gr. 8"]) {
      const answer = readStrength(text, thread("M10"));
      expect("fault" in answer && answer.fault.rule, text).toBe("class-of-other-thread");
      expect("fault" in answer && answer.fault.what).toContain("a grade of inch bolts, and M10×1.5 is a metric thread");
    }
    expect("strength" in readStrength("8", thread("M10"))).toBe(true);
  });
});

// Owns the checks of torque and preload against printed tables, worked examples and a form that shares no code with ours.

import { describe, expect, it } from "vitest";
import { metres, newtons } from "../quantity/index.ts";
import { exactly, type Friction, PLAIN } from "./friction.ts";
import { type Bearing, bearingDiameter, hexagonBearing } from "./head.ts";
import { armOf, looseningOf, splitOf, threadCoefficient, yieldPreload } from "./preload.ts";
import { proofLoad, readStrength, type Strength } from "./strength.ts";
import { readThread, type Thread } from "./thread.ts";
import { boltCompliance, partsCompliance, preloadOfTurn } from "./turn.ts";

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
const alike = (mu: number): Friction => ({ thread: exactly(mu), head: exactly(mu) });
const bearing = (of: Thread): Bearing => hexagonBearing(of).bearing;
const M10 = thread("M10×1.5");

describe("the short form T = K·d·F", () => {
  it("takes 50.550 N·m for 25 275 N in M10 at K 0.20, and 48 N·m gives 24 000 N", () => {
    const arm = armOf(M10, bearing(M10), { factor: exactly(0.2) });
    expect(25275 * arm).toBeCloseTo(50.55, 9);
    expect(48 / arm).toBeCloseTo(24000, 6);
  });

  // Industrial Fasteners Institute tables at 75 % of proof and K 0.20, lbf·ft, printed to the whole figure.
  it.each([
    ["3/8-16", "5", 31],
    ["1/2-13", "5", 76],
    ["5/8-11", "5", 150],
    ["5/8-11", "8", 212],
  ])("meets the printed torque of %s grade %s: %i lbf·ft to 1 %%", (name, grade, printed) => {
    const of = thread(name);
    const torque = 0.75 * proofLoad(of, strength(grade, of)) * armOf(of, bearing(of), { factor: exactly(0.2) });
    expect(Math.abs(torque / 1.3558179483314 / printed - 1)).toBeLessThan(0.01);
  });

  it("of a chart that prints 57 lbf·ft as dry for 1/2-13 grade 5 shows that it is the figure of K 0.15", () => {
    const of = thread("1/2-13");
    const torque = (k: number) =>
      (0.75 * proofLoad(of, strength("5", of)) * armOf(of, bearing(of), { factor: exactly(k) })) / 1.3558179483314;
    expect(torque(0.15)).toBeCloseTo(56.5, 0);
    expect(torque(0.2)).toBeGreaterThan(75);
  });
});

describe("the form of thread and head friction", () => {
  // Worked beforehand: M10×1.5, face 14.63, hole 11, 25 275 N.
  it.each([
    [0.12, 6.033962, 15.804971, 19.433948, 41.27288],
    [0.14, 6.033962, 18.439133, 22.672939, 47.146034],
  ])(
    "at μ %f takes %f for the pitch, %f in the thread, %f under the head: %f N·m",
    (mu, pitch, inThread, head, sum) => {
      const split = splitOf(M10, bearing(M10), alike(mu), newtons(25275));
      expect(split?.pitch).toBeCloseTo(pitch, 5);
      expect(split?.thread).toBeCloseTo(inThread, 5);
      expect(split?.head).toBeCloseTo(head, 5);
      expect(25275 * armOf(M10, bearing(M10), alike(mu))).toBeCloseTo(sum, 5);
      // As printed: F·(0.159·P + 0.577·d2·μG + Dkm·μK/2), whose rounded figures give a little less.
      const printed = 25275 * (0.159 * 1.5e-3 + 0.577 * 9.025721e-3 * mu + (12.815e-3 * mu) / 2);
      expect(printed / sum).toBeCloseTo(1, 3);
    },
  );

  it("lies half a per cent under the exact helix T = F·[(d2/2)·tan(λ + ρ) + Dkm·μK/2]", () => {
    for (const [mu, exact] of [
      [0.12, 41.428533],
      [0.14, 47.350564],
    ] as const) {
      const d2 = 9.025721e-3;
      const lead = Math.atan(1.5e-3 / (Math.PI * d2));
      const flank = Math.atan(Math.tan(Math.PI / 6) * Math.cos(lead));
      const helix = 25275 * ((d2 / 2) * Math.tan(lead + Math.atan(mu / Math.cos(flank))) + (12.815e-3 * mu) / 2);
      expect(helix).toBeCloseTo(exact, 4);
      const ours = 25275 * armOf(M10, bearing(M10), alike(mu));
      expect(ours / helix).toBeGreaterThan(0.995);
      expect(ours / helix).toBeLessThan(1);
    }
  });

  it("breaks loose at 29.204957 N·m, and gives 29 394.605 N at 48 N·m, at μ 0.12", () => {
    const split = splitOf(M10, bearing(M10), alike(0.12), newtons(25275));
    expect(split && looseningOf(split)).toBeCloseTo(29.204957, 5);
    expect(48 / armOf(M10, bearing(M10), alike(0.12))).toBeCloseTo(29394.605, 2);
    expect(48 / armOf(M10, bearing(M10), alike(0.14))).toBeCloseTo(25732.812, 2);
  });

  it("equals a nut factor of 0.163295 at μ 0.12, and the coefficient comes back from it", () => {
    const arm = armOf(M10, bearing(M10), alike(0.12));
    expect(arm / M10.diameter).toBeCloseTo(0.163295, 6);
    expect(threadCoefficient(M10, bearing(M10), { factor: exactly(arm / M10.diameter) })).toBeCloseTo(0.12, 12);
    expect(threadCoefficient(M10, bearing(M10), { factor: exactly(0.01) })).toBe(0);
    expect(splitOf(M10, bearing(M10), PLAIN, newtons(1000))).toBeUndefined();
  });
});

describe("the preload at 90 % of the yield point", () => {
  it.each([
    [0.1, 30351.354, 42.509],
    [0.12, 29604.385, 48.343],
    [0.14, 28824.345, 53.767],
  ])("of M10 8.8 at μ %f is %f N, at %f N·m", (mu, force, torque) => {
    const preload = yieldPreload(M10, strength("8.8", M10), mu, 0.9);
    expect(preload).toBeCloseTo(force, 2);
    expect(preload * armOf(M10, bearing(M10), alike(mu))).toBeCloseTo(torque, 2);
  });

  // VDI 2230:2001, fine threads, as printed in a fastener handbook: kN and N·m for 8.8, 10.9, 12.9.
  it.each([
    ["M8×1", 0.12, [20.2, 29.7, 34.7], [26.1, 38.3, 44.9]],
    ["M10×1.25", 0.1, [32.4, 47.5, 55.6], [44, 65, 76]],
    ["M10×1.25", 0.14, [30.8, 45.2, 52.9], [57, 83, 98]],
    ["M12×1.25", 0.12, [48.0, 70.5, 82.5], [90, 133, 155]],
    ["M16×1.5", 0.12, [87.6, 128.7, 150.6], [218, 320, 374]],
    ["M20×1.5", 0.14, [144, 206, 240], [511, 728, 852]],
  ] as const)(
    "meets VDI 2230's table for %s at μ %f: 0.35 %% in force, 1 %% in torque",
    (name, mu, forces, torques) => {
      const of = thread(name);
      for (const [index, one] of ["8.8", "10.9", "12.9"].entries()) {
        const preload = yieldPreload(of, strength(one, of), mu, 0.9);
        expect(Math.abs(preload / 1000 / (forces[index] as number) - 1)).toBeLessThan(0.0035);
        // Torques are printed to the whole newton-metre: 44 for 44.4.
        const torque = preload * armOf(of, bearing(of), alike(mu));
        expect(Math.abs(torque / (torques[index] as number) - 1)).toBeLessThan(0.01);
      }
    },
  );

  it("of M12 8.8 at μ 0.14 is the 41.9 kN of a printed worked example", () => {
    const of = thread("M12");
    expect(yieldPreload(of, strength("8.8", of), 0.14, 0.9) / 1000).toBeCloseTo(41.9, 0);
  });

  it("falls as the thread rubs more, for torsion takes its share", () => {
    const bears = strength("10.9", M10);
    const at = [0.06, 0.1, 0.14, 0.2].map((mu) => yieldPreload(M10, bears, mu, 0.9));
    expect(at).toEqual([...at].sort((a, b) => b - a));
  });
});

describe("a turn", () => {
  it("squeezes the parts as the integral of two 30° cones says", () => {
    const of = thread("M12");
    for (const grip of [0.01, 0.03, 0.08]) {
      // ∫ dx / (E·A(x)) from either face to the middle, by the midpoint rule.
      const steps = 20_000;
      const width = grip / 2 / steps;
      let sum = 0;
      for (let i = 0; i < steps; i++) {
        const outer = 1.5 * of.diameter + 2 * Math.tan(Math.PI / 6) * (i + 0.5) * width;
        sum += width / (205e9 * (Math.PI / 4) * (outer ** 2 - of.diameter ** 2));
      }
      expect(partsCompliance(of, metres(grip)) / (2 * sum)).toBeCloseTo(1, 6);
    }
  });

  it("shares its lead between bolt and parts: a full turn stretches and squeezes by one pitch", () => {
    const grip = metres(0.04);
    const force = preloadOfTurn(M10, grip, 360);
    expect(force * (boltCompliance(M10, grip) + partsCompliance(M10, grip))).toBeCloseTo(0.0015, 12);
    expect(preloadOfTurn(M10, grip, 90)).toBeCloseTo(force / 4, 6);
    expect(preloadOfTurn(M10, metres(0.08), 90)).toBeLessThan(force / 4);
  });

  it("rubs at the mean of face and hole", () => {
    expect(bearingDiameter(bearing(M10)) * 1000).toBeCloseTo(12.815, 9);
    expect(hexagonBearing(thread("M7")).from).toContain("rule of thumb");
  });
});

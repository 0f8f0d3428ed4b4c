// Owns the checks of wrenches: the adapter at any angle, the multiplier, and the choice among those at hand.

import { describe, expect, it } from "vitest";
import { metres, newtonMetres } from "../quantity/index.ts";
import {
  chooseWrench,
  findWrench,
  settingBehindAdapter,
  settingBehindMultiplier,
  usableFrom,
  type Wrench,
} from "./wrench.ts";

const SHOP: readonly Wrench[] = ["torque wrench 5-25", "torque wrench 20-100", "torque wrench 60-320"].map(
  (tool) => findWrench(tool) as Wrench,
);

describe("an adapter", () => {
  const set = (degrees: number) =>
    settingBehindAdapter(newtonMetres(60), { length: metres(0.35), offset: metres(0.045), degrees }) as number;

  // The formula of several adapter guides; L 350, E 45, T 60 N·m worked beforehand.
  it.each([
    [0, 53.164557],
    [30, 53.988581],
    [45, 54.999766],
    [60, 56.375839],
    [90, 60],
    [135, 66.000337],
    [180, 68.852459],
    [270, 60],
    [-45, 54.999766],
  ])("at %i° on 60 N·m is set to %f", (degrees, torque) => {
    expect(set(degrees)).toBeCloseTo(torque, 6);
  });

  it("square to the wrench changes nothing at all, nor does one of no length", () => {
    expect(set(90)).toBe(60);
    expect(set(450)).toBe(60);
    expect(settingBehindAdapter(newtonMetres(60), { length: metres(0.35), offset: metres(0), degrees: 17 })).toBe(60);
  });

  it("gives the fastener its torque by the lever itself: force at the grip times its distance, square to the pull", () => {
    for (const degrees of [0, 20, 77, 110, 160]) {
      const force = set(degrees) / 0.35;
      const along = 0.35 + 0.045 * Math.cos((degrees * Math.PI) / 180);
      expect(force * along).toBeCloseTo(60, 9);
    }
  });

  it("folded back past the grip turns nothing", () => {
    expect(
      settingBehindAdapter(newtonMetres(60), { length: metres(0.1), offset: metres(0.12), degrees: 180 }),
    ).toBeUndefined();
  });
});

describe("a multiplier", () => {
  it("takes in what its ratio and its friction leave", () => {
    expect(settingBehindMultiplier(newtonMetres(600), { ratio: 5 })).toBe(120);
    expect(settingBehindMultiplier(newtonMetres(600), { ratio: 5, efficiency: 0.8 })).toBeCloseTo(150, 9);
  });
});

describe("the choice of a wrench", () => {
  const chosen = (torque: number) => {
    const choice = chooseWrench(SHOP, newtonMetres(torque));
    return choice && ("wrench" in choice ? choice.wrench.id : `none: ${choice.nearest.id}`);
  };

  it.each([
    [5, "torque wrench 5-25"],
    [22, "torque wrench 5-25"],
    [25, "torque wrench 5-25"],
    [26, "torque wrench 20-100"],
    [70, "torque wrench 20-100"],
    [101, "torque wrench 60-320"],
    [320, "torque wrench 60-320"],
    [4, "none: torque wrench 5-25"],
    [400, "none: torque wrench 60-320"],
  ])("for %f N·m is %s: the target highest in its range", (torque, id) => expect(chosen(torque)).toBe(id));

  it("never falls on one below a fifth of its scale", () => {
    const wide: Wrench = { id: "wide", low: newtonMetres(10), high: newtonMetres(200) };
    expect(usableFrom(wide)).toBe(40);
    expect(chooseWrench([wide], newtonMetres(30))).toEqual({ nearest: wide });
    expect(chooseWrench([wide], newtonMetres(40))).toEqual({ wrench: wide });
  });

  it("is none where there is no wrench", () => expect(chooseWrench([], newtonMetres(10))).toBeUndefined());
});

describe("a scale in the name of a tool", () => {
  it("is read with its unit, in N·m where none is written", () => {
    expect(findWrench("torque wrench 20-100")).toMatchObject({ low: 20, high: 100 });
    expect(findWrench("torque wrench 10 to 80 lbf·ft")?.high).toBeCloseTo(108.465, 2);
    expect(findWrench("torque wrench")).toBeUndefined();
    expect(findWrench("socket 5-25")).toBeUndefined();
    expect(findWrench("torque wrench 100-20")).toBeUndefined();
    expect(findWrench("torque wrench 20-100 mm")).toBeUndefined();
  });
});

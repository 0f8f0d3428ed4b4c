import { describe, expect, test } from "vitest";
import { fourLegs, twoLegs, underFrame, underSpreader } from "../../bench/rigging/rigs.ts";
import { type Check, checkRig, checkSentence, DEFAULT_RULES, demandOf } from "./check.ts";
import { inEnglish } from "./english.ts";
import { eyeRating, eyeShare } from "./eye.ts";
import { legRating, legStretch, linkPitch, madeWithin } from "./gear.ts";
import { GRAVITY } from "./gravity.ts";
import { hang } from "./hang.ts";
import { hoistingFactor, hoistLimit, shackleShare } from "./lifting.ts";
import type { CheckRules, EyeRule, Rating, Rig, Vector } from "./problem.ts";
import { demandOverRange, rangesOf } from "./range.ts";
import type { Hanging } from "./result.ts";

const rated = (kilograms: number): Rating => ({ kilograms, source: "tag", assumed: false });
const STILL: CheckRules = { ...DEFAULT_RULES, dynamic: { factor: 1, source: "none", assumed: false } };

const checksOf = (rig: Rig, rules = STILL): readonly Check[] => {
  const hanging = hang(rig);
  if (hanging.kind !== "hangs") throw new Error(hanging.kind);
  const result = checkRig(rig, demandOf(hanging, rig), rules);
  if (result.kind !== "checked") throw new Error(JSON.stringify(result.faults));
  return result.checks;
};
const find = (checks: readonly Check[], check: Check["check"], at: string): Check => {
  const found = checks.find((each) => each.check === check && each.at === at);
  if (!found) throw new Error(`no check ${check} ${at}`);
  return found;
};
const withGear = (rig: Rig, kilograms: number): Rig => ({
  ...rig,
  legs: rig.legs.map((leg) => ({
    ...leg,
    gear: [{ id: "chain 8", what: "chain" as const, rating: rated(kilograms), reductions: [] }],
  })),
});

describe("[K1] the tables", () => {
  // Shares of the vertical limit: two US trade pages; a US metric trade table; DIN 580 annex A; BS 4278 from memory; WAC 296-304-07011.
  test.each<[EyeRule, readonly (readonly [number, number | undefined])[]]>([
    [
      "us shoulder pattern",
      [
        [0, 1],
        [5, 1],
        [5.1, 0.8],
        [15, 0.8],
        [16, 0.65],
        [30, 0.65],
        [31, 0.3],
        [45, 0.3],
        [46, 0.25],
        [90, 0.25],
        [91, undefined],
      ],
    ],
    [
      "us metric machinery",
      [
        [4, 1],
        [6, 0.25],
        [45, 0.25],
        [46, undefined],
      ],
    ],
    [
      "din 580",
      [
        [0, 1],
        [45, 0.7],
        [50, undefined],
      ],
    ],
    [
      "bs 4278",
      [
        [0, 1],
        [15, 0.63],
        [29, 0.4],
        [45, 0.25],
        [46, undefined],
      ],
    ],
    [
      "within 20 degrees",
      [
        [20, 1],
        [21, undefined],
      ],
    ],
    [
      "axial only",
      [
        [5, 1],
        [6, undefined],
      ],
    ],
    ["any direction", [[90, 1]]],
  ])("%s by the angle from the bolt's axis, the worse neighbour between", (rule, rows) => {
    for (const [angle, share] of rows) expect(eyeShare(rule, angle).share, `${angle}°`).toBe(share);
  });

  test("the same M10 eye: three times as much under one rule as under another", () => {
    expect(eyeRating("din 580", "M10")?.kilograms).toBe(230);
    expect(eyeRating("us metric machinery", "M10")?.kilograms).toBeCloseTo(738.4, 1);
    // 1628 lb at 45° is 407 lb, M12 2266 is 567, M16 3520 is 880: the trade table's own figures.
    for (const [thread, pounds] of [
      ["M10", 407],
      ["M12", 566.5],
      ["M16", 880],
    ] as const)
      expect((eyeRating("us metric machinery", thread)!.kilograms * 0.25) / 0.45359237).toBeCloseTo(pounds, 6);
    // DIN's 45° column, M8 to M24, is not less than what the rule leaves of the first column.
    for (const [thread, at45] of [
      ["M8", 100],
      ["M10", 170],
      ["M12", 240],
      ["M16", 500],
      ["M20", 860],
      ["M24", 1290],
    ] as const)
      expect(eyeRating("din 580", thread)!.kilograms * 0.7).toBeLessThanOrEqual(at45 + 0.001);
    expect(eyeRating("bs 4278", "M10")).toBeUndefined();
  });

  test("shackles by bands: 10° off is already 70 %", () => {
    expect([0, 5, 6, 10, 45, 46, 90, 91].map(shackleShare)).toEqual([1, 1, 0.7, 0.7, 0.7, 0.5, 0.5, undefined]);
  });

  test("chain by EN 818-4 and grade 10: no table figure exceeds its stress, 2·(π/4)d² at 200 and 250 N/mm²", () => {
    for (const [grade, stress] of [
      ["8", 200],
      ["10", 250],
    ] as const)
      for (const size of [6, 7, 8, 10, 13, 16]) {
        const tonnes = (2 * (Math.PI / 4) * size ** 2 * stress) / GRAVITY / 1000;
        const rating = legRating({ what: "chain", size, grade })!;
        expect(rating.kilograms / 1000, `${size} mm`).toBeLessThanOrEqual(tonnes * 1.005);
        expect(rating.kilograms / 1000, `${size} mm`).toBeGreaterThan(tonnes * 0.93);
        expect(rating.assumed).toBe(true);
      }
    expect(legRating({ what: "chain", size: 9, grade: "8" })).toBeUndefined();
    expect(legRating({ what: "wire rope", size: 10 })?.kilograms).toBe(1150);
    expect(legRating({ what: "web", colour: "violet" })?.kilograms).toBe(1000);
    expect(linkPitch(8)).toBeCloseTo(0.024);
    expect(legStretch({ what: "chain", size: 8, grade: "8" })!.stiffness / 1e6).toBeCloseTo(5.47, 2);
    expect(madeWithin(3)).toBeCloseTo(0.0075);
  });

  test("hoisting classes", () => {
    expect(hoistingFactor("HC2", 0.5).factor).toBeCloseTo(1.27);
  });
});

describe("[K2] a hoist at its reach", () => {
  const crane = {
    id: "crane",
    curve: [
      [1, 1000],
      [1.4, 500],
      [2, 300],
    ] as const,
  };
  test.each([
    [1, undefined, 1000],
    [1.2, undefined, 500],
    [1.2, "line" as const, 750],
    [2, undefined, 300],
    [undefined, undefined, 300],
  ])("at %s m, between by %s: %d kg", (reach, between, kilograms) => {
    const limit = hoistLimit({
      ...crane,
      ...(reach === undefined ? {} : { reach }),
      ...(between === undefined ? {} : { between }),
    });
    expect("kilograms" in limit && limit.kilograms).toBeCloseTo(kilograms);
  });
  test.each([0.9, 2.1])("never beyond its figures: %d m", (reach) => {
    const limit = hoistLimit({ ...crane, reach });
    expect("fault" in limit && limit.fault.is).toBe("beyond its reach");
  });
  test("tackle and beam count as load", () => {
    const rules: CheckRules = { ...STILL, hoist: { ...crane, reach: 2, tackle: 40 } };
    const check = find(checksOf(twoLegs(), rules), "hoist", "crane");
    expect(check.value).toBeCloseTo(302 * GRAVITY);
    expect(check.verdict).toBe("fails");
  });
  test("it is held against what hangs at rest; where lifting on top would be too much, it asks for attention", () => {
    // 262 kg at rest; 1.1 of it is 288.2.
    const verdictAt = (kilograms: number): string => {
      const curve = [[1, kilograms]] as const;
      return find(checksOf(twoLegs(), { ...DEFAULT_RULES, hoist: { id: "crane", curve } }), "hoist", "crane").verdict;
    };
    expect([261, 262.1, 288, 289].map(verdictAt)).toEqual(["fails", "attention", "attention", "passes"]);
  });
});

describe("[K3] legs", () => {
  test("two legs: the computed tension against the limit; margin is what is left of it", () => {
    const check = find(checksOf(withGear(twoLegs(), 200)), "leg", "leg-1");
    expect(check.value).toBeCloseTo(1484.0376, 3);
    expect(check.limit).toBeCloseTo(200 * GRAVITY);
    expect(check.margin).toBeCloseTo(1 - 1484.0376 / (200 * GRAVITY), 6);
    expect(check.verdict).toBe("passes");
  });

  test("four upright legs below a frame, all alike: statics cannot tell them apart, so two carry; those of a spreader in pairs it can", () => {
    const frame = underFrame(5e6);
    const pull = (rig: Rig, leg: string): number => find(checksOf(withGear(rig, 2000)), "leg", leg).value;
    const tilt = (rig: Rig): number => {
      const hung = hang(rig);
      if (hung.kind !== "hangs") throw new Error(hung.kind);
      return Math.max(...hung.legs.map(({ tension }) => tension));
    };
    expect(tilt(frame)).toBeLessThan(0.3 * 350 * GRAVITY);
    for (const { id } of frame.legs) expect(pull(frame, id)).toBeCloseTo((350 * GRAVITY) / 2, 0);
    const spreader = underSpreader(5e6);
    for (const { id } of spreader.legs) expect(pull(spreader, id)).toBeLessThanOrEqual(tilt(spreader) + 1e-6);
  });

  test("four legs that hold a frame up from one hook: two of them carry frame and load", () => {
    const { beam, legs, ...rig } = underFrame(5e6);
    const { pin: _, ...free } = beam!;
    const up = free.points
      .filter(({ id }) => id.startsWith("corner"))
      .map(({ id }): Rig["legs"][number] => ({ ...legs[0]!, id: `up-${id}`, lower: id, upper: "hook", length: 1.1 }));
    const hung: Rig = { ...rig, beam: free, legs: [...legs, ...up] };
    const angle = Math.asin(Math.sqrt(1.1 ** 2 - 0.5 ** 2 - 0.3 ** 2) / 1.1);
    const of = find(checksOf(withGear(hung, 2000)), "leg", "up-corner-1");
    expect(of.value / (((350 + 25) * GRAVITY) / (2 * Math.sin(angle)))).toBeCloseTo(1, 1);
    expect(inEnglish(...of.figures)).toContain("two of 4 legs carry all");
  });

  test("four legs: two carry unless the user chooses otherwise", () => {
    const rig = withGear(fourLegs(5e6, [], [0, 0, 0.1]), 500);
    const weight = 350 * GRAVITY;
    const angle = Math.asin(Math.sqrt(1 - 0.34)); // eyes 0.583 m from the middle under legs of 1 m
    const value = (sharing: CheckRules["sharing"]): number =>
      find(checksOf(rig, { ...STILL, sharing }), "leg", "leg-1").value;
    expect(value("two carry")).toBeCloseTo(weight / (2 * Math.sin(angle)), -1);
    expect(value("three carry")).toBeCloseTo(weight / (3 * Math.sin(angle)), -1);
    expect(value("as computed")).toBeCloseTo(1056.1109, 3);
    expect(inEnglish(...find(checksOf(rig), "leg", "leg-1").figures)).toContain("two of 4 legs carry all");
  });

  test("an eye is checked at the widest angle that the tolerances lead to, with what its rule leaves there", () => {
    const frame = underFrame(5e6);
    const rig: Rig = {
      ...frame,
      load: { ...frame.load, within: [0.02, 0.02, 0.02] },
      legs: frame.legs.map((leg) => ({ ...leg, within: 0.003 })),
      eyes: frame.eyes.map((eye) => ({ ...eye, rule: "us shoulder pattern" as const, rating: rated(1000) })),
    };
    const nominal = hang(rig);
    const ranges = rangesOf(rig);
    if (nominal.kind !== "hangs" || ranges.kind !== "ranges") throw new Error("no ranges");
    const result = checkRig(rig, demandOverRange(rig, ranges, nominal), STILL);
    if (result.kind !== "checked") throw new Error(result.kind);
    const eye = find(result.checks, "eye", rig.eyes[0]!.id);
    const angle = (at: Hanging): number => Math.acos(at.legs[0]!.direction[2]) * (180 / Math.PI);
    const shifted = hang(rig, {
      sample: { centre: rig.load.centre.map((c) => c + 0.02 * Math.sign(c)) as unknown as Vector },
    });
    if (shifted.kind !== "hangs") throw new Error(shifted.kind);
    expect(angle(nominal)).toBeLessThan(5);
    expect(angle(shifted)).toBeGreaterThan(5);
    expect(eye.limit).toBeCloseTo(0.8 * 1000 * GRAVITY, 6);
    expect(eye.figures).toContainEqual({ is: "from the axis", angle: expect.closeTo(angle(shifted), 0) });
  });

  test("mixed gear: each piece by itself, what is worn or hot or choked by its share", () => {
    const base = twoLegs();
    const rig: Rig = {
      ...base,
      legs: base.legs.map((leg) => ({
        ...leg,
        gear: [
          { id: "shackle", what: "shackle", rating: rated(250), side: 10, reductions: [] },
          { id: "web", what: "web", rating: rated(170), reductions: [{ share: 0.8, why: "choked" }] },
          { id: "link", what: "link", reductions: [] },
        ],
      })),
    };
    const legs = checksOf(rig).filter(({ check, at }) => check === "leg" && at === "leg-1");
    expect(legs.map(({ gear, verdict }) => [gear, verdict])).toEqual([
      ["shackle", "passes"],
      ["web", "fails"],
      ["link", "not checked"],
    ]);
    expect(legs[0]?.limit).toBeCloseTo(250 * 0.7 * GRAVITY);
    expect(inEnglish(...legs[1]!.figures)).toContain("choked");
  });

  test("the lift factor multiplies, and a default says so", () => {
    const check = find(checksOf(withGear(twoLegs(), 200), DEFAULT_RULES), "leg", "leg-1");
    expect(check.value).toBeCloseTo(1484.0376 * 1.1, 3);
    expect(check.assumed).toBe(false);
    expect(checkSentence(check)).toContain("a default");
  });

  test("[K6] a bound beyond the limit that no case reaches is no failure, and no pass: it asks for attention", () => {
    const rig = withGear(twoLegs(), 200);
    const hanging = hang(rig);
    if (hanging.kind !== "hangs") throw new Error(hanging.kind);
    const demand = demandOf(hanging, rig);
    const verdict = (tension: number, found: number): string => {
      const legs = demand.legs.map((leg) => ({ ...leg, tension, found: { tension: found, angle: leg.angle } }));
      const result = checkRig(rig, { ...demand, legs }, STILL);
      if (result.kind !== "checked") throw new Error(result.kind);
      return find(result.checks, "leg", "leg-1").verdict;
    };
    const limit = 200 * GRAVITY;
    expect(verdict(limit - 1, limit - 2)).toBe("passes");
    expect(verdict(limit + 1, limit - 1)).toBe("attention");
    expect(verdict(limit + 2, limit + 1)).toBe("fails");
  });

  test.each([
    [0.5, "passes"],
    [0.4, "attention"],
    [0.36, "fails"],
  ] as const)("legs of %d m over a span of 0.6 m: angle %s", (length, verdict) => {
    const base = twoLegs();
    const rig: Rig = {
      ...base,
      load: { ...base.load, centre: [0, 0, -0.5] },
      eyes: [
        { id: "eye-1", at: [-0.32, 0, 0] },
        { id: "eye-2", at: [0.32, 0, 0] },
      ],
      legs: base.legs.map((leg) => ({ ...leg, length })),
    };
    expect(find(checksOf(rig), "leg angle", "leg-1").verdict).toBe(verdict);
  });
});

describe("[K4] eyes", () => {
  const eyed = (rule: EyeRule | undefined, more: Partial<Rig["eyes"][number]> = {}): Rig => {
    const base = twoLegs();
    return {
      ...base,
      eyes: base.eyes.map((eye) => ({ ...eye, rating: rated(230), ...(rule === undefined ? {} : { rule }), ...more })),
    };
  };
  const first = (rig: Rig): Check => find(checksOf(rig), "eye", "eye-1");

  test("an upright bolt under legs some 31° from its axis: what each rule makes of the same pull", () => {
    // 1484 N at atan2(0.411, 0.686) = 30.95° from the bolt's axis; 230 kg is 2255.5 N straight.
    expect(first(eyed("any direction")).limit).toBeCloseTo(230 * GRAVITY);
    expect(first(eyed("us shoulder pattern")).limit).toBeCloseTo(230 * GRAVITY * 0.3);
    expect(first(eyed("us shoulder pattern")).verdict).toBe("fails");
    expect(first(eyed("bs 4278")).limit).toBeCloseTo(230 * GRAVITY * 0.25);
    expect(first(eyed("din 580")).value).toBeCloseTo(1484.0376 * Math.cos(Math.atan2(0.411381978, 0.686123071)), 2);
    expect(first(eyed("din 580")).verdict).toBe("passes");
    expect(first(eyed("within 20 degrees")).verdict).toBe("fails");
    expect(inEnglish(...first(eyed("axial only")).figures)).toContain("allows no such angle");
  });

  test("no rule, or no limit: not checked, never passed", () => {
    expect(first(eyed(undefined)).verdict).toBe("not checked");
    expect(find(checksOf(twoLegs()), "eye", "eye-1").verdict).toBe("not checked");
    expect(find(checksOf(twoLegs()), "hook", "hook").verdict).toBe("not checked");
    expect(find(checksOf(twoLegs()), "leg", "leg-1").verdict).toBe("not checked");
  });

  test("pull in the plane of the ring: along x with the face across passes, with the face ahead fails, unsaid is not checked", () => {
    const plane = (more: Partial<Rig["eyes"][number]>): string =>
      find(checksOf(eyed("us shoulder pattern", more)), "eye plane", "eye-1").verdict;
    expect(plane({ face: [0, 1, 0] })).toBe("passes");
    expect(plane({ face: [1, 0, 0] })).toBe("fails");
    expect(plane({})).toBe("not checked");
  });
});

test("[K5] no check says that anything is safe", () => {
  for (const check of checksOf(withGear(fourLegs(5e6), 500), DEFAULT_RULES))
    expect(checkSentence(check)).not.toMatch(/\bsafe|secure|certif|guarantee/i);
});

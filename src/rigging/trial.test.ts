import { describe, expect, test } from "vitest";
import { measureReliability } from "../../bench/rigging/forgotten.ts";
import { twoLegs } from "../../bench/rigging/rigs.ts";
import { checkRig, demandOf } from "./check.ts";
import { GRAVITY } from "./gravity.ts";
import { hang } from "./hang.ts";
import { HeldLoad } from "./held.ts";
import type { Rig, Vector } from "./problem.ts";
import type { Trial, TrialAnswer, TrialResult, TrialTie } from "./readings.ts";
import { LOAD } from "./strain.ts";
import { stopLoad, takingUp } from "./taking.ts";
import { TIE_STIFFNESS } from "./tie.ts";
import { weighTrial } from "./trial.ts";

const base = twoLegs(5e6);
const rig: Rig = {
  ...base,
  load: { ...base.load, mass: { nominal: 262, low: 255, high: 269 }, within: [0.01, 0.01, 0.01] },
  legs: base.legs.map((leg) => ({ ...leg, within: 0.003 })),
};
const tie = (id: string, at: Vector, kind: string, slack = 0): TrialTie => ({
  id,
  at,
  stiffness: TIE_STIFFNESS[kind]!,
  slack,
  chance: 0.01,
});
const ties = [
  tie("hose at the nose", [1.2, 0.1, 0.2], "hose"),
  tie("cable at the nose", [1.1, -0.3, 0.3], "cable"),
  tie("line at the tail", [-0.1, 0.2, 0.1], "line"),
  tie("harness", [0.5, 0.3, 0.5], "wire", 0.4),
];

/** What would be read at some rise with these stiffnesses on (by the same statics that the room uses), without error. */
const read = (
  held: readonly { readonly tie: TrialTie; readonly stiffness: number }[],
  mass = 262,
  rise = 0.03,
): Trial["readings"] => {
  const [cx, cy] = rig.load.centre;
  const taut = Math.min(
    ...rig.legs.map((leg, i) => rig.eyes[i]!.at[2] + Math.sqrt(leg.length ** 2 - (rig.eyes[i]!.at[0] - cx) ** 2)),
  );
  const got = new HeldLoad().rest(
    {
      weight: mass * GRAVITY,
      centre: rig.load.centre,
      hooks: [[cx, cy, taut + rise]],
      legs: rig.legs.map((leg, i) => ({
        on: LOAD,
        eye: rig.eyes[i]!.at,
        to: 0,
        length: leg.length,
        stiffness: leg.stiffness! / leg.length,
      })),
      ties: held.map((each) => ({ at: each.tie.at, slack: each.tie.slack, stiffness: each.stiffness })),
    },
    Float64Array.from([1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0]),
    new Float64Array(12),
  );
  return [
    {
      load: { value: got.load, error: 15 },
      pitch: { value: got.pitch, error: 0.1 },
      roll: { value: got.roll, error: 0.1 },
      rise: { value: rise, error: 0.001 },
    },
  ];
};
const ask = (readings: Trial["readings"], more: Partial<Trial> = {}): TrialResult =>
  weighTrial({
    rig,
    ties,
    suspects: [],
    unknown: { chance: 0.01, kilograms: 15, within: 0.3 },
    standing: 0.02,
    feet: [],
    readings,
    ...more,
  });
const weigh = (readings: Trial["readings"], more: Partial<Trial> = {}): TrialAnswer => {
  const result = ask(readings, more);
  if (result.kind !== "weighed") throw new Error(result.why.is);
  return result;
};

describe("[T3] the trial lift", () => {
  test("reads as expected: most likely free, and the harness with 0.4 m to give cannot be told of", () => {
    const answer = weigh(read([]));
    expect(answer.free).toBeGreaterThan(0.9);
    expect(answer.cannotTell.map(({ id }) => id)).toEqual(["harness"]);
    expect(answer.expected[0]!.load.value).toBeCloseTo(262 * GRAVITY, 0);
    expect(answer.misfit.value).toBeLessThan(0.1);
  });

  test.each([0, 1, 2])("tie %d left on: it comes first", (which) => {
    const held = ties[which]!;
    const answer = weigh(read([{ tie: held, stiffness: held.stiffness.likely }]));
    expect(answer.ties[0]?.id).toBe(held.id);
    expect(answer.free).toBeLessThan(0.2);
  });

  test("two left on at once: both come before the third", () => {
    const [, cable, line] = ties;
    const answer = weigh(
      read([
        { tie: cable!, stiffness: 3e4 },
        { tie: line!, stiffness: 6e4 },
      ]),
    );
    expect(new Set(answer.explanations[0]?.ids)).toEqual(new Set([cable!.id, line!.id]));
  });

  test("heavier by 12 kg, level as forecast: a mass nobody knows of, or a known part left on where it lies", () => {
    const readings = read([], 274);
    expect(weigh(readings).unknownMass.probability).toBeGreaterThan(weigh(readings).ties[0]!.probability);
    const suspects = [
      { id: "bracket", mass: 12, centre: rig.load.centre, chance: 0.02 },
      { id: "pump", mass: 40, centre: [1, 0, 0.3] as const, chance: 0.02 },
    ];
    expect(weigh(readings, { suspects }).suspects[0]?.id).toBe("bracket");
    expect(weigh(readings, { suspects }).suspects[0]!.probability).toBeGreaterThan(0.4);
  });

  test("less on the hook than it weighs: it still stands on something, and no tie is accused", () => {
    const [reading] = read([]);
    const answer = weigh([{ ...reading!, load: { value: 900, error: 15 } }]);
    expect(answer.standing).toBeGreaterThan(0.99);
    expect(answer.misfit.value).toBeLessThan(2);
  });

  const feet = [
    [0.4, 0.3, 0],
    [0.4, -0.3, 0],
    [0.6, 0, 0],
  ].map(([x, y, z]) => ({ at: [x!, y!, z!] as const }));

  const early = (load: number) => ({ load: { value: load, error: 15 }, rise: { value: 0.0005, error: 0.001 } });

  test("before the freed load would leave its feet a reading says nothing, and until when is said", () => {
    const result = ask([early(20)], { feet });
    if (result.kind !== "cannot" || result.why.is !== "still on its feet") throw new Error(result.kind);
    expect(result.why.force).toBeGreaterThan(100);
    expect(result.why.off).toBeGreaterThan(0.0005);
  });

  test("but where more is read than its hook may show there, nobody is told to raise it farther", () => {
    const result = ask([early(2000)], { feet });
    expect(result.kind === "cannot" && result.why.is).toBe("more than on its feet");
  });

  test("and more than it can weigh says that something holds it, wherever it stands", () => {
    const answer = weigh([early(4000)], { feet });
    expect(answer.free).toBeLessThan(0.001);
    expect(answer.expected[0]!.early).toBeUndefined();
  });

  test("of two readings the one before it hangs is told apart, and the other weighed as if alone", () => {
    // Its legs let it lean six degrees: it leaves its feet late.
    const [late] = read([], 262, 0.12);
    const both = weigh([early(300), late!], { feet });
    const alone = weigh([late!], { feet });
    expect(both.free).toBeCloseTo(alone.free, 12);
    expect(both.expected[0]!.early).toMatchObject({ isMore: true });
    expect(both.expected[1]).toEqual(alone.expected[0]);
  });

  test("what is said adds up to one", () => {
    const answer = weigh(read([{ tie: ties[0]!, stiffness: 8e3 }]), {
      suspects: [{ id: "pump", mass: 40, centre: [1, 0, 0.3], chance: 0.02 }],
    });
    const sum =
      answer.free +
      answer.unknownMass.probability +
      answer.standing +
      answer.suspects.reduce((s, { probability }) => s + probability, 0) +
      answer.explanations.reduce((s, { probability }) => s + probability, 0);
    expect(sum).toBeCloseTo(1, 3);
  });

  test("readings that nothing explains show by their misfit", () => {
    const [reading] = read([]);
    expect(
      weigh([{ ...reading!, load: { value: 1500, error: 5 }, roll: { value: 25, error: 0.1 } }]).misfit.value,
    ).toBeGreaterThan(50);
  });
});

test.each([
  ["on one hook", 100, false],
  ["below beams and on two hooks", 40, true],
])("[T4] over so many rehearsed lifts %s what was stated came true about as often as it said", (_, lifts, bodies) => {
  const { bins, first, third, shown, brier, plain } = measureReliability(lifts, {
    ties: 8,
    chance: 0.06,
    readings: 1,
    bodies,
  });
  for (const { count, stated, happened } of bins) {
    // Three standard errors of a count, and a little more for what the forecast leaves out.
    const chance = 3 * Math.sqrt((stated * (1 - stated) + 0.002) / Math.max(1, count));
    expect(Math.abs(happened - stated), `${stated} of ${count}`).toBeLessThan(chance + 0.03);
  }
  expect(first / shown).toBeGreaterThan(0.6);
  expect(third / shown).toBeGreaterThan(0.85);
  expect(brier).toBeLessThan(plain / 2);
});

describe("[T5] before the lift", () => {
  const feet = [
    [0.1, -0.2],
    [0.1, 0.2],
    [1, -0.2],
    [1, 0.2],
  ].map(([x, y]) => ({ at: [x!, y!, 0] as const }));
  test("the feet give up the weight as the hook rises; then it hangs as computed", () => {
    const steps = takingUp(rig, feet, [0, 0.0005, 0.05, 0.1, 0.2]);
    expect(steps[0]!.load).toBeLessThan(1);
    expect(steps[1]!.onFeet).toBeGreaterThan(500);
    expect(steps[3]!.load).toBeGreaterThan(0.1 * 262 * GRAVITY);
    for (const [i, step] of steps.entries())
      if (i > 0) expect(step.load).toBeGreaterThanOrEqual(steps[i - 1]!.load - 1e-6);
    const last = steps.at(-1)!;
    expect(last.onFeet).toBeCloseTo(0, 6);
    expect(last.pitch).toBeCloseTo(-5.96508, 3);
  });

  test("stop at what the load can weigh at most, or earlier at the first limit", () => {
    expect(stopLoad(rig, 10, 20, [])).toEqual({
      newtons: expect.closeTo(279 * GRAVITY + 60, 6),
      because: "more than the load can weigh",
    });
    const hanging = hang(rig);
    if (hanging.kind !== "hangs") throw new Error(hanging.kind);
    const weak = { ...rig, hooks: [{ id: "hook", rating: { kilograms: 285, source: "tag", assumed: false } }] };
    const checked = checkRig(weak, demandOf(hanging, weak));
    if (checked.kind !== "checked") throw new Error("refused");
    const stop = stopLoad(weak, 0, 20, checked.checks);
    expect(stop).toMatchObject({ because: "a limit", check: "hook", at: "hook" });
    expect(stop.newtons).toBeLessThan(269 * GRAVITY);
  });
});

import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { searchPose } from "../../bench/rigging/pose-search.ts";
import {
  fourLegs,
  type Hung,
  onBeam,
  oneSlack,
  onTwoHooks,
  randomRig,
  rigOf,
  twoLegs,
} from "../../bench/rigging/rigs.ts";
import { GRAVITY } from "./gravity.ts";
import { hang } from "./hang.ts";
import { hangBodies } from "./hang-bodies.ts";
import type { Rig, Vector } from "./problem.ts";
import { rangesOf } from "./range.ts";
import { faultInEnglish } from "./refused-in-english.ts";
import type { Hanging, HangResult } from "./result.ts";

const hangs = (result: HangResult): Hanging => {
  if (result.kind !== "hangs") throw new Error(`it ${result.kind}: ${JSON.stringify(result)}`);
  return result;
};
const tensions = (rig: Rig): number[] => hangs(hang(rig)).legs.map(({ tension }) => tension);
const near = (got: readonly number[], wanted: readonly number[], within: number): void => {
  expect(got.length).toBe(wanted.length);
  for (const [i, each] of wanted.entries())
    expect(Math.abs(got[i]! - each), `${got[i]} for ${each}`).toBeLessThan(within);
};

describe("[H1] two legs", () => {
  test("without stretch: circle intersection and a 2×2 solve", () => {
    const answer = hangs(hang(twoLegs()));
    near([answer.pitch, answer.roll], [-5.964274, 0], 1e-6);
    near(answer.hook, [0.611381978, 0, 1.186123071], 1e-9);
    near([answer.overCentre], [1.071925533], 1e-9);
    near(
      answer.legs.map(({ angle }) => 90 - angle),
      [24.981558, 27.111921],
      1e-6,
    );
    near(tensions(twoLegs()), [1484.037554, 1375.262272], 1e-6);
  });

  test("elastic, EA 5e6 N: the same as energy in body axes and a six-unknown pose solver gave", () => {
    near(tensions(twoLegs(5e6)), [1483.931784, 1375.173303], 1e-6);
    near([hangs(hang(twoLegs(5e6))).pitch], [-5.96508], 1e-6);
  });

  test("eyes level, hook over the centre: T = W·b·L/((a+b)·H)", () => {
    const [a, b, h] = [0.4, 0.7, 0.75];
    const rig = rigOf(
      420,
      [0, 0, -0.3],
      [
        { eye: [-a, 0, 0], length: Math.hypot(a, h) },
        { eye: [b, 0, 0], length: Math.hypot(b, h) },
      ],
    );
    near(tensions(rig), [2970.523436, 2048.741011], 1e-6);
    near(
      hangs(hang(rig)).legs.map(({ angle }) => angle),
      [61.927513, 46.974934],
      1e-6,
    );
  });

  test("eyes at different heights, hook over the centre: sine rule", () => {
    const [ax, az, bx, bz, gx, hz] = [0, 0.5, 1.1, 0.3, 0.45, 1.3];
    const rig = rigOf(
      420,
      [gx, 0, 0],
      [
        { eye: [ax, 0, az], length: Math.hypot(gx - ax, hz - az) },
        { eye: [bx, 0, bz], length: Math.hypot(gx - bx, hz - bz) },
      ],
    );
    near(tensions(rig), [2533.357865, 2278.960947], 1e-6);
    near(
      hangs(hang(rig)).legs.map(({ angle }) => 90 - angle),
      [29.357754, 33.023868],
      1e-6,
    );
  });

  test("the published sling charts: 1.155, 1.414 and 2.000 at 60, 45 and 30° from the horizontal", () => {
    for (const [angle, factor] of [
      [90, 1],
      [75, 1.035276],
      [60, 1.154701],
      [45, Math.SQRT2],
      [35, 1.743447],
      [30, 2],
    ] as const) {
      const half = Math.cos((angle * Math.PI) / 180);
      const pair: Hung[] = [
        { eye: [half, 0, 0], length: 1 },
        { eye: [-half, 0, 0], length: 1 },
      ];
      const rig = rigOf(100, [0, 0, -1], angle === 90 ? pair.slice(0, 1) : pair);
      const each = tensions(rig)[0]! / ((100 * GRAVITY) / rig.legs.length);
      expect(Math.abs(each - factor)).toBeLessThan(1e-6);
    }
  });
});

describe("[H2] four legs", () => {
  test.each([
    [5.5e6, [1962.273574, 195.692201, 2287.67532, 0], -0.192607, -0.474761],
    [2e5, [1910.6593, 240.1168, 2264.783, 0], -0.57971, undefined],
    [5e7, [1964.1198, 194.0882, 2288.4904, 0], undefined, undefined],
  ])("one leg slack, EA %d N", (stiffness, wanted, pitch, roll) => {
    const answer = hangs(hang(oneSlack(stiffness)));
    near(
      answer.legs.map(({ tension }) => tension),
      wanted,
      1e-4,
    );
    if (pitch !== undefined) near([answer.pitch], [pitch], 1e-5);
    if (roll !== undefined) near([answer.roll], [roll], 1e-5);
    expect(answer.legs[3]?.slack).toBeGreaterThan(0);
  });

  test("all four pull; one link of 24 mm more in one makes it a two-leg lift", () => {
    near(tensions(fourLegs(5e6)), [1065.556549, 1168.276736, 1044.962368, 942.239648], 1e-6);
    near(tensions(fourLegs(5e6, [0, 0, 0.024])), [22.374369, 2211.722862, 0, 1986.487416], 1e-6);
  });

  test.each([
    [0, 1056.110899, 1056.110899],
    [0.0003, 1806.07529, 305.983494],
    [0.001, 2111.992321, 0],
  ])("the diagonal pair longer by %d m: bisection on one unknown", (longer, short, long) => {
    near(tensions(fourLegs(5e6, [0, longer, 0, longer], [0, 0, 0.1])), [short, long, short, long], 1e-6);
  });

  test("without stretch, four equal legs: the limit of ever stiffer ones", () => {
    near(tensions(fourLegs()), tensions(fourLegs(1e11)), 1e-2);
  });
});

describe("[H3] the answer proves itself", () => {
  test("the forces and moments left over are below 1e-9 of the weight, whatever the rig", () => {
    for (let seed = 1; seed <= 150; seed++)
      expect(hangs(hang(randomRig(seed))).residual, `seed ${seed}`).toBeLessThan(1e-9);
  });

  test("an independent search of six unknowns comes to the same, to 1e-8 of the weight", () => {
    for (let seed = 1; seed <= 60; seed++) {
      const rig = randomRig(seed);
      const answer = hangs(hang(rig));
      const weight = rig.load.mass.nominal * GRAVITY;
      const found = searchPose({
        weight,
        centre: rig.load.centre,
        legs: rig.legs.map((leg, i) => ({ eye: rig.eyes[i]!.at, length: leg.length, stiffness: leg.stiffness! })),
      });
      for (const [i, tension] of found.tensions.entries())
        expect(Math.abs(answer.legs[i]!.tension - tension) / weight, `seed ${seed}`).toBeLessThan(1e-8);
      expect(Math.abs(answer.pitch - found.pitch), `seed ${seed}`).toBeLessThan(1e-6);
      expect(Math.abs(answer.roll - found.roll), `seed ${seed}`).toBeLessThan(1e-6);
    }
  });

  test("poses of bodies and three unknowns come to the same, margin and all", () => {
    for (let seed = 1; seed <= 40; seed++) {
      const rig = randomRig(seed);
      const [one, other] = [hangs(hang(rig)), hangs(hangBodies(rig, {}))];
      const weight = rig.load.mass.nominal * GRAVITY;
      near(
        other.legs.map(({ tension }) => tension / weight),
        one.legs.map(({ tension }) => tension / weight),
        1e-8,
      );
      near([other.pitch, other.roll, other.overCentre], [one.pitch, one.roll, one.overCentre], 1e-6);
      near([other.stability.margin], [one.stability.margin], 1e-5);
    }
  });
});

describe("[H4] laws", () => {
  const seeds = fc.integer({ min: 1, max: 100_000 });

  test("turn load and eyes about the vertical: tensions and tilt stay", () => {
    fc.assert(
      fc.property(seeds, fc.double({ min: -3.1, max: 3.1, noNaN: true }), (seed, angle) => {
        const rig = randomRig(seed);
        const turn = ([x, y, z]: Vector): Vector => [
          x * Math.cos(angle) - y * Math.sin(angle),
          x * Math.sin(angle) + y * Math.cos(angle),
          z,
        ];
        const other: Rig = {
          ...rig,
          load: { ...rig.load, centre: turn(rig.load.centre) },
          eyes: rig.eyes.map((eye) => ({ ...eye, at: turn(eye.at) })),
        };
        const [a, b] = [hangs(hang(rig)), hangs(hang(other))];
        const weight = rig.load.mass.nominal * GRAVITY;
        near(
          b.legs.map(({ tension }) => tension / weight),
          a.legs.map(({ tension }) => tension / weight),
          1e-8,
        );
        near([b.up[2], b.overCentre], [a.up[2], a.overCentre], 1e-8);
      }),
      { numRuns: 60, seed: 4 },
    );
  });

  test("twice the mass on legs that do not stretch: twice the tensions, the same attitude", () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const drawn = randomRig(seed);
        const rig: Rig = { ...drawn, legs: drawn.legs.map(({ stiffness: _, ...leg }) => leg) };
        const [a, b] = [hangs(hang(rig)), hangs(hang(rig, { sample: { mass: 2 * rig.load.mass.nominal } }))];
        near(
          b.legs.map(({ tension }) => tension),
          a.legs.map(({ tension }) => 2 * tension),
          1e-6 * rig.load.mass.nominal,
        );
        near(b.hook, a.hook, 1e-9);
      }),
      { numRuns: 60, seed: 4 },
    );
  });

  test("name the legs the other way round: each keeps its tension", () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const rig = randomRig(seed);
        const back: Rig = { ...rig, legs: [...rig.legs].reverse(), eyes: [...rig.eyes].reverse() };
        const other = hangs(hang(back)).legs;
        for (const leg of hangs(hang(rig)).legs)
          expect(Math.abs(leg.tension - other.find(({ id }) => id === leg.id)!.tension)).toBeLessThan(
            1e-8 * rig.load.mass.nominal * GRAVITY,
          );
      }),
      { numRuns: 60, seed: 4 },
    );
  });
});

describe("[H5] tipping", () => {
  const twoLevel = (height: number): Rig =>
    rigOf(
      420,
      [0, 0, height],
      [
        { eye: [-0.4, 0, 0], length: Math.hypot(0.4, 0.75), stiffness: 5e6 },
        { eye: [0.4, 0, 0], length: Math.hypot(0.4, 0.75), stiffness: 5e6 },
      ],
    );

  test("two eyes make a hinge: the margin is the centre's depth below it, W·r·ρ/(r+ρ) its stiffness", () => {
    const { stability, overCentre } = hangs(hang(twoLevel(-0.3)));
    near([stability.margin], [0.3], 1e-6);
    expect(Math.abs(stability.axis[0])).toBeCloseTo(1, 9);
    // 420 kg, r 0.75, ρ 0.30: 882.598500 N·m/rad between the load and the plane of its legs.
    const [r, rho] = [overCentre - stability.margin, stability.margin];
    expect((420 * GRAVITY * r * rho) / (r + rho)).toBeCloseTo(882.5985, 0);
  });

  test("a centre above the eyes tips, though it hangs below the hook and both legs pull", () => {
    const result = hang(twoLevel(0.1));
    if (result.kind !== "tips") throw new Error(result.kind);
    near([result.margin], [-0.1], 1e-4);
    near([result.pitch, result.roll], [0, 0], 1e-6);
    // It turns over about the line of the eyes: the centre comes to lie below it.
    expect(Math.abs(Math.abs(result.falls.roll) - 180)).toBeLessThan(0.1);
    near([result.falls.stability.margin], [0.1], 1e-4);
  });

  test("the margin is where it tips: raised to just short of it the load hangs, just past it it tips", () => {
    for (let seed = 1; seed <= 20; seed++) {
      const rig = randomRig(seed, 2);
      const answer = hangs(hang(rig));
      const raised = (share: number): HangResult =>
        hang(rig, {
          sample: {
            centre: [0, 1, 2].map(
              (i) => rig.load.centre[i]! + answer.up[i]! * answer.stability.margin * share,
            ) as unknown as Vector,
          },
        });
      expect(raised(0.97).kind, `seed ${seed}`).toBe("hangs");
      expect(raised(1.03).kind, `seed ${seed}`).toBe("tips");
    }
  });
});

describe("[H6] beams, two hooks, and what is refused", () => {
  const beamed: Rig = {
    load: { mass: { nominal: 420, low: 420, high: 420 }, centre: [0.1, 0, 0.1], within: [0, 0, 0], outline: [] },
    eyes: [
      { id: "a", at: [-0.4, 0, 0.5] },
      { id: "b", at: [0.7, 0, 0.5] },
    ],
    legs: [
      { id: "leg-a", lower: "a", upper: "p", length: 0.6, within: 0, gear: [] },
      { id: "leg-b", lower: "b", upper: "q", length: 0.6, within: 0, gear: [] },
    ],
    hooks: [{ id: "hook" }],
    beam: {
      mass: 25,
      centre: [0, 0, 0],
      pin: "lug",
      points: [
        { id: "p", at: [-0.5, 0, -0.05] },
        { id: "q", at: [0.6, 0, -0.05] },
        { id: "lug", at: [0, 0, 0.1] },
      ],
    },
  };

  const { beam: _, ...onHooks } = beamed;
  const twoHooks: Rig = {
    ...onHooks,
    hooks: [
      { id: "h1", at: [-0.4, 0, 3] },
      { id: "h2", at: [0.7, 0, 3] },
    ],
    legs: beamed.legs.map((leg, i) => ({ ...leg, upper: i === 0 ? "h1" : "h2" })),
  };

  test("a beam pinned over the centre with parallel legs: the legs share by the lever, the hook carries all", () => {
    const answer = hangs(hang(beamed));
    // Centre 0.5 from one leg and 0.6 from the other: 6/11 and 5/11 of the weight.
    const weight = 420 * GRAVITY;
    near(
      answer.legs.map(({ tension }) => tension),
      [(weight * 6) / 11, (weight * 5) / 11],
      1e-6,
    );
    near([answer.hooks[0]!.load], [445 * GRAVITY], 1e-6);
    near([answer.pitch, answer.beam!.pitch], [0, 0], 1e-6);
    expect(answer.residual).toBeLessThan(1e-9);
  });

  test("a beam hung off its middle leans until hook, beam and load balance", () => {
    const answer = hangs(
      hang({
        ...beamed,
        beam: {
          ...beamed.beam!,
          points: beamed.beam!.points.map((p) => (p.id === "lug" ? { ...p, at: [0.1, 0, 0.1] as const } : p)),
        },
      }),
    );
    expect(answer.residual).toBeLessThan(1e-9);
    // The hook now stands 0.1 m ahead of the load's centre as drawn: the load's tail goes down, nose up.
    expect(answer.beam!.pitch).toBeLessThan(-1);
  });

  test("a spreader on two legs of its own", () => {
    const spreader: Rig = {
      ...beamed,
      beam: {
        mass: 25,
        centre: [0.05, 0, 0],
        points: [...beamed.beam!.points.slice(0, 2), { id: "u", at: [-0.5, 0, 0.05] }, { id: "v", at: [0.6, 0, 0.05] }],
      },
      legs: [
        ...beamed.legs,
        { id: "top-u", lower: "u", upper: "hook", length: 0.9, within: 0, gear: [], stiffness: 4e6 },
        { id: "top-v", lower: "v", upper: "hook", length: 0.9, within: 0, gear: [], stiffness: 4e6 },
      ],
    };
    const answer = hangs(hang(spreader));
    expect(answer.residual).toBeLessThan(1e-9);
    near([answer.hooks[0]!.load], [445 * GRAVITY], 1e-6);
  });

  test("two hooks: each carries its part, together the weight when the legs are upright", () => {
    const answer = hangs(hang(twoHooks));
    near(
      answer.hooks.map(({ load }) => load),
      [(420 * GRAVITY * 6) / 11, (420 * GRAVITY * 5) / 11],
      1e-6,
    );
  });

  test.each([
    ["below a beam", beamed],
    ["on two hooks", twoHooks],
  ])("a centre too high tips %s, and says by how much: lowered by less it tips, by more it hangs", (_, rig) => {
    const raised = (from: Vector, up: Vector, by: number): Rig => ({
      ...rig,
      load: { ...rig.load, centre: [0, 1, 2].map((i) => from[i]! + up[i]! * by) as unknown as Vector },
    });
    const low = hangs(hang(rig));
    const high = raised(rig.load.centre, low.up, low.stability.margin + 0.1);
    const result = hang(high);
    if (result.kind !== "tips") throw new Error(result.kind);
    near([result.margin], [-0.1], 1e-3);
    expect(hang(raised(high.load.centre, result.up, result.margin * 0.97)).kind).toBe("tips");
    expect(hang(raised(high.load.centre, result.up, result.margin * 1.03)).kind).toBe("hangs");
    expect(result.falls.stability.margin).toBeGreaterThan(0);
    expect(rangesOf(high)).toEqual({ kind: "unbounded", why: { is: "tips" } });
  });

  test("legs shorter than the span, an eye that is not there, a mass of nothing: all named at once", () => {
    const rig = twoLegs();
    const result = hang({
      ...rig,
      load: { ...rig.load, mass: { nominal: 0, low: 0, high: 0 } },
      legs: [{ ...rig.legs[0]!, lower: "eye-9" }, rig.legs[1]!],
    });
    if (result.kind !== "refused") throw new Error(result.kind);
    expect(result.faults.map(({ is, at }) => [is, at])).toEqual([
      ["not positive", "load.mass"],
      ["no lower end", "legs/leg-1"],
    ]);
    const short = hang({ ...rig, legs: rig.legs.map((leg) => ({ ...leg, length: 0.3 })) });
    if (short.kind !== "refused") throw new Error(short.kind);
    expect(short.faults.map(({ is }) => is)).toEqual(["does not span"]);
    expect(faultInEnglish(short.faults[0]!).what).toContain("do not span the 0.703 m");
  });

  test("a beam held below legs that spread from it turns over, whatever it carries", () => {
    const at = { p: [-0.2, 0, 0], q: [0.3, 0, 0], lug: [0.05, 0, -0.1] } as const;
    const points = Object.entries(at).map(([id, place]) => ({ id, at: place }));
    const legs = beamed.legs.map((leg) => ({ ...leg, length: 0.8 }));
    const result = hang({ ...beamed, legs, beam: { ...beamed.beam!, points } });
    expect(result.kind === "tips" && result.margin).toBe(Number.NEGATIVE_INFINITY);
  });

  test("legs below a beam, or to two hooks, that no stretch brings to their ends are refused each by name", () => {
    const short = <R extends Rig>(rig: R): R => ({ ...rig, legs: rig.legs.map((leg) => ({ ...leg, length: 0.35 })) });
    const hooked = onTwoHooks(5e6);
    const hooks = hooked.hooks.map((hook, i) => ({ ...hook, at: [i === 0 ? 2 : -2, 0, 1.3] as const }));
    const apart = { ...hooked, hooks };
    const beamRig = onBeam(5e6);
    const points = beamRig.beam!.points.map((each) => ({ ...each, at: [each.at[0] * 4, 0, each.at[2]] as const }));
    for (const rig of [{ ...beamRig, beam: { ...beamRig.beam!, points } }, apart]) {
      const result = hang(short(rig));
      if (result.kind !== "refused") throw new Error(result.kind);
      expect(new Set(result.faults.map(({ is }) => is))).toEqual(new Set(["overstretched"]));
      expect(result.faults[0]).toMatchObject({ made: 0.35 });
    }
  });

  test("a hook that no leg leads to, and a tolerance above the length, are refused", () => {
    const rig = onTwoHooks();
    const legs = rig.legs.map((leg) => ({ ...leg, upper: "fore", within: 2 }));
    const result = hang({ ...rig, legs });
    expect(result.kind === "refused" && result.faults.map(({ at }) => at)).toEqual([
      ...legs.map(({ id }) => `legs/${id}`),
      "hooks/aft",
    ]);
  });

  test("legs crossed below a beam that swings over: what is answered is at rest, and any ranges are about it", () => {
    const points = [
      { id: "behind", at: [-0.2, 0, 0] as const },
      { id: "ahead", at: [-1.2, 0, 0] as const },
      { id: "lug", at: [0, 0, 0.1] as const },
    ];
    const rig = onBeam(5.466e6);
    const crossed = { ...rig, beam: { ...rig.beam!, mass: 12, points } };
    const hung = hang(crossed);
    if (hung.kind !== "hangs") throw new Error(hung.kind);
    expect(hung.residual).toBeLessThan(1e-9);
    const found = rangesOf(crossed);
    if (found.kind === "ranges")
      for (const [i, { tension }] of found.legs.entries()) {
        expect(hung.legs[i]!.tension).toBeGreaterThan(tension.low.bound - 1e-3);
        expect(hung.legs[i]!.tension).toBeLessThan(tension.high.bound + 1e-3);
      }
  });

  test("hardly any weight on stiff legs: no rest is claimed that is none", () => {
    const rig = twoLegs(5e6);
    const mass = { nominal: 1e-6, low: 1e-6, high: 1e-6 };
    const result = hang({ ...rig, load: { ...rig.load, mass } });
    if (result.kind === "refused") expect(result.faults.map(({ is }) => is)).toEqual(["no rest"]);
    else expect(result.kind === "hangs" && result.residual).toBeLessThan(1e-7);
  });

  test("a beam that nothing holds up is refused", () => {
    const { pin: _pin, ...beam } = beamed.beam!;
    const result = hang({ ...beamed, beam });
    expect(result.kind === "refused" && result.faults).toEqual([{ at: "beam", is: "beam on nothing" }]);
  });

  test("three legs of which two span but one cannot reach are refused", () => {
    const result = hang(
      rigOf(
        100,
        [0, 0, -0.2],
        [
          { eye: [0.5, 0, 0], length: 0.51 },
          { eye: [-0.5, 0, 0], length: 0.51 },
          { eye: [0, 0.9, 0], length: 0.6 },
        ],
      ),
    );
    expect(result.kind).toBe("refused");
  });

  test("a leg's length that its own triangle contradicts is refused with the misclosure", () => {
    // A public lesson works spans of 2 and 10 ft under a height of 3 ft with legs of 4 and 14 ft; √13 and √109 ft is what they are.
    const foot = 0.3048;
    const rig = rigOf(
      1814.37,
      [0, 0, -1],
      [
        { eye: [-2 * foot, 0, 0], length: 4 * foot },
        { eye: [10 * foot, 0, 0], length: 14 * foot },
      ],
    );
    const result = hang({
      ...rig,
      stated: [
        { leg: "leg-1", across: 2 * foot, height: 3 * foot, within: 0.02 },
        { leg: "leg-2", across: 10 * foot, height: 3 * foot, within: 0.02 },
      ],
    });
    if (result.kind !== "refused") throw new Error(result.kind);
    near(
      result.faults.map((fault) => (fault.is === "length misses" ? fault.said - fault.follows : Number.NaN)),
      [(4 - Math.sqrt(13)) * foot, (14 - Math.sqrt(109)) * foot],
      1e-9,
    );
  });

  test("a hook that does not stand over the centre: how far the load swings", () => {
    const answer = hangs(hang(twoLegs(5e6), { stands: [0.55, 0.02] }));
    near(answer.liftOff.over, [0.5, 0], 1e-12);
    near(answer.liftOff.swing!, [0.05, 0.02], 1e-12);
    near([answer.pitch], [-5.96508], 1e-6);
  });
});

import { expect, test } from "vitest";
import { makeChance } from "../../bench/release/chance.ts";
import { randomBodies, randomRig, twoLegs } from "../../bench/rigging/rigs.ts";
import { GRAVITY } from "./gravity.ts";
import { hang } from "./hang.ts";
import { HeldLoad, type Reply } from "./held.ts";
import { heldRig } from "./held-rig.ts";
import { settleBodies } from "./pose.ts";
import type { Vector } from "./problem.ts";
import type { Case } from "./strain.ts";

const LEVEL = Float64Array.from([1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0]);

test("[T1] a load held by ties rests as the poses of bodies do", () => {
  const held = new HeldLoad();
  for (let seed = 1; seed <= 40; seed++) {
    const rig = randomRig(seed);
    const chance = makeChance(seed + 500);
    const draw = (): number => 2 * chance.next() - 1;
    const [cx, cy] = rig.load.centre;
    const hook: Vector = [cx, cy, Math.max(...rig.legs.map((leg) => leg.length)) + 0.3];
    const legs = rig.legs.map((leg, i) => ({
      on: 0 as const,
      eye: rig.eyes[i]!.at,
      to: 0,
      length: leg.length,
      stiffness: leg.stiffness! / leg.length,
    }));
    const ties = Array.from({ length: chance.whole(0, 2) }, () => ({
      at: [0.6 * draw(), 0.4 * draw(), 0.3 * draw()] as const,
      slack: chance.pick([0, 0.01]),
      stiffness: 10 ** (4 + 2 * chance.next()),
    }));
    const weight = rig.load.mass.nominal * GRAVITY;
    const into = new Float64Array(12);
    const got = held.rest({ weight, centre: rig.load.centre, legs, ties, hooks: [hook] }, LEVEL, into);
    const start = {
      turn: [
        [1, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
      ] as const,
      at: [0, 0, 0] as const,
    };
    const still = settleBodies(
      [{ weight, centre: rig.load.centre, start }],
      [
        ...legs.map((leg) => ({
          lower: { body: 0, at: leg.eye },
          upper: { at: hook },
          length: leg.length,
          stiffness: leg.stiffness,
          firm: false,
        })),
        ...ties.map((tie) => ({
          lower: { body: 0, at: tie.at },
          upper: { at: tie.at },
          length: tie.slack,
          stiffness: tie.stiffness,
          firm: false,
        })),
      ],
      [],
      1,
    );
    expect(still.residual).toBeLessThan(1e-9);
    const up = still.poses[0]!.turn[2];
    expect(Math.abs(got.pitch + (Math.asin(up[0]) * 180) / Math.PI), `seed ${seed}`).toBeLessThan(1e-3);
    expect(Math.abs(got.roll - (Math.atan2(up[1], up[2]) * 180) / Math.PI), `seed ${seed}`).toBeLessThan(1e-3);
    for (const [k, pull] of got.pulls.entries())
      expect(Math.abs(pull - still.pulls[legs.length + k]!) / weight, `seed ${seed}`).toBeLessThan(1e-4);
  }
});

test("[T2] a tie that pulls straight down with 300 N at (1.45, 0.05): the published reading, pitch and tensions", () => {
  // 262 kg on two legs: W+P = 2869.342300 N at (W·G+P·r)/(W+P), pitch −0.643475°. A spring so long and soft that it pulls straight down.
  const rig = twoLegs(5e9);
  const weight = 262 * GRAVITY;
  const r: Vector = [1.45, 0, 0.05];
  const all = weight + 300;
  const centre = rig.load.centre.map((c, i) => (c * weight + 300 * r[i]!) / all) as unknown as Vector;
  const legs = rig.legs.map((leg, i) => ({
    on: 0 as const,
    eye: rig.eyes[i]!.at,
    to: 0,
    length: leg.length,
    stiffness: leg.stiffness! / leg.length,
  }));
  const got = new HeldLoad().rest(
    { weight: all, centre, legs, ties: [], hooks: [[0.6, 0, 1.2]] },
    LEVEL,
    new Float64Array(12),
  );
  expect(got.load).toBeCloseTo(2869.3423, 3);
  expect(got.pitch).toBeCloseTo(-0.643475, 3);
});

test("[T6] beams and two hooks, freed: as they hang, whatever the rise; and they come taut where the first leg begins to pull", () => {
  for (let seed = 1; seed <= 16; seed++) {
    const rig = randomBodies(seed);
    const hung = hang(rig);
    if (hung.kind !== "hangs") throw new Error(hung.kind);
    const { load, weight, beam, legsOf, hooksAt, freed } = heldRig(rig);
    const legs = legsOf(rig.legs.map(({ length }) => length));
    const rest = (up: number): { readonly load: number; readonly pitch: number; readonly roll: number } =>
      load.rest(
        { weight, centre: rig.load.centre, legs, ties: [], hooks: hooksAt(up), ...(beam ? { beam } : {}) },
        freed(up),
        freed(up),
      );
    const got = rest(0.03);
    // With two hooks the cells read along the legs, which lean.
    if (rig.hooks.length === 1) expect(got.load / weight, `seed ${seed}`).toBeCloseTo(1, 5);
    else
      expect(got.load).toBeCloseTo(
        hung.hooks.reduce((sum, hook) => sum + hook.load, 0),
        1,
      );
    expect(Math.abs(got.pitch - hung.pitch), `seed ${seed}`).toBeLessThan(1e-3);
    expect(Math.abs(got.roll - hung.roll), `seed ${seed}`).toBeLessThan(1e-3);
  }
});

test("[T7] how the readings follow each figure: as they do when it is a little more and a little less", () => {
  const tie = { at: [0.4, 0.2, 0.1] as const, slack: 0.002, stiffness: 3e4 };
  for (const seed of [2, 4, 5]) {
    const rig = randomBodies(seed);
    const { load, weight, beam, legsOf, hooksAt, freed } = heldRig(rig);
    const lengths = rig.legs.map(({ length }) => length);
    const asked = (over: { by: number; of?: string; i?: number }): Case => {
      const { by, of, i = 0 } = over;
      return {
        weight: weight + (of === "weight" ? by : 0),
        centre: rig.load.centre.map((c, k) => c + (of === "centre" && k === i ? by : 0)) as unknown as Vector,
        legs: legsOf(lengths.map((each, k) => each + (of === "length" && k === i ? by : 0))),
        ties: [{ ...tie, stiffness: tie.stiffness * Math.exp(of === "stiffness" ? by : 0) }],
        hooks: hooksAt(0.03 + (of === "rise" ? by : 0)),
        ...(beam ? { beam } : {}),
      };
    };
    const pose = freed(0.03);
    load.rest(asked({ by: 0 }), pose, pose);
    const replies = load.replies(asked({ by: 0 }));
    const close = (reply: Reply, of: string, by: number, i = 0): void => {
      const at = (far: number) => load.rest(asked({ by: far, of, i }), pose, Float64Array.from(pose));
      const [more, less] = [at(by), at(-by)];
      for (const what of ["load", "pitch", "roll"] as const) {
        const wanted = (more[what] - less[what]) / 2;
        const size = what === "load" ? 0.05 + 1e-4 * weight * by : 2e-5;
        expect(Math.abs(reply[what] * by - wanted), `seed ${seed}, ${what} by ${of} ${i}`).toBeLessThan(
          size + 0.02 * Math.abs(wanted),
        );
      }
    };
    close(replies.weight, "weight", 5);
    for (const i of [0, 1, 2]) close(replies.centre[i]!, "centre", 5e-4, i);
    for (const i of lengths.keys()) close(replies.lengths[i]!, "length", 1e-4, i);
    close(replies.rise, "rise", 5e-4);
    close(replies.stiffness[0]!, "stiffness", 0.02);
  }
});

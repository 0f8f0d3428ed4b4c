// What the vehicle file hangs a load from: a spreader and two hooks, held to figures that can be worked out with a pencil.
import { describe, expect, test } from "vitest";
import { GRAVITY } from "../rigging/index.ts";
import { readVehicle } from "../vehicle/index.ts";
import { reckonLiftOf } from "./index.ts";
import { liftLimit } from "./lift.ts";

/** A block of 120 kg, its centre 50 mm ahead of the middle between two eyes 0.8 m apart. */
const file = (lifting: string): string => `format: unmoor/1
vehicle: { name: Block on a frame }
positions: { side: { people: 2 } }
parts:
  frame: { fixed: true }
  block: { mass: 120 kg ± 5 %, centre: [0.05 m, 0 m, 0.25 m], within: 10 mm }
connections:
  foot: { joins: [block, frame], kind: mount, rests: true, at: [0 m, 0 m, 0 m], release: { at: side, time: 5 min } }
tasks:
  sling: { at: side, time: 5 min, supports: [block], undo: { time: 5 min } }
  lift: { at: side, time: 5 min, lifts: [block], needs: [sling], reach: 1.5 m }
jobs: { swap: { needs: [lift], work: { at: side, time: 5 min } } }
lifting:
  eyes:
    front: { on: block, at: [0.4 m, 0 m, 0.4 m], limit: 200 kg, rule: any direction }
    rear: { on: block, at: [-0.4 m, 0 m, 0.4 m], limit: 200 kg, rule: any direction }
  hoists: { crane: { hook: 500 kg, tackle: 5 kg, reach: [[1 m, 500 kg], [2 m, 250 kg]] } }
${lifting}`;
const GROUP = { task: "lift", parts: ["block"], off: [] };
const ask = (lifting: string, legs?: readonly string[]) => {
  const { vehicle, faults } = readVehicle("block.vehicle.yaml", () => file(lifting));
  if (vehicle === undefined) throw new Error(faults.map(({ what }) => what).join("\n"));
  return reckonLiftOf(vehicle, GROUP, legs === undefined ? {} : { legs });
};
const hung = (lifting: string) => {
  const lift = ask(lifting);
  if (lift.kind !== "reckoned" || lift.answer.hanging.kind !== "hangs") throw new Error(JSON.stringify(lift));
  return { ...lift.answer, hanging: lift.answer.hanging, rig: lift.slung.rig };
};
const refused = (lifting: string, legs?: readonly string[]) => {
  const lift = ask(lifting, legs);
  return lift.kind === "refused" ? lift.faults : [];
};

const WEIGHT = 120 * GRAVITY;
const BAR =
  "bar: { mass: 10 kg, centre: [0 m, 0 m, 0 m], limit: 400 kg, pin: lug, points: { lug: { at: [0.05 m, 0 m, 0.1 m] }, ahead: { at: [0.4 m, 0 m, 0 m] }, behind: { at: [-0.4 m, 0 m, 0 m] } } }";
const UPRIGHT = `  legs:
    front-leg: { from: front, to: ahead, length: 0.5 m ± 1 mm, limit: 300 kg }
    rear-leg: { from: rear, to: behind, length: 0.5 m ± 1 mm, limit: 300 kg }
`;

describe("[H1] a spreader", () => {
  const { hanging, rig, checks } = hung(`  beams: { ${BAR} }\n${UPRIGHT}`);
  test("legs upright below it share by their levers, 0.45 and 0.35 of 0.8; the hook bears load and beam", () => {
    const [front, rear] = hanging.legs;
    // The lug is over the centre, and the beam's own 10 kg hang 50 mm behind it: a little nose up, so to a hundredth.
    expect(front!.tension / WEIGHT).toBeCloseTo(0.45 / 0.8, 2);
    expect(rear!.tension / WEIGHT).toBeCloseTo(0.35 / 0.8, 2);
    expect(front!.tension + rear!.tension).toBeCloseTo(WEIGHT, 4);
    expect(hanging.hooks).toEqual([{ id: "hook", load: expect.closeTo(130 * GRAVITY, 4) }]);
    expect(rig.beam).toMatchObject({ mass: 10, pin: "lug", rating: { kilograms: 400, source: "the vehicle file" } });
  });
  test("beam, hook and hoist are checked, the hoist with the beam as tackle", () => {
    const of = (check: string) => checks.find((one) => one.check === check)!;
    expect(of("beam")).toMatchObject({ verdict: "passes" });
    expect(of("hook").limit! / GRAVITY).toBeCloseTo(500, 6);
    expect(of("hoist").value / GRAVITY).toBeCloseTo(1.05 * 120 + 5 + 10, 6);
  });
});

describe("[H5] what the plan lets hang there", () => {
  const limitOf = (lifting: string) => {
    const { vehicle } = readVehicle("block.vehicle.yaml", () => file(lifting));
    const found = liftLimit(vehicle!, vehicle!.tasks.find(({ id }) => id === "lift")!, undefined);
    if (!("limit" in found)) throw new Error("out of reach");
    return found;
  };
  test("the curve's 375 kg less 5 kg of tackle and 10 kg of beam", () => {
    expect(limitOf(`  beams: { ${BAR} }\n${UPRIGHT}`)).toMatchObject({
      limit: 360,
      hoist: { limit: 360, tackle: 5 },
      beam: { id: "bar", mass: 10, limit: 400 },
    });
  });
  test("no more than the beam's own limit below it, and the hook's less the beam", () => {
    expect(limitOf(`  beams: { ${BAR.replace("limit: 400 kg", "limit: 150 kg")} }\n${UPRIGHT}`).limit).toBe(150);
    expect(limitOf(`  beams: { ${BAR.replace("mass: 10 kg", "mass: 200 kg")} }\n${UPRIGHT}`).limit).toBe(170);
  });
  test("legs that lead to no beam leave it out", () => {
    expect(limitOf(`  beams: { ${BAR} }\n${UPRIGHT.replaceAll(/to: \w+, /g, "")}`)).not.toHaveProperty("beam");
  });
});

test("[H2] a beam held up by legs of its own takes them along", () => {
  const { rig, hanging } = hung(
    `  beams: { ${BAR.replace("pin: lug, ", "")} }\n${UPRIGHT}    up-ahead: { from: ahead, length: 0.7 m, limit: 300 kg }\n    up-behind: { from: behind, length: 0.7 m, limit: 300 kg }\n`,
  );
  expect(rig.legs.map(({ id }) => id)).toEqual(["front-leg", "rear-leg", "up-ahead", "up-behind"]);
  expect(hanging.hooks[0]!.load).toBeCloseTo(130 * GRAVITY, 3);
});

const TWO =
  "  hooks: { fore: { at: [0.4 m, 0 m, 1.3 m], limit: 90 kg }, aft: { at: [-0.4 m, 0 m, 1.3 m] } }\n" +
  UPRIGHT.replace("to: ahead, length: 0.5 m", "to: fore, length: 0.9 m").replace(
    "to: behind, length: 0.5 m",
    "to: aft, length: 0.9 m",
  );

test("[H3] two hooks bear by their levers, each against its own limit", () => {
  const { hanging, checks } = hung(TWO);
  expect(hanging.hooks.map(({ id }) => id)).toEqual(["fore", "aft"]);
  for (const [i, share] of [0.45 / 0.8, 0.35 / 0.8].entries())
    expect(hanging.hooks[i]!.load / WEIGHT).toBeCloseTo(share, 3);
  const limits = checks.filter(({ check }) => check === "hook").map(({ at, limit }) => [at, limit! / GRAVITY]);
  // A hook without a limit of its own has that of the hoist's.
  expect(limits).toEqual([
    ["fore", expect.closeTo(90, 6)],
    ["aft", expect.closeTo(500, 6)],
  ]);
});

describe("[H4] what cannot be", () => {
  test("two hooks, one without a place", () => {
    const faults = refused(TWO.replace("aft: { at: [-0.4 m, 0 m, 1.3 m] }", "aft: {}"));
    expect(faults).toMatchObject([{ at: "aft", is: "hook without a place" }]);
  });
  test("legs to a hook of their own and to the hoist's", () => {
    expect(refused(TWO.replace("to: aft, ", ""))[0]).toMatchObject({
      at: "fore",
      is: "hoist and hooks",
      hooks: ["fore"],
    });
  });
  test("legs to two beams, and then those of one named", () => {
    const two = `  beams: { ${BAR}, yoke: { mass: 8 kg, centre: [0 m, 0 m, 0 m], pin: ear, points: { ear: { at: [0 m, 0 m, 0.1 m] }, toe: { at: [-0.4 m, 0 m, 0 m] } } } }\n${UPRIGHT.replace("to: behind", "to: toe")}`;
    expect(refused(two)[0]).toMatchObject({ at: "lift", is: "more beams", beams: ["bar", "yoke"] });
    expect(refused(two, ["front-leg"])).toEqual([]);
  });
  test("a beam on its pin, and legs to two hooks besides", () => {
    const both = TWO.replace("  legs:", `  beams: { ${BAR} }\n  legs:`).replace(
      "rear-leg:",
      "third: { from: front, to: ahead, length: 0.5 m }\n    rear-leg:",
    );
    expect(refused(both)[0]).toMatchObject({ at: "bar", is: "pin and hooks", hooks: ["fore", "aft"] });
  });
});

// The bridge from a vehicle file to a rig, held to figures that can be worked out with a pencil.
import { describe, expect, test } from "vitest";
import { solve } from "../release/index.ts";
import { GRAVITY, inEnglish } from "../rigging/index.ts";
import { readVehicle, type Vehicle } from "../vehicle/index.ts";
import { groupsOf, makePlan, type Plan, reckonLiftOf, supportAlong, translate, trialOf } from "./index.ts";
import { centreOf } from "./lift-centre.ts";
import { rigOf } from "./lift-rig.ts";
import { liftsInShort } from "./lift-short.ts";

/** A block of 100 kg with a head of 20 kg, on four feet that rest, under two eyes 0.8 m apart; a shelf above on the left. */
const FILE = `format: unmoor/1
vehicle: { name: Block on a frame }
positions: { side: { people: 2 } }
parts:
  frame: { fixed: true }
  block: { mass: 100 kg ± 10 %, centre: [0 m, 0 m, 0.2 m], within: 10 mm, outline: { from: [-0.5 m, -0.2 m, 0 m], to: [0.5 m, 0.2 m, 0.4 m] } }
  head: { mass: 20 kg ± 10 %, centre: [0.3 m, 0 m, 0.5 m], outline: { from: [0.1 m, -0.1 m, 0.4 m], to: [0.5 m, 0.1 m, 0.6 m] } }
connections:
  head-bolts: { joins: [head, block], kind: bolted joint, at: [0.3 m, 0 m, 0.4 m], release: { at: side, time: 60 min } }
  foot-1: { joins: [block, frame], kind: mount, rests: true, at: [0.4 m, 0.2 m, 0 m], release: { at: side, time: 5 min } }
  foot-2: { joins: [block, frame], kind: mount, rests: true, at: [0.4 m, -0.2 m, 0 m], release: { at: side, time: 5 min } }
  foot-3: { joins: [block, frame], kind: mount, rests: true, at: [-0.4 m, 0.2 m, 0 m], release: { at: side, time: 5 min } }
  foot-4: { joins: [block, frame], kind: mount, rests: true, at: [-0.4 m, -0.2 m, 0 m], release: { at: side, time: 5 min } }
  hose: { joins: [head, frame], kind: hose, at: [0.5 m, 0 m, 0.5 m], slack: 50 mm, hidden: true, release: { at: side, time: 2 min } }
tasks:
  sling: { at: side, time: 5 min, supports: [block], undo: { time: 5 min } }
  lift: { at: side, time: 5 min, lifts: [block], needs: [sling], reach: 1.5 m, path: [{ move: [0 m, 0 m, 0.5 m] }] }
jobs:
  swap: { needs: [lift], work: { at: side, time: 5 min } }
  shim: { needs: [foot-1, foot-2, foot-3, foot-4], work: { at: side, time: 5 min } }
lifting:
  eyes:
    front: { on: block, at: [0.4 m, 0 m, 0.4 m], limit: 200 kg, rule: any direction }
    rear: { on: block, at: [-0.4 m, 0 m, 0.4 m], limit: 200 kg }
    loose: { on: frame, at: [0 m, 1 m, 0.4 m] }
  legs:
    front-leg: { from: front, length: 0.9 m ± 2 mm, kind: chain, size: 6 mm, links: 8 }
    rear-leg: { from: rear, length: 0.9 m ± 2 mm, kind: chain, size: 6 mm, links: 8 }
  obstacles: { shelf: { from: [-1 m, 0.23 m, 0.5 m], to: [1 m, 0.6 m, 0.6 m] } }
  hoists: { crane: { hook: 1 t, tackle: 5 kg, reach: [[1 m, 500 kg], [2 m, 250 kg]] } }
`;

const read = (text: string): Vehicle => {
  const { vehicle, faults } = readVehicle("block.vehicle.yaml", () => text);
  if (vehicle === undefined) throw new Error(faults.map(({ what }) => what).join("\n"));
  return vehicle;
};
const planOf = (vehicle: Vehicle, job = "swap"): Plan => {
  const question = translate(vehicle, { jobs: [job], keep: [], take: [], released: [] });
  const plan = makePlan(question, solve(question.problem));
  if (plan === undefined) throw new Error("there is a plan");
  return plan;
};
const block = read(FILE);
const plan = planOf(block);
const [group] = groupsOf(block, plan);
const lifted = (vehicle: Vehicle, wanted: Parameters<typeof reckonLiftOf>[2] = {}) =>
  reckonLiftOf(vehicle, group!, wanted);
const hung = (vehicle = block, wanted: Parameters<typeof reckonLiftOf>[2] = {}) => {
  const lift = lifted(vehicle, wanted);
  if (lift.kind !== "reckoned") throw new Error(JSON.stringify(lift));
  return lift;
};
const faults = (text: string, wanted: Parameters<typeof reckonLiftOf>[2] = {}) => {
  const lift = lifted(read(text), wanted);
  return lift.kind === "refused" ? lift.faults : [];
};

describe("[V1] mass and centre of a group", () => {
  test("the sum of its parts: (100·0 + 20·0.3)/120 = 0.05 m forward, (100·0.2 + 20·0.5)/120 = 0.25 m up", () => {
    const { mass, centre } = centreOf(block.parts.filter(({ fixed }) => !fixed))!;
    expect(mass).toEqual({ low: 108, nominal: 120, high: 132 });
    expect(centre.map((x) => Number(x.toFixed(9)))).toEqual([0.05, 0, 0.25]);
  });

  test("its doubt: the head heaviest and the block lightest and 10 mm ahead, (90·0.01 + 22·0.3)/112", () => {
    const { within } = centreOf(block.parts.filter(({ fixed }) => !fixed))!;
    expect(within[0]).toBeCloseTo((90 * 0.01 + 22 * 0.3) / 112 - 0.05, 12);
    // Across both lie in the middle: only the block's own 10 mm count, most with the block heavy and the head light.
    expect(within[1]).toBeCloseTo((110 * 0.01) / 128, 12);
  });

  test("no corner of the tolerances leads outside of it", () => {
    const parts = block.parts.filter(({ fixed }) => !fixed);
    const { centre, within } = centreOf(parts)!;
    for (let code = 0; code < 16; code++) {
      let [moment, sum] = [0, 0];
      for (const [i, { mass, centre: at, within: out = 0 }] of parts.entries()) {
        const kilograms = code & (1 << i) ? mass!.high : mass!.low;
        moment += kilograms * (at![0] + (code & (4 << i) ? out : -out));
        sum += kilograms;
      }
      expect(Math.abs(moment / sum - centre[0])).toBeLessThanOrEqual(within[0] + 1e-12);
    }
  });

  test("parts without a mass or a centre are named", () => {
    const bare = read(
      FILE.replace(
        "head: { mass: 20 kg ± 10 %, centre: [0.3 m, 0 m, 0.5 m], outline: { from: [0.1 m, -0.1 m, 0.4 m], to: [0.5 m, 0.1 m, 0.6 m] } }",
        "head: { mass: 20 kg }",
      ),
    );
    expect(inEnglish(...hung(bare).assumed)).toContain("without a centre, counted at the centre of the others: Head");
  });
});

describe("[V2] the hanging group", () => {
  test("two alike legs, the centre 50 mm ahead: nose down, and the weight on the hook is that of 120 kg", () => {
    const { hanging } = hung().answer;
    if (hanging.kind !== "hangs") throw new Error("it hangs");
    expect(hanging.hooks[0]!.load).toBeCloseTo(120 * GRAVITY, 6);
    // The hook is 0.806 m over the eyes' line and that 0.15 m over the centre: atan(0.05 / 0.956) = 2.99° but for the stretch.
    expect(hanging.pitch).toBeCloseTo(2.99, 1);
    expect(hanging.residual).toBeLessThan(1e-9);
  });

  test("the hoist of the file at its reach, on the line: 375 kg at 1.5 m, as the plan's own check", () => {
    const check = hung().answer.checks.find(({ check: name }) => name === "hoist")!;
    expect(check.limit).toBeCloseTo(375 * GRAVITY, 6);
    // The plan counts the load alone, so it takes the tackle off what may hang there.
    expect(plan.lifts[0]!.limit).toBeCloseTo(370, 9);
    expect(plan.lifts[0]!.hoist).toMatchObject({ tackle: 5 });
    expect(check.value).toBeCloseTo((132 + 5) * GRAVITY, 6);
  });

  test("an eye without a rule is not checked, never passed", () => {
    const { checks } = hung().answer;
    expect(checks.find(({ at, check }) => check === "eye" && at === "rear")!.verdict).toBe("not checked");
  });

  test("the shelf 30 mm to the left is passed at no more than that, at the attitude it hangs at", () => {
    const { least, contact } = hung().answer.clearing;
    expect(contact).toBeUndefined();
    expect(least?.obstacle).toBe("shelf");
    expect(least!.gap.distance).toBeCloseTo(0.03, 3);
  });

  test("a forgotten hose with 50 mm of slack, 0.45 m ahead: 3° nose down leaves it 0.45·sin 3° = 23 mm behind", () => {
    const tie = hung().answer.taut.find(({ id }) => id === "hose")!;
    expect(tie.at!.rise).toBeCloseTo(0.073, 2);
  });

  test("backwards: whole links that bring it level over all that is not known", () => {
    const { takeUp } = hung(block, { wanted: { pitch: [-4, 4], roll: [-180, 180] } }).answer;
    if (takeUp === undefined || "why" in takeUp || "pins" in takeUp) throw new Error("it was searched");
    expect(takeUp.looked).toBe(81);
    expect(takeUp.fit!.range!.pitch[0]).toBeGreaterThanOrEqual(-4);
    expect(takeUp.fit!.range!.pitch[1]).toBeLessThanOrEqual(4);
  });
});

describe("[V3] what cannot be asked is told with its place and mend", () => {
  test("legs shorter than the span", () => {
    const [fault] = faults(FILE.replaceAll("length: 0.9 m ± 2 mm", "length: 0.35 m"));
    expect(fault?.at).toBe("legs/front-leg");
    expect(fault).toMatchObject({ is: "does not span", from: "front", to: "rear" });
  });
  test("an eye on a part that does not go up", () => {
    const [fault] = faults(FILE, { legs: ["loose=0.9 m", "front=0.9 m"] });
    expect(fault).toMatchObject({ is: "stays behind", eye: "loose", part: "frame", task: "lift" });
  });
  test("a leg and an eye that are not there, with the nearest", () => {
    expect(faults(FILE, { legs: ["frnt-leg"] })[0]).toMatchObject({ near: "front-leg" });
    expect(faults(FILE, { legs: ["rera=1 m"] })[0]).toMatchObject({ near: "rear" });
    expect(faults(FILE, { legs: ["rear=1"] })[0]).toMatchObject({ mend: expect.stringContaining("unit") });
  });
  test("a centre outside of its outline", () => {
    const far = FILE.replace("centre: [0 m, 0 m, 0.2 m]", "centre: [1.2 m, 0 m, 0.2 m]");
    expect(faults(far)[0]).toMatchObject({ at: "load.centre" });
  });
  test("no legs in the file", () => {
    const bare = FILE.replace(/ {2}legs:\n.*\n.*\n/, "");
    expect(faults(bare)[0]).toMatchObject({ is: "no legs" });
    expect(hung(read(bare), { legs: ["front=0.9 m", "rear=0.9 m"] }).slung.rig.legs).toHaveLength(2);
  });
  test("a reach beyond the curve is refused where another hoist is named for it", () => {
    const file = FILE.replace("crane: {", "small: { reach: [[0.5 m, 500 kg], [1 m, 300 kg]] }, crane: {");
    const lift = lifted(read(file.replace("reach: 1.5 m,", "reach: 1.5 m, hoist: crane,")), { hoist: "small" });
    expect(lift.kind === "refused" && lift.faults[0]?.at).toBe("hoist/small");
  });
});

describe("[V4] what carries what, step by step", () => {
  const shimmed = planOf(block, "shim");
  const { steps, least, notComputed } = supportAlong(block, shimmed);
  test("unbolted it rests: the shares are those of moments about the feet", () => {
    expect(notComputed).toEqual([]);
    const released = steps.filter(({ bodies }) =>
      bodies.some(({ stand }) => stand.shares.length === 4 && stand.margin !== undefined && stand.margin > 0),
    );
    const shares = new Map(released.at(-1)!.bodies[0]!.stand.shares.map(({ id, force }) => [id, force]));
    // 0.05 m ahead of the middle of 0.8 m: 9/16 of the weight in front, half of it on each side.
    expect(shares.get("foot-1")).toBeCloseTo(((9 / 16) * 120 * GRAVITY) / 2, 3);
  });
  test("the sum of what carries is the weight, at each step", () => {
    expect(steps.length).toBeGreaterThan(0);
    for (const { bodies } of steps)
      for (const { parts, stand } of bodies) {
        const mass = block.parts.filter(({ id }) => parts.includes(id)).reduce((m, p) => m + (p.mass?.nominal ?? 0), 0);
        const sum = stand.shares.reduce((total, { force }) => total + force, 0);
        expect(stand.falls || Math.abs(sum - mass * GRAVITY) < 1e-3).toBe(true);
      }
  });
  test("the least margin is one of those shown", () => {
    const margins = steps.flatMap(({ bodies }) => bodies.map(({ stand }) => stand.margin ?? Number.POSITIVE_INFINITY));
    expect(Math.min(...margins)).toBe(least?.margin);
  });
});

describe("[V5] the trial lift's question", () => {
  const question = trialOf(block, plan, hung(), [{ load: { value: 1200, error: 12 } }]);
  test("the ties of the cut, a hidden one likelier left on, and none of those inside the group", () => {
    const chances = new Map(question.trial.ties.map(({ id, chance }) => [id, chance]));
    expect([...chances.keys()].sort()).toEqual(["foot-1", "foot-2", "foot-3", "foot-4", "hose"]);
    expect(chances.get("hose")).toBeGreaterThan(chances.get("foot-1")!);
  });
  test("what has no place is named, not forgotten", () => {
    const bare = read(FILE.replace("kind: hose, at: [0.5 m, 0 m, 0.5 m], slack", "kind: hose, slack"));
    expect(trialOf(bare, planOf(bare), hung(bare), []).noPlace).toEqual(["hose"]);
  });
});

describe("[V6] the lift in the plan's words", () => {
  test("the same figures as the whole answer", () => {
    const [short] = liftsInShort(block, plan, undefined);
    const { hanging } = hung().answer;
    expect(short?.pitch?.nominal).toBe(hanging.pitch);
    expect(short?.legs.map(({ id }) => id)).toEqual(["front-leg", "rear-leg"]);
    expect(short!.passed + short!.open.length).toBe(hung().answer.checks.length);
    expect(plan.lifts[0]?.hanging).toEqual(short);
  });
  test("without legs it says why nothing was looked at", () => {
    const bare = read(FILE.replace(/ {2}legs:\n.*\n.*\n/, ""));
    expect(planOf(bare).lifts[0]?.hanging).toMatchObject({ kind: "not reckoned" });
  });
});

describe("[V7] a load that is lowered on pads", () => {
  const table = FILE.replace(
    "lift: {",
    "lift: { pads: [{ at: [0.3 m, 0 m, 0 m], size: [100 mm, 300 mm] }, { at: [-0.3 m, 0 m, 0 m], size: [100 mm, 300 mm] }],",
  );
  test("two pads share it by moments, and the margin counts their corners", () => {
    const lift = lifted(read(table));
    if (lift.kind !== "stands") throw new Error(lift.kind);
    const shares = new Map(lift.stand.shares.map(({ id, force }) => [id, force]));
    // Pads turn with the load, so the front one carries a little less than 7/12 by points: corners at ±0.25 and ±0.35 m.
    const inertia = 0.25 ** 2 + 0.35 ** 2;
    expect(shares.get("lift pad 1")! / (120 * GRAVITY)).toBeCloseTo(0.5 + (0.05 * 0.6) / (2 * inertia), 4);
    const { within } = lift.centre;
    expect(lift.stand.margin).toBeCloseTo(0.15 - Math.hypot(within[0], within[1]), 6);
  });
  test("each pad against its limit: within it, within it at rest only, above it, and none said", () => {
    const found = (limit: string) => {
      const lift = lifted(read(table.replace("at: [0.3 m, 0 m, 0 m],", `at: [0.3 m, 0 m, 0 m],${limit}`)));
      if (lift.kind !== "stands") throw new Error(lift.kind);
      return lift.checks.filter(({ check }) => check === "pad");
    };
    const [ahead, behind] = found(" limit: 1 t,");
    expect(ahead).toMatchObject({ at: "lift pad 1", verdict: "passes", source: "the vehicle file" });
    expect(behind!.verdict).toBe("not checked");
    const bears = ahead!.value / GRAVITY;
    expect(found(` limit: ${(1.05 * bears).toFixed(2)} kg,`)[0]!.verdict).toBe("attention");
    expect(found(" limit: 20 kg,")[0]!.verdict).toBe("fails");
  });
});

test("[V8] a rig takes each eye's rating from the table of its rule where the file gives a thread, and says so", () => {
  const threaded = read(FILE.replace("limit: 200 kg, rule: any direction", "rule: din 580, thread: M10"));
  const slung = rigOf(threaded, group!);
  if (!("rig" in slung)) throw new Error("it is slung");
  expect(slung.rig.eyes[0]?.rating).toMatchObject({ kilograms: 230, assumed: true });
  expect(inEnglish(...slung.assumed)).toContain("eye front: 230 kg straight");
});

import { expect, test } from "vitest";
import { onBeam, oneSlack, twoLegs } from "../../bench/rigging/rigs.ts";
import { hang } from "./hang.ts";
import { drawHanging } from "./picture.ts";
import type { Rig } from "./problem.ts";
import { rangesOf } from "./range.ts";

const rig: Rig = {
  ...oneSlack(5.5e6),
  load: {
    ...oneSlack(5.5e6).load,
    within: [0.02, 0.02, 0.02],
    outline: [{ id: "block <1>", low: [-0.7, -0.25, -0.2], high: [0.7, 0.25, 0.3] }],
  },
};

test("[P1] three views, every leg with its pull and angle, the slack one dashed and in words", () => {
  const hanging = hang(rig);
  const ranges = rangesOf(rig);
  if (hanging.kind !== "hangs" || ranges.kind !== "ranges") throw new Error("it does not hang");
  const svg = drawHanging(rig, hanging, { title: "Pump & motor", ranges });
  for (const view of ["Side, from the left", "End, from behind", "Top"]) expect(svg).toContain(view);
  expect(svg).toContain("leg-1: 1.96 kN, 48.4° from the horizontal, at most");
  expect(svg).toMatch(/leg-4: slack by 33 mm/);
  expect(svg).toContain("Pump &amp; motor");
  expect(svg).toContain("0.2° nose up");
  // Four legs in three views, the fourth dashed in each; the key shows one of each.
  expect(svg.match(/stroke-dasharray="7 5"/g)?.length).toBe(4);
  expect(svg).not.toMatch(/NaN|undefined|Infinity|\bsafe\b/);
});

test("[P2] one scale for all three: the outline is as long from the side as from above", () => {
  const hanging = hang({ ...rig, load: { ...rig.load, within: [0, 0, 0] } });
  if (hanging.kind !== "hangs") throw new Error(hanging.kind);
  const svg = drawHanging({ ...rig, load: { ...rig.load, within: [0, 0, 0] } }, hanging);
  const spans = [...svg.matchAll(/<polygon points="([^"]+)"/g)].map(([, points]) => {
    const xs = points!.split(" ").map((each) => Number(each.split(",")[0]));
    return Math.max(...xs) - Math.min(...xs);
  });
  expect(spans).toHaveLength(3);
  expect(Math.abs(spans[0]! - spans[2]!)).toBeLessThan(0.3);
});

test("[P3] two hooks have their names and each its load, and legs that lie behind one another share a label", () => {
  const { legs, eyes, ...rest } = twoLegs(5e6);
  const two: Rig = {
    ...rest,
    eyes,
    legs: legs.map((leg, i) => ({ ...leg, upper: i === 0 ? "aft" : "fore" })),
    hooks: [
      { id: "aft", at: [0.2, 0, 1.3] },
      { id: "fore", at: [0.9, 0, 1.3] },
    ],
  };
  const hanging = hang(two);
  if (hanging.kind !== "hangs") throw new Error(hanging.kind);
  const svg = drawHanging(two, hanging);
  for (const { id, load } of hanging.hooks) expect(svg).toContain(`${(load / 1000).toFixed(2)} kN on ${id}`);
  // From behind both legs lie in one line, and both hooks over each other.
  expect(svg).toContain(">1, 2</text>");
  expect(svg).toContain(">aft, fore</text>");
  expect(svg).not.toContain("on the hook");
});

test("[P4] a beam is drawn, in the key, and how far it hangs off level is said", () => {
  const slung = onBeam(5e6);
  const hanging = hang(slung);
  if (hanging.kind !== "hangs") throw new Error(hanging.kind);
  const svg = drawHanging(slung, hanging);
  expect(svg).toContain(">beam</text>");
  expect(svg).toMatch(/Beam, 20 kg: \d+\.\d° off level/);
});

test("a load that tips is drawn in the balance that does not hold, and that is said first", () => {
  const low = twoLegs(5e6);
  const high = { ...low, load: { ...low.load, centre: [0.5, 0, 0.8] as const } };
  const result = hang(high);
  if (result.kind !== "tips") throw new Error(result.kind);
  const svg = drawHanging(high, result);
  expect(svg).toMatch(/IT TIPS: the centre is 0\.\d\d m too high\. Drawn is the balance that does not hold/);
  expect(svg).not.toContain("higher before it tips");
});

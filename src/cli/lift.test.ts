// The commands lift and trial as their user meets them: the bundle, spawned, and its documents held to their published shapes.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { parse } from "yaml";
import { called } from "../../test/command.ts";
import { openRig } from "./rig-file.ts";
import { liftDocument, rigFileDocument, trialDocument } from "./rigging-documents.ts";

const root = new URL("../..", import.meta.url).pathname;
const folder = mkdtempSync(join(tmpdir(), "unmoor-lift-"));
const PLOVER = ["demo/plover-28.vehicle.yaml", "--job", "clutch-plate"] as const;
const RIG = readFileSync(join(root, "demo/pump.rig.yaml"), "utf8");

afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** A rig file with a change, in the test's folder. */
const changed = (name: string, ...changes: (readonly [string, string])[]): string => {
  const path = join(folder, `${name}.rig.yaml`);
  writeFileSync(
    path,
    changes.reduce((text, [from, to]) => {
      if (!text.includes(from)) throw new Error(`the rig has no ${from}`);
      return text.replace(from, to);
    }, RIG),
  );
  return path;
};

describe("unmoor lift", () => {
  test("of a rig: the document keeps its shape, the legs carry the weight, the picture is written", async () => {
    const svg = join(folder, "pump.svg");
    const { status, stdout } = await called("lift", "demo/pump.rig.yaml", "--json", "--svg", svg);
    const document = liftDocument.parse(JSON.parse(stdout));
    expect(status).toBe(0);
    if (document.kind !== "hangs") throw new Error(document.kind);
    const up = document.legs.reduce((sum, { tension, angle }) => sum + tension * Math.sin((angle * Math.PI) / 180), 0);
    expect(up).toBeCloseTo(document.hook.load, 3);
    expect(readFileSync(svg, "utf8")).toContain("<svg");
  });

  test("of a plan: the lift at the top, and what carries what at each step", async () => {
    const { status, stdout } = await called("lift", ...PLOVER, "--json");
    const document = liftDocument.parse(JSON.parse(stdout));
    expect(status).toBe(0);
    expect(document.kind === "hangs" && document.task).toBe("lift-out");
    expect(document.support?.steps.length).toBeGreaterThan(5);
    expect(document.support?.notComputed).toEqual([]);
  });

  test("of a beam: where to hang it for a wanted attitude, the nearest place first; of two hooks: each its load", async () => {
    const beam = changed(
      "beam",
      [", links: 6, shackle", ", shackle"],
      [", links: 6, shackle", ", shackle"],
      ["from: front-eye, length", "from: front-eye, to: ahead, length"],
      ["from: rear-eye, length", "from: rear-eye, to: behind, length"],
      [
        "legs:",
        "beam: { mass: 20 kg, centre: [0 m, 0 m, 0 m], limit: 400 kg, pin: third, points: { behind: [-0.35 m, 0 m, 0 m], ahead: [0.35 m, 0 m, 0 m], first: [0 m, 0 m, 0.2 m], second: [-0.06 m, 0 m, 0.2 m], third: [0.12 m, 0 m, 0.2 m] } }\nlegs:",
      ],
    );
    const asked = liftDocument.parse(JSON.parse((await called("lift", beam, "--pitch=-1..1deg", "--json")).stdout));
    if (asked.kind !== "hangs") throw new Error(asked.kind);
    const pins = asked.takeUp?.pins ?? [];
    expect(pins.map(({ pin }) => pin).sort()).toEqual(["first", "second", "third"]);
    expect(pins.map(({ miss }) => miss)).toEqual([...pins.map(({ miss }) => miss)].sort((a, b) => a - b));
    // The centre hangs 50 mm behind the middle of the eyes: the pin that is nearest over it brings the load nearest to level.
    expect(pins[0]?.pin).toBe("second");
    expect((await called("lift", beam, "--pitch=-1..1deg")).stdout).toContain("by second: pitch");

    const two = changed(
      "two",
      ["from: front-eye, length", "from: front-eye, to: fore, length"],
      ["from: rear-eye, length", "from: rear-eye, to: aft, length"],
      [
        "hooks: { hook: { limit: 1 t } }",
        "hooks: { fore: { at: [0.9 m, 0 m, 1.25 m] }, aft: { at: [0.2 m, 0 m, 1.3 m] } }",
      ],
    );
    const hung = liftDocument.parse(JSON.parse((await called("lift", two, "--json")).stdout));
    if (hung.kind !== "hangs") throw new Error(hung.kind);
    expect(hung.hook.each.map(({ id }) => id)).toEqual(["fore", "aft"]);
    const { stdout } = await called("lift", two);
    expect(stdout).toMatch(/Hooks: 2\.57 kN of load, fore 1\.\d\d kN and aft 1\.\d\d kN/);
    expect(stdout).toContain("on the load cells together");
  });

  test("of a table: the pads share the weight", async () => {
    const { stdout } = await called("lift", "demo/marten-t1.vehicle.yaml", "--job", "swap-module", "--json");
    const document = liftDocument.parse(JSON.parse(stdout));
    if (document.kind !== "stands") throw new Error(document.kind);
    const sum = document.shares.reduce((total, { force }) => total + force, 0);
    expect(sum).toBeCloseTo(document.mass.nominal * 9.80665, 2);
  });

  test.each([
    [
      "short",
      [
        ["length: 0.80 m,", "length: 0.20 m,"],
        ["0.80 m ± 3 mm", "0.20 m"],
      ],
      /short\.rig\.yaml:\d+:\d+ +legs\/front: .*do not span/,
    ],
    ["span", [["span: 0.703 m", "span: 0.75 m"]], /span\.rig\.yaml:\d+:\d+ +stated\/0: .*miss each other by 0.047 m/],
    [
      "curve",
      [["reach: 1.2 m", "reach: 1.5 m"]],
      /curve\.rig\.yaml:\d+:\d+ +hoist.*its figures go from 1.000 m to 1.400 m/,
    ],
    ["outside", [["centre: [0.50 m,", "centre: [1.50 m,"]], /outside\.rig\.yaml:6:\d+ +load.centre: its x is 1.500 m/],
    ["unit", [["mass: 262 kg ± 5 %", "mass: 262"]], /unit\.rig\.yaml:5:\d+ +load.mass/],
    ["yaml", [["hooks: {", "hooks: [{"]], /yaml\.rig\.yaml:\d+:\d+: the YAML is broken/],
  ] as const)("%s is refused with its line and mend", async (name, changes, says) => {
    const { status, stderr, stdout } = await called("lift", changed(name, ...changes), "--json");
    expect(status).toBe(1);
    expect(stderr).toMatch(says);
    const document = liftDocument.parse(JSON.parse(stdout));
    expect(document.kind === "refused" && document.faults.length).toBeGreaterThan(0);
  });

  test("a wrong call is told as one", async () => {
    expect(await called("lift", "demo/pump.rig.yaml", "--job", "x")).toMatchObject({ status: 2, stdout: "" });
    expect((await called("lift", "demo/pump.rig.yaml", "--pitch", "3..1deg")).stderr).toContain("the lower end first");
    expect((await called("lift", "nothing.rig.yaml")).stderr).toContain("no such file");
  });

  test("an attitude that no length gives is answered with the nearest, and exit code 1", async () => {
    const { status, stdout } = await called("lift", "demo/pump.rig.yaml", "--pitch", "20..21deg");
    expect(status).toBe(1);
    expect(stdout).toContain("The nearest misses by");
  });
});

describe("unmoor trial", () => {
  test("a rise or a tilt that no trial lift has is a slip of the unit, and not weighed", async () => {
    const { status, stderr } = await called("trial", ...PLOVER, "--reading", "4kN", "--rise", "3m", "--pitch", "95deg");
    expect(status).toBe(2);
    expect(stderr).toContain("--rise 3m is more than a trial lift: 500 mm at the most");
    expect(stderr).toContain("--pitch 95deg is no tilt of a trial lift");
  });

  const trial = async (...words: string[]) => {
    const { status, stdout } = await called("trial", ...PLOVER, "--rise", "20mm", "--json", ...words);
    const document = trialDocument.parse(JSON.parse(stdout));
    const chances = [
      document.free,
      document.unknownMass.probability,
      ...document.suspects.map(({ probability }) => probability),
      ...document.explanations.map(({ probability }) => probability),
    ];
    return { status, document, sum: chances.reduce((total, one) => total + one, 0) };
  };

  test("what hangs as it was forecast is most likely free", async () => {
    const { status, document } = await trial("--reading", "4.47kN", "--pitch", "0.5deg", "--roll", "-0.6deg");
    expect(status).toBe(0);
    expect(document.free).toBeGreaterThan(0.8);
  });

  test("half a kilonewton too much: not free, and ties are ranked, the likeliest first", async () => {
    const { status, document, sum } = await trial("--reading", "4.95kN", "--pitch", "0.9deg", "--roll", "-1.4deg");
    expect(status).toBe(1);
    const ranked = document.ties.map(({ probability }) => probability);
    expect(ranked).toEqual(ranked.toSorted((a, b) => b - a));
    expect(document.ties[0]!.position).toBeDefined();
    // The ten likeliest explanations by ties are listed; with all of them it would be one.
    expect(sum).toBeGreaterThan(0.7);
    expect(sum).toBeLessThanOrEqual(1 + 1e-9);
  });

  test("what nothing explains is said to be so", async () => {
    expect((await trial("--reading", "4.4kN", "--pitch", "30deg")).document.misfit.strange).toBe(true);
  });
});

test("the demo's rig keeps the shape that an editor sees, and reads", () => {
  rigFileDocument.parse(parse(RIG));
  expect("file" in openRig(join(root, "demo/pump.rig.yaml"))).toBe(true);
});

// Owns the tests of what changes are called in the language of the page.

import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { ImprovedChange } from "../../plan/index.ts";
import { readVehicle } from "../../vehicle/index.ts";
import { Figures } from "../sheet/figures.ts";
import { improve as de } from "../words/de/improve.ts";
import { improve as en } from "../words/en/improve.ts";
import { sayChange } from "./change-words.ts";

const text = readFileSync(new URL("../../../demo/bench-pump.vehicle.yaml", import.meta.url), "utf8");
const { vehicle } = readVehicle("bench-pump.vehicle.yaml", () => text);
if (vehicle === undefined) throw new Error("the demo does not read");
const figures = new Figures({ language: "en", units: "si", light: "auto" });

const change = (rule: ImprovedChange["rule"], part: Partial<ImprovedChange>): ImprovedChange => ({
  id: rule,
  label: "as the engine says",
  rule,
  why: "",
  steps: [],
  ways: [],
  spare: [],
  people: 0,
  tools: [],
  labour: 1,
  elapsed: 1,
  p95: { value: 1, error: 0 },
  jobs: [],
  ...part,
});

const off = { off: 0.5, on: 1 };

describe("a change", () => {
  it.each([
    [change("quick coupling", { steps: [{ of: "suction-hose", ...off }] }), "Suction hose at the pump"],
    [change("captive bolts", { steps: [{ of: "guard-screws", times: 0.52 }] }), "Screws of the coupling guard"],
    [change("special tool", { steps: [{ of: "coupling", times: 0.6 }] }), "Clamp screws of the shaft coupling"],
    [change("access hatch", { ways: [{ of: "coupling", label: "", ...off }] }), "Clamp screws of the shaft coupling"],
    [
      change("breaks at the edge", { ways: [{ of: "suction-hose", label: "", at: "near", ...off }] }),
      "Suction hose at the pump",
    ],
    [change("one person more", { people: 1 }), ""],
    [change("one tool more", { tools: ["hexagon key 6"] }), "hexagon key 6"],
    [change("nothing to drain", { spare: ["drain-oil"] }), "Drain the tank below the suction port"],
    [change("yours", {}), "as the engine says"],
  ])("is named by what it is of, and its rule in the page's words: $rule", (one, of) => {
    const [said, auf] = [sayChange(one, vehicle, en, figures), sayChange(one, vehicle, de, figures)];
    expect(said.of).toBe(of);
    expect(said.rule).toBe(en.rules[one.rule]);
    expect(auf.rule).toBe(de.rules[one.rule]);
    expect(auf.why).not.toBe(said.why);
    expect(said.why).not.toMatch(/undefined|NaN/);
  });
});

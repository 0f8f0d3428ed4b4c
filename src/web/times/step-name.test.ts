// Owns the tests of what steps are called in the language of the page.

import { describe, expect, it } from "vitest";
import { times as de } from "../words/de/times.ts";
import { stepName } from "./step-name.ts";

describe("a step's name", () => {
  it.each([
    ["Bolts of the flange, back on", "Bolts of the flange, Einbau"],
    ["Drain the tank, waiting", "Drain the tank, Wartezeit"],
    ["Raise on stands, time 2", "Raise on stands, 2. Mal"],
    ["Look once more (3 ties)", "Look once more (3 Verbindungen)"],
    ["Hose, back on [back:hose]", "Hose, Einbau [back:hose]"],
    ["Bring back on the road", "Bring back on the road"],
  ])("%s", (label, said) => expect(stepName(label, de)).toBe(said));
});

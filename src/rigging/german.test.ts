// What the room says in German: its own words for every remark and for every source of the built-in tables.

import { expect, test } from "vitest";
import { GERMAN } from "./german.ts";
import { ENGLISH, inEnglish, type Remark, sayRemarks, type Writing } from "./remark.ts";
import { sourceInGerman } from "./source-in-german.ts";

const WRITING: Writing = {
  force: (newtons) => `${newtons} N`,
  angle: (degrees) => `${degrees}°`,
  length: (metres) => `${metres} m`,
  short: (metres) => `${metres} m`,
  mass: (kilograms) => `${kilograms} kg`,
  number: String,
};

test("a check's figures in either language, with the reader's units and the source in his words", () => {
  const remarks: readonly Remark[] = [
    { is: "legs carry", force: 3000, carrying: 2, of: 4, angle: 60, computed: 2500 },
    { is: "factor", factor: 1.1, source: "the rig file", assumed: false },
    { is: "against", value: 3300, kilograms: 300, share: 1, limit: 2942 },
    { is: "none found above", force: 2900 },
  ];
  expect(inEnglish(...remarks)).toBe(
    "3.00 kN: two of 4 legs carry all, at 60.0° from the horizontal (computed 2.50 kN) × 1.1 (the rig file) = 3.30 kN against 300 kg = 2.94 kN; no case was found above 2.90 kN, and none is excluded",
  );
  expect(sayRemarks(GERMAN, remarks, WRITING)).toBe(
    "3000 N: zwei von 4 Strängen tragen alles, 60° zur Waagrechten (gerechnet 2500 N) × 1.1 (die Anschlagdatei) = 3300 N gegen 300 kg = 2942 N; über 2900 N wurde kein Fall gefunden, ausgeschlossen ist keiner",
  );
  for (const saying of [ENGLISH, GERMAN])
    expect(sayRemarks(saying, remarks, WRITING)).not.toMatch(/\bsafe|secure|sicher\b/i);
});

test("a source of two is said piece by piece; a file's own stays", () => {
  expect(sourceInGerman("EN 818-4 load table")).toBe("EN 818-4, Tragfähigkeitstabelle");
  expect(sourceInGerman("plate; the maker's rating for every direction")).toBe(
    "plate; Angabe des Herstellers für jede Richtung",
  );
});

test("a load that tips is never said to have room, nor a beam that turns over to be so many metres too high", () => {
  for (const saying of [ENGLISH, GERMAN]) {
    const said = (margin: number) => sayRemarks(saying, [{ is: "higher", margin }], WRITING);
    expect(said(-0.2)).toMatch(/ 0\.2 m (too high|zu hoch)/);
    expect(said(Number.NEGATIVE_INFINITY)).not.toMatch(/Infinity|[0-9]/);
  }
});

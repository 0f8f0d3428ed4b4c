// What the room says in German: its own words for every remark and for every source of the built-in tables.

import { expect, test } from "vitest";
import { ENGLISH, inEnglish } from "./english.ts";
import { GERMAN } from "./german.ts";
import { type Refusal, type Refused, type Refusing, sayRefusal } from "./refusal.ts";
import { REFUSED_IN_ENGLISH } from "./refused-in-english.ts";
import { REFUSED_IN_GERMAN } from "./refused-in-german.ts";
import { type Remark, type Said, sayRemarks, type Writing } from "./remark.ts";
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

/** One of each name: a name that is new has none here, and nothing compiles until it has. */
const ONE_OF_EACH: { readonly [K in keyof Said]: Said[K] } = {
  pull: { force: 1, over: "the range" },
  "legs carry": { force: 1, carrying: 2, of: 4, angle: 60, computed: 1 },
  "on the hook": { force: 1 },
  "below the beam": { force: 1 },
  "on the hoist": { force: 1, tackle: 1, beam: 1 },
  "at rest": { force: 1 },
  pad: { force: 1, most: 1, over: "the range" },
  factor: { factor: 1, source: "the rig file", assumed: true },
  "from the axis": { angle: 1 },
  against: { value: 1, kilograms: 1, share: 0.5, limit: 1 },
  "against its rating": { kilograms: 1, limit: 1 },
  "none found above": { force: 1 },
  "side pull": { angle: 1 },
  reduced: { why: "choked" },
  "no such angle": { rule: "axial only" },
  "along the axis": {},
  lean: { angle: 1, least: 1, low: 1 },
  "none found below": { angle: 1 },
  "face unknown": {},
  "out of plane": { angle: 1, most: 1 },
  "may be slack": { over: "the range" },
  higher: { margin: 1 },
  inside: { margin: 1, least: 1 },
  "nothing keeps it": {},
  "mend limit": { from: "the tag" },
  "mend rule": {},
  "mend gear": {},
  "mend lean": {},
  "mend axis": {},
  "mend face": {},
  "mend plane": {},
  "mend hoist": { factor: 1 },
  "mend slowly": { factor: 1 },
  "mend tipping": { isBeam: true },
  "mend pad": {},
  "mend table": {},
  "mend stand": {},
  massless: { parts: ["A"] },
  placeless: { parts: ["A"] },
  "centre within": { length: 1 },
  "eye table": { eye: "A", kilograms: 1, source: "the rig file" },
  "leg left off": { leg: "x", eye: "y", part: "z" },
  "leg stiff": { leg: "A" },
  "leg stretch": { leg: "A", source: "the rig file" },
  "leg tenth": { leg: "A" },
  "leg table": { leg: "A", kilograms: 1, source: "the rig file" },
  "leg made": { leg: "A", length: 1 },
  "straight up": { length: 1 },
  chances: { seen: 0.01, hidden: 0.03, unknown: 0.02, standing: 0.04 },
  "below the cell": { mass: 1 },
  "stiffness by kind": {},
  "taken off": { force: 1, isBeam: true },
  tips: {},
  "tips somewhere": {},
  "many take-ups": { able: 5, most: 4 },
  "no take-up": {},
  "last point": { point: "A" },
  "no reading": {},
  "would not hang": {},
  "still on its feet": { rise: 0.003, force: 1, off: 0.02 },
  "more than on its feet": { rise: 0.003, read: 2000, most: 1000 },
  "no load on the cell": { read: 1, tackle: 2 },
  "mend reading": {},
  "left on": { part: "A" },
  "not drained": { fluid: "A", mass: 1 },
};

/** And of each refusal. */
const REFUSED: { readonly [K in keyof Refused]: Refused[K] } = {
  "no figure": { value: Number.NaN },
  "not positive": { value: -1, unit: "kg" },
  "may be nothing": { value: -1, unit: "kg" },
  "not between": { value: 1, low: 2, high: 3, unit: "kg" },
  "no tolerance": { value: -1 },
  "out by its length": { within: 2, length: 1 },
  "outside the outline": { axis: "x", value: 1, low: 2, high: 3 },
  "span misses": { from: "A", to: "B", said: 3, follows: 1 },
  "length misses": { leg: "A", said: 5, follows: 1, across: 2, height: 3, angle: 60 },
  "id twice": { id: "A" },
  "unknown id": { id: "A" },
  "no lower end": { id: "A" },
  "no upper end": { id: "A" },
  "both ends on the beam": {},
  "no point of the beam": { id: "A" },
  "beam on nothing": {},
  "no hook": {},
  "too many hooks": { hooks: ["A", "B", "C"] },
  "hook without a place": {},
  "hook without a leg": {},
  "load without a leg": {},
  "no such take-up": { taken: 3, most: 2, step: 1 },
  "all taken up": {},
  "does not span": { other: "A", reach: 1, span: 2, from: "B", to: "C" },
  "no common hook": { legs: ["A", "B"] },
  "does not reach": { legs: ["A", "B"] },
  "no rest": {},
  overstretched: { made: 1, reach: 2, tension: 3 },
  "curve out of order": {},
  "beyond its reach": { reach: 3, from: 1, to: 2 },
  "no legs": {},
  "no leg on it": { eyes: ["A"] },
  "no centre": { parts: ["A"] },
  "no place of an eye": {},
  "no such hoist": { hoist: "A" },
  "more beams": { beams: ["A", "B"] },
  "hoist and hooks": { hooks: ["A"] },
  "pin and hooks": { hooks: ["A"] },
  "no such leg": { leg: "A", known: ["B"], near: "B" },
  "no such eye": { eye: "A", known: ["B"] },
  "stays behind": { eye: "A", part: "B", task: "C" },
  "unread length": { what: "A", mend: "B" },
};

test("every remark and every refusal is said in German with the same figures, and in no English words", () => {
  const figuresOf = (text: string) => text.match(/\d+/g)?.sort() ?? [];
  const pairs = [
    ...Object.entries(ONE_OF_EACH).map(([is, values]) => {
      const remark = { is, ...values } as Remark;
      return [sayRemarks(ENGLISH, [remark], WRITING), sayRemarks(GERMAN, [remark], WRITING)] as const;
    }),
    ...Object.entries(REFUSED).map(([is, values]) => {
      const refusal = { is, ...values } as Refusal;
      const whole = (refusing: Refusing) => Object.values(sayRefusal(refusing, refusal, WRITING)).join(". ");
      return [whole(REFUSED_IN_ENGLISH), whole(REFUSED_IN_GERMAN)] as const;
    }),
  ];
  expect(pairs.filter(([english, german]) => figuresOf(german).join() !== figuresOf(english).join())).toEqual([]);
  expect(pairs.filter(([, german]) => /\b(?:the|is|of|with|leg|load)\b/.test(german))).toEqual([]);
  expect(pairs.flat().filter((said) => said.includes("undefined"))).toEqual([]);
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

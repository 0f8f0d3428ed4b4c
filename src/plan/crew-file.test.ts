// The crew file: what it says, when people are there by it, and every fault at its place.
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { sentence } from "../vehicle/index.ts";
import { crewSchema, readCrew } from "./crew-file.ts";
import { spellsOf } from "./days.ts";

const head = "format: unmoor-crew/1\n";
const faultsOf = (text: string) => readCrew("shop.crew.yaml", text).faults.map(sentence);
const crewFrom = (text: string) => {
  const { crew, faults } = readCrew("shop.crew.yaml", head + text);
  if (crew === undefined) throw new Error(faults.map(sentence).join("\n"));
  return crew;
};

describe("what it says", () => {
  test("the demo's crew: three people, a lunch break, two pans", () => {
    const { crew, faults } = readCrew(
      "demo/shop.crew.yaml",
      readFileSync(new URL("../../demo/shop.crew.yaml", import.meta.url), "utf8"),
    );
    expect(faults).toEqual([]);
    expect(crew?.people.map(({ label, skills }) => [label, skills])).toEqual([
      ["Dora", ["fitter", "rigger"]],
      ["Emil", ["fitter"]],
      ["Frida", ["electrician", "refrigerant"]],
    ]);
    expect(crew?.note).toContain("Invented");
    expect(crew?.tools.get("drain pan 20 L")).toBe(2);
  });

  test("people alone: always there, at the usual pace", () => {
    const crew = crewFrom("people: { ada: {} }");
    expect(crew.people).toEqual([{ id: "ada", label: "Ada", skills: [] }]);
    expect(crew.begins).toBeUndefined();
    expect(crew.going).toEqual({ speed: 60, settle: 0.5, climb: 0.5 });
  });

  test("the order begins with the first shift where it does not say", () => {
    expect(crewFrom("people: { ada: { shift: 8:00-12:00 }, ben: { shift: 6:30-14:00 } }").begins).toBe(390);
  });

  test("the pace in its own units", () => {
    const { going } = crewFrom("people: { ada: {} }\ngoing: { walk: 50 m, settle: 45 s, climb: 1 min }");
    expect(going).toEqual({ speed: 50, settle: 0.75, climb: 1 });
  });
});

test("a break written the wrong way round is none of a whole day", () => {
  const [fault, ...others] = faultsOf(`${head}breaks: [12:30-12:00]\npeople: { ada: {} }`);
  expect(fault).toMatch(/breaks is "12:30-12:00", and a break of less than half a day is wanted/);
  expect(others).toEqual([]);
  // A night shift has one over midnight.
  expect(faultsOf(`${head}shift: 20:00-4:00\nbreaks: [23:45-0:15]\npeople: { ada: {} }`)).toEqual([]);
});

describe("when people are there, in minutes from the beginning", () => {
  const spells = (text: string, work = 100) => {
    const crew = crewFrom(text);
    return crew.people.map((person) => spellsOf(crew, person, work));
  };

  test("a shift with its break, the next day again", () => {
    const [ada] = spells("begins: 8:00\nshift: 7:00-16:00\nbreaks: [12:00-12:30]\npeople: { ada: {} }");
    expect(ada?.slice(0, 3)).toEqual([
      { from: 0, until: 240 },
      { from: 270, until: 480 },
      { from: 1380, until: 1680 },
    ]);
  });

  test("a night shift goes on after midnight, its break too", () => {
    const [ada] = spells("begins: 22:00\nshift: 22:00-6:00\nbreaks: [2:00-2:30]\npeople: { ada: {} }");
    expect(ada?.slice(0, 2)).toEqual([
      { from: 0, until: 240 },
      { from: 270, until: 480 },
    ]);
  });

  test("round the clock is one spell", () => {
    const [ada] = spells("shift: 0:00-24:00\npeople: { ada: {} }");
    expect(ada).toHaveLength(1);
  });

  test("days enough for the work, done by whoever is there least", () => {
    const [ada, ben] = spells("begins: 8:00\npeople: { ada: { shift: 8:00-10:00 }, ben: { shift: 8:00-16:00 } }", 600);
    expect((ada?.length ?? 0) * 120).toBeGreaterThanOrEqual(600);
    expect(ben?.length).toBe(ada?.length);
  });

  test("who has no shift is always there", () => {
    expect(spells("people: { ada: {} }")).toEqual([undefined]);
  });
});

describe("faults, each with its place and its mend", () => {
  test.each([
    ["no format", "people: { ada: {} }", /has no format/],
    ["another format", "format: unmoor/1\npeople: { ada: {} }", /1:9 .*format is "unmoor\/1"/],
    ["nobody", head, /has no people/],
    ["a key misspelt", `${head}people:\n  ada: { skils: [rigger] }`, /3:10 .*skils[\s\S]*Nearest: skills/],
    ["no span", `${head}shift: 7.30-16:00\npeople: { ada: {} }`, /2:8 .*"7\.30-16:00"[\s\S]*7:30-16:00/],
    ["a day of 26 hours", `${head}shift: 7:30-26:00\npeople: { ada: {} }`, /2:8 /],
    ["a time that is none", `${head}begins: 7:61\npeople: { ada: {} }`, /2:9 .*"7:61"/],
    ["a count in words", `${head}people: { ada: {} }\ntools: [{ tool: jack, count: two }]`, /3:30 .*"two"/],
    ["a pace without a unit", `${head}people: { ada: {} }\ngoing: { walk: 60 }`, /3:16 .*no unit/],
    ["no YAML", `${head}people: [`, /not YAML/],
    ["an empty file", "", /left empty|format/],
  ])("%s", (_, text, message) => {
    expect(faultsOf(text).join("\n")).toMatch(message);
  });

  test("all of them at once", () => {
    expect(faultsOf(`${head}shift: 7\nbreaks: [8]\npeople: { ada: { skils: x } }`)).toHaveLength(3);
  });
});

test("the published schema names every key with what it means", () => {
  const properties = crewSchema().properties;
  expect(Object.keys(properties as object)).toEqual([
    "format",
    "note",
    "begins",
    "shift",
    "breaks",
    "people",
    "tools",
    "systems",
    "going",
  ]);
});

describe("docs/crew-file.md", () => {
  const page = readFileSync(new URL("../../docs/crew-file.md", import.meta.url), "utf8");

  test("its whole file reads without a fault", () => {
    const [, whole] = /```yaml\n([\s\S]*?)```/.exec(page) ?? [];
    const { crew, faults } = readCrew("page.crew.yaml", whole ?? "");
    expect(faults.map(sentence)).toEqual([]);
    expect(crew?.people.map(({ days }) => days?.shift.from)).toEqual([450, 600, 450]);
  });

  test("explains every key, and says which must be", () => {
    const rows = new Map([...page.matchAll(/^\| `([^`]+)`( \*must\*)? \|/gm)].map(([, key, must]) => [key, must]));
    const { properties, required } = crewSchema() as unknown as {
      readonly properties: object;
      readonly required: readonly string[];
    };
    for (const key of Object.keys(properties)) expect([key, rows.has(key)]).toEqual([key, true]);
    for (const key of Object.keys(properties))
      expect([key, rows.get(key) !== undefined]).toEqual([key, required.includes(key)]);
  });
});

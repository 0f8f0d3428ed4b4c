// Where in the file the cursor `|` stands, in texts that are whole, half typed and in both styles.
import { describe, expect, test } from "vitest";
import { whereAt } from "./where.ts";

const at = (text: string) => {
  const offset = text.indexOf("|");
  const whole = text.slice(0, offset) + text.slice(offset + 1);
  const lines = whole.split("\n");
  const n = text.slice(0, offset).split("\n").length - 1;
  const column = offset - (text.lastIndexOf("\n", offset - 1) + 1);
  const where = whereAt({ count: lines.length, line: (one) => lines[one] ?? "" }, n, column);
  return where === undefined ? undefined : `${where.path.join(".")} ${where.wants} ${where.word}`;
};

describe("in block style", () => {
  test.each([
    ["at the top", "format: unmoor/1\npar|", " key par"],
    ["a key in a thing", "parts:\n  pump:\n    ma|", "parts.pump key ma"],
    ["a value", "connections:\n  bolts:\n    kind: ho|", "connections.bolts.kind value ho"],
    ["on an empty line, by its columns", "parts:\n  pump:\n    mass: 4 kg\n    |", "parts.pump key "],
    ["further left again", "parts:\n  pump:\n    mass: 4 kg\n  |", "parts key "],
    ["an item of a list", "first:\n  - batt|", "first.- value batt"],
    ["a list no further in than its key", "jobs:\n  a:\n    needs:\n    - sl|", "jobs.a.needs.- value sl"],
    [
      "a key of an item",
      "connections:\n  b:\n    release:\n      - at: side\n        ti|",
      "connections.b.release.- key ti",
    ],
    [
      "the first key of an item",
      "connections:\n  b:\n    release:\n      - at: si|",
      "connections.b.release.-.at value si",
    ],
    ["over comments and empty lines", "parts:\n\n# here\n  pump:\n\n    # and here\n    ma|", "parts.pump key ma"],
    ["past other things", "parts:\n  a: { mass: 1 kg }\n  b:\n    centre: [0 m, 0 m, 0 m]\n    ma|", "parts.b key ma"],
  ])("%s", (_, text, said) => expect(at(text)).toBe(said));
});

describe("in brackets", () => {
  test.each([
    ["a key", "parts:\n  pump: { ma|", "parts.pump key ma"],
    ["a key after another", "parts:\n  pump: { mass: 4 kg, ce| }", "parts.pump key ce"],
    ["a value", "connections:\n  a: { joins: [pump, frame], kind: ho|", "connections.a.kind value ho"],
    ["an item", "connections:\n  a: { joins: [pump, fr|", "connections.a.joins.- value fr"],
    ["a need within a need", "jobs:\n  a: { needs: [any: [sl|", "jobs.a.needs.-.any.- value sl"],
    ["after a need is closed", "jobs:\n  a: { needs: [any: [a, b], ou|", "jobs.a.needs.- value ou"],
    [
      "over several lines",
      "connections:\n  a:\n    release: [\n      { at: side,\n        ti|",
      "connections.a.release.- key ti",
    ],
    [
      "in an item of a list",
      "connections:\n  a:\n    release:\n      - { at: side, ne|",
      "connections.a.release.- key ne",
    ],
    [
      "in an item of a list, a value",
      "connections:\n  a:\n    release:\n      - { at: si|",
      "connections.a.release.-.at value si",
    ],
    ["past quotes with brackets in them", 'parts:\n  a: { label: "x ] }, y", ma|', "parts.a key ma"],
    ["at the top of the file", "limits: { ha|", "limits key ha"],
    ["after brackets that were closed", "parts:\n  a: { mass: 1 kg }\n  b|", "parts key b"],
  ])("%s", (_, text, said) => expect(at(text)).toBe(said));
});

test("in a comment nothing is wanted", () => {
  expect(at("parts: # ma|")).toBeUndefined();
  expect(at("# par|")).toBeUndefined();
});

test("keys that are there already are known, above and below, and in brackets", () => {
  const present = (text: string) => {
    const offset = text.indexOf("|");
    const lines = text.replace("|", "").split("\n");
    const n = text.slice(0, offset).split("\n").length - 1;
    return whereAt(
      { count: lines.length, line: (one) => lines[one] ?? "" },
      n,
      offset - (text.lastIndexOf("\n", offset - 1) + 1),
    )?.present;
  };
  expect(present("parts:\n  a:\n    mass: 1 kg\n    |\n    note: x\n  b:\n    centre: x")).toEqual(["mass", "note"]);
  expect(present("parts:\n  a: { mass: 1 kg, |")).toEqual(["mass"]);
});

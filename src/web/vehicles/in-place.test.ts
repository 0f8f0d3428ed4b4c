// Where the editor underlines what the reader found.
import { expect, test } from "vitest";
import { readVehicle } from "../../vehicle/index.ts";
import { markFaults, offsetOf, stretchOf } from "./in-place.ts";

const cut = (text: string, column: number) => {
  const [from, to] = stretchOf({ from: 0, text }, column);
  return text.slice(from, to);
};

test("a word, a value in quotes, a figure is marked as a whole", () => {
  expect(cut("  needs: [gearbox-jak, sling]", 11)).toBe("gearbox-jak");
  expect(cut('  label: "Hose, left" # why', 10)).toBe('"Hose, left"');
  expect(cut("  time: 12", 9)).toBe("12");
});

test("of something in brackets the key is marked", () => {
  expect(cut("  pump: { mass: 40 kg }", 9)).toBe("pump");
  expect(cut("  - { at: side }", 5)).toBe("{");
});

test("where nothing stands the character before it is marked", () => {
  expect(cut("  time:", 8)).toBe(":");
});

test("a column is counted in characters, an offset in code units", () => {
  expect(offsetOf("😀: x", 3)).toBe(3);
  expect(cut("  😀: wrong", 6)).toBe("wrong");
});

test("what the reader found is marked where it stands", () => {
  const text = "format: unmoor/1\nvehicle: { name: Rig }\nparts: { frame: { fixed: perhaps } }\n";
  const lines = text.split("\n");
  const { faults } = readVehicle("rig.vehicle.yaml", () => text);
  let from = 0;
  const starts = lines.map((line) => {
    const own = { from, text: line };
    from += line.length + 1;
    return own;
  });
  const marked = markFaults(faults, "rig.vehicle.yaml", (line) => starts[line - 1]);
  expect(marked.map(({ from: a, to, fault }) => [text.slice(a, to), fault.rule])).toContainEqual([
    "perhaps",
    "not-a-flag",
  ]);
  expect(markFaults(faults, "another.yaml", (line) => starts[line - 1])).toEqual([]);
});

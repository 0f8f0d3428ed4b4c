import { expect, test } from "vitest";
import { connection, frame, part, vehicle } from "../../test/small-vehicle.ts";
import { drawCut } from "./drawing.ts";
import { PLAIN } from "./terminal.ts";

const UNIT = vehicle({
  parts: [frame(), part("unit", 100), part("pump", 10), part("cover", 1), part("tank", 5)],
  connections: [
    connection("left-mount", ["unit", "frame"], "mount", []),
    connection("right-mount", ["unit", "frame"], "mount", []),
    connection("earth-cable", ["unit", "frame"], "cable", []),
    connection("flange", ["pump", "unit"], "flange", []),
    connection("screws", ["cover", "frame"], "cover fixing", []),
    connection("hose", ["tank", "unit"], "hose", []),
    connection("foot", ["tank", "frame"], "bracket", []),
  ],
});

test("each pair of parts with its ties before and after, then what hangs together at the end", () => {
  const cut = {
    already: [],
    released: ["screws", "left-mount", "right-mount", "earth-cable", "hose"],
    lifted: ["unit", "pump"],
    setAside: ["cover"],
    hung: [],
  };
  expect(drawCut(UNIT, cut, PLAIN, 100).split("\n")).toEqual([
    "The cut: what goes up, and what it was tied to (═ bears weight, ─ does not, ╳ parted; ties before → after)",
    "  The unit ══╳══ The frame (3 → 0): left-mount, right-mount, earth-cable",
    "  The unit ──╳── The tank (1 → 0): hose",
    "",
    "Parted as well, to get there or for the job",
    "  The cover ──╳── The frame (1 → 0): screws",
    "",
    "At the end",
    "  went up         The unit, The pump",
    "  set aside       The cover",
    "  on the vehicle  The frame, The tank",
  ]);
});

test("a tie that stays between two parts is counted and not crossed out; what was released before is not drawn", () => {
  const cut = { already: ["earth-cable"], released: ["left-mount"], lifted: [], setAside: [], hung: [] };
  const lines = drawCut(UNIT, cut, PLAIN, 100).split("\n");
  expect(lines[0]).toMatch(/^What is parted/);
  expect(lines[1]).toBe("  The unit ═════ The frame (2 → 1): left-mount");
});

test("a part hung aside stands by itself, and long lines are broken between names", () => {
  const cut = { already: [], released: ["flange"], lifted: [], setAside: [], hung: ["pump"] };
  const lines = drawCut(UNIT, cut, PLAIN, 60).split("\n");
  expect(lines).toContain("  hung aside      The pump");
  expect(Math.max(...lines.slice(1).map((line) => line.length))).toBeLessThanOrEqual(60);
});

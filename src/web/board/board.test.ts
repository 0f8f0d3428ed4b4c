// What the board says blocks a run: the gate that is ahead, on the way out the lift's, on the way back the start-up's.
import { expect, test } from "vitest";
import { blocksOf, gateAhead } from "./blocks.ts";
import type { OnBoard } from "./news.ts";

const gate = (name: "lift" | "start-up", missing: number, lift?: string) => ({
  gate: name,
  ...(lift === undefined ? {} : { lift }),
  open: missing === 0,
  provisional: false,
  missing: Array.from({ length: missing }, (_, n) => ({
    rule: "L1",
    about: `${n}`,
    label: `hose ${n}`,
    what: "",
    phrase: [],
    who: [],
  })),
  looked: [],
  phrases: [],
});

const onBoard = (tied: readonly string[], back: number, gates: OnBoard["gates"]): OnBoard => ({
  gates,
  standing: {
    lifts: [{ task: "lift", label: "Lift", tied: [...tied], cut: 3 }],
    back,
    contradictions: [],
    findings: [
      { entry: "1", by: "emil", what: "seized", text: "", state: "open" },
      { entry: "2", by: "emil", what: "seized", text: "", state: "closed" },
    ],
  } as unknown as OnBoard["standing"],
});

test("on the way out it is the gate of a lift whose cut still ties, on the way back the start-up's; an open one blocks nothing", () => {
  const gates = [gate("lift", 2, "lift"), gate("start-up", 5)];
  expect(gateAhead(onBoard(["a"], 0, gates))?.gate).toBe("lift");
  expect(gateAhead(onBoard([], 0, gates))).toBeUndefined();
  expect(gateAhead(onBoard(["a"], 2, gates))?.gate).toBe("start-up");
  expect(gateAhead(onBoard([], 3, [gate("lift", 2, "lift"), gate("start-up", 0)]))).toBeUndefined();
});

test("findings that were dealt with block nothing", () => {
  expect(blocksOf(onBoard([], 0, [])).findings).toBe(1);
});

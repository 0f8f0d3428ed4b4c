import { describe, expect, it } from "vitest";
import { type Reading, readRcp, readSm } from "./psplib.ts";

// Of our own making: 1 and 5 frame it; 2 and 3 are both before 4.
const SM = `************************************************************************
jobs (incl. supersource/sink ):  5
horizon                       :  9
RESOURCES
  - renewable                 :  2   R
  - nonrenewable              :  0   N
  - doubly constrained        :  0   D
************************************************************************
PRECEDENCE RELATIONS:
jobnr.    #modes  #successors   successors
   1        1          2           2   3
   2        1          1           4
   3        1          1           4
   4        1          1           5
   5        1          0
************************************************************************
REQUESTS/DURATIONS:
jobnr. mode duration  R 1  R 2
------------------------------------------------------------------------
  1      1     0       0    0
  2      1     2       3    0
  3      1     3       2    1
  4      1     4       0    1
  5      1     0       0    0
************************************************************************
RESOURCEAVAILABILITIES:
  R 1  R 2
    4    1
************************************************************************
`;

const RCP = `5 2
4 1

0 0 0 2 2 3
2 3 0 1 4
3 2 1 1
4
4 0 1 1 5
0 0 0 0
`;

const faultOf = (reading: Reading): { line: number; what: string } | undefined =>
  "faults" in reading ? reading.faults[0] : undefined;

describe("published project files", () => {
  it("become tasks that use stocks, without what only frames the project", () => {
    const reading = readSm(SM);
    expect(reading).toMatchObject({
      problem: {
        stocks: [
          { id: "R1", count: 4 },
          { id: "R2", count: 1 },
        ],
        tasks: [
          { id: "2", minutes: 2, uses: [{ stock: "R1", count: 3 }], after: [] },
          {
            id: "3",
            minutes: 3,
            uses: [
              { stock: "R1", count: 2 },
              { stock: "R2", count: 1 },
            ],
            after: [],
          },
          { id: "4", minutes: 4, uses: [{ stock: "R2", count: 1 }], after: [{ task: "2" }, { task: "3" }] },
        ],
      },
    });
  });

  it("say the same in either format, however the lines are broken", () => {
    expect(readRcp(RCP)).toEqual(readSm(SM));
  });

  it.each([
    ["a text that ends early", SM.slice(0, SM.indexOf("RESOURCEAVAIL")), "no section RESOURCEAVAILABILITIES"],
    ["a word where a figure belongs", SM.replace("  3      1     3 ", "  3      1     x "), 'the duration of 3 is "x"'],
    ["a successor that is not there", SM.replace("           4\n", "           9\n"), "activity 2 is followed by 9"],
    [
      "more modes than one",
      SM.replace("   3        1          1", "   3        2          1"),
      "the number of modes is 2",
    ],
    ["more than there is", SM.replace("    4    1\n", "    2    1\n"), "activity 2 uses 3 of R1"],
    ["resources that are used up", SM.replace("0   N", "2   N"), "resources that are used up"],
  ])("are refused with the line for %s", (_, text, what) => {
    expect(faultOf(readSm(text))).toMatchObject({ what });
  });

  it("name the line of what is wrong", () => {
    expect(faultOf(readSm(SM.replace("  3      1     3 ", "  3      1     x ")))?.line).toBe(22);
    expect(faultOf(readRcp(`${RCP}7\n`))).toMatchObject({ line: 10, what: '"7" after the last figure' });
    expect(faultOf(readRcp("2 1\n1\n1 1 0\n"))).toMatchObject({
      what: "the text ends before the duration of activity 2",
    });
  });
});

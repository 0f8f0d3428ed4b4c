// Minutes from place to place: hand work, and that no way round is shorter.
import { describe, expect, test } from "vitest";
import { metres } from "../quantity/index.ts";
import type { Position } from "../vehicle/index.ts";
import { USUAL_GOING } from "./crew.ts";
import { waysBetween } from "./going.ts";

const position = (id: string, at?: readonly [number, number, number]): Position => ({
  id,
  label: id,
  people: 1,
  needs: [],
  without: [],
  ...(at === undefined ? {} : { at: [metres(at[0]), metres(at[1]), metres(at[2])] as const }),
});

describe("ways", () => {
  test("30 m at 60 m/min and half a minute to settle: one minute", () => {
    const ways = waysBetween([position("a", [0, 0, 1]), position("b", [18, 24, 1])], USUAL_GOING);
    expect(ways).toEqual([
      [0, 1],
      [1, 0],
    ]);
  });

  test("getting under takes half a minute more, either way", () => {
    const ways = waysBetween([position("a", [0, 0, 1]), position("under", [0, 0, 0.2])], USUAL_GOING);
    expect(ways[0]?.[1]).toBe(1);
    expect(ways[1]?.[0]).toBe(1);
  });

  test("without coordinates it is the settling alone", () => {
    expect(waysBetween([position("a"), position("b", [50, 0, 1])], USUAL_GOING)[0]?.[1]).toBe(0.5);
  });

  test("no way round is shorter than the direct one", () => {
    const places = Array.from({ length: 9 }, (_, index) =>
      position(`p${index}`, index % 4 === 3 ? undefined : [(index * 7) % 11, (index * 5) % 13, (index % 3) * 0.9]),
    );
    const ways = waysBetween(places, { speed: 7, settle: 0.5, climb: 1.5 });
    for (const [from, row] of ways.entries())
      for (const [to, direct] of row.entries())
        for (const [middle, first] of row.entries())
          expect(direct, `${from} ${to}`).toBeLessThanOrEqual(first + (ways[middle]?.[to] ?? 0));
  });
});

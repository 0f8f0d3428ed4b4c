// Owns the checks of the left-over ranking: small jobs worked by hand, exact chances against plain enumeration, names and faults.

import { describe, expect, it } from "vitest";
import type { Bag } from "./bag.ts";
import { type LeftoverQuestion, rankLeftover } from "./leftover.ts";
import { CHANCES, ways } from "./omission.ts";
import { gridOf, posterior } from "./posterior.ts";

const bag = (connection: string, items: Bag["items"], rest: Partial<Bag> = {}): Bag => ({
  connection,
  items,
  open: true,
  ...rest,
});
const ranked = (question: LeftoverQuestion) => {
  const answer = rankLeftover(question);
  if ("faults" in answer) throw new Error(answer.faults.map(({ what }) => what).join("; "));
  return answer.answer;
};
const faults = (question: LeftoverQuestion) => {
  const answer = rankLeftover(question);
  return "faults" in answer ? answer.faults : [];
};
const names = (question: LeftoverQuestion): string[] => ranked(question).suspects.map(({ connection }) => connection);
const M8 = "bolt M8×25";

describe("three M8×25 left", () => {
  const left = [{ item: "M8×25", count: 3 }];

  it("are of the only bag that holds such", () => {
    const { suspects } = ranked({
      bags: [bag("cover", [{ item: M8, count: 6 }]), bag("guard", [{ item: "bolt M6×16", count: 4 }])],
      left,
    });
    expect(suspects[0]).toMatchObject({ connection: "cover", lacks: [{ item: "M8×25", count: 3 }] });
    expect(suspects[0]?.chance).toBeGreaterThan(0.7);
    expect(suspects.map(({ connection }) => connection)).not.toContain("guard");
  });

  it("are rather of an open bag than of a closed one, of an unmarked joint, of a hidden one", () => {
    const six = [{ item: M8, count: 6 }];
    expect(names({ bags: [bag("closed", six, { open: false }), bag("open", six)], left })[0]).toBe("open");
    expect(names({ bags: [bag("marked", six, { marked: true }), bag("bare", six, { marked: false })], left })[0]).toBe(
      "bare",
    );
    expect(names({ bags: [bag("seen", six), bag("hidden", six, { hidden: true })], left })[0]).toBe("hidden");
  });

  it("are rather the whole of three than half of six", () => {
    expect(
      names({ bags: [bag("six", [{ item: M8, count: 6 }]), bag("three", [{ item: M8, count: 3 }])], left })[0],
    ).toBe("three");
  });

  it("are of the bag whose count in falls short by three", () => {
    const bags = [
      bag("full", [{ item: M8, count: 6, in: 6 }]),
      bag("short", [{ item: M8, count: 6, in: 3 }], { open: false }),
      bag("unknown", [{ item: M8, count: 6 }]),
    ];
    expect(names({ bags, left })[0]).toBe("short");
  });

  it("cannot be of a bag that held two", () => {
    const { suspects } = ranked({
      bags: [bag("two", [{ item: M8, count: 2 }]), bag("four", [{ item: M8, count: 4 }])],
      left,
    });
    expect(suspects[0]?.connection).toBe("four");
    // It may be short all the same, with one of the four or a stray beside; by itself it does not make three.
    expect(suspects.find(({ connection }) => connection === "two")?.chance ?? 0).toBeLessThan(0.25);
  });
});

describe("pieces that belong together", () => {
  it("point to the joint that has them all", () => {
    const set = [
      { item: M8, count: 4 },
      { item: "nut M8", count: 4 },
      { item: "washer 8", count: 8 },
    ];
    const { suspects } = ranked({
      bags: [bag("bolts", [{ item: M8, count: 4 }]), bag("set", set), bag("nuts", [{ item: "nut M8", count: 4 }])],
      left: [
        { item: M8, count: 1 },
        { item: "nut M8", count: 1 },
        { item: "washer 8", count: 2 },
      ],
    });
    expect(suspects[0]).toMatchObject({
      connection: "set",
      lacks: [
        { item: M8, count: 1 },
        { item: "nut M8", count: 1 },
        { item: "washer 8", count: 2 },
      ],
    });
    expect(suspects[0]?.chance).toBeGreaterThan(0.9);
  });
});

describe("pieces that changed bags", () => {
  const long = bag("long", [{ item: "bolt M8×30", count: 4, in: 4 }], { open: false, place: "left" });
  const short = bag("short", [{ item: M8, count: 4 }], { place: "left" });

  it("are thought of when the bag they are of was counted in full: the other of the same thread is short", () => {
    const { suspects } = ranked({ bags: [long, short], left: [{ item: "bolt M8×30", count: 1 }] });
    const one = suspects.find(({ connection }) => connection === "short");
    expect(one).toMatchObject({ swappedWith: "long", lacks: [{ item: M8, count: 1 }] });
    expect(one?.chance).toBeGreaterThan(0.005);
  });

  it("are not, where the bags stand in different places or the threads differ", () => {
    const elsewhere = { ...short, place: "right" };
    expect(names({ bags: [long, elsewhere], left: [{ item: "bolt M8×30", count: 1 }] })).not.toContain("short");
    const finer = bag("fine", [{ item: "bolt M8×1×25", count: 4 }], { place: "left" });
    expect(names({ bags: [long, finer], left: [{ item: "bolt M8×30", count: 1 }] })).not.toContain("fine");
  });
});

describe("the chances", () => {
  it("are those of trying every combination of every bag's ways", () => {
    const bags = [
      bag(
        "a",
        [
          { item: M8, count: 3 },
          { item: "washer 8", count: 3 },
        ],
        { place: "left" },
      ),
      bag("b", [{ item: M8, count: 2 }], { open: false, place: "left" }),
      bag("c", [{ item: "washer 8", count: 4 }], { marked: true }),
      bag("d", [{ item: "bolt M8×40", count: 2 }], { place: "left" }),
    ];
    const grid = gridOf([
      { name: M8, items: new Set([M8]), count: 2 },
      { name: "washer 8", items: new Set(["washer 8"]), count: 1 },
    ]);
    const draws = ways(bags, grid.items, CHANCES);
    const { chanceOf, stray } = posterior(draws, grid, CHANCES);

    const strays = [2, 1].map((count, kind) => ({
      none: 1 - CHANCES.stray,
      ways: Array.from({ length: count }, (_, i) => ({
        take: [0, 1].map((j) => (j === kind ? i + 1 : 0)),
        chance: CHANCES.stray * (1 - CHANCES.further) * CHANCES.further ** i,
      })),
    }));
    const sources = [...draws, ...strays];
    const sums = sources.map(({ ways: each }) => each.map(() => 0));
    let total = 0;
    let strayed = 0;
    const choose = (i: number, take: readonly number[], chance: number, chosen: readonly number[]): void => {
      if (take.some((count, k) => count > (grid.found[k] as number))) return;
      if (i === sources.length) {
        if (take.some((count, k) => count !== grid.found[k])) return;
        total += chance;
        if (chosen.slice(draws.length).some((way) => way >= 0)) strayed += chance;
        for (const [source, way] of chosen.entries()) {
          const row = sums[source] as number[];
          if (way >= 0) row[way] = (row[way] as number) + chance;
        }
        return;
      }
      const source = sources[i] as (typeof sources)[number];
      choose(i + 1, take, chance * source.none, [...chosen, -1]);
      for (const [j, way] of source.ways.entries())
        choose(
          i + 1,
          take.map((count, k) => count + (way.take[k] as number)),
          chance * way.chance,
          [...chosen, j],
        );
    };
    choose(0, [0, 0], 1, []);
    for (const [i, row] of chanceOf.entries())
      for (const [j, chance] of row.entries()) expect(chance).toBeCloseTo((sums[i]?.[j] as number) / total, 12);
    expect(stray).toBeCloseTo(strayed / total, 12);
  });

  it("rise for every bag of the item when a stray is thought less likely", () => {
    const question = { bags: [bag("a", [{ item: M8, count: 4 }])], left: [{ item: M8, count: 1 }] };
    const usual = ranked(question).suspects[0]?.chance ?? 0;
    const never = ranked({ ...question, chances: { stray: 0 } });
    expect(never.suspects[0]?.chance).toBeCloseTo(1, 12);
    expect(never.stray).toBe(0);
    expect(usual).toBeLessThan(1);
  });

  it("are the same whatever the order of the bags", () => {
    const bags = ["a", "b", "c", "d"].map((name, i) => bag(name, [{ item: M8, count: 2 + i }], { hidden: i === 2 }));
    const left = [{ item: M8, count: 2 }];
    const there = ranked({ bags, left }).suspects;
    const back = ranked({ bags: [...bags].reverse(), left }).suspects;
    for (const one of there)
      expect(back.find(({ connection }) => connection === one.connection)?.chance).toBeCloseTo(one.chance, 12);
  });
});

describe("what is left", () => {
  it("and was in no bag is named, and accuses nobody", () => {
    const { suspects, unknown } = ranked({
      bags: [bag("a", [{ item: M8, count: 4 }])],
      left: [{ item: "bolt M12×60", count: 1 }],
    });
    expect(unknown).toEqual(["bolt M12×60"]);
    expect(suspects).toEqual([]);
  });

  it("is known by its spelling in another hand", () => {
    for (const item of ["Bolt M8x25", "bolt  m8 × 25", "M8x25", "M8×1.25×25"])
      expect(names({ bags: [bag("a", [{ item: M8, count: 4 }])], left: [{ item, count: 1 }] }), item).toEqual(["a"]);
    expect(
      ranked({ bags: [bag("a", [{ item: M8, count: 4 }])], left: [{ item: "nut M8", count: 1 }] }).unknown,
    ).toEqual(["nut M8"]);
  });

  it("is nothing: nobody is suspected", () => {
    expect(names({ bags: [bag("a", [{ item: M8, count: 4 }])], left: [] })).toEqual([]);
    expect(names({ bags: [bag("a", [{ item: M8, count: 4 }])], left: [{ item: M8, count: 0 }] })).toEqual([]);
  });

  it("is a heap: forty pieces of eight kinds are still answered", () => {
    const kinds = Array.from({ length: 8 }, (_, i) => ({ item: `bolt M6×${10 + 2 * i}`, count: 5 }));
    const { suspects } = ranked({
      bags: [bag("all", kinds), ...kinds.map((kind, i) => bag(`b${i}`, [kind]))],
      left: kinds,
    });
    expect(suspects.length).toBeGreaterThan(0);
  });
});

describe("a question without an answer", () => {
  it("has a negative count, more in than out, or a bag twice", () => {
    expect(faults({ bags: [], left: [{ item: M8, count: -3 }] })).toMatchObject([
      { rule: "not-a-count", at: "left/bolt M8×25" },
    ]);
    expect(
      faults({
        bags: [bag("a", [{ item: M8, count: 4, in: 5 }]), bag("a", [{ item: M8, count: 1.5 }])],
        left: [],
      }).map(({ rule }) => rule),
    ).toEqual(["more-in-than-out", "id-twice", "not-a-count"]);
  });
});

describe("the habits of the shop", () => {
  const bags = (openOthers: boolean): Bag[] => [
    { connection: "closed", items: [{ item: "bolt M8×25", count: 4 }], open: false },
    { connection: "open", items: [{ item: "bolt M8×25", count: 4 }], open: true },
    ...Array.from({ length: 60 }, (_, i) => ({
      connection: `other-${i}`,
      items: [{ item: "screw M6×12", count: 4 }],
      open: openOthers,
    })),
  ];
  const chanceOf = (id: string, openOthers: boolean): number => {
    const answer = rankLeftover({ bags: bags(openOthers), left: [{ item: "bolt M8×25", count: 1 }] });
    if ("faults" in answer) throw new Error("no answer");
    return answer.answer.suspects.find(({ connection }) => connection === id)?.chance ?? 0;
  };
  it("tell what an open bag means: much where the others are closed, little where all stand open", () => {
    expect(chanceOf("open", false)).toBeGreaterThan(10 * chanceOf("closed", false));
    expect(chanceOf("open", true)).toBeGreaterThan(chanceOf("closed", true));
    expect(chanceOf("open", false) / chanceOf("closed", false)).toBeGreaterThan(
      2 * (chanceOf("open", true) / chanceOf("closed", true)),
    );
  });
});

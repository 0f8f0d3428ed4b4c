// Owns the checks of the kit: what comes out and goes in, what is new, what is put in for the job, the storeman's list, stand-by and transfer.

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Hardware, type KitStep, makeKit, readCounted } from "./kit.ts";
import { assumeFindings, type Finding, rankStandBy } from "./stand-by.ts";
import { listTransfer } from "./transfer.ts";

const step = (number: number, kind: KitStep["kind"], id: string, rest: Partial<KitStep> = {}): KitStep => ({
  number,
  kind,
  id,
  label: id,
  tools: [],
  hardware: [],
  fresh: [],
  plugsIn: [],
  plugsOut: [],
  putIn: [],
  takeOut: [],
  drained: [],
  consumables: [],
  ...rest,
});
const again = (item: string, count: number): Hardware => ({ item, count, reuse: true });
const once = (item: string, count: number): Hardware => ({ item, count, reuse: false });

/** A small job: two hoses and a joint come off, a strap holds a part, everything goes back. */
const JOB: readonly KitStep[] = [
  step(1, "other", "strap", { putIn: [{ item: "strap 25 mm", count: 1 }], tools: ["socket 13"], position: "Left" }),
  step(2, "release", "hose-1", {
    hardware: [again("hose clamp 16-27", 1)],
    plugsIn: [{ item: "plug 16 mm", count: 1 }],
    drained: [{ fluid: "coolant", litres: 0.4 }],
    tools: ["pliers"],
    position: "Left",
  }),
  step(3, "release", "hose-2", {
    hardware: [again("hose clamp 16-27", 1)],
    plugsIn: [
      { item: "plug 16 mm", count: 1 },
      { item: "plug 6 mm", count: 1 },
    ],
    drained: [{ fluid: "coolant", litres: 0.2 }, { fluid: "oil" }],
    tools: ["pliers", "socket 13"],
    position: "Under",
  }),
  step(4, "release", "joint", { hardware: [again("bolt M10×45", 8), once("lock nut M10", 8)], position: "Under" }),
  step(5, "refit", "joint", {
    hardware: [again("bolt M10×45", 8), once("lock nut M10", 8)],
    fresh: ["O-ring 17×3", "O-ring 17×3", "2 × seal 32"],
    consumables: [
      { item: "thread-lock", amount: { value: 0.002, unit: "L" } },
      { item: "thread-lock" },
      { item: "paint marker" },
    ],
  }),
  step(6, "refit", "hose-2", {
    hardware: [again("hose clamp 16-27", 1)],
    plugsOut: [
      { item: "plug 16 mm", count: 1 },
      { item: "plug 6 mm", count: 1 },
    ],
  }),
  step(7, "refit", "hose-1", {
    hardware: [again("hose clamp 16-27", 1)],
    plugsOut: [{ item: "plug 16 mm", count: 1 }],
  }),
  step(8, "other", "strap", { takeOut: [{ item: "strap 25 mm", count: 1 }] }),
];

describe("the bags", () => {
  const { bags, uneven } = makeKit({ steps: JOB });

  it("are one for each connection that something comes out of, in the order they are filled, with the step they are emptied at", () => {
    expect(
      bags.map(({ connection, out, in: back, again: reuse, scrap }) => [connection, out, back, reuse, scrap]),
    ).toEqual([
      ["hose-1", 2, 7, 1, 0],
      ["hose-2", 3, 6, 1, 0],
      ["joint", 4, 5, 8, 8],
    ]);
  });

  it("come out even when everything goes back", () => expect(uneven).toEqual([]));

  it("say what comes out and never goes in, and what goes in and never came out", () => {
    const steps = [
      step(1, "release", "a", { hardware: [again("bolt M8×25", 4), once("washer 8", 4)] }),
      step(2, "refit", "b", { hardware: [again("bolt M6×16", 3), once("nut M6", 3)] }),
    ];
    expect(makeKit({ steps }).uneven).toEqual([
      { what: "goes in and never came out", item: "bolt M6×16", count: 3, at: "b", step: 2 },
      { what: "comes out and never goes in", item: "bolt M8×25", count: 4, at: "a", step: 1 },
    ]);
  });
});

describe("new parts", () => {
  it("are what the file names and the hardware that is used once, each counted once", () => {
    expect(makeKit({ steps: JOB }).newParts).toEqual([
      { item: "lock nut M10", count: 8, steps: [5] },
      { item: "O-ring 17×3", count: 2, steps: [5] },
      { item: "seal 32", count: 2, steps: [5] },
    ]);
  });

  it("named both ways are taken at the greater number", () => {
    const hardware = [once("bolt M12×90", 4)];
    const parts = (fresh: string[]) => makeKit({ steps: [step(1, "refit", "a", { hardware, fresh })] }).newParts;
    expect(parts(["bolt M12×90 10.9"])).toEqual([{ item: "bolt M12×90 10.9", count: 4, steps: [1] }]);
    expect(parts(["6 × bolt M12×90"])).toEqual([{ item: "bolt M12×90", count: 6, steps: [1] }]);
    expect(parts(["bolt M12×900"]).map(({ item }) => item)).toEqual(["bolt M12×90", "bolt M12×900"]);
  });

  it("of a release are none: it is the refit that wants them", () => {
    expect(
      makeKit({ steps: [step(1, "release", "a", { hardware: [once("seal 16", 1)], fresh: ["x"] })] }).newParts,
    ).toEqual([]);
  });

  it.each([
    ["2 × seal 16", "seal 16", 2],
    ["seal 16", "seal 16", 1],
    ["lock nut M10 4 off", "lock nut M10", 4],
    ["bolt M14×50 8.8 2 off", "bolt M14×50 8.8", 2],
    ["bolt M10×45", "bolt M10×45", 1],
    ["12x washer 8", "washer 8", 12],
    ["12x8 washer", "12x8 washer", 1],
    ["12 x washer 8", "washer 8", 12],
  ])("%s is %s, %i of it", (text, item, count) => expect(readCounted(text)).toEqual({ item, count }));
});

describe("what is usually new", () => {
  const refit = (hardware: Hardware[], fresh: string[] = []) =>
    makeKit({ steps: [step(1, "release", "a", { hardware }), step(2, "refit", "a", { hardware, fresh })] }).usuallyNew;

  it("is named where the file uses it again: locknuts, split pins, seals", () => {
    expect(
      refit([again("bolt M8×25", 4), again("lock nut M8", 4), again("split pin 4", 1), again("copper washer 14", 2)]),
    ).toEqual([
      { item: "lock nut M8", count: 4, at: "a", step: 2 },
      { item: "split pin 4", count: 1, at: "a", step: 2 },
      { item: "copper washer 14", count: 2, at: "a", step: 2 },
    ]);
  });

  it("is not, where the file has it new already", () => {
    expect(refit([once("lock nut M8", 4)])).toEqual([]);
    expect(refit([again("lock nut M8", 4)], ["lock nut M8 4 off"])).toEqual([]);
  });
});

describe("plugs and what is put in for the job", () => {
  it("are as many as are in at once, by size", () => {
    expect(makeKit({ steps: JOB }).plugs).toEqual([
      { item: "plug 6 mm", count: 1, steps: [3] },
      { item: "plug 16 mm", count: 2, steps: [2, 3] },
    ]);
    const turns = [
      step(1, "release", "a", { plugsIn: [{ item: "plug 16 mm", count: 1 }] }),
      step(2, "refit", "a", { plugsOut: [{ item: "plug 16 mm", count: 1 }] }),
      step(3, "release", "b", { plugsIn: [{ item: "plug 16 mm", count: 1 }] }),
      step(4, "refit", "b", { plugsOut: [{ item: "plug 16 mm", count: 1 }] }),
    ];
    expect(makeKit({ steps: turns }).plugs).toEqual([{ item: "plug 16 mm", count: 1, steps: [1, 3] }]);
  });

  it("that stay in are named with their place", () => {
    const { uneven } = makeKit({ steps: JOB.slice(0, -1) });
    expect(uneven).toEqual([
      { what: "put in and never taken out", item: "strap 25 mm", count: 1, at: "strap", step: 1 },
    ]);
  });

  it("come out even for any job whose way back mirrors its way out", () => {
    const thing = fc.record({
      item: fc.constantFrom("plug 6 mm", "plug 16 mm", "cap M18"),
      count: fc.integer({ min: 1, max: 4 }),
    });
    const bolts = fc.record({
      item: fc.constantFrom("bolt M6×16", "bolt M8×25"),
      count: fc.integer({ min: 1, max: 9 }),
      reuse: fc.boolean(),
    });
    fc.assert(
      fc.property(
        fc.array(
          fc.record({
            plugs: fc.array(thing, { maxLength: 3 }),
            hardware: fc.uniqueArray(bolts, { maxLength: 2, selector: ({ item }) => item }),
          }),
          { maxLength: 8 },
        ),
        (list) => {
          const out = list.map(({ plugs, hardware }, i) =>
            step(i + 1, "release", `c${i}`, { plugsIn: plugs, hardware }),
          );
          const back = list
            .map(({ plugs, hardware }, i) => step(2 * list.length - i, "refit", `c${i}`, { plugsOut: plugs, hardware }))
            .reverse();
          const kit = makeKit({ steps: [...out, ...back] });
          expect(kit.uneven).toEqual([]);
          // Everything is in at once at the turn.
          const all = list.flatMap(({ plugs }) => plugs).reduce((sum, { count }) => sum + count, 0);
          expect(kit.plugs.reduce((sum, { count }) => sum + count, 0)).toBe(all);
        },
      ),
    );
  });
});

describe("fluids", () => {
  it("are what runs out, by kind, with the places where nobody says how much", () => {
    expect(makeKit({ steps: JOB }).fluids).toEqual([
      { fluid: "coolant", litres: 0.6, unstated: [] },
      { fluid: "oil", litres: 0, unstated: ["hose-2"] },
    ]);
  });
});

describe("the lists of the storeman", () => {
  it("lay tools by the position where they are used", () => {
    expect(makeKit({ steps: JOB }).tools).toEqual([
      {
        position: "Left",
        tools: [
          { tool: "pliers", steps: [2] },
          { tool: "socket 13", steps: [1] },
        ],
      },
      {
        position: "Under",
        tools: [
          { tool: "pliers", steps: [3] },
          { tool: "socket 13", steps: [3] },
        ],
      },
    ]);
  });

  it("name like things together, a small size before a large one, each with the step that wants it first", () => {
    expect(makeKit({ steps: JOB }).picking.map(({ kind, item, count, first }) => [kind, item, count, first])).toEqual([
      ["tool", "pliers", 1, 2],
      ["tool", "socket 13", 1, 1],
      ["plug", "plug 6 mm", 1, 3],
      ["plug", "plug 16 mm", 2, 2],
      ["put in for the job", "strap 25 mm", 1, 1],
      ["new part", "lock nut M10", 8, 5],
      ["new part", "O-ring 17×3", 2, 5],
      ["new part", "seal 32", 2, 5],
      ["fluid", "coolant", 0.6, 2],
      ["consumable", "paint marker", 1, 5],
      ["consumable", "thread-lock", 0.002, 5],
    ]);
  });

  it("go by the shelves where they are known, and the rest after", () => {
    const shelves = new Map([
      ["seal 32", "A2"],
      ["pliers", "A10"],
      ["strap 25 mm", "B1"],
    ]);
    const picking = makeKit({ steps: JOB, shelfOf: (item) => shelves.get(item) }).picking;
    expect(picking.slice(0, 4).map(({ item, shelf }) => [item, shelf])).toEqual([
      ["seal 32", "A2"],
      ["pliers", "A10"],
      ["strap 25 mm", "B1"],
      ["socket 13", undefined],
    ]);
    expect(picking).toHaveLength(11);
  });

  it("say how many lie there, where that is known", () => {
    const picking = makeKit({ steps: JOB, stockOf: (item) => (item === "seal 32" ? 1 : undefined) }).picking;
    expect(
      picking.filter(({ stock }) => stock !== undefined).map(({ item, count, stock }) => [item, count, stock]),
    ).toEqual([["seal 32", 2, 1]]);
  });

  it("of what is used up give the sum, and the steps that take as much as they need", () => {
    expect(makeKit({ steps: JOB }).consumables).toEqual([
      { item: "paint marker", asNeeded: [5], steps: [5] },
      { item: "thread-lock", amount: { value: 0.002, unit: "L" }, asNeeded: [5], steps: [5] },
    ]);
  });

  it("of no steps are empty", () => {
    const kit = makeKit({ steps: [] });
    for (const list of Object.values(kit)) expect(list).toEqual([]);
  });
});

describe("the stand-by list", () => {
  const findings: Finding[] = [
    { item: "stud M10", finding: "sheared", at: "a", chance: 0.1, delay: 200, price: 4 },
    { item: "stud M10", finding: "sheared", at: "b", chance: 0.2, delay: 100 },
    { item: "seal 32", finding: "hard", at: "c", chance: 0.5, delay: 30, price: 20 },
  ];
  const ranked = (rate?: number) => {
    const answer = rankStandBy(findings, rate);
    return "answer" in answer ? answer.answer : [];
  };

  it("ranks by chance × delay × cost of a minute, findings of one thing together", () => {
    // 1 − 0.9·0.8 = 0.28, × 200 min = 56; 0.5 × 30 = 15.
    expect(ranked().map(({ item, saves }) => [item, Number(saves.toFixed(9))])).toEqual([
      ["stud M10", 56],
      ["seal 32", 15],
    ]);
    expect(ranked()[0]?.for.map(({ at }) => at)).toEqual(["b", "a"]);
  });

  it("says whether the thing saves more than it costs, where its price is known", () => {
    expect(ranked(1).map(({ worth }) => worth)).toEqual([true, false]);
    expect(ranked(2).map(({ worth }) => worth)).toEqual([true, true]);
  });

  it("can be had from the hardware: studs and threads, spent locknuts, spoilt clamps", () => {
    const found = assumeFindings([
      {
        connection: "a",
        items: [
          { item: "bolt M10×45", count: 8 },
          { item: "lock nut M10", count: 8 },
        ],
      },
      { connection: "b", items: [{ item: "hose clamp 16-27", count: 1 }] },
    ]);
    expect(found.map(({ item, finding }) => [item, finding])).toEqual([
      ["bolt M10×45", "sheared or seized"],
      ["tap and thread inserts M10×1.5", "thread torn"],
      ["lock nut M10", "locks no more"],
      ["hose clamp 16-27", "spoilt"],
    ]);
    expect(found[0]?.chance).toBeCloseTo(1 - 0.996 ** 8, 12);
    // What comes new anyway need not stand by.
    const renewed = assumeFindings([{ connection: "a", items: [once("bolt M10×45", 8), once("lock nut M10", 8)] }]);
    expect(renewed.map(({ item }) => item)).toEqual(["tap and thread inserts M10×1.5"]);
  });

  it("refuses a chance above one and a price below nothing, all at once", () => {
    const answer = rankStandBy([{ item: "x", finding: "y", at: "z", chance: 1.2, delay: -3, price: -1 }], -1);
    expect("faults" in answer && answer.faults.map(({ rule, at }) => [rule, at])).toEqual([
      ["not-a-share", "x"],
      ["below-nothing", "x"],
      ["below-nothing", "x"],
      ["below-nothing", "rate"],
    ]);
  });
});

describe("the transfer list of a swap", () => {
  it("gives each part its ties once, its seals counted and its settings", () => {
    const tie = (connection: string, joins: string[]) => ({
      connection,
      label: connection,
      joins,
      hardware: [again("bolt M8×25", 3)],
    });
    const list = listTransfer({
      parts: [
        { id: "pump", label: "Pump" },
        { id: "bracket", label: "Bracket" },
      ],
      ties: [
        {
          ...tie("pump-bolts", ["pump", "bracket"]),
          fresh: ["O-ring 17×3", "O-ring 17×3"],
          keep: "shims with their side",
          torque: 22,
        },
        { ...tie("bracket-bolts", ["bracket", "engine"]), fresh: [], mark: "upper edge", check: "belt in line" },
        { ...tie("other", ["engine", "gearbox"]), fresh: ["seal 9"] },
      ],
    });
    expect(list).toMatchObject([
      {
        part: "pump",
        ties: [{ connection: "pump-bolts", torque: 22 }],
        fresh: [{ item: "O-ring 17×3", count: 2 }],
        settings: ["pump-bolts: keep shims with their side"],
      },
      {
        part: "bracket",
        ties: [{ connection: "bracket-bolts" }],
        fresh: [],
        settings: ["bracket-bolts: mark upper edge", "bracket-bolts: check belt in line"],
      },
    ]);
  });
});

// Owns the checks of patterns: published sequences, the laws every order keeps, the passes, the picture.

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { newtonMetres } from "../quantity/index.ts";
import { settle } from "./interaction.ts";
import { type Bolt, centreOf, type Layout, layOut, shapeOf } from "./layout.ts";
import { layPattern, type Pattern, type PatternQuestion } from "./pattern.ts";
import { drawPattern } from "./picture.ts";
import { crossOrder } from "./sequence.ts";

const pattern = (question: PatternQuestion): Pattern => {
  const answer = layPattern(question);
  if ("faults" in answer) throw new Error(answer.faults.map(({ what }) => what).join("; "));
  return answer.answer;
};
const faults = (question: PatternQuestion) => {
  const answer = layPattern(question);
  return "faults" in answer ? answer.faults : [];
};
const order = (layout: Layout): string => pattern({ layout }).order.join(" ");
const byId = ({ bolts }: Pattern) => new Map(bolts.map((bolt) => [bolt.id, bolt]));
const inOrder = (one: Pattern): Bolt[] => one.order.map((id) => byId(one).get(id) as Bolt);
const apart = (a: Bolt, b: Bolt): number => Math.hypot(a.x - b.x, a.y - b.y);
/** The widest stretch of the circle without a bolt, radians. */
const widestGap = (bolts: readonly Bolt[]): number => {
  const angles = bolts.map(({ x, y }) => Math.atan2(y, x)).sort((a, b) => a - b);
  return Math.max(...angles.map((angle, i) => (angles[i + 1] ?? (angles[0] as number) + 2 * Math.PI) - angle));
};

describe("a published sequence", () => {
  // ASME PCC-1 cross pattern, bolts numbered clockwise. 12 from a published text, the others from memory of the same table.
  it.each([
    [4, "1 3 2 4"],
    [8, "1 5 3 7 2 6 4 8"],
    [12, "1 7 4 10 2 8 5 11 3 9 6 12"],
    [16, "1 9 5 13 3 11 7 15 2 10 6 14 4 12 8 16"],
    [20, "1 11 6 16 3 13 8 18 5 15 10 20 2 12 7 17 4 14 9 19"],
    [24, "1 13 7 19 4 16 10 22 2 14 8 20 5 17 11 23 3 15 9 21 6 18 12 24"],
    // Common practice.
    [5, "1 3 5 2 4"],
    [6, "1 4 2 5 3 6"],
  ])("of %i bolts on a circle is %s", (circle, expected) => {
    expect(order({ circle })).toBe(expected);
  });

  it("of a head of 2 × 5 goes from the middle to the ends, side by side", () => {
    expect(order({ rows: 2, columns: 5 })).toBe("A3 B3 A4 B4 B2 A2 A5 B5 B1 A1");
  });
});

describe("every circle from 2 to 48", () => {
  for (let n = 2; n <= 48; n++) {
    it(`of ${n}: each once, the second farthest from the first, no half circle empty after four`, () => {
      const one = pattern({ layout: { circle: n } });
      expect(new Set(one.order).size).toBe(n);
      const bolts = inOrder(one);
      const [first, second] = bolts as [Bolt, Bolt];
      expect(apart(first, second)).toBeCloseTo(Math.max(...bolts.map((bolt) => apart(first, bolt))), 9);
      if (n >= 4) expect(widestGap(bolts.slice(0, 4))).toBeLessThan(Math.PI * (n === 4 ? 0.51 : 0.999));
    });
  }

  it("keeps the clamp balanced: after each quad of 4q bolts the centroid is the centre", () => {
    for (const n of [4, 8, 12, 16, 20, 24, 28, 32]) {
      const bolts = inOrder(pattern({ layout: { circle: n } }));
      for (let k = 4; k <= n; k += 4) {
        const { x, y } = centreOf(bolts.slice(0, k));
        expect(Math.hypot(x, y)).toBeLessThan(1e-12);
      }
    }
  });

  it("is a permutation by its places too", () => {
    for (let n = 1; n <= 60; n++)
      expect([...crossOrder(n)].sort((a, b) => a - b)).toEqual(Array.from({ length: n }, (_, i) => i));
  });
});

describe("the same circle", () => {
  it("in any order and from any start angle is tightened the same way round", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 3, max: 20 }),
        fc.double({ min: -7, max: 7, noNaN: true }),
        fc.double({ min: 0.005, max: 3, noNaN: true }),
        fc.infiniteStream(fc.nat()),
        (n, start, radius, keys) => {
          const shuffle = Array.from({ length: n }, (_, i) => ({ i, key: keys.next().value as number }));
          shuffle.sort((a, b) => a.key - b.key || a.i - b.i);
          const bolts = shuffle.map(({ i }) => {
            const angle = start + (2 * Math.PI * i) / n;
            return { id: String(i), x: 4 + radius * Math.sin(angle), y: -1 + radius * Math.cos(angle) };
          });
          const one = pattern({ layout: { bolts } });
          expect(one.style).toBe("cross");
          // ids are clockwise places: relative to the first they are the places of the plain circle.
          const first = Number(one.order[0]);
          expect(one.order.map((id) => (Number(id) - first + n) % n)).toEqual(crossOrder(n));
        },
      ),
      { numRuns: 300 },
    );
  });
});

describe("a rectangle and a line", () => {
  const layouts: Layout[] = [
    ...[2, 3, 4].flatMap((rows) => [3, 4, 5, 6, 7].map((columns) => ({ rows, columns }))),
    ...[3, 4, 7, 10].map((line) => ({ line })),
    { rows: 5, columns: 8, hollow: true },
  ];

  it.each(layouts)("%j is tightened outwards: the distance from the middle never falls", (layout) => {
    const one = pattern({ layout });
    const bolts = inOrder(one);
    const centre = centreOf(bolts);
    const far = bolts.map(({ x, y }) => Math.hypot(x - centre.x, y - centre.y));
    // A square of 3 × 3 or more has a ring of equals that counts as any other.
    expect(one.style).toBe("centre outwards");
    for (let i = 1; i < far.length; i++) expect(far[i]).toBeGreaterThan((far[i - 1] as number) - 1e-9);
    expect(new Set(one.order).size).toBe(bolts.length);
  });

  it("within a ring goes across the long or the short axis, from bolt to bolt", () => {
    for (const layout of layouts) {
      const bolts = inOrder(pattern({ layout }));
      const centre = centreOf(bolts);
      for (let i = 1; i < bolts.length; i++) {
        const [a, b] = [bolts[i - 1] as Bolt, bolts[i] as Bolt];
        const [ax, ay, bx, by] = [a.x - centre.x, a.y - centre.y, b.x - centre.x, b.y - centre.y];
        // Bolts whose coordinates differ in their signs alone are of one ring.
        if (Math.abs(Math.abs(ax) - Math.abs(bx)) > 1e-9 || Math.abs(Math.abs(ay) - Math.abs(by)) > 1e-9) continue;
        expect(Math.abs(ax - bx) < 1e-9 || Math.abs(ay - by) < 1e-9).toBe(true);
      }
    }
  });

  it("is loosened the other way round, the ends first", () => {
    const { order, loosening } = pattern({ layout: { rows: 2, columns: 5 } });
    expect(loosening).toEqual([...order].reverse());
    expect(["A1", "A5", "B1", "B5"]).toContain(loosening[0]);
  });

  it("turned by any angle is tightened the same but for where it begins", () => {
    const laid = layOut({ rows: 2, columns: 5 });
    const bolts = "answer" in laid ? laid.answer : [];
    for (const turn of [0.3, 1.1, 2.5]) {
      const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
      const turned = bolts.map(({ id, x, y }) => ({ id, x: x * cos - y * sin, y: x * sin + y * cos }));
      const one = pattern({ layout: { bolts: turned } });
      expect(one.style).toBe("centre outwards");
      expect(new Set(one.order.slice(0, 2))).toEqual(new Set(["A3", "B3"]));
      expect(new Set(one.order.slice(6))).toEqual(new Set(["A1", "B1", "A5", "B5"]));
    }
  });

  it("of four corners is tightened across", () => {
    expect(order({ rows: 2, columns: 2 })).toBe("A2 B1 B2 A1");
  });
});

describe("an uneven layout", () => {
  // A cover with a lobe, by its drawing, mm.
  const lobe: Layout = {
    bolts: [
      [0, 60],
      [45, 50],
      [80, 10],
      [60, -40],
      [10, -55],
      [-40, -45],
      [-55, 0],
      [-35, 40],
    ].map(([x, y], i) => ({ id: `c${i + 1}`, x: (x as number) / 1000, y: (y as number) / 1000 })),
  };

  it("keeps the centroid of the clamp nearest the centre at every step, by trying every other bolt", () => {
    const random: Layout[] = Array.from({ length: 20 }, (_, seed) => ({
      bolts: Array.from({ length: 5 + (seed % 9) }, (_, i) => {
        // Any scattered numbers will do; these repeat from run to run.
        const t = Math.sin((seed + 1) * 91.7 + i * 37.3) * 1000;
        const s = Math.sin((seed + 1) * 17.1 + i * 71.9) * 1000;
        return { id: `b${i}`, x: t - Math.floor(t), y: s - Math.floor(s) };
      }),
    }));
    for (const layout of [lobe, ...random]) {
      const one = pattern({ layout });
      expect(one.style).toBe("balanced");
      const bolts = inOrder(one);
      const centre = centreOf(bolts);
      const off = (some: readonly Bolt[]): number => {
        const { x, y } = centreOf(some);
        return Math.hypot(x - centre.x, y - centre.y);
      };
      for (let k = 0; k < bolts.length; k++) {
        const done = bolts.slice(0, k);
        const least = Math.min(...bolts.slice(k).map((next) => off([...done, next])));
        expect(off(bolts.slice(0, k + 1))).toBeLessThan(least + 1e-6);
      }
    }
  });

  it("is what it is: uneven, symmetric or an even circle, with a hole a little off its place", () => {
    const bolts = (layout: Layout) => {
      const laid = layOut(layout);
      return "answer" in laid ? laid.answer : [];
    };
    const nudged = bolts({ circle: 8 }).map((bolt, i) => (i === 3 ? { ...bolt, x: bolt.x + 0.0005 } : bolt));
    expect(shapeOf(nudged)).toBe("even circle");
    expect(shapeOf(bolts({ rows: 3, columns: 4 }))).toBe("symmetric");
    expect(shapeOf(bolts(lobe))).toBe("uneven");
    expect(shapeOf(bolts({ circle: 8 }).filter((_, i) => i !== 2))).toBe("uneven");
  });
});

describe("the passes", () => {
  it("are by hand, 30, 60 and 100 %, and round, with their torques", () => {
    const { passes } = pattern({ layout: { circle: 6 }, torque: newtonMetres(80) });
    expect(passes.map(({ by, torque }) => [by, torque])).toEqual([
      ["hand", undefined],
      ["torque", 24],
      ["torque", 48],
      ["torque", 80],
      ["round", 80],
    ]);
    expect(passes.at(-1)?.order).toEqual(["1", "2", "3", "4", "5", "6"]);
  });

  it("end with the angle where one follows, without a round at torque", () => {
    const { passes } = pattern({ layout: { rows: 2, columns: 5 }, shares: [0.5, 1], turns: [60, 80] });
    expect(passes.map(({ by, degrees }) => [by, degrees])).toEqual([
      ["hand", undefined],
      ["torque", undefined],
      ["torque", undefined],
      ["angle", 60],
      ["angle", 80],
    ]);
  });

  it("of one bolt have no round", () => {
    expect(pattern({ layout: { circle: 1 } }).passes.map(({ by }) => by)).not.toContain("round");
  });
});

describe("a pattern without an answer", () => {
  it.each([
    [{ layout: { circle: 0 } }, "circle", "not-a-count"],
    [{ layout: { circle: -4 } }, "circle", "not-a-count"],
    [{ layout: { line: 2.5 } }, "line", "not-a-count"],
    [{ layout: { rows: 30, columns: 30 } }, "rectangle", "not-a-count"],
    [{ layout: { bolts: [] } }, "layout", "empty-layout"],
    [{ layout: { circle: 4 }, shares: [0.6, 0.3, 1] }, "shares", "not-a-share"],
    [{ layout: { circle: 4 }, shares: [] }, "shares", "not-a-share"],
    [{ layout: { circle: 4 }, torque: newtonMetres(-1) }, "torque", "not-positive"],
    [{ layout: { circle: 4 }, turns: [0] }, "turns/1", "not-positive"],
    [{ layout: { circle: 4 }, turns: [90], round: true }, "round", "two-aims"],
  ] satisfies [PatternQuestion, string, string][])("%j is a fault at %s", (question, at, rule) => {
    expect(faults(question)).toMatchObject([{ at, rule }]);
  });

  it("tells of two bolts at one place, and of an id that is there twice", () => {
    const bolts = [
      { id: "a", x: 0, y: 0 },
      { id: "b", x: 0.01, y: 0 },
      { id: "a", x: 0.02, y: 0 },
      { id: "c", x: 0.01, y: 0 },
    ];
    expect(faults({ layout: { bolts } })).toMatchObject([
      { rule: "id-twice", at: "bolts/3" },
      { rule: "same-place", at: "bolts/4", values: { other: "b" } },
    ]);
  });
});

describe("a bolt slackens its neighbours", () => {
  // Four bolts, each rise takes a tenth from either neighbour; worked by hand beforehand.
  const neighbours = (one: number, other: number): number => ((one - other + 4) % 4 === 2 ? 0 : 0.1);

  it("and three passes in a cross bring them back within 0.04 %", () => {
    const after = settle(crossOrder(4), 10_000, neighbours, 3);
    const close = [
      [8000, 10000, 8000, 10000],
      [9920, 10000, 9920, 10000],
      [9996.8, 10000, 9996.8, 10000],
    ];
    for (const [i, loads] of close.entries())
      for (const [j, load] of loads.entries()) expect(after[i]?.[j]).toBeCloseTo(load, 6);
  });

  it("and once round the circle leaves them uneven", () => {
    const [after] = settle([0, 1, 2, 3], 10_000, neighbours, 1);
    expect(after?.map(Math.round)).toEqual([8000, 9000, 9000, 10000]);
  });
});

describe("the picture", () => {
  it("numbers every bolt by its turn, where it is", () => {
    const one = pattern({ layout: { circle: 8 } });
    const svg = drawPattern(one, "Flange <8> & gasket");
    expect([...svg.matchAll(/<circle /g)]).toHaveLength(8);
    for (const [i, id] of one.order.entries()) {
      const bolt = byId(one).get(id) as Bolt;
      // 328 units across two radii of 0.1 m, 36 of margin.
      // The base line is 0.36 of 20 lower.
      const spot = [36 + (bolt.x + 0.1) * 1640, 36 + (0.1 - bolt.y) * 1640 + 7.2];
      const [x, y] = spot.map((v) => String(Number(v.toFixed(1))));
      expect(svg).toContain(`<text x="${x}" y="${y}" font-size="20" fill="#000">${i + 1}</text>`);
    }
    expect(svg).toContain("<title>Flange &lt;8&gt; &amp; gasket</title>");
  });

  it("keeps the rings apart and inside, however many there are", () => {
    for (const layout of [{ circle: 1 }, { circle: 48 }, { rows: 2, columns: 9 }, { line: 12 }] satisfies Layout[]) {
      const svg = drawPattern(pattern({ layout }), "t");
      const [width = 0, height = 0] = (/viewBox="0 0 ([\d. ]+)"/.exec(svg)?.[1] ?? "").split(" ").map(Number);
      const rings = [...svg.matchAll(/<circle cx="([\d.]+)" cy="([\d.]+)" r="([\d.]+)"/g)].map(([, x, y, r]) => ({
        x: Number(x),
        y: Number(y),
        r: Number(r),
      }));
      for (const [i, one] of rings.entries()) {
        expect(one.x - one.r).toBeGreaterThanOrEqual(0);
        expect(one.x + one.r).toBeLessThanOrEqual(width);
        expect(one.y + one.r).toBeLessThanOrEqual(height);
        for (const other of rings.slice(0, i))
          expect(Math.hypot(one.x - other.x, one.y - other.y)).toBeGreaterThan(one.r + other.r);
      }
    }
  });
});

describe("the picture of a joint whose bolts differ in length", () => {
  const answer = layPattern({ layout: { circle: 8 } });
  if ("faults" in answer) throw new Error("no pattern");
  const items = new Map(
    answer.answer.bolts.map(({ id }) => [id, id === "1" || id === "3" ? "bolt M10×60" : "bolt M10×45"] as const),
  );
  const svg = drawPattern(answer.answer, "cover", items);
  it("names the rare ones at their places and the usual one once beneath", () => {
    expect(svg).toContain(">1 M10×60</text>");
    expect(svg).toContain(">3 M10×60</text>");
    expect(svg.match(/M10×45/g)).toHaveLength(1);
    expect(svg).toContain("all without a size: M10×45");
  });
  it("lets no name run off its edge", () => {
    const width = Number(/viewBox="0 0 ([\d.]+)/.exec(svg)?.[1]);
    for (const [, x = "", anchor = "", text = ""] of svg.matchAll(
      /<text x="([\d.]+)"[^>]*?font-size="[\d.]+" fill="#444"(?: text-anchor="(start|end)")?[^>]*>([^<]+)</g,
    )) {
      const long = 6.5 * text.length;
      const from = anchor === "start" ? Number(x) : anchor === "end" ? Number(x) - long : Number(x) - long / 2;
      expect(from, text).toBeGreaterThanOrEqual(0);
      expect(from + long, text).toBeLessThanOrEqual(width);
    }
  });
});

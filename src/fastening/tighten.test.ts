// Owns the checks of a joint's answer: what each aim leads to, the range of the preload, each verdict, each fault.

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { metres, newtonMetres, newtons } from "../quantity/index.ts";
import type { Answer } from "./fault.ts";
import { exactly, type Friction, PLAIN, readFriction } from "./friction.ts";
import type { Joint, Tightening, Verdict } from "./joint.ts";
import { readStrength, type Strength } from "./strength.ts";
import { readThread, type Thread } from "./thread.ts";
import { tighten } from "./tighten.ts";
import { findWrench, type Wrench } from "./wrench.ts";

const thread = (text: string): Thread => {
  const reading = readThread(text);
  if ("fault" in reading) throw new Error(reading.fault.what);
  return reading.thread;
};
const strength = (text: string, of: Thread): Strength => {
  const reading = readStrength(text, of);
  if ("fault" in reading) throw new Error(reading.fault.what);
  return reading.strength;
};
const friction = (text: string): Friction => {
  const reading = readFriction(text);
  if ("fault" in reading) throw new Error(reading.fault.what);
  return reading.friction;
};
const M10 = thread("M10");
const joint = (rest: Partial<Joint>): Joint => ({
  thread: M10,
  strength: strength("8.8", M10),
  friction: { factor: exactly(0.2) },
  aim: { torque: newtonMetres(48) },
  ...rest,
});
const answered = (answer: Answer<Tightening>): Tightening => {
  if ("faults" in answer) throw new Error(answer.faults.map(({ what }) => what).join("; "));
  return answer.answer;
};
const solved = (rest: Partial<Joint>): Tightening => answered(tighten(joint(rest)));
const verdict = ({ verdicts }: Tightening, rule: Verdict["rule"]): Verdict => {
  const found = verdicts.filter((one) => one.rule === rule).at(-1);
  if (found === undefined) throw new Error(`no verdict ${rule}`);
  return found;
};
const faults = (rest: Partial<Joint>) => {
  const answer = tighten(joint(rest));
  return "faults" in answer ? answer.faults : [];
};

describe("what is aimed at", () => {
  it("as a torque gives the preload, its shares and the rule", () => {
    const { torque, preload, proofShare, proposal } = solved({});
    expect(torque).toBe(48);
    expect(preload.nominal).toBeCloseTo(24000, 6);
    // 58.0 mm² × 580 N/mm² = 33.6 kN
    expect(proofShare?.nominal).toBeCloseTo(0.7136, 3);
    expect(proposal).toBe(false);
  });

  it("as a preload gives the torque, and going back gives the preload", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 100, max: 40000, noNaN: true }),
        fc.double({ min: 0.08, max: 0.24, noNaN: true }),
        fc.double({ min: 0.08, max: 0.24, noNaN: true }),
        (force, inThread, underHead) => {
          const rubbing: Friction = { thread: exactly(inThread), head: exactly(underHead) };
          const there = solved({ friction: rubbing, aim: { preload: newtons(force) } });
          const back = solved({ friction: rubbing, aim: { torque: there.torque } });
          expect(back.preload.nominal).toBeCloseTo(force, 6);
          expect((there.split?.pitch ?? 0) + (there.split?.thread ?? 0) + (there.split?.head ?? 0)).toBeCloseTo(
            there.torque,
            9,
          );
        },
      ),
    );
  });

  it("as a share of proof or of yield says by which rule", () => {
    expect(solved({ aim: { share: 0.75 } })).toMatchObject({ by: "75 % of the proof load" });
    const rubbing: Friction = { thread: exactly(0.12), head: exactly(0.12) };
    // The worked 48.343 N·m and 29 604 N of VDI 2230.
    const yields = solved({ friction: rubbing, aim: { yield: 0.9 } });
    expect(yields.torque).toBeCloseTo(48.343, 2);
    expect(yields.preload.nominal).toBeCloseTo(29604.385, 2);
    expect(yields.by).toContain("VDI 2230");
  });

  it("left out leads to a proposal that is marked as one and says what it stands on", () => {
    const proposed = solved({ aim: { propose: "to come apart" } });
    expect(proposed.proposal).toBe(true);
    expect(proposed.proofShare?.nominal).toBeCloseTo(0.75, 12);
    expect(verdict(proposed, "proposal").mend).toContain("maker");
    expect(solved({ aim: { propose: "to stay" } }).proofShare?.nominal).toBeCloseTo(0.9, 12);
  });

  it("as torque and angle adds the turn's preload, and stops at yield", () => {
    const elastic = solved({ aim: { turn: { torque: newtonMetres(20), degrees: 20, grip: metres(0.04) } } });
    expect(elastic.torque).toBe(20);
    expect(elastic.preload.nominal).toBeGreaterThan(10000);
    expect(verdict(elastic, "past-yield").what).toContain("stays elastic");
    const past = solved({
      aim: { turn: { torque: newtonMetres(40), degrees: 140, grip: metres(0.04) } },
      used: true,
    });
    expect(verdict(past, "past-yield").what).toContain("past the yield point");
    expect(past.preload.nominal).toBe(verdict(past, "past-yield").limit);
    expect(verdict(past, "one-time").standing).toBe("fails");
  });
});

describe("the range of the preload", () => {
  it("is the scatter of the method where friction is known: 25 275 N ± 25 %", () => {
    const { preload } = solved({ aim: { preload: newtons(25275) }, method: "torque wrench, lubricated" });
    expect(preload.low).toBeCloseTo(18956.25, 6);
    expect(preload.high).toBeCloseTo(31593.75, 6);
  });

  it("is friction's own where that is wider, and never both added up", () => {
    const { preload, torque } = solved({ friction: PLAIN });
    expect(preload.high).toBeCloseTo(torque / (0.15 * 0.01), 6);
    expect(preload.low).toBeCloseTo(torque / (0.3 * 0.01), 6);
  });

  it("is 10 % where stretch is measured, whatever rubs", () => {
    const { preload } = solved({ friction: PLAIN, method: "stretch measured" });
    expect(preload.high / preload.nominal).toBeCloseTo(1.1, 12);
  });

  it("never widens as the torque's tool gets better, and always holds its middle", () => {
    const width = (method: Joint["method"]) => {
      const { preload } = solved({ ...(method && { method }) });
      expect(preload.low).toBeLessThan(preload.nominal);
      expect(preload.high).toBeGreaterThan(preload.nominal);
      return preload.high - preload.low;
    };
    const widths = (
      ["power driver", "by feel", "torque wrench", "torque wrench, set by trial", "stretch measured"] as const
    ).map(width);
    expect(widths).toEqual([...widths].sort((a, b) => b - a));
  });
});

describe("the verdict", () => {
  const M6 = thread("M6");

  it("on 45 N·m on an M6 8.8 names the limit and the mend", () => {
    const over = solved({ thread: M6, strength: strength("8.8", M6), aim: { torque: newtonMetres(45) } });
    const { standing, what, mend, value, limit } = verdict(over, "over-proof");
    expect(standing).toBe("fails");
    expect(value).toBeCloseTo(37500, 6);
    expect(limit).toBeCloseTo(11671.6, 1);
    expect(what).toBe("45 N·m on M6×1 8.8 is 37.5 kN (27 kN to 48 kN), 321 % of its proof load of 11.7 kN");
    expect(mend).toContain("Proof is reached at 14 N·m");
    expect(mend).toContain("75 % of it takes 10.5 N·m");
    expect(verdict(over, "over-yield").standing).toBe("fails");
  });

  it("over proof is in doubt when only the upper end is over, and holds when nothing is", () => {
    expect(verdict(solved({}), "over-proof").standing).toBe("holds");
    expect(verdict(solved({ aim: { torque: newtonMetres(60) } }), "over-proof").standing).toBe("doubtful");
    expect(verdict(solved({ aim: { torque: newtonMetres(68) } }), "over-proof").standing).toBe("fails");
  });

  it("names torques that do not lie over their own limits", () => {
    for (const name of ["M5", "M6", "M8", "M12", "M16", "M20"]) {
      const of = thread(name);
      const over = solved({ thread: of, strength: strength("8.8", of), aim: { share: 1 }, friction: PLAIN });
      const most = Number(/at ([\d.]+) N·m/.exec(verdict(over, "over-proof").mend ?? "")?.[1] ?? over.torque);
      expect(most).toBeLessThanOrEqual(over.torque * (1 + 1e-9));
    }
  });

  it("under the clamp needed gives the torque that would clamp at the lower end", () => {
    const short = solved({ clamp: newtons(30000) });
    expect(verdict(short, "under-clamp")).toMatchObject({ standing: "fails", limit: 30000 });
    const doubtful = solved({ clamp: newtons(20000) });
    expect(verdict(doubtful, "under-clamp").standing).toBe("doubtful");
    const enough = Number(/([\d.]+) N·m would/.exec(verdict(doubtful, "under-clamp").mend ?? "")?.[1]);
    // The sentence has three figures.
    expect(solved({ aim: { torque: newtonMetres(enough) } }).preload.low / 20000).toBeCloseTo(1, 2);
    expect(verdict(solved({ clamp: newtons(15000) }), "under-clamp").standing).toBe("holds");
  });

  it("on a wet thread for which the torque is not meant says how much it gives and what would give the same", () => {
    const wet = solved({ friction: friction("oiled"), statedFor: friction("dry") });
    expect(wet.preload.nominal).toBeCloseTo(32000, 6);
    const { standing, what, mend } = verdict(wet, "other-friction");
    expect(standing).toBe("doubtful");
    expect(what).toContain("24 kN; on lubricated threads it gives 32 kN");
    // 48 × 0.15/0.20
    expect(mend).toContain("36 N·m gives the same preload");
    expect(verdict(solved({ statedFor: { factor: exactly(0.2) } }), "other-friction").standing).toBe("holds");
  });

  it("adds the running torque, and refuses a nut that locks no more", () => {
    const run = solved({ prevailing: newtonMetres(4), locknut: "new" });
    expect(run.applied).toBe(52);
    expect(run.preload.nominal).toBeCloseTo(24000, 6);
    expect(verdict(run, "running-torque").standing).toBe("holds");
    expect(verdict(solved({ prevailing: newtonMetres(0.6), locknut: "used" }), "running-torque")).toMatchObject({
      standing: "fails",
      limit: 1,
      mend: "Fit a new nut.",
    });
    expect(verdict(solved({ prevailing: newtonMetres(12), locknut: "new" }), "running-torque").standing).toBe(
      "doubtful",
    );
    expect(verdict(solved({ locknut: "new" }), "running-torque").standing).toBe("doubtful");
    // 18 lbf·in, 2.03 N·m, for a used nut of 1/2-20.
    const half = { thread: thread("1/2-20"), strength: strength("5", thread("1/2-20")), locknut: "used" as const };
    expect(verdict(solved({ ...half, prevailing: newtonMetres(1.9) }), "running-torque").standing).toBe("fails");
    expect(verdict(solved({ ...half, prevailing: newtonMetres(2.1) }), "running-torque").standing).toBe("holds");
  });

  it("refuses a fastener for one tightening the second time", () => {
    expect(verdict(solved({ oneTime: true, used: true }), "one-time")).toMatchObject({
      standing: "fails",
      mend: "Fit a new one.",
    });
    expect(verdict(solved({ oneTime: true }), "one-time").standing).toBe("note");
  });

  it("chooses the wrench after adapter and multiplier", () => {
    const wrenches = ["torque wrench 5-25", "torque wrench 20-100", "torque wrench 60-320"].map(
      (tool) => findWrench(tool) as Wrench,
    );
    expect(solved({ wrenches }).wrench).toBe("torque wrench 20-100");
    const adapter = { length: metres(0.35), offset: metres(0.045), degrees: 0 };
    const adapted = solved({ wrenches, aim: { torque: newtonMetres(106) }, adapter });
    expect(adapted.set).toBeCloseTo((106 * 350) / 395, 9);
    expect(adapted.wrench).toBe("torque wrench 20-100");
    const M24 = thread("M24");
    const big = { thread: M24, strength: strength("8.8", M24), aim: { torque: newtonMetres(700) }, wrenches };
    expect(verdict(solved(big), "wrench-range")).toMatchObject({ standing: "fails", limit: 320 });
    expect(verdict(solved(big), "wrench-range").mend).toContain("multiplier");
    const multiplied = solved({ ...big, multiplier: { ratio: 5, efficiency: 0.85 } });
    expect(multiplied.set).toBeCloseTo(700 / 4.25, 9);
    expect(multiplied.wrench).toBe("torque wrench 60-320");
  });
});

describe("a question without an answer", () => {
  it.each([
    ["a torque of nothing", { aim: { torque: newtonMetres(0) } }, "torque", "not-positive"],
    ["a negative torque", { aim: { torque: newtonMetres(-5) } }, "torque", "not-positive"],
    ["a torque that is no number", { aim: { torque: newtonMetres(Number.NaN) } }, "torque", "not-positive"],
    ["a share of 75", { aim: { share: 75 } }, "share", "not-a-share"],
    [
      "a turn without a grip",
      { aim: { turn: { torque: newtonMetres(20), degrees: 90, grip: metres(0) } } },
      "grip",
      "not-positive",
    ],
    ["friction of nothing", { friction: { factor: exactly(0) } }, "friction", "not-positive"],
    [
      "a range upside down",
      { friction: { factor: { low: 0.3, nominal: 0.2, high: 0.15 } } },
      "friction",
      "not-positive",
    ],
    ["a running torque below nothing", { prevailing: newtonMetres(-1) }, "prevailing", "below-nothing"],
    [
      "an adapter past the grip",
      { adapter: { length: metres(0.1), offset: metres(0.2), degrees: 180 } },
      "adapter",
      "no-adapter",
    ],
    ["a multiplier of nothing", { multiplier: { ratio: 0 } }, "multiplier", "not-positive"],
  ] satisfies [string, Partial<Joint>, string, string][])("%s is a fault at its place", (_, rest, at, rule) => {
    expect(faults(rest)).toMatchObject([{ at, rule }]);
    expect(faults(rest)[0]?.mend.length).toBeGreaterThan(10);
  });

  it("is told every fault at once", () => {
    expect(faults({ aim: { torque: newtonMetres(0) }, prevailing: newtonMetres(-1), clamp: newtons(-3) })).toHaveLength(
      3,
    );
  });

  it("wants a class where a share is asked for", () => {
    const { strength: _, ...bare } = joint({ aim: { share: 0.75 } });
    expect(tighten(bare)).toMatchObject({ faults: [{ rule: "unknown-class" }] });
    const { strength: __, ...given } = joint({});
    const without = answered(tighten(given));
    expect(without.proofShare).toBeUndefined();
    expect(without.preload.nominal).toBeCloseTo(24000, 6);
  });
});

import { describe, expect, it } from "vitest";
import { Draft } from "./draft.ts";
import type { Model } from "./model.ts";
import { randomFrom } from "./random.ts";
import { solvePlain } from "./solve-plain.ts";

/** A project drawn at random: items that follow one another and share two lanes. */
function draw(seed: number, size: number): Model {
  const random = randomFrom(seed);
  const draft = new Draft();
  const lanes = [draft.lane(4), draft.lane(3)];
  for (let item = 0; item < size; item += 1) {
    const ticks = 1 + Math.floor(random() * 6);
    draft.item({ ticks, counted: true, earliest: 0, latest: 2 ** 28 }, []);
    const need = lanes.map((lane) => [lane, Math.floor(random() * 3)] as const).filter(([, count]) => count > 0);
    draft.use({ first: item, last: item, head: 0, tail: ticks, need });
    for (let from = Math.max(0, item - 12); from < item; from += 1)
      if (random() < 0.12) draft.arc(from, item, draft.ticks(from));
  }
  return draft.model();
}

describe("the course over a plain question", () => {
  it("ends with the proof that nothing is shorter, the same by breeding or proving first", () => {
    for (let seed = 1; seed <= 12; seed += 1) {
      const model = draw(seed, 16);
      const answer = solvePlain(model, { schedules: 600, conflicts: 40_000 });
      expect(answer?.status).toBe("optimal");
      expect(answer?.bound).toBe(answer?.makespan);
      // Hardly anything bred: the proof has to find what is best.
      expect(solvePlain(model, { schedules: 4, conflicts: 40_000 })?.makespan).toBe(answer?.makespan);
    }
  });

  it("gives the same answer for the same seed and counts", () => {
    const model = draw(5, 80);
    const limits = { schedules: 3000, conflicts: 300, seed: 4 };
    expect(solvePlain(model, limits)).toEqual(solvePlain(model, limits));
  });

  it("keeps to the counts, and without a proof to breeding", () => {
    const answer = solvePlain(draw(6, 60), { schedules: 1000, conflicts: 0 });
    expect(answer?.effort.schedules).toBeLessThanOrEqual(1002);
    expect(answer?.effort.conflicts).toBe(0);
  });

  it("tells of better schedules and bounds as they come, each nearer to the other", () => {
    const makespans: number[] = [];
    const bounds: number[] = [];
    const answer = solvePlain(draw(1, 40), {
      schedules: 2000,
      conflicts: 20_000,
      better: (starts, makespan, bound) => {
        expect(starts).toHaveLength(40);
        expect(bound).toBeLessThanOrEqual(makespan);
        makespans.push(makespan);
      },
      raised: (bound) => bounds.push(bound),
    });
    expect(makespans.at(-1)).toBe(answer?.makespan);
    expect(makespans).toEqual([...new Set(makespans)].sort((a, b) => b - a));
    expect(bounds).toEqual([...new Set(bounds)].sort((a, b) => a - b));
  });

  it("stops at the gap it was asked for, when told to, and when its time is over", () => {
    const model = draw(9, 80);
    const near = solvePlain(model, { gap: 0.5, schedules: 1e6 });
    expect((near?.makespan ?? 0) - (near?.bound ?? 0)).toBeLessThanOrEqual(0.5 * (near?.makespan ?? 0));
    expect(near?.effort.schedules).toBeLessThan(1000);
    let clock = 0;
    const timed = solvePlain(model, { seconds: 1, clock: () => (clock += 1) });
    expect(timed?.starts).toHaveLength(80);
    expect(clock).toBeLessThan(1100);
    expect(solvePlain(model, { stop: () => true })?.status).toBe("unknown");
  });

  it("leaves a question that is not plain to others", () => {
    const draft = new Draft();
    for (const _ of [0, 1]) draft.item({ ticks: 2, counted: true, earliest: 0, latest: 2 ** 28 }, []);
    draft.choice([0, 1, 2], [1, 0, 2]);
    expect(solvePlain(draft.model(), {})).toBeUndefined();
  });
});

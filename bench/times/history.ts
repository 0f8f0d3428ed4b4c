// Owns synthetic histories: shops whose truth is known, so that what is predicted can be held against what comes next.

import { learn, predictedChance, type Seen } from "../../src/times/index.ts";
import { normalsOf } from "./normals.ts";

export interface Coverage {
  readonly seen: number;
  readonly scatter: string;
  /** Of how many next times. */
  readonly of: number;
  /** Share inside the 90 % interval, and below and above it, percent. */
  readonly held: number;
  readonly below: number;
  readonly above: number;
}

/** `histories` shops that each saw `seen` times of twelve works of three kinds by three people; then sixty more times. `scatter`: how far the scatter of a shop is from what is guessed. */
export function measureCoverage(histories: number, seen: number, scatter: number): Coverage {
  let [held, below, all] = [0, 0, 0];
  for (let history = 0; history < histories; history++) {
    const draw = normalsOf(history + 1);
    const shop = 0.4 * draw();
    const kinds = [0.25 * draw(), 0.25 * draw(), 0.25 * draw()];
    const people = [0.15 * draw(), 0.15 * draw(), 0.15 * draw()];
    const works = Array.from({ length: 12 }, () => 0.3 * draw());
    const spread = 0.3 * Math.exp(scatter * draw());
    const one = (index: number): Seen => {
      const [w, p] = [(index * 7) % 12, index % 3];
      const y = shop + (kinds[w % 3] ?? 0) + (people[p] ?? 0) + (works[w] ?? 0) + spread * draw();
      return {
        work: `w${w}`,
        kind: `k${w % 3}`,
        people: [`p${p}`],
        guess: 10,
        minutes: 10 * Math.exp(y),
        broken: false,
        age: 0,
      };
    };
    const lesson = learn(Array.from({ length: seen }, (_, index) => one(index)));
    for (let index = 0; index < 60; index++) {
      const next = one(index);
      const chance = predictedChance(lesson.next(next), next.minutes);
      if (chance <= 0.05) below++;
      else if (chance < 0.95) held++;
      all++;
    }
  }
  const percent = (count: number): number => Number(((100 * count) / all).toFixed(2));
  return {
    seen,
    scatter: `0.3 × e^(${scatter} z)`,
    of: all,
    held: percent(held),
    below: percent(below),
    above: percent(all - held - below),
  };
}

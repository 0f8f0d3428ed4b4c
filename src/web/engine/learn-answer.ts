// Owns the answer to what runs taught: their lines read against the vehicle, the faulty ones told, the sound ones learnt from.

import { learnRuns, strangersIn } from "../../plan/index.ts";
import { readRuns } from "../../times/index.ts";
import type { Bench } from "./bench.ts";
import type { LearnAsked, LearnSaid } from "./times-asked.ts";

export const learnOf = async (bench: Bench, { runs: files }: LearnAsked): Promise<LearnSaid> => {
  const began = performance.now();
  const vehicle = await bench.vehicle();
  const read = files.map(({ path, text }) => {
    const runs = readRuns(path, text, vehicle.name);
    const strangers = strangersIn(vehicle, runs);
    const strange = new Set(strangers.map(({ line }) => line));
    const known = <T extends { readonly line: number }>(all: readonly T[]) =>
      all.filter(({ line }) => !strange.has(line));
    return {
      observations: known(runs.observations),
      looks: known(runs.looks),
      faults: [...runs.faults, ...strangers].sort((a, b) => a.line - b.line),
    };
  });
  const observations = read.flatMap((one) => one.observations);
  const looks = read.flatMap((one) => one.looks);
  return {
    faults: read.flatMap(({ faults }) => faults),
    ...(observations.length === 0 ? {} : { learnt: learnRuns(vehicle, observations, looks) }),
    ms: performance.now() - began,
  };
};

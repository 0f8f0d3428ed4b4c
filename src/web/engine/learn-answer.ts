// Owns the answer to what runs taught: their lines read against the vehicle, the faulty ones told, the sound ones learnt from.

import { learnRuns, strangersIn } from "../../plan/index.ts";
import { readRuns } from "../../times/index.ts";
import type { Bench } from "./bench.ts";
import type { LearnAsked, LearnSaid } from "./times-asked.ts";

export const learnOf = async (bench: Bench, { runs: files }: LearnAsked): Promise<LearnSaid> => {
  const began = performance.now();
  const vehicle = await bench.vehicle();
  // Fetched when it is first wanted: the other answers of this thread need no ledger.
  const { lessonLines } = await import("../../ledger/index.ts");
  const read = files.map(({ path, text }) => {
    const taught = lessonLines(text);
    if ("faults" in taught)
      return {
        observations: [],
        looks: [],
        faults: taught.faults.map(({ line, what }) => ({ file: path, line, what, mend: "Export the run again." })),
      };
    const runs = readRuns(path, taught.lines, vehicle.name);
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

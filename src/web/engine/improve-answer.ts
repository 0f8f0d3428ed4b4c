// Owns the answers over several jobs: what to change first, which way of mending is the quickest, and the standards' figures.

import { compareWays, improve, readChanges, standardFiguresOf, type WayAsked } from "../../plan/index.ts";
import { DEFAULT_SPREAD, fromMedian } from "../../times/index.ts";
import type { Bench } from "./bench.ts";
import { crewFor } from "./crews.ts";
import type {
  FiguresAsked,
  FiguresSaid,
  ImproveAsked,
  ImproveSaid,
  Taught,
  WaysAsked,
  WaysSaid,
} from "./times-asked.ts";

const LUCK = { common: 0.1, seed: 1 };
/** Runs of each job for what a change spares, and of each way to mend. */
const CHANGE_RUNS = 2000;
const WAY_RUNS = 10_000;
/** Changes of the rules that are tried at most. */
const MOST = 60;

const learntOf = (taught: Taught) => new Map(Object.entries(taught));

export const improveOf = async (
  bench: Bench,
  { jobs, weighed, crew, changes, rate: given, taught }: ImproveAsked,
  tell: (said: ImproveSaid) => void,
): Promise<ImproveSaid> => {
  const began = performance.now();
  const vehicle = await bench.vehicle();
  const file = changes === undefined ? undefined : readChanges(changes.path, changes.text, vehicle);
  if (file !== undefined && file.changes === undefined) return { faults: file.faults, ms: performance.now() - began };
  const rate = given ?? file?.changes?.rate;
  const often = file?.changes?.jobs ?? [];
  const byFile = !weighed && often.length > 0;
  const said = (part: Partial<ImproveSaid>): ImproveSaid => ({
    faults: [],
    ...(rate === undefined ? {} : { rate }),
    ms: performance.now() - began,
    ...part,
  });
  const improved = improve(vehicle, {
    ...LUCK,
    runs: CHANGE_RUNS,
    learnt: learntOf(taught),
    jobs: byFile ? often.map(({ job, times }) => ({ id: job, weight: times })) : jobs,
    weighed: weighed || byFile,
    crew: crewFor(vehicle, crew === undefined ? {} : { crew }),
    changes: file?.changes?.changes ?? [],
    most: MOST,
    ...(rate === undefined ? {} : { rate }),
    onProgress: (stage, soFar) =>
      tell(said({ stage, ...(stage.doing === "planning" && stage.at === 1 ? {} : { improved: soFar() }) })),
  });
  return said({ improved });
};

export const waysOf = async (
  bench: Bench,
  { ways, crew, taught }: WaysAsked,
  tell: (said: WaysSaid) => void,
): Promise<WaysSaid> => {
  const began = performance.now();
  const vehicle = await bench.vehicle();
  const compared = compareWays(vehicle, {
    ...LUCK,
    runs: WAY_RUNS,
    onProgress: (at, of) => tell({ at, of, ms: performance.now() - began }),
    learnt: learntOf(taught),
    crew: crewFor(vehicle, crew === undefined ? {} : { crew }),
    ways: ways.map(
      ({ way, job, lead, mend }): WayAsked => ({
        way,
        job,
        ...(lead === undefined ? {} : { lead: fromMedian(lead, DEFAULT_SPREAD) }),
        ...(mend === undefined ? {} : { mend: fromMedian(mend, DEFAULT_SPREAD) }),
      }),
    ),
  });
  return { compared, ms: performance.now() - began };
};

export const figuresOf = async (
  bench: Bench,
  { jobs, weighed, crew, taught }: FiguresAsked,
  tell: (said: FiguresSaid) => void,
): Promise<FiguresSaid> => {
  const began = performance.now();
  const vehicle = await bench.vehicle();
  const figures = standardFiguresOf(vehicle, {
    ...LUCK,
    runs: CHANGE_RUNS,
    learnt: learntOf(taught),
    jobs: jobs.map(({ id, weight }) => ({ id, often: weight, preventive: false })),
    weighed,
    crew: crewFor(vehicle, crew === undefined ? {} : { crew }),
    onProgress: (at, of) => tell({ at, of, ms: performance.now() - began }),
  });
  return { figures, ms: performance.now() - began };
};

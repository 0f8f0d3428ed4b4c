// Owns the measuring of one folder of projects: each is read, solved, looked at again, compared with what is known and with a peer; then summed up.

import { readdirSync, readFileSync } from "node:fs";
import { basename, join } from "node:path";
import type { Limits, Problem, Result } from "../../src/crew/index.ts";
import { checksum } from "../release/checksum.ts";
import { type Known, readKnown } from "./known.ts";
import { askPeer, type PeerAnswer } from "./peer.ts";
import { readRcp, readSm } from "./psplib.ts";
import { criticalPath, faultsOf } from "./recheck.ts";

export interface SetOptions {
  readonly folder: string;
  readonly seconds: number;
  /** So many schedules and no proof, instead of seconds. */
  readonly schedules: number | undefined;
  /** Every so manyth file, and at most so many. */
  readonly every: number;
  readonly limit: number;
  readonly peer: string | undefined;
  readonly clock: () => number;
}

export interface Row {
  readonly name: string;
  readonly makespan: number | null;
  readonly bound: number;
  readonly status: string;
  readonly ms: number;
  readonly critical: number;
  readonly known: Known | undefined;
  /** What is wrong with the file, the schedule, or with a figure that contradicts what is known. */
  readonly faults: readonly string[];
  readonly peer: PeerAnswer | undefined;
}

type Solve = (problem: Problem, limits: Limits) => Result;

const isProject = (file: string): boolean => file.endsWith(".sm") || file.endsWith(".rcp");

const contradictions = (
  makespan: number,
  bound: number,
  known: Known | undefined,
  peer: PeerAnswer | undefined,
): string[] => [
  ...(known !== undefined && makespan < known.least ? [`${makespan} is below the known bound ${known.least}`] : []),
  ...(known !== undefined && bound > known.most ? [`the bound ${bound} is above the known ${known.most}`] : []),
  ...(peer?.makespan != null && bound > peer.makespan
    ? [`the bound ${bound} is above the peer's ${peer.makespan}`]
    : []),
  ...(peer?.proved && peer.makespan !== null && makespan < peer.makespan
    ? [`${makespan} is below what the peer proved, ${peer.makespan}`]
    : []),
];

function measure(file: string, options: SetOptions, solve: Solve, known: Known | undefined): Row {
  const { seconds, schedules, clock } = options;
  const text = readFileSync(file, "utf8");
  const reading = file.endsWith(".rcp") ? readRcp(text) : readSm(text);
  const row = { name: basename(file), known };
  if ("faults" in reading) {
    const faults = reading.faults.map(({ line, what, mend }) => `line ${line}: ${what}; ${mend}`);
    return { ...row, makespan: null, bound: 0, status: "unread", ms: 0, critical: 0, faults, peer: undefined };
  }
  const { problem } = reading;
  const limits = schedules === undefined ? { seconds, clock } : { schedules, conflicts: 0 };
  const began = clock();
  const { status, bound, schedule, figures } = solve(problem, limits);
  const ms = clock() - began;
  const peer = options.peer !== undefined && file.endsWith(".sm") ? askPeer(options.peer, file, seconds) : undefined;
  const makespan = figures?.elapsed ?? null;
  const faults =
    schedule === undefined || makespan === null
      ? ["no schedule"]
      : [...faultsOf(problem, schedule, makespan), ...contradictions(makespan, bound, known, peer)];
  return { ...row, makespan, bound, status, ms, critical: criticalPath(problem), faults, peer };
}

/** Solves the files of a folder in the order of their names; `tell` gets each row as it comes. */
export function measureSet(options: SetOptions, solve: Solve, tell: (row: Row) => void): readonly Row[] {
  const known = readKnown(options.folder);
  const files = readdirSync(options.folder)
    .filter(isProject)
    .sort()
    .filter((_, index) => index % options.every === 0)
    .slice(0, options.limit);
  return files.map((file) => {
    const row = measure(join(options.folder, file), options, solve, known.get(file));
    tell(row);
    return row;
  });
}

export interface Summary {
  readonly set: string;
  readonly files: number;
  readonly proved: number;
  readonly sum: number;
  /** Means of the excess in percent. */
  readonly overCritical: number;
  readonly overBound: number;
  readonly overKnown: number | undefined;
  readonly seconds: number;
  readonly checksum: string;
  readonly faults: number;
  /** Over the files that the peer had a schedule for. */
  readonly peer:
    | { readonly files: number; readonly proved: number; readonly sum: number; readonly ourSum: number }
    | undefined;
}

const mean = (figures: readonly number[]): number =>
  figures.reduce((sum, figure) => sum + figure, 0) / Math.max(1, figures.length);
const excess = (figure: number, over: number): number => (over > 0 ? (figure / over - 1) * 100 : 0);

export function sumUp(set: string, rows: readonly Row[]): Summary {
  const done = rows.flatMap((row) => (row.makespan === null ? [] : [{ ...row, makespan: row.makespan }]));
  const withKnown = done.flatMap(({ makespan, known }) => (known === undefined ? [] : [excess(makespan, known.most)]));
  const met = done.flatMap(({ makespan, peer }) =>
    peer?.makespan == null ? [] : [{ ours: makespan, theirs: peer.makespan, proved: peer.proved }],
  );
  const total = (figures: readonly number[]): number => figures.reduce((sum, figure) => sum + figure, 0);
  return {
    set,
    files: rows.length,
    proved: done.filter(({ status }) => status === "optimal").length,
    sum: total(done.map(({ makespan }) => makespan)),
    overCritical: mean(done.map(({ makespan, critical }) => excess(makespan, critical))),
    overBound: mean(done.map(({ makespan, bound }) => excess(makespan, bound))),
    overKnown: withKnown.length === 0 ? undefined : mean(withKnown),
    seconds: total(rows.map(({ ms }) => ms)) / 1000,
    checksum: checksum(rows.map(({ name, makespan }) => `${name} ${makespan}`).join("\n")),
    faults: rows.filter(({ faults }) => faults.length > 0).length,
    peer: rows.every(({ peer }) => peer === undefined)
      ? undefined
      : {
          files: met.length,
          proved: met.filter(({ proved }) => proved).length,
          sum: total(met.map(({ theirs }) => theirs)),
          ourSum: total(met.map(({ ours }) => ours)),
        },
  };
}

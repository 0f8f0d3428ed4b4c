// Owns the command `npm run bench -- crew`: its flags, the table, the lines for others to recheck.

import { appendFileSync, readFileSync, writeFileSync } from "node:fs";
import { basename, resolve } from "node:path";
import { parseArgs } from "node:util";
import { solve } from "../../src/crew/index.ts";
import { readRcp, readSm } from "./psplib.ts";
import { reprove } from "./reprove.ts";
import { measureSet, type Row, type Summary, sumUp } from "./run.ts";

export const crewUsage =
  "npm run bench -- crew --set FOLDER[,FOLDER] [--seconds 10] [--schedules N] [--every K] [--limit N] [--peer FOLDER] [--processor] [--json FILE]\n" +
  "npm run bench -- crew --reprove FILE --bound N --below MAKESPAN [--conflicts N]";

const COLUMNS = "set            files  proved       sum  over CP %  over bound %  over best %  seconds  checksum";

const line = (summary: Summary): string =>
  [
    summary.set.padEnd(14),
    String(summary.files).padStart(6),
    String(summary.proved).padStart(8),
    String(summary.sum).padStart(10),
    summary.overCritical.toFixed(2).padStart(11),
    summary.overBound.toFixed(2).padStart(14),
    (summary.overKnown?.toFixed(3) ?? "-").padStart(13),
    summary.seconds.toFixed(1).padStart(9),
    `  ${summary.checksum}`,
  ].join("");

const peerLine = ({ set, proved, peer }: Summary): string =>
  peer === undefined
    ? ""
    : `${set}: the peer proved ${peer.proved} (ours over its: ${(proved / peer.proved).toFixed(3)}); where it has a schedule (${peer.files}) its sum is ${peer.sum}, ours ${peer.ourSum} (${(peer.ourSum / peer.sum).toFixed(4)})`;

/** Processor time is asked for at most so often, in milliseconds that pass on the wall: asking takes a quarter of the time when every look at the clock does it. */
const GRAIN = 2;

/** Milliseconds of this process's own processor time: fair where others use the machine too. */
const processorClock = (): (() => number) => {
  let [asked, told] = [Number.NEGATIVE_INFINITY, 0];
  return () => {
    const now = performance.now();
    if (now - asked < GRAIN) return told;
    const { user, system } = process.cpuUsage();
    [asked, told] = [now, (user + system) / 1000];
    return told;
  };
};

const jsonLine = ({ known, critical, peer, faults, ...row }: Row): string =>
  JSON.stringify({
    ...row,
    ms: Math.round(row.ms),
    ...(peer === undefined ? {} : { peer }),
    ...(faults.length > 0 ? { faults } : {}),
  });

/** Whether a bound of one project follows, clause by clause; gives the exit code. */
const benchBound = (file: string, bound: number, below: number, conflicts: number): number => {
  const text = readFileSync(file, "utf8");
  const reading = file.endsWith(".rcp") ? readRcp(text) : readSm(text);
  if ("faults" in reading) {
    for (const { line, what, mend } of reading.faults) console.error(`line ${line}: ${what}; ${mend}`);
    return 2;
  }
  const again = reprove(reading.problem, below, bound, conflicts);
  const verdict =
    again.wrong !== undefined
      ? `clause ${again.wrong + 1} does not follow`
      : again.follows
        ? "each follows, and so does the bound"
        : "each follows, the bound does not";
  console.log(`${basename(file)}: bound ${again.bound} by ${again.clauses} clauses: ${verdict}`);
  return again.follows && again.wrong === undefined && again.bound >= bound ? 0 : 1;
};

/** Gives the exit code: 1 when a schedule or a figure is wrong, 2 when the flags are. */
export function benchCrew(args: readonly string[]): number {
  const { values } = parseArgs({
    args: [...args],
    options: {
      set: { type: "string" },
      seconds: { type: "string", default: "10" },
      schedules: { type: "string" },
      every: { type: "string", default: "1" },
      limit: { type: "string", default: "Infinity" },
      peer: { type: "string" },
      processor: { type: "boolean", default: false },
      json: { type: "string" },
      reprove: { type: "string" },
      bound: { type: "string" },
      below: { type: "string" },
      conflicts: { type: "string", default: "100000" },
    },
  });
  if (values.reprove !== undefined) {
    const [bound, below, conflicts] = [values.bound, values.below, values.conflicts].map(Number);
    if (bound !== undefined && below !== undefined && conflicts !== undefined && bound <= below && conflicts > 0)
      return benchBound(values.reprove, bound, below, conflicts);
    console.error(crewUsage);
    return 2;
  }
  const figures = [values.seconds, values.every, values.limit, values.schedules ?? "1"].map(Number);
  if (values.set === undefined || figures.some((figure) => !(figure > 0))) {
    console.error(crewUsage);
    return 2;
  }
  if (values.json !== undefined) writeFileSync(values.json, "");
  const summaries = values.set.split(",").map((folder) => {
    const set = measureSet(
      {
        folder: resolve(folder),
        seconds: Number(values.seconds),
        schedules: values.schedules === undefined ? undefined : Number(values.schedules),
        every: Number(values.every),
        limit: Number(values.limit),
        peer: values.peer === undefined ? undefined : resolve(values.peer),
        clock: values.processor ? processorClock() : () => performance.now(),
      },
      solve,
      (row) => {
        for (const fault of row.faults) console.error(`${row.name}: ${fault}`);
        // At once, so that a run that is broken off leaves what it had.
        if (values.json !== undefined) appendFileSync(values.json, `${jsonLine(row)}\n`);
      },
    );
    return sumUp(basename(resolve(folder)), set);
  });
  console.log(COLUMNS);
  for (const summary of summaries) console.log(line(summary));
  for (const summary of summaries) if (summary.peer !== undefined) console.log(peerLine(summary));
  return summaries.some(({ faults }) => faults > 0) ? 1 : 0;
}

// Owns the measuring of what must come off: the solver on generated machines, beside a MILP solver on the same question in the same run.

import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { buildSync } from "esbuild";
import { check, solve } from "../../src/release/index.ts";
import { checksum } from "./checksum.ts";
import { type Family, generateMachine, type HOISTS } from "./generate.ts";
import { loadHighs, solveLp } from "./lp.ts";
import { Milp } from "./milp.ts";

export interface ReleaseOptions {
  readonly sizes: readonly number[];
  readonly families: readonly Family[];
  readonly hoists: readonly (typeof HOISTS)[number][];
  readonly seeds: number;
  readonly seconds: number;
  readonly repeats: number;
  readonly peer: boolean;
}

export interface ReleaseRow {
  readonly family: Family;
  readonly hoist: string;
  readonly connections: number;
  readonly seeds: number;
  /** Answers proved optimal, and answers with a plan but no proof in the time. */
  readonly proved: number;
  readonly open: number;
  /** Milliseconds a seed: the median of its repeats; least, median and greatest over the seeds. */
  readonly least: number;
  readonly median: number;
  readonly greatest: number;
  /** Milliseconds of the peer's own solve, median; undefined without it. A seed on which it was stopped counts with the time it had. */
  readonly peer?: number;
  /** Seeds that the peer solved, and those of them where its optimum is our labour: there it is exact. */
  readonly peerSolved: number;
  readonly equal: number;
  /** Peer's time over ours, median and least, over seeds that we proved; too low where the peer was stopped. */
  readonly ratio?: { readonly median: number; readonly least: number };
  /** Seeds where the peer's bound, a relaxation's, is above ours: none, or one of the two is wrong. */
  readonly contradictions: number;
  /** Of the labours: faster and wrong shows. */
  readonly checksum: string;
}

/** Minutes: what rounding in the peer may add. */
const CLOSE = 1e-4;

/** Machines of each row that teach the compiler what is warm, for so many milliseconds at the least; they are not counted. */
const WARMING = [997, 998, 999];
const WARM = 2000;

const middle = (sorted: readonly number[]): number => sorted[sorted.length >> 1] ?? Number.NaN;

/** Measures row by row; `tell` gets each as it comes. */
export async function measureRelease(options: ReleaseOptions, tell: (row: ReleaseRow) => void): Promise<ReleaseRow[]> {
  const highs = options.peer ? await loadHighs() : undefined;
  const now = (): number => performance.now();
  const rows: ReleaseRow[] = [];
  for (const connections of options.sizes) {
    for (const family of options.families) {
      for (const hoist of options.hoists) {
        const times: number[] = [];
        const peers: number[] = [];
        const ratios: number[] = [];
        const labours: number[] = [];
        let proved = 0;
        let open = 0;
        let contradictions = 0;
        let peerSolved = 0;
        let equal = 0;
        const limits = { now, milliseconds: options.seconds * 1000 };
        const warming = WARMING.map((seed) => generateMachine({ family, size: connections, hoist, seed }).problem);
        const begun = now();
        do for (const problem of warming) solve(problem, limits);
        while (now() - begun < WARM);
        for (let seed = 1; seed <= options.seeds; seed++) {
          const { problem } = generateMachine({ family, size: connections, hoist, seed });
          let result = solve(problem, limits);
          const runs = [result.ms];
          while (runs.length < options.repeats && result.ms <= 2000) {
            result = solve(problem, limits);
            runs.push(result.ms);
          }
          const ours = middle(runs.sort((a, b) => a - b));
          times.push(ours);
          labours.push(result.plan?.labour ?? Number.NaN);
          if (result.status === "optimal") proved++;
          else if (result.plan !== undefined) open++;
          if (result.plan !== undefined && !check(problem, result.plan.order).legal) {
            throw new Error(`${family} ${hoist} ${connections}, seed ${seed}: the checker refuses the plan.`);
          }
          if (highs === undefined) continue;
          const answer = solveLp(highs, new Milp(problem, "groups").lp, options.seconds);
          peers.push(answer.ms);
          if (result.status === "optimal") ratios.push(answer.ms / ours);
          if (answer.status === "optimal") peerSolved++;
          if (result.plan === undefined) continue;
          if (answer.status === "optimal" && Math.abs(answer.objective - result.plan.labour) < CLOSE) equal++;
          if (answer.bound > result.plan.labour + CLOSE) contradictions++;
        }
        for (const list of [times, peers, ratios]) list.sort((a, b) => a - b);
        const row: ReleaseRow = {
          family,
          hoist,
          connections,
          seeds: options.seeds,
          proved,
          open,
          least: times[0] ?? Number.NaN,
          median: middle(times),
          greatest: times.at(-1) ?? Number.NaN,
          ...(peers.length > 0 ? { peer: middle(peers) } : {}),
          ...(ratios.length > 0 ? { ratio: { median: middle(ratios), least: ratios[0] ?? Number.NaN } } : {}),
          peerSolved,
          equal,
          contradictions,
          checksum: checksum(labours.join(" ")),
        };
        rows.push(row);
        tell(row);
      }
    }
  }
  return rows;
}

/** The first call in a fresh process and its peak memory, in milliseconds and megabytes: of plain JavaScript, as it is shipped. */
export function measureFirst(
  family: Family,
  connections: number,
): { readonly ms: number; readonly megabytes: number; readonly status: string } {
  const folder = mkdtempSync(join(tmpdir(), "first-"));
  try {
    const outfile = join(folder, "first.mjs");
    const entry = fileURLToPath(new URL("./first.ts", import.meta.url));
    buildSync({ entryPoints: [entry], outfile, bundle: true, platform: "node", format: "esm", logLevel: "error" });
    const { stdout, stderr } = spawnSync(process.execPath, [outfile, family, String(connections)], {
      encoding: "utf8",
    });
    const line = stdout.trim().split("\n").at(-1) ?? "";
    if (line === "") throw new Error(stderr);
    return JSON.parse(line) as { ms: number; megabytes: number; status: string };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** What the table's reader must know of the peer; bench/release/milp.ts says what its model leaves out. */
export const peerNote =
  "peer: HiGHS in WebAssembly, gap 0, its own solve time, on a relaxation of the same question (which favours it); equal: seeds where that is exact";

export const releaseHead =
  "family hoist   connections  proved  open   least  median  greatest ms     peer ms  solved  equal  peer/ours median  least  contradictions  checksum";

export function releaseLine(row: ReleaseRow): string {
  const ms = (x: number | undefined): string => (x === undefined ? "-" : x >= 100 ? x.toFixed(0) : x.toFixed(1));
  const count = (x: number): string => (row.peer === undefined ? "-" : `${x}/${row.seeds}`);
  return [
    row.family.padEnd(6),
    row.hoist.padEnd(5),
    String(row.connections).padStart(13),
    `${row.proved}/${row.seeds}`.padStart(7),
    String(row.open).padStart(5),
    ms(row.least).padStart(7),
    ms(row.median).padStart(7),
    ms(row.greatest).padStart(9),
    ms(row.peer).padStart(14),
    count(row.peerSolved).padStart(7),
    count(row.equal).padStart(6),
    ms(row.ratio?.median).padStart(17),
    ms(row.ratio?.least).padStart(6),
    String(row.contradictions).padStart(15),
    ` ${row.checksum}`,
  ].join(" ");
}

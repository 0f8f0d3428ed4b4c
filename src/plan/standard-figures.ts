// Owns the maintainability figures of a vehicle's jobs: each planned, scheduled and run by chance, and together what the handbooks name: the mean time to repair, its median, the time by which a share is done.

import { type Estimate, figuresOfFinishes, percentile, type SimulatedFigures } from "../times/index.ts";
import type { Vehicle } from "../vehicle/index.ts";
import { lasting } from "./clock-time.ts";
import type { Crew } from "./crew.ts";
import { carryOut, type Reckoned, type Reckoning, release } from "./improve-base.ts";

export interface FiguresAsked extends Reckoning {
  readonly jobs: readonly { readonly id: string; readonly often: number; readonly preventive: boolean }[];
  /** Somebody said how often; else all come equally often. */
  readonly weighed: boolean;
  readonly crew: Crew;
  /** Hears which job is planned, 1 for the first, of how many. */
  readonly onProgress?: (at: number, of: number) => void;
}

export interface FiguresJob {
  readonly id: string;
  readonly label: string;
  readonly often: number;
  readonly preventive: boolean;
  /** `no plan`: this crew cannot do it. `not reckoned`: stopped before. */
  readonly status: "reckoned" | "no plan" | "not reckoned";
  /** Person-minutes, the job's own work among them. */
  readonly labour?: number;
  readonly mean?: number;
  readonly p50?: Estimate;
  readonly p95?: Estimate;
}

export interface StandardFiguresOf {
  readonly format: "unmoor/figures/1";
  readonly vehicle: string;
  readonly note?: string;
  readonly people: number;
  readonly runs: number;
  readonly weighed: boolean;
  readonly jobs: readonly FiguresJob[];
  /** Elapsed minutes of the corrective jobs that were reckoned; absent where there is none. */
  readonly repair?: SimulatedFigures;
  /** Likewise of the preventive ones, and of both together: mean active time. */
  readonly preventive?: SimulatedFigures;
  readonly active?: SimulatedFigures;
  /** Person-minutes of a mean job of all. */
  readonly labour?: number;
  readonly stopped: boolean;
  readonly assumed: readonly string[];
}

/** As for the ways to mend: few jobs, so longer than for the many trials of what to change. */
const SCHEDULES = 300;

const labourOf = ({ jobs }: Vehicle, { labour }: Reckoned, id: string): number =>
  labour + (jobs.find((job) => job.id === id)?.work ?? []).reduce((sum, { people, time }) => sum + people * time, 0);

/** The figures; stopped, those of the jobs that were reckoned. */
export const standardFiguresOf = (vehicle: Vehicle, asked: FiguresAsked): StandardFiguresOf => {
  const stopped = () => asked.stop?.() === true;
  const reckoned = asked.jobs.map((job, index) => {
    if (stopped()) return { job, status: "not reckoned" } as const;
    asked.onProgress?.(index + 1, asked.jobs.length);
    const luck: Reckoning = { ...asked, schedules: SCHEDULES };
    const { question, result } = release(vehicle, job.id, asked.crew.people.length, luck);
    const done = result.plan === undefined ? undefined : carryOut(question, result.plan, asked.crew, luck);
    if (done === undefined) return { job, status: stopped() ? "not reckoned" : "no plan" } as const;
    return {
      job,
      status: "reckoned",
      labour: labourOf(vehicle, done, job.id),
      often: job.often,
      sorted: done.finishes.slice().sort(),
    } as const;
  });
  const known = reckoned.flatMap((one) => (one.status === "reckoned" ? [one] : []));
  const figures = (list: typeof known) => (list.length === 0 ? undefined : figuresOfFinishes(list));
  const repair = figures(known.filter(({ job }) => !job.preventive));
  const preventive = figures(known.filter(({ job }) => job.preventive));
  const active = repair === undefined || preventive === undefined ? undefined : figures(known);
  const often = known.reduce((sum, one) => sum + one.often, 0);
  return {
    format: "unmoor/figures/1",
    vehicle: vehicle.name,
    ...(vehicle.note === undefined ? {} : { note: vehicle.note }),
    people: asked.crew.people.length,
    runs: asked.runs,
    weighed: asked.weighed,
    jobs: reckoned.map((one): FiguresJob => {
      const head = { ...one.job, label: vehicle.jobs.find(({ id }) => id === one.job.id)?.label ?? one.job.id };
      if (one.status !== "reckoned") return { ...head, status: one.status };
      return {
        ...head,
        status: "reckoned",
        labour: one.labour,
        mean: one.sorted.reduce((sum, minutes) => sum + minutes, 0) / one.sorted.length,
        p50: percentile(one.sorted, 0.5),
        p95: percentile(one.sorted, 0.95),
      };
    }),
    ...(repair === undefined ? {} : { repair }),
    ...(preventive === undefined ? {} : { preventive }),
    ...(active === undefined ? {} : { active }),
    ...(often === 0 ? {} : { labour: known.reduce((sum, one) => sum + one.often * one.labour, 0) / often }),
    stopped: stopped(),
    assumed: [
      asked.weighed
        ? "Jobs count by how often each comes, as was given."
        : "Nobody said how often each job comes: all count alike.",
      "Elapsed minutes of active work: waiting for parts, fetching and paperwork are not in them, nor finding the fault.",
      "Mean Σλ·M / Σλ (MIL-HDBK-472, 470A; IEC 60706); a percentile is that of all repairs together, not the mean of the jobs' percentiles.",
    ],
  };
};

const around = ({ value, error }: Estimate): string => `${lasting(Math.round(value))} ± ${error.toFixed(1)}`;

const rowOf = (head: string, { mean, median, p90, p95 }: SimulatedFigures): string =>
  `${head.padEnd(34)}${[mean, median, p90, p95].map((one) => around(one).padStart(19)).join("")}`;

/** The figures as text. */
export const writeFigures = (found: StandardFiguresOf): string => {
  const { jobs, repair, preventive, active, labour, people, runs } = found;
  const status = { "no plan": "no plan with this crew", "not reckoned": "not reckoned: stopped before" } as const;
  const all = jobs.reduce((sum, { often }) => sum + often, 0);
  return [
    `${found.vehicle}: time to repair over ${jobs.length} ${jobs.length === 1 ? "job" : "jobs"}, ${people} people, ${runs} runs of each`,
    ...(found.note === undefined ? [] : [found.note]),
    "",
    "job                                        often  share   labour     mean      P50      P95   (person-min, min)",
    ...jobs.map(({ label, often, preventive: isPreventive, ...job }) => {
      const head = `${label.slice(0, 40).padEnd(40)} ${String(often).padStart(7)} ${`${((100 * often) / all).toFixed(0)} %`.padStart(6)}`;
      if (job.status !== "reckoned") return `${head}  ${status[job.status]}`;
      const minutes = [job.labour, job.mean, job.p50?.value, job.p95?.value];
      return `${head}${minutes.map((one) => (one ?? 0).toFixed(0).padStart(9)).join("")}${isPreventive ? "  preventive" : ""}`;
    }),
    "",
    `${"elapsed, ± one standard error, min".padEnd(34)}${["mean", "median", "90 %", "95 %"].map((one) => one.padStart(19)).join("")}`,
    ...(repair === undefined ? [] : [rowOf("a repair", repair)]),
    ...(preventive === undefined ? [] : [rowOf("preventive work", preventive)]),
    ...(active === undefined ? [] : [rowOf("both, as often as they come", active)]),
    ...(labour === undefined ? [] : ["", `Labour of a mean job: ${labour.toFixed(0)} person-minutes.`]),
    "",
    ...found.assumed,
  ].join("\n");
};

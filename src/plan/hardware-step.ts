// Owns how a refit step tells its fastening: torque or marked proposal, stages and order, what the threads change, what is counted.

import { type Tightening, tighten } from "../fastening/index.ts";
import type { Connection, Kind, Vehicle, Way } from "../vehicle/index.ts";
import { jointOf } from "./joint.ts";
import { patternOf, stageTorques } from "./joint-pattern.ts";

/** How the fasteners of a refit step are tightened. Newton-metres. */
export interface StepTightening {
  /** At the fastener, running torque in it. */
  readonly torque: number;
  /** What seats it, where a running torque is added. */
  readonly seat?: number;
  /** Nobody gave this torque: no gate takes it for one. */
  readonly proposal: boolean;
  /** Where the torque comes from, where the file gives none. */
  readonly by?: string;
  readonly fasteners: number;
  /** Torques in turn, the last the full one. */
  readonly stages: readonly number[];
  /** Degrees turned on after the last. */
  readonly turn?: number;
  /** Round once more at the full torque. */
  readonly round: boolean;
  /** Names of the places in turn, as `unmoor pattern` draws them; absent where the file's words are no plain order. */
  readonly order?: readonly string[];
  /** Places and the item that goes in there, where lengths differ. */
  readonly holes?: readonly { readonly item: string; readonly at: readonly string[] }[];
  /** A torque that is meant for threads in another state: what gives the same preload on these. */
  readonly otherThreads?: { readonly torque: number; readonly meant: string; readonly threads: string };
  readonly assumed: readonly string[];
}

/** Kinds that are tightened to a figure, so that the lack of one is worth a proposal. */
const TIGHTENED: readonly Kind[] = ["mount", "bolted joint", "flange", "bracket", "coupling", "shaft joint"];

/** The fastening of a refit, or undefined where nothing is tightened to a figure. */
export function tighteningOf(vehicle: Vehicle, connection: Connection, way: Way): StepTightening | undefined {
  const reading = jointOf(vehicle, connection, way);
  if (!("joint" in reading)) return undefined;
  const { joint, refit, count } = reading;
  if ("propose" in joint.aim && !TIGHTENED.includes(connection.kind)) return undefined;
  const answer = tighten(joint);
  if ("faults" in answer) return undefined;
  const { torque, applied, proposal, by } = answer.answer;
  const pattern = patternOf(connection, refit, count, torque);
  const places = [...(pattern?.items ?? [])];
  const holes = [...new Set(places.map(([, item]) => item))].map((item) => ({
    item,
    at: places.flatMap(([place, own]) => (own === item ? [place] : [])),
  }));
  const turn = refit.turn === undefined ? undefined : Number(((refit.turn * 180) / Math.PI).toFixed(6));
  return {
    torque: applied,
    ...(applied === torque ? {} : { seat: torque }),
    proposal,
    ...("torque" in joint.aim || "turn" in joint.aim ? {} : { by }),
    fasteners: count,
    // The wrench shows the running torque in every stage.
    stages: pattern === undefined ? [applied] : stageTorques(pattern.pattern).map((one) => one + applied - torque),
    ...(turn === undefined ? {} : { turn }),
    round: pattern?.pattern.passes.some(({ by: how }) => how === "round") ?? false,
    ...(pattern?.ordered === true ? { order: pattern.pattern.order } : {}),
    ...(holes.length === 0 ? {} : { holes }),
    ...otherThreads(answer.answer, refit.meant, refit.threads),
    assumed: pattern?.assumed ?? [],
  };
}

function otherThreads(
  { verdicts, torque, preload }: Tightening,
  meant: string | undefined,
  threads: string | undefined,
): Pick<StepTightening, "otherThreads"> {
  const one = verdicts.find(({ rule, standing }) => rule === "other-friction" && standing !== "holds");
  if (one?.limit === undefined || meant === undefined) return {};
  return {
    otherThreads: { torque: (torque * one.limit) / preload.nominal, meant, threads: threads ?? "these" },
  };
}

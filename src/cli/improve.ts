// Owns the command `improve`: what to change first, as text or as one document.

import { type ChangesFile, type Crew, fewestCrew, type Ranking, readChanges, writeImproved } from "../plan/index.ts";
import type { Fault, Vehicle } from "../vehicle/index.ts";
import { computeAside } from "./background.ts";
import type { Call, CallFault } from "./call.ts";
import { readCrewFlag, readText } from "./crew-order.ts";
import { EXIT, type Exit } from "./exit.ts";
import { Figures } from "./figures.ts";
import { countFaults, sayFaults, takeVehicle } from "./files.ts";
import { readChance } from "./finish.ts";
import { jobsThatCome, readWeights } from "./named.ts";
import { refuse } from "./release.ts";
import type { Terminal } from "./terminal.ts";
import type { ImproveDocument } from "./times-documents.ts";
import { sayFolded } from "./times-text.ts";
import type { TimesAnswered, TimesAsked } from "./times-thread.ts";
import { mendWord } from "./words.ts";

export const TIMES_THREAD = new URL("./times-thread.js", import.meta.url);
const RANKINGS: readonly Ranking[] = ["elapsed", "labour", "p95"];
const MOST = 60;
const RUNS = 2000;

/** The crew of a call; without one so many that every step can be made. */
export const takeCrew = (
  vehicle: Vehicle,
  given: readonly string[] | undefined,
):
  | { readonly crew: Crew }
  | { readonly call: readonly CallFault[] }
  | { readonly file: readonly Fault[]; readonly path: string } =>
  given === undefined ? { crew: fewestCrew(vehicle) } : readCrewFlag(vehicle, given);

export async function runImprove(call: Call, terminal: Terminal): Promise<Exit> {
  const path = call.operands[0] ?? "";
  const json = call.flags.has("json");
  const taken = await takeVehicle(path, terminal, json);
  if (typeof taken === "number") return taken;
  const { vehicle } = taken;
  const given = takeCrew(vehicle, call.flags.get("crew"));
  if ("call" in given) return refuse(given.call, terminal);
  if ("file" in given) return tellFile(given.file, given.path, terminal);
  const figures = new Figures(call);
  const chance = readChance(figures, vehicle, RUNS);
  const known = vehicle.jobs.map(({ id }) => id);
  for (const job of figures.list("job"))
    if (!known.includes(job)) figures.fail("job", `there is no job called ${job}`, mendWord(job, known));
  const weights = readWeights(figures, known);
  const [rank = "elapsed"] = figures.list("rank");
  const ranking = RANKINGS.find((one) => one === rank);
  if (ranking === undefined) figures.fail("rank", `nothing is ranked by ${rank}`, mendWord(rank, RANKINGS));
  const most = figures.text("most") === undefined ? MOST : Math.floor(Number(figures.text("most")));
  let file: ChangesFile | undefined;
  const from = figures.text("changes");
  if (from !== undefined) {
    const text = readText(from);
    if (typeof text !== "string") figures.faults.push(text);
    else {
      const read = readChanges(from, text, vehicle);
      if (read.changes === undefined) return tellFile(read.faults, from, terminal);
      file = read.changes;
    }
  }
  const often = new Map([...(file?.jobs.map(({ job, times }) => [job, times] as const) ?? []), ...weights]);
  const chosen = (id: string) => !figures.has("job") || figures.list("job").includes(id);
  const jobs = jobsThatCome(figures, known, chosen, often).map(({ id, often: weight }) => ({ id, weight }));
  if (figures.faults.length > 0 || chance === undefined || ranking === undefined)
    return refuse(figures.faults, terminal);
  const rate = figures.text("rate") === undefined ? file?.rate : Number(figures.text("rate"));
  const within = figures.text("within");
  const { improved } = await computeAside<TimesAsked, TimesAnswered>(
    {
      what: "improve",
      vehicle,
      ...(within === undefined ? {} : { milliseconds: Number(within) * 1000 }),
      asked: {
        ...chance,
        jobs,
        weighed: often.size > 0,
        crew: given.crew,
        changes: file?.changes ?? [],
        most,
        ...(rate === undefined ? {} : { rate }),
      },
    },
    terminal,
    TIMES_THREAD,
  );
  if (improved === undefined) return EXIT.stopped;
  if (json) {
    const document: ImproveDocument = improved;
    terminal.say(JSON.stringify(document, undefined, 2));
  } else sayFolded(writeImproved(improved, ranking), terminal);
  if (improved.jobs.some(({ status }) => status === "reckoned")) return EXIT.found;
  return improved.stopped ? EXIT.stopped : EXIT.not;
}

export const tellFile = (faults: readonly Fault[], path: string, terminal: Terminal): Exit => {
  terminal.warn(`${sayFaults(faults, terminal)}\n\n${countFaults(faults.length, path)}`);
  return EXIT.not;
};

// Owns the command `figures`: the maintainability figures of the handbooks over a vehicle's jobs, as text or as one document.

import { writeFigures } from "../plan/index.ts";
import { computeAside } from "./background.ts";
import type { Call } from "./call.ts";
import { EXIT, type Exit } from "./exit.ts";
import { Figures } from "./figures.ts";
import { takeVehicle } from "./files.ts";
import { readChance } from "./finish.ts";
import { TIMES_THREAD, takeCrew, tellFile } from "./improve.ts";
import { jobsThatCome, readWeights } from "./named.ts";
import { refuse } from "./release.ts";
import type { Terminal } from "./terminal.ts";
import type { FiguresDocument } from "./times-documents.ts";
import { sayFolded } from "./times-text.ts";
import type { TimesAnswered, TimesAsked } from "./times-thread.ts";
import { mendWord } from "./words.ts";

const RUNS = 10_000;

export async function runFigures(call: Call, terminal: Terminal): Promise<Exit> {
  const json = call.flags.has("json");
  const taken = await takeVehicle(call.operands[0] ?? "", terminal, json);
  if (typeof taken === "number") return taken;
  const { vehicle } = taken;
  const given = takeCrew(vehicle, call.flags.get("crew"));
  if ("call" in given) return refuse(given.call, terminal);
  if ("file" in given) return tellFile(given.file, given.path, terminal);
  const figures = new Figures(call);
  const chance = readChance(figures, vehicle, RUNS);
  const known = vehicle.jobs.map(({ id }) => id);
  for (const flag of ["job", "preventive"] as const)
    for (const job of figures.list(flag))
      if (!known.includes(job)) figures.fail(flag, `there is no job called ${job}`, mendWord(job, known));
  const weights = readWeights(figures, known);
  const preventive = new Set(figures.list("preventive"));
  const wanted = (id: string) => !figures.has("job") || figures.list("job").includes(id) || preventive.has(id);
  const jobs = jobsThatCome(figures, known, wanted, weights).map((job) => ({
    ...job,
    preventive: preventive.has(job.id),
  }));
  if (figures.faults.length > 0 || chance === undefined) return refuse(figures.faults, terminal);
  const within = figures.text("within");
  const { figures: found } = await computeAside<TimesAsked, TimesAnswered>(
    {
      what: "figures",
      vehicle,
      ...(within === undefined ? {} : { milliseconds: Number(within) * 1000 }),
      asked: { ...chance, jobs, weighed: weights.size > 0, crew: given.crew },
    },
    terminal,
    TIMES_THREAD,
  );
  if (found === undefined) return EXIT.stopped;
  if (json) {
    const document: FiguresDocument = found;
    terminal.say(JSON.stringify(document, undefined, 2));
  } else sayFolded(writeFigures(found), terminal);
  if (found.labour !== undefined) return EXIT.found;
  return found.stopped ? EXIT.stopped : EXIT.not;
}

// Owns the command `figures`: the maintainability figures of the handbooks over a vehicle's jobs, as text or as one document.

import { writeFigures } from "../plan/index.ts";
import type { Call } from "./call.ts";
import { EXIT, type Exit } from "./exit.ts";
import { jobsThatCome, readWeights } from "./named.ts";
import { reckon, sayReckoned, takeReckoning } from "./reckoning.ts";
import { refuse } from "./release.ts";
import type { Terminal } from "./terminal.ts";
import type { FiguresDocument } from "./times-documents.ts";
import { mendWord } from "./words.ts";

const RUNS = 10_000;

export async function runFigures(call: Call, terminal: Terminal): Promise<Exit> {
  const taken = await takeReckoning(call, terminal, RUNS);
  if (typeof taken === "number") return taken;
  const { vehicle, crew, figures, chance, jobs: known } = taken;
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
  const { figures: found } = await reckon(
    { what: "figures", vehicle, asked: { ...chance, jobs, weighed: weights.size > 0, crew } },
    figures,
    terminal,
  );
  if (found === undefined) return EXIT.stopped;
  sayReckoned(call, found satisfies FiguresDocument, () => writeFigures(found), terminal);
  if (found.labour !== undefined) return EXIT.found;
  return found.stopped ? EXIT.stopped : EXIT.not;
}

// Owns the command `improve`: what to change first, as text or as one document.

import { type ChangesFile, type Ranking, readChanges, writeImproved } from "../plan/index.ts";
import type { Call } from "./call.ts";
import { readText } from "./crew-order.ts";
import { EXIT, type Exit } from "./exit.ts";
import { jobsThatCome, readWeights } from "./named.ts";
import { reckon, sayReckoned, takeReckoning, tellFile } from "./reckoning.ts";
import { refuse } from "./release.ts";
import type { Terminal } from "./terminal.ts";
import type { ImproveDocument } from "./times-documents.ts";
import { mendWord } from "./words.ts";

const RANKINGS: readonly Ranking[] = ["elapsed", "labour", "p95"];
const MOST = 60;
const RUNS = 2000;

export async function runImprove(call: Call, terminal: Terminal): Promise<Exit> {
  const taken = await takeReckoning(call, terminal, RUNS);
  if (typeof taken === "number") return taken;
  const { vehicle, crew, figures, chance, jobs: known } = taken;
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
  const { improved } = await reckon(
    {
      what: "improve",
      vehicle,
      asked: {
        ...chance,
        jobs,
        weighed: often.size > 0,
        crew,
        changes: file?.changes ?? [],
        most,
        ...(rate === undefined ? {} : { rate }),
      },
    },
    figures,
    terminal,
  );
  if (improved === undefined) return EXIT.stopped;
  sayReckoned(call, improved satisfies ImproveDocument, () => writeImproved(improved, ranking), terminal);
  if (improved.jobs.some(({ status }) => status === "reckoned")) return EXIT.found;
  return improved.stopped ? EXIT.stopped : EXIT.not;
}

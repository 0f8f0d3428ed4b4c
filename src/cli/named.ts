// Owns values given by name, and the jobs that come by them: "--weight JOB=12", "--lead out=2h,4h,9h"; each name known, and given once.

import type { Figures } from "./figures.ts";
import { mendWord } from "./words.ts";

export interface Named {
  readonly name: string;
  readonly values: readonly string[];
}

/** The values by name. `what`: what a name that is not known is not. Commas part values, so a word without = goes with the one before it. */
export const readNamed = (
  figures: Figures,
  flag: string,
  known: readonly string[],
  what: (name: string) => string,
): readonly Named[] => {
  const read: { readonly name: string; readonly values: string[] }[] = [];
  for (const word of figures.list(flag)) {
    const at = word.indexOf("=");
    const last = read.at(-1);
    if (at >= 0) read.push({ name: word.slice(0, at), values: [word.slice(at + 1)] });
    else if (last === undefined) read.push({ name: word, values: [] });
    else last.values.push(word);
  }
  return read.filter(({ name }, index) => {
    if (!known.includes(name)) figures.fail(flag, what(name), mendWord(name, known));
    else if (read.findIndex((one) => one.name === name) < index)
      figures.fail(flag, `${name} is given twice`, "Give it once.");
    else return true;
    return false;
  });
};

/** --weight JOB=N: how often each job comes. */
export const readWeights = (figures: Figures, jobs: readonly string[]): ReadonlyMap<string, number> => {
  const weights = new Map<string, number>();
  for (const { name, values } of readNamed(figures, "weight", jobs, (job) => `there is no job ${job}`)) {
    const times = Number(values[0]);
    if (values.length === 1 && times > 0 && Number.isFinite(times)) weights.set(name, times);
    else
      figures.fail(
        "weight",
        `"${[name, values.join(",")].join("=")}" does not say how often`,
        `Write ${name}=12, for twelve times a year.`,
      );
  }
  return weights;
};

/** The jobs asked for that come at all, and how often; all alike where nobody says. That none is left is a fault, unless one says so already. */
export const jobsThatCome = (
  figures: Figures,
  known: readonly string[],
  wanted: (id: string) => boolean,
  often: ReadonlyMap<string, number>,
): readonly { readonly id: string; readonly often: number }[] => {
  const jobs = known.filter(wanted).flatMap((id) => {
    const times = often.size === 0 ? 1 : often.get(id);
    return times === undefined ? [] : [{ id, often: times }];
  });
  if (jobs.length === 0 && figures.faults.length === 0)
    figures.faults.push({
      what: known.length === 0 ? "the file has no jobs" : "of the jobs asked for none is said to come",
      mend: known.length === 0 ? "Write one under jobs." : `Write --weight ${known[0]}=12 for a job that comes.`,
    });
  return jobs;
};

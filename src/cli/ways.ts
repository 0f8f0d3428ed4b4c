// Owns the command `ways`: repair in place, take out, or swap, as text, document and drawing.

import { drawWays, type WayAsked, type WayToMend, writeWays } from "../plan/index.ts";
import { readQuantity } from "../quantity/index.ts";
import { fromNumber, fromThree, type Lognormal } from "../times/index.ts";
import type { Call } from "./call.ts";
import { EXIT, type Exit } from "./exit.ts";
import type { Figures } from "./figures.ts";
import { readNamed } from "./named.ts";
import { reckon, sayReckoned, takeReckoning } from "./reckoning.ts";
import { refuse } from "./release.ts";
import { writeDrawing } from "./schedule.ts";
import type { Terminal } from "./terminal.ts";
import type { WaysDocument } from "./times-documents.ts";
import { mendWord } from "./words.ts";

const RUNS = 10_000;
const WAYS: readonly { readonly flag: string; readonly way: WayToMend }[] = [
  { flag: "in-place", way: "in place" },
  { flag: "out", way: "out" },
  { flag: "swap", way: "swap" },
];

/** Times by way: one, with the default spread, or least, likeliest and most. */
const readTimes = (figures: Figures, flag: "lead" | "mend"): ReadonlyMap<string, Lognormal> => {
  const known = WAYS.map((one) => one.flag);
  const read = new Map<string, Lognormal>();
  for (const { name, values: times } of readNamed(figures, flag, known, (way) => `${way} is none of the ways`)) {
    const mend = `Write --${flag} out=6h, or --${flag} out=4h,6h,12h.`;
    if (!figures.has(name)) figures.fail(flag, `${name} is not asked for`, `Write --${name} JOB besides.`);
    const minutes: number[] = times.flatMap((text) => {
      const reading = readQuantity(text, "time");
      if (!("fault" in reading)) return [Number(reading.value.nominal)];
      figures.fail(flag, reading.fault.what, reading.fault.mend);
      return [];
    });
    if (minutes.length < times.length) continue;
    const [least = 0, likely, most] = minutes;
    if (minutes.length !== 1 && minutes.length !== 3) {
      figures.fail(flag, `${times.join(",")} is neither one time nor three`, mend);
      continue;
    }
    const made = likely === undefined || most === undefined ? fromNumber(least) : fromThree({ least, likely, most });
    if ("mend" in made) figures.fail(flag, made.what, made.mend);
    else read.set(name, made);
  }
  return read;
};

export async function runWays(call: Call, terminal: Terminal): Promise<Exit> {
  const taken = await takeReckoning(call, terminal, RUNS);
  if (typeof taken === "number") return taken;
  const { vehicle, crew, figures, chance, jobs: known } = taken;
  const [lead, mend] = [readTimes(figures, "lead"), readTimes(figures, "mend")];
  const ways = WAYS.flatMap(({ flag, way }): readonly WayAsked[] => {
    const job = figures.text(flag);
    if (job === undefined) return [];
    if (!known.includes(job)) figures.fail(flag, `there is no job called ${job}`, mendWord(job, known));
    const [parts, repair] = [lead.get(flag), mend.get(flag)];
    return [
      {
        way,
        job,
        ...(parts === undefined ? {} : { lead: parts }),
        ...(repair === undefined ? {} : { mend: repair }),
      },
    ];
  });
  if (ways.length < 2)
    figures.faults.push({
      what: "ways compares two at least",
      mend: "Name the job of each: --in-place JOB, --out JOB, --swap JOB.",
    });
  if (figures.faults.length > 0 || chance === undefined) return refuse(figures.faults, terminal);
  const by = figures.text("by");
  const { compared } = await reckon(
    { what: "ways", vehicle, asked: { ...chance, crew, ways, ...(by === undefined ? {} : { by: Number(by) }) } },
    figures,
    terminal,
  );
  if (compared === undefined) return EXIT.stopped;
  sayReckoned(call, compared satisfies WaysDocument, () => writeWays(compared), terminal);
  const some = compared.ways.some(({ status }) => status === "reckoned");
  const drawing = figures.text("svg");
  if (some && drawing !== undefined && !writeDrawing(drawing, drawWays(compared), terminal)) return EXIT.call;
  if (some) return EXIT.found;
  return compared.stopped ? EXIT.stopped : EXIT.not;
}

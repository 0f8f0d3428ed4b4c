// Owns the command `finish`: when a crew is done, with the chances of it, as text, document and drawing.

import { drawFinish, type Reckoning, translate, writeFinish } from "../plan/index.ts";
import type { Lognormal } from "../times/index.ts";
import type { Vehicle } from "../vehicle/index.ts";
import { computeAside } from "./background.ts";
import type { Call, CallFault } from "./call.ts";
import { readCrewFlag, readText } from "./crew-order.ts";
import type { CrewAnswered, CrewAsked } from "./crew-thread.ts";
import { EXIT, type Exit } from "./exit.ts";
import { Figures } from "./figures.ts";
import { countFaults, sayFaults, takeVehicle } from "./files.ts";
import { readOrder } from "./order.ts";
import { refuse, tellRelease } from "./release.ts";
import { CREW_THREAD, searchLimits, writeDrawing } from "./schedule.ts";
import type { Terminal } from "./terminal.ts";
import { type FinishDocument, learnDocument } from "./times-documents.ts";
import { sayFolded } from "./times-text.ts";

const SECONDS = 10;
const RUNS = 10_000;
/** Below this a percentile has no neighbours to take its error from. */
const FEWEST = 100;
/** Above this the runs do not fit into memory. */
const MOST = 10_000_000;
const COMMON = 0.1;

/** The times of a side file, or what is wrong with it. */
const readLearnt = (path: string | undefined, vehicle: string): ReadonlyMap<string, Lognormal> | CallFault => {
  if (path === undefined) return new Map();
  const text = readText(path);
  if (typeof text !== "string") return text;
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch {
    return { what: `${path} is no JSON`, mend: `Write it with unmoor learn FILE RUNS --write ${path}.` };
  }
  const { success, data, error } = learnDocument.safeParse(json);
  if (!success)
    return {
      what: `${path} is not what learn wrote: ${error.issues[0]?.path.join(".")} ${error.issues[0]?.message}`,
      mend: `Write it again with unmoor learn FILE RUNS --write ${path}.`,
    };
  if (data.vehicle !== vehicle)
    return { what: `${path} is of "${data.vehicle}", not of "${vehicle}"`, mend: "Learn from runs of this vehicle." };
  return new Map(data.times.map(({ step, centre, spread }) => [step, { centre, spread }]));
};

/** What a simulation is asked with: runs, seed, the day that steps share, and what runs taught. Undefined, and among the faults, where something is wrong. */
export const readChance = (figures: Figures, vehicle: Vehicle, usual: number): Omit<Reckoning, "stop"> | undefined => {
  const runs = Math.floor(Number(figures.text("runs") ?? usual));
  if (runs < FEWEST) figures.fail("runs", `${runs} are too few for a percentile`, `Write ${FEWEST} or more.`);
  if (runs > MOST) figures.fail("runs", `${runs} are more than is kept`, `Write ${MOST} or less.`);
  const common = Number(figures.text("common") ?? COMMON);
  if (!(common >= 0 && common < 2)) figures.fail("common", "it is no spread", "Write 0 or more, 0.1 for example.");
  const learnt = readLearnt(figures.text("learnt"), vehicle.name);
  if (!("what" in learnt)) return { runs, common, learnt, seed: Number(figures.text("seed") ?? 1) };
  figures.faults.push(learnt);
  return undefined;
};

export async function runFinish(call: Call, terminal: Terminal): Promise<Exit> {
  const json = call.flags.has("json");
  const path = call.operands[0] ?? "";
  const taken = await takeVehicle(path, terminal, json);
  if (typeof taken === "number") return taken;
  const { vehicle } = taken;
  const { flags } = call;
  const given = readCrewFlag(vehicle, flags.get("crew") ?? ["2"]);
  if ("call" in given) return refuse(given.call, terminal);
  if ("file" in given) {
    terminal.warn(`${sayFaults(given.file, terminal)}\n\n${countFaults(given.file.length, given.path)}`);
    return EXIT.not;
  }
  const order = readOrder(vehicle, { ...call, flags: new Map([...flags].filter(([name]) => name !== "crew")) });
  if (!("jobs" in order)) return refuse(order, terminal);
  const figures = new Figures(call);
  const chance = readChance(figures, vehicle, RUNS);
  const question = translate(vehicle, { ...order, people: given.people });
  const faults = [...figures.faults, ...question.faults];
  if (faults.length > 0 || chance === undefined) return refuse(faults, terminal);
  const by = figures.text("by") === undefined ? undefined : Number(figures.text("by"));
  const limits = searchLimits(call, SECONDS);
  const asked = { ...chance, ...(by === undefined ? {} : { by }) };
  const { result, answer, conflict, finish, noWayBack } = await computeAside<CrewAsked, CrewAnswered>(
    { what: "finish", question, crew: given.crew, finish: asked, ...limits },
    terminal,
    CREW_THREAD,
  );
  if (answer === undefined && noWayBack !== true)
    return tellRelease(call, question, { result, ...(conflict === undefined ? {} : { conflict }) }, terminal);
  if (finish === undefined) {
    terminal.warn(
      `unmoor: there is no schedule to simulate. What is in the way is told by unmoor plan ${path} --crew, with the same crew.`,
    );
    return answer === undefined || answer.status === "infeasible" ? EXIT.not : EXIT.stopped;
  }
  if (json) {
    const document: FinishDocument = finish;
    terminal.say(JSON.stringify(document, undefined, 2));
  } else sayFolded(writeFinish(finish, by), terminal);
  const [drawing] = flags.get("svg") ?? [];
  if (drawing !== undefined && !writeDrawing(drawing, drawFinish(finish, by), terminal)) return EXIT.call;
  return EXIT.found;
}

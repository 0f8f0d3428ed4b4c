// Owns the command `crew`: how long the job takes with one person, two, three …, and what one more of a scarce tool would spare.

import { drawCrewCurve, translate, writeCrewCurve } from "../plan/index.ts";
import { computeAside } from "./background.ts";
import type { Call } from "./call.ts";
import type { CrewAnswered, CrewAsked } from "./crew-thread.ts";
import type { CrewCurveDocument } from "./documents.ts";
import { EXIT, type Exit } from "./exit.ts";
import { Figures } from "./figures.ts";
import { takeVehicle } from "./files.ts";
import { readOrder } from "./order.ts";
import { refuse } from "./release.ts";
import { CREW_THREAD, searchLimits, writeDrawing } from "./schedule.ts";
import type { Terminal } from "./terminal.ts";

const UP_TO = 5;
/** Of each point. */
const SECONDS = 5;

export async function runCrew(call: Call, terminal: Terminal): Promise<Exit> {
  const path = call.operands[0] ?? "";
  const json = call.flags.has("json");
  const taken = await takeVehicle(path, terminal, json);
  if (typeof taken === "number") return taken;
  const order = readOrder(taken.vehicle, call);
  if (!("jobs" in order)) return refuse(order, terminal);
  const question = translate(taken.vehicle, { ...order, people: 1 });
  if (question.faults.length > 0) return refuse(question.faults, terminal);
  const upTo = Math.floor(Number(call.flags.get("up-to")?.[0] ?? UP_TO));
  if (upTo < 1) return refuse([{ what: "a curve up to nobody", mend: "Write for example --up-to 5." }], terminal);
  const figures = new Figures(call);
  const due = figures.quantity("due", "time");
  if (figures.faults.length > 0) return refuse(figures.faults, terminal);
  const { curve } = await computeAside<CrewAsked, CrewAnswered>(
    { what: "curve", question, upTo, ...(due === undefined ? {} : { due }), ...searchLimits(call, SECONDS) },
    terminal,
    CREW_THREAD,
  );
  if (curve === undefined) return EXIT.stopped;
  if (json) {
    const document: CrewCurveDocument = curve;
    terminal.say(JSON.stringify(document, undefined, 2));
  } else terminal.say(writeCrewCurve(curve));
  const [drawing] = call.flags.get("svg") ?? [];
  if (drawing !== undefined && !writeDrawing(drawing, drawCrewCurve(curve), terminal)) return EXIT.call;
  if (curve.points.some((point) => point.elapsed !== undefined)) return EXIT.found;
  return curve.points.some((point) => point.status === "unknown") ? EXIT.stopped : EXIT.not;
}

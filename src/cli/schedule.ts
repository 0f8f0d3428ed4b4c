// Owns `plan --crew`: who does what when, as text, as one document, as a drawing; or why this crew cannot do it.

import { writeFileSync } from "node:fs";
import { crewDoubts, describeCrewLack, drawCrewPlan, translate, writeCrewPlan } from "../plan/index.ts";
import { computeAside } from "./background.ts";
import type { Call, CallFault } from "./call.ts";
import { readCrewFlag, readStanding } from "./crew-order.ts";
import type { CrewAnswered, CrewAsked } from "./crew-thread.ts";
import type { CrewLackDocument, CrewPlanDocument } from "./documents.ts";
import { EXIT, type Exit } from "./exit.ts";
import { countFaults, sayFaults, takeVehicle } from "./files.ts";
import { readOrder } from "./order.ts";
import { ENDED, refuse, tellRelease } from "./release.ts";
import type { Terminal } from "./terminal.ts";
import { mendWord } from "./words.ts";

/** Where the call sets no limit. */
const SECONDS = 10;

export const CREW_THREAD = new URL("./crew-thread.js", import.meta.url);

const numberOf = ({ flags }: Call, name: string): number | undefined => {
  const [value] = flags.get(name) ?? [];
  return value === undefined ? undefined : Number(value);
};

/** Limits that every search of a crew takes. */
export const searchLimits = (call: Call, seconds: number) => {
  const within = numberOf(call, "within");
  return {
    seconds: numberOf(call, "seconds") ?? seconds,
    seed: numberOf(call, "seed") ?? 1,
    ...(within === undefined ? {} : { milliseconds: within * 1000 }),
  };
};

/** Writes a drawing; false, and said, where it cannot be. */
export function writeDrawing(path: string, text: string, terminal: Terminal): boolean {
  try {
    writeFileSync(path, text);
    return true;
  } catch (error) {
    terminal.warn(`unmoor: ${path} cannot be written: ${error instanceof Error ? error.message : error}.`);
    return false;
  }
}

export async function runSchedule(call: Call, terminal: Terminal): Promise<Exit> {
  const path = call.operands[0] ?? "";
  const json = call.flags.has("json");
  const taken = await takeVehicle(path, terminal, json);
  if (typeof taken === "number") return taken;
  const { vehicle, reading } = taken;
  const given = readCrewFlag(vehicle, call.flags.get("crew") ?? []);
  if ("call" in given) return refuse(given.call, terminal);
  if ("file" in given) {
    terminal.warn(`${sayFaults(given.file, terminal)}\n\n${countFaults(given.file.length, given.path)}`);
    return EXIT.not;
  }
  for (const { kind, word, nearest } of crewDoubts(vehicle, given.crew))
    terminal.warn(`unmoor: the crew's ${kind} ${word} is none that ${path} asks for. Nearest: ${nearest}.`);
  const { flags } = call;
  const order = readOrder(vehicle, { ...call, flags: new Map([...flags].filter(([name]) => name !== "crew")) });
  const standing = readStanding(call);
  if (!("jobs" in order)) return refuse(order, terminal);
  if (standing !== undefined && !("now" in standing)) return refuse(standing, terminal);
  const question = translate(vehicle, { ...order, people: given.people });
  if (question.faults.length > 0) return refuse(question.faults, terminal);
  const answered = await computeAside<CrewAsked, CrewAnswered>(
    {
      what: "schedule",
      question,
      crew: given.crew,
      ...(standing === undefined ? {} : { standing }),
      ...searchLimits(call, SECONDS),
    },
    terminal,
    CREW_THREAD,
  );
  const { result, answer, unknown, noWayBack } = answered;
  if (unknown !== undefined && unknown.length > 0)
    return refuse(
      unknown.map(({ id, known }): CallFault => ({ what: `this schedule has no ${id}`, mend: mendWord(id, known) })),
      terminal,
    );
  if (noWayBack === true) {
    terminal.warn(
      `unmoor: no order of the way back keeps all that the file asks of it, so nothing says what may be done side by side. Mend what unmoor plan ${path} without --crew finds.`,
    );
    return EXIT.not;
  }
  if (answer === undefined) {
    // No plan, and why: what `release` says of it is all that there is to say.
    const asked = { result, ...(answered.conflict === undefined ? {} : { conflict: answered.conflict }) };
    return tellRelease(call, question, asked, terminal);
  }
  const { plan, status } = answer;
  if (plan === undefined) {
    const document: CrewLackDocument = describeCrewLack(answer, reading.place);
    terminal.say(json ? JSON.stringify(document, undefined, 2) : sayLacks(document));
    return ENDED[status];
  }
  if (json) {
    const document: CrewPlanDocument = plan;
    terminal.say(JSON.stringify(document, undefined, 2));
  } else terminal.say(writeCrewPlan(plan));
  const [drawing] = flags.get("svg") ?? [];
  if (drawing !== undefined && !writeDrawing(drawing, drawCrewPlan(plan), terminal)) return EXIT.call;
  return ENDED[status];
}

const sayLacks = ({ status, lacks, bound }: CrewLackDocument): string =>
  status === "infeasible"
    ? [
        "This crew cannot do it.",
        ...lacks.flatMap(({ what, mend, place }) => [
          `  ${place === undefined ? "" : `${place.file}:${place.line}  `}${what}.`,
          `      ${mend}`,
        ]),
      ].join("\n")
    : `No schedule was found in the time${bound === null || bound === 0 ? "" : `; none takes less than ${Math.ceil(bound)} min`}. Give it longer: --seconds 60.`;

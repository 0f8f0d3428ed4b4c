// Owns the command `check`: every fault and warning of a vehicle file at once.

import type { Call } from "./call.ts";
import { EXIT, type Exit } from "./exit.ts";
import { countFaults, describeReading, openVehicle, sayFaults } from "./files.ts";
import { describeQuestion, questionsAt, sayQuestions } from "./questions.ts";
import type { Terminal } from "./terminal.ts";

export async function runCheck({ operands, flags }: Call, terminal: Terminal): Promise<Exit> {
  const path = operands[0] ?? "";
  const reading = await openVehicle(path);
  if ("what" in reading) {
    terminal.warn(`unmoor: ${reading.what}. ${reading.mend}`);
    return EXIT.call;
  }
  const { vehicle, faults, warnings } = reading;
  const questions = questionsAt(path, reading);
  if (flags.has("json"))
    terminal.say(JSON.stringify(describeReading(path, reading, questions.map(describeQuestion)), undefined, 2));
  else {
    if (faults.length > 0) terminal.say(`${sayFaults(faults, terminal)}\n`);
    if (warnings.length > 0)
      terminal.say(`${terminal.ink.doubt("Legal, but look at it:")}\n${sayFaults(warnings, terminal)}\n`);
    if (vehicle === undefined) terminal.say(terminal.ink.bad(countFaults(faults.length, path)));
    else {
      if (questions.length > 0) terminal.say(`${sayQuestions(questions, terminal)}\n`);
      const size = `${vehicle.parts.length} parts, ${vehicle.connections.length} connections, ${vehicle.positions.length} positions`;
      const jobs = vehicle.jobs.map(({ id }) => id).join(", ");
      terminal.say(
        `${terminal.ink.good(`${path} is sound`)}: ${vehicle.name}; ${size}; ${warnings.length} warning${warnings.length === 1 ? "" : "s"}.\nJobs: ${jobs || "none"}.`,
      );
    }
  }
  return vehicle === undefined ? EXIT.not : EXIT.found;
}

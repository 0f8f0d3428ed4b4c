// Owns the reading of vehicle files from the disk, and what is said when there is nothing there to read.

import { readdirSync, readFileSync, statSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { type Fault, FILE_LIMIT, type Reading, readVehicleWhole, sentence, type Vehicle } from "../vehicle/index.ts";
import type { CallFault } from "./call.ts";
import type { CheckDocument } from "./documents.ts";
import type { QuestionDocument } from "./draft-documents.ts";
import { EXIT, type Exit } from "./exit.ts";
import type { Terminal } from "./terminal.ts";
import { mendWord } from "./words.ts";

const SUFFIX = ".vehicle.yaml";

/** What a vehicle is called in a store: the name of its file. */
export const vehicleIdOf = (path: string): string => basename(path).replace(/\.vehicle\.ya?ml$|\.ya?ml$/, "");

/** Reads a vehicle file with what it includes; what a wrong path is answered with where there is no file. */
export async function openVehicle(path: string): Promise<Reading | CallFault> {
  const text = load(path);
  if (typeof text !== "string")
    return { what: `${path} cannot be read: ${text.missing}`, mend: text.mend ?? mendPath(path) };
  return await readVehicleWhole(path, (asked) => (asked === path ? text : load(asked)));
}

/** Reads a vehicle that a command can work with; else says what is wrong and gives the exit code. */
export async function takeVehicle(
  path: string,
  terminal: Terminal,
  json: boolean,
): Promise<{ readonly vehicle: Vehicle; readonly reading: Reading } | Exit> {
  const reading = await openVehicle(path);
  if ("what" in reading) {
    terminal.warn(`unmoor: ${reading.what}. ${reading.mend}`);
    return EXIT.call;
  }
  if (reading.vehicle !== undefined) return { vehicle: reading.vehicle, reading };
  if (json) terminal.say(JSON.stringify(describeReading(path, reading), undefined, 2));
  terminal.warn(`${sayFaults(reading.faults, terminal)}\n\n${countFaults(reading.faults.length, path)}`);
  return EXIT.not;
}

export function sayFaults(faults: readonly Fault[], { ink }: Terminal): string {
  return faults.map((fault) => sentence(fault).replace(/^\S+/, ink.strong)).join("\n");
}

export function countFaults(faults: number, path: string): string {
  return `${faults} fault${faults === 1 ? "" : "s"} in ${path}: nothing is computed from it until ${faults === 1 ? "it is" : "they are"} mended.`;
}

/** What was read, as `check --json` gives it. */
export function describeReading(
  path: string,
  { vehicle, faults, warnings, files }: Reading,
  questions: readonly QuestionDocument[] = [],
): CheckDocument {
  return {
    format: "unmoor/check/1",
    file: path,
    files,
    sound: vehicle !== undefined,
    faults: faults.map((fault) => ({ ...fault, sentence: sentence(fault) })),
    warnings: warnings.map((fault) => ({ ...fault, sentence: sentence(fault) })),
    ...(questions.length === 0 ? {} : { questions }),
    ...(vehicle === undefined
      ? {}
      : {
          vehicle: {
            name: vehicle.name,
            parts: vehicle.parts.length,
            connections: vehicle.connections.length,
            positions: vehicle.positions.length,
            tasks: vehicle.tasks.length,
            jobs: vehicle.jobs.map(({ id, label }) => ({ id, label })),
          },
        }),
  };
}

/** Why there is no text of a file, and the mend where another path is none. */
interface NoText {
  readonly missing: string;
  readonly mend?: string;
}

function load(path: string): string | NoText {
  try {
    const { size } = statSync(path);
    // Four bytes are the most that one character takes, so nothing is turned away here that the reader would have read.
    if (size > 4 * FILE_LIMIT)
      return {
        missing: `it is ${(size / 1e6).toFixed(0)} MB, far above the limit of a vehicle file`,
        mend: "Name a vehicle file; one that is too long is split, and the pieces named under include.",
      };
    return new TextDecoder("utf-8", { fatal: true }).decode(readFileSync(path));
  } catch (error) {
    return explain(error);
  }
}

function explain(error: unknown): NoText {
  const code = error instanceof Error && "code" in error ? error.code : undefined;
  if (code === "ENOENT" || code === "ENOTDIR") return { missing: "no such file" };
  if (code === "EISDIR") return { missing: "it is a folder" };
  if (code === "EACCES" || code === "EPERM")
    return { missing: "this user may not read it", mend: "Have its owner let you read it." };
  if (code === "ERR_ENCODING_INVALID_ENCODED_DATA")
    return { missing: "it is no UTF-8 text", mend: "If it is a vehicle file, save it as UTF-8." };
  return { missing: error instanceof Error ? error.message : String(error) };
}

/** The vehicle files at or around a path that is none. */
function mendPath(path: string): string {
  const list = (folder: string) => {
    try {
      return readdirSync(folder).filter((name) => name.endsWith(SUFFIX));
    } catch {
      return [];
    }
  };
  const inside = list(path).map((name) => join(path, name));
  if (inside.length > 0) return `Name a file in it: ${inside.join(", ")}.`;
  const beside = list(dirname(path)).filter((name) => name !== basename(path));
  return beside.length > 0
    ? mendWord(
        path,
        beside.map((name) => join(dirname(path), name)),
      )
    : `Name a vehicle file, *${SUFFIX}.`;
}

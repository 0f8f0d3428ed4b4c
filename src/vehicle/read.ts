// Owns the reading of a vehicle file: text in, the model and everything that is wrong or dubious out.

import { Desk } from "./desk.ts";
import { checkDoubts } from "./doubts.ts";
import type { Fault, Place } from "./fault.ts";
import { readFile } from "./file.ts";
import { assembleFiles, type Load } from "./include.ts";
import type { Vehicle } from "./model.ts";
import { resolveMentions } from "./resolve.ts";
import { checkRules } from "./rules.ts";
import { placeOf, type SecondOpinion } from "./source.ts";

/** A figure that is still to be asked: whose, under which key, where its "?" stands. */
export interface Gap {
  readonly at: Place;
  readonly of: string;
  readonly key: string;
  readonly means: string;
}

/** What came of reading a vehicle file. */
export interface Reading {
  /** Present when there is no fault. */
  readonly vehicle?: Vehicle;
  /** What keeps the file from being used: every one that can be told, in the order of the file. */
  readonly faults: readonly Fault[];
  /** What is legal but dubious; found only in a file without faults. */
  readonly warnings: readonly Fault[];
  /** Where the thing with this id stands; a way (`bell-bolts/2`) and a hang (`pump/hang-1`) have ids too. */
  readonly place: (id: string) => Place | undefined;
  /** Values that are written "?" and still to be asked, in the order of the file. */
  readonly gaps: readonly Gap[];
  /** Every file that was read, the main one first. */
  readonly files: readonly string[];
}

/**
 * Reads a vehicle file with all that it includes.
 *
 * `main` is the path of the file as the user gave it, with `/` between folders: places in the faults begin with it.
 * `load` gives the text of a file, or why there is none; it is asked once for each. Nothing is thrown: whatever is
 * wrong with the text is a fault in the result. Of a text that is no YAML the first mistake is told, and all of them with a second
 * `opinion`.
 */
export function readVehicle(main: string, load: Load, opinion?: SecondOpinion): Reading {
  const desk = new Desk();
  const { root, faults, files, omitted } = assembleFiles(main, load, opinion);
  desk.omitted = omitted;
  desk.waiting = [];
  const vehicle = root === undefined ? undefined : readFile(root, desk);
  if (faults.length > 0) {
    // A file that could not be read may hold what the others lack and name: only what is wrong in itself is told.
    desk.faults = [...faults, ...desk.faults.filter((fault) => fault.rule !== "missing-key")];
  } else if (vehicle !== undefined) {
    resolveMentions(desk);
    checkRules(vehicle, desk);
    // A value that was read wrong would raise doubts that are none.
    if (desk.faults.length === 0) checkDoubts(vehicle, desk);
  }
  desk.sort(main);
  const inside = new Map<string, object>();
  for (const connection of vehicle?.connections ?? []) for (const way of connection.ways) inside.set(way.id, way);
  for (const part of vehicle?.parts ?? []) for (const hang of part.hang) inside.set(hang.id, hang);
  const place = (id: string): Place | undefined => {
    const known = desk.ids.get(id);
    if (known !== undefined) return placeOf(known.node);
    const made = inside.get(id);
    return made === undefined ? undefined : desk.placeOf(made);
  };
  return {
    ...(vehicle !== undefined && desk.faults.length === 0 ? { vehicle } : {}),
    faults: desk.faults,
    warnings: desk.warnings,
    place,
    gaps: desk.waiting.map(({ node, owner, key, means }) => ({ at: placeOf(node), of: owner, key, means })),
    files,
  };
}

/**
 * The same, with every mistake of a text that is no YAML: then, and only then, the parser that finds them is loaded, and what `load` gave is read again.
 */
export async function readVehicleWhole(main: string, load: Load): Promise<Reading> {
  const loaded = new Map<string, ReturnType<Load>>();
  const once: Load = (path) => {
    const text = loaded.get(path) ?? load(path);
    loaded.set(path, text);
    return text;
  };
  const reading = readVehicle(main, once);
  if (!reading.faults.some((fault) => fault.rule === "syntax")) return reading;
  const { findMistakes } = await import("./opinion.ts");
  return readVehicle(main, once, findMistakes);
}

// Owns the reading of a vehicle file: text in, the model and everything that is wrong or dubious out.

import { Desk } from "./desk.ts";
import type { Fault, Place } from "./fault.ts";
import { readFile } from "./file.ts";
import type { Vehicle } from "./model.ts";
import { parseSource, placeOf } from "./source.ts";

/** The text of a file, or why there is none: "no such file". */
export type Load = (path: string) => string | { readonly missing: string };

export interface Reading {
  /** Present when there is no fault. */
  readonly vehicle?: Vehicle;
  readonly faults: readonly Fault[];
  readonly warnings: readonly Fault[];
  /** Where the thing with this id stands; a way (`bell-bolts/2`) and a hang (`pump/hang-1`) have ids too. */
  place(id: string): Place | undefined;
  /** Every file that was read, the main one first. */
  readonly files: readonly string[];
}

export function readVehicle(main: string, load: Load): Reading {
  const desk = new Desk();
  const text = load(main);
  const none = (faults: readonly Fault[]): Reading => ({ faults, warnings: [], place: () => undefined, files: [main] });
  if (typeof text !== "string")
    return none([
      {
        rule: "no-file",
        at: { file: main, line: 1, column: 1 },
        what: `${main} cannot be read: ${text.missing}`,
        mend: "Check the path.",
        values: { path: main },
        others: [],
      },
    ]);
  const parsed = parseSource({ file: main, text });
  if ("faults" in parsed) return none(parsed.faults);
  const vehicle = readFile(parsed.root, desk);
  desk.sort(main);
  const place = (id: string): Place | undefined => {
    const known = desk.ids.get(id);
    return known === undefined ? undefined : placeOf(known.node);
  };
  return {
    ...(vehicle !== undefined && desk.faults.length === 0 ? { vehicle } : {}),
    faults: desk.faults,
    warnings: desk.warnings,
    place,
    files: [main],
  };
}

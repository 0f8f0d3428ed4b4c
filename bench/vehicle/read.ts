// Owns the measuring of the reader: files sound, doubtful and spoilt, at several sizes, against the bars that are set.

import { readVehicle } from "../../src/vehicle/index.ts";
import { checksum } from "../release/checksum.ts";
import { doubtFile, spoilFile, writeFile } from "./file.ts";

export interface ReadingRow {
  readonly family: "sound" | "doubtful" | "spoilt";
  readonly connections: number;
  readonly characters: number;
  readonly faults: number;
  readonly warnings: number;
  /** Milliseconds, warm: least, median and greatest of the repeats. */
  readonly least: number;
  readonly median: number;
  readonly greatest: number;
  /** The bar in milliseconds, where one is set. */
  readonly bar?: number;
  /** Of the vehicle read, the faults and the warnings: faster and wrong shows. */
  readonly checksum: string;
}

const FAMILIES = [
  { family: "sound", spoil: (text: string) => text, bar: 200 },
  { family: "doubtful", spoil: doubtFile, bar: 600 },
  { family: "spoilt", spoil: spoilFile, bar: 600 },
] as const;

/** Reads each file `repeats` times after `warm` times unmeasured. `now` gives milliseconds. */
export function measureReading(
  now: () => number,
  {
    sizes = [150, 1000, 5000],
    repeats = 7,
    warm = 3,
  }: { readonly sizes?: readonly number[]; readonly repeats?: number; readonly warm?: number } = {},
): readonly ReadingRow[] {
  return sizes.flatMap((size) =>
    FAMILIES.map(({ family, spoil, bar }): ReadingRow => {
      const text = spoil(writeFile(size));
      const read = () => readVehicle("measured.vehicle.yaml", () => text);
      for (let i = 0; i < warm; i++) read();
      const times = Array.from({ length: repeats }, () => {
        const start = now();
        read();
        return now() - start;
      }).sort((a, b) => a - b);
      const { vehicle, faults, warnings } = read();
      return {
        family,
        connections: size,
        characters: text.length,
        faults: faults.length,
        warnings: warnings.length,
        least: times[0]!,
        median: times[times.length >> 1]!,
        greatest: times.at(-1)!,
        ...(size === 1000 ? { bar } : {}),
        checksum: checksum(JSON.stringify([vehicle ?? null, faults, warnings])),
      };
    }),
  );
}

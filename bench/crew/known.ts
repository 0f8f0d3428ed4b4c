// Owns what is known of published projects: the best bounds that anybody has reported, where a `best-known.csv` lies beside the files.

import { existsSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";

/** No schedule is below `least`; one of `most` has been found. */
export interface Known {
  readonly least: number;
  readonly most: number;
}

/** By file name, from the folder or the one above it; empty without such a file. */
export function readKnown(folder: string): ReadonlyMap<string, Known> {
  const known = new Map<string, Known>();
  const path = [folder, dirname(folder)].map((place) => join(place, "best-known.csv")).find((file) => existsSync(file));
  if (path === undefined) return known;
  const [head = "", ...rows] = readFileSync(path, "utf8").trim().split(/\r?\n/);
  const columns = head.split(",");
  const [name, least, most] = ["instance", "lb", "ub"].map((column) => columns.indexOf(column));
  for (const row of rows) {
    const cells = row.split(",");
    known.set(cells[name ?? -1] ?? "", { least: Number(cells[least ?? -1]), most: Number(cells[most ?? -1]) });
  }
  return known;
}

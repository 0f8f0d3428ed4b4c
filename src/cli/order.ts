// Owns the order as the flags give it: jobs, parts, hoist, crew and tools by the names of the vehicle file.

import type { Order, Person } from "../plan/index.ts";
import type { Vehicle } from "../vehicle/index.ts";
import type { Call, CallFault } from "./call.ts";
import { mendWord } from "./words.ts";

/** The order of a call. Ids that the file does not have are left to `translate`, which knows them all, but for the crew's. */
export function readOrder(vehicle: Vehicle, { flags }: Call): Order | readonly CallFault[] {
  // What is said twice is asked once.
  const list = (name: string) => [...new Set(flags.get(name))];
  const hoist = list("hoist")[0];
  const { people, faults } = readCrew(vehicle, list("crew"));
  if (faults.length > 0) return faults;
  return {
    jobs: list("job"),
    keep: list("keep"),
    take: list("take"),
    released: list("released"),
    ...(hoist === undefined ? {} : { hoist }),
    ...(people === undefined ? {} : { people }),
    ...(flags.has("without-tool") ? { withoutTools: list("without-tool") } : {}),
  };
}

/** Ids of the shop's people, or a bare number of people with every skill. */
function readCrew({ shop }: Vehicle, given: readonly string[]) {
  const number = Number(given[0]);
  if (given.length === 0) return { faults: [] };
  if (given.length === 1 && Number.isInteger(number)) return { faults: [], people: number };
  const known = shop.people.map(({ id }) => id);
  const faults = given
    .filter((id) => !known.includes(id))
    .map((id): CallFault => ({ what: `nobody in the shop is called ${id}`, mend: mendWord(id, known) }));
  const people: Person[] = shop.people.filter(({ id }) => given.includes(id));
  return { faults, people };
}

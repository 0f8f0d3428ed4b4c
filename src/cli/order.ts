// Owns the order as the flags give it: jobs, parts, hoist, crew and tools by the names of the vehicle file.

import type { Order, Person } from "../plan/index.ts";
import type { Vehicle } from "../vehicle/index.ts";
import type { Call, CallFault } from "./call.ts";
import { mendWord } from "./words.ts";

/** The order of a call. Ids that the file does not have are left to `translate`, which knows them all; crew and tools are read here. */
export function readOrder(vehicle: Vehicle, { flags }: Call): Order | readonly CallFault[] {
  const list = (name: string) => flags.get(name) ?? [];
  const hoist = list("hoist")[0];
  const crew = readCrew(vehicle, list("crew"));
  const tools = readTools(vehicle, list("without-tool"));
  const faults = [...crew.faults, ...tools.faults];
  if (faults.length > 0) return faults;
  return {
    jobs: list("job"),
    keep: list("keep"),
    take: list("take"),
    released: list("released"),
    ...(hoist === undefined ? {} : { hoist }),
    ...(crew.people === undefined ? {} : { people: crew.people }),
    ...(tools.tools === undefined ? {} : { tools: tools.tools }),
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

/** The shop's tools, or every tool that the file names, without these. */
function readTools(vehicle: Vehicle, without: readonly string[]) {
  if (without.length === 0) return { faults: [] };
  const known = vehicle.shop.tools.length > 0 ? vehicle.shop.tools : toolsOf(vehicle);
  const faults = without
    .filter((tool) => !known.includes(tool))
    .map((tool): CallFault => ({ what: `no step uses a tool called ${tool}`, mend: mendWord(tool, known) }));
  return { faults, tools: known.filter((tool) => !without.includes(tool)) };
}

function toolsOf({ connections, tasks, parts, jobs }: Vehicle): string[] {
  const work = [
    ...connections.flatMap(({ ways }) => ways),
    ...tasks,
    ...parts.flatMap(({ hang }) => hang),
    ...jobs.flatMap((job) => job.work),
  ];
  const refits = connections.flatMap(({ refit, ways }) => [refit, ...ways.flatMap((way) => way.refit ?? [])]);
  return [...new Set([...work, ...refits].flatMap(({ tools }) => tools))];
}

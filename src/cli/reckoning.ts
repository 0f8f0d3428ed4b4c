// Owns what commands that reckon over a vehicle's jobs have in common: what they take of their call, the thread that reckons, and the answer as text or document.

import { type Crew, fewestCrew } from "../plan/index.ts";
import type { Fault, Vehicle } from "../vehicle/index.ts";
import { computeAside } from "./background.ts";
import type { Call } from "./call.ts";
import { readCrewFlag } from "./crew-order.ts";
import { EXIT, type Exit } from "./exit.ts";
import { Figures } from "./figures.ts";
import { countFaults, sayFaults, takeVehicle } from "./files.ts";
import { readChance } from "./finish.ts";
import { refuse } from "./release.ts";
import type { Terminal } from "./terminal.ts";
import { sayFolded } from "./times-text.ts";
import type { TimesAnswered, TimesAsked } from "./times-thread.ts";

const THREAD = new URL("./times-thread.js", import.meta.url);

/** What such a call gives; faults of its flags gather in `figures`. */
export interface Taken {
  readonly vehicle: Vehicle;
  /** Without one so many that every step can be made. */
  readonly crew: Crew;
  readonly figures: Figures;
  readonly chance: ReturnType<typeof readChance>;
  /** The jobs of the vehicle, by id. */
  readonly jobs: readonly string[];
}

/** @param runs simulated where the call does not say how many. An exit where it cannot go on: it has been said why. */
export async function takeReckoning(call: Call, terminal: Terminal, runs: number): Promise<Taken | Exit> {
  const taken = await takeVehicle(call.operands[0] ?? "", terminal, call.flags.has("json"));
  if (typeof taken === "number") return taken;
  const { vehicle } = taken;
  const asked = call.flags.get("crew");
  const given = asked === undefined ? { crew: fewestCrew(vehicle) } : readCrewFlag(vehicle, asked);
  if ("call" in given) return refuse(given.call, terminal);
  if ("file" in given) return tellFile(given.file, given.path, terminal);
  const figures = new Figures(call);
  const chance = readChance(figures, vehicle, runs);
  return { vehicle, crew: given.crew, figures, chance, jobs: vehicle.jobs.map(({ id }) => id) };
}

/** Says what is wrong in a file beside the vehicle's. */
export const tellFile = (faults: readonly Fault[], path: string, terminal: Terminal): Exit => {
  terminal.warn(`${sayFaults(faults, terminal)}\n\n${countFaults(faults.length, path)}`);
  return EXIT.not;
};

/** Reckons in the thread, within the seconds of the call. */
export const reckon = (asked: TimesAsked, figures: Figures, terminal: Terminal): Promise<TimesAnswered> => {
  const within = figures.text("within");
  const limit = within === undefined ? {} : { milliseconds: Number(within) * 1000 };
  return computeAside<TimesAsked, TimesAnswered>({ ...asked, ...limit }, terminal, THREAD);
};

/** The document where one is asked for, else the text. */
export const sayReckoned = (call: Call, document: unknown, text: () => string, terminal: Terminal): void => {
  if (call.flags.has("json")) terminal.say(JSON.stringify(document, undefined, 2));
  else sayFolded(text(), terminal);
};

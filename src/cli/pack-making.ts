// Owns the making of a pack from a call of `print`, in a thread of its own: the vehicle read, the plan and the schedule found, every sheet filled; or what is to be said instead. The other end is print.ts.

import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { type PackAsked, packOf } from "../paper/index.ts";
import { type CrewPlan, kitOf, type Overseer, type Plan, solveCrew, solveRelease, translate } from "../plan/index.ts";
import type { Reading, Vehicle } from "../vehicle/index.ts";
import type { Call } from "./call.ts";
import { readCrewFlag } from "./crew-order.ts";
import { EXIT, type Exit } from "./exit.ts";
import { countFaults, sayFaults, takeVehicle } from "./files.ts";
import { takeStore } from "./kit.ts";
import { readOrder } from "./order.ts";
import { type Ready, ready } from "./pressing.ts";
import { personCalled, readPrint } from "./print-asked.ts";
import { refuse, tellRelease } from "./release.ts";
import { searchLimits } from "./schedule.ts";
import { keptTerminal, type Terminal, type Written } from "./terminal.ts";

/** Of the search for a schedule: whoever prints waits, and the page for each person says how good it is. */
const SECONDS = 5;
/** Digits of the file's SHA-256 that stand on every page. */
const DIGITS = 8;

/** What the thread is given. */
export interface PackWanted {
  readonly call: Call;
  /** Of the terminal on which what it says is written. */
  readonly coloured: boolean;
  readonly width: number;
}

/** The pack, or how the call ends without one; and what is to be written on the terminal, either way. */
export interface PackMade {
  readonly pack?: Ready;
  readonly exit: Exit;
  readonly written: readonly Written[];
}

export async function makePack({ call, ...looks }: PackWanted, overseer: Overseer): Promise<PackMade> {
  const { terminal, written } = keptTerminal(looks);
  const pack = await packAsked(call, terminal, overseer);
  return typeof pack === "number" ? { exit: pack, written } : { pack, exit: EXIT.found, written };
}

async function packAsked(call: Call, terminal: Terminal, overseer: Overseer): Promise<Ready | Exit> {
  const asked = readPrint(call, Date.now());
  if (!("paper" in asked)) return refuse(asked, terminal);
  const json = call.flags.has("json");
  const taken = await takeVehicle(call.operands[0] ?? "", terminal, json);
  if (typeof taken === "number") return taken;
  const made = planAsked(taken.vehicle, call, terminal, overseer, asked.person);
  if (typeof made === "number") return made;
  const store = takeStore(call, terminal);
  if (typeof store === "number") return store;
  const [hoist] = call.flags.get("hoist") ?? [];
  const pack = packOf({
    ...(asked satisfies Partial<PackAsked>),
    ...made,
    vehicle: taken.vehicle,
    kit: kitOf(made.plan, taken.vehicle, store === undefined ? {} : { store }),
    version: { digest: digestOf(taken.reading) },
    ...(hoist === undefined ? {} : { hoist }),
  });
  const done = ready(pack, asked, json);
  return "faults" in done ? refuse(done.faults, terminal) : done;
}

/** The beginning of the SHA-256 of all that was read: another byte in the file, another version. */
function digestOf({ files }: Reading): string {
  const hash = createHash("sha256");
  for (const path of files) hash.update(readFileSync(path)).update("\0");
  return hash.digest("hex").slice(0, DIGITS);
}

/** The plan for one pair of hands and, where a crew was given, its schedule; else what is wrong is said. */
function planAsked(
  vehicle: Vehicle,
  call: Call,
  terminal: Terminal,
  overseer: Overseer,
  name: string | undefined,
): { readonly plan: Plan; readonly crew?: CrewPlan; readonly person?: string } | Exit {
  const given = call.flags.get("crew");
  const crew = given === undefined ? undefined : readCrewFlag(vehicle, given);
  if (crew !== undefined && "call" in crew) return refuse(crew.call, terminal);
  if (crew !== undefined && "file" in crew) {
    terminal.warn(`${sayFaults(crew.file, terminal)}\n\n${countFaults(crew.file.length, crew.path)}`);
    return EXIT.not;
  }
  const person = name === undefined || crew === undefined ? undefined : personCalled(name, crew.crew.people);
  if (person !== undefined && "what" in person) return refuse([person], terminal);
  const order = readOrder(vehicle, { ...call, flags: new Map([...call.flags].filter(([name]) => name !== "crew")) });
  if (!("jobs" in order)) return refuse(order, terminal);
  const question = translate(vehicle, { ...order, ...(crew === undefined ? {} : { people: crew.people }) });
  if (question.faults.length > 0) return refuse(question.faults, terminal);
  const limits = searchLimits(call, SECONDS);
  const answer = solveRelease(
    {
      what: "plan",
      question,
      others: false,
      reasons: false,
      about: "",
      ...("milliseconds" in limits ? { milliseconds: limits.milliseconds } : {}),
    },
    overseer,
  );
  const { plan } = answer;
  if (plan === undefined) return tellRelease(call, question, answer, terminal);
  if (crew === undefined) return { plan };
  const scheduled = solveCrew({ what: "schedule", question, crew: crew.crew, ...limits }, overseer).answer;
  if (scheduled?.plan === undefined) {
    const why = (scheduled?.lacks ?? []).map(({ what, mend }) => `${what}. ${mend}`).join(" ");
    terminal.warn(
      `unmoor: this crew has no schedule, so nothing is printed. ${why || "Give it longer: --seconds 60."}`,
    );
    return EXIT.not;
  }
  return { plan, crew: scheduled.plan, ...(person === undefined ? {} : { person: person.id }) };
}

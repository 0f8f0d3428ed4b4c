// Owns the command `print`: the job pack of an order on a vehicle file, as a PDF and as a web page.

import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { type PackAsked, packOf } from "../paper/index.ts";
import { type CrewPlan, kitOf, translate } from "../plan/index.ts";
import type { Reading, Vehicle } from "../vehicle/index.ts";
import { computeAside } from "./background.ts";
import type { Call } from "./call.ts";
import { readCrewFlag } from "./crew-order.ts";
import type { CrewAnswered, CrewAsked } from "./crew-thread.ts";
import { EXIT, type Exit } from "./exit.ts";
import { countFaults, sayFaults, takeVehicle } from "./files.ts";
import { takeStore } from "./kit.ts";
import { readOrder } from "./order.ts";
import { press } from "./pressing.ts";
import { readPrint } from "./print-asked.ts";
import { refuse, tellRelease } from "./release.ts";
import { CREW_THREAD, searchLimits } from "./schedule.ts";
import type { Terminal } from "./terminal.ts";
import type { Answer, Asked } from "./thread.ts";

/** Of the search for a schedule: whoever prints waits, and the page for each person says how good it is. */
const SECONDS = 5;
/** Digits of the file's SHA-256 that stand on every page. */
const DIGITS = 8;

export async function runPrint(call: Call, terminal: Terminal): Promise<Exit> {
  const asked = readPrint(call, Date.now());
  if (!("paper" in asked)) return refuse(asked, terminal);
  if (call.operands[1] !== undefined) return (await import("./print-run.ts")).printRun(call, asked, terminal);
  const path = call.operands[0] ?? "";
  const taken = await takeVehicle(path, terminal, call.flags.has("json"));
  if (typeof taken === "number") return taken;
  const made = await packAsked(taken.vehicle, call, terminal);
  if (typeof made === "number") return made;
  const { plan, crew } = made;
  const store = takeStore(call, terminal);
  if (typeof store === "number") return store;
  const [hoist] = call.flags.get("hoist") ?? [];
  return press(
    packOf({
      ...(asked satisfies Partial<PackAsked>),
      vehicle: taken.vehicle,
      plan,
      kit: kitOf(plan, taken.vehicle, store === undefined ? {} : { store }),
      ...(crew === undefined ? {} : { crew }),
      version: { digest: digestOf(taken.reading) },
      ...(hoist === undefined ? {} : { hoist }),
    }),
    asked,
    call.flags.has("json"),
    terminal,
  );
}

/** The beginning of the SHA-256 of all that was read: another byte in the file, another version. */
function digestOf({ files }: Reading): string {
  const hash = createHash("sha256");
  for (const path of files) hash.update(readFileSync(path)).update("\0");
  return hash.digest("hex").slice(0, DIGITS);
}

/** The plan for one pair of hands and, where a crew was given, its schedule; else what is wrong is said. */
async function packAsked(
  vehicle: Vehicle,
  call: Call,
  terminal: Terminal,
): Promise<{ readonly plan: NonNullable<Answer["plan"]>; readonly crew?: CrewPlan } | Exit> {
  const given = call.flags.get("crew");
  const crew = given === undefined ? undefined : readCrewFlag(vehicle, given);
  if (crew !== undefined && "call" in crew) return refuse(crew.call, terminal);
  if (crew !== undefined && "file" in crew) {
    terminal.warn(`${sayFaults(crew.file, terminal)}\n\n${countFaults(crew.file.length, crew.path)}`);
    return EXIT.not;
  }
  const order = readOrder(vehicle, { ...call, flags: new Map([...call.flags].filter(([name]) => name !== "crew")) });
  if (!("jobs" in order)) return refuse(order, terminal);
  const question = translate(vehicle, { ...order, ...(crew === undefined ? {} : { people: crew.people }) });
  if (question.faults.length > 0) return refuse(question.faults, terminal);
  const limits = searchLimits(call, SECONDS);
  const answer = await computeAside<Asked, Answer>(
    {
      what: "plan",
      question,
      others: false,
      reasons: false,
      about: "",
      ...("milliseconds" in limits ? { milliseconds: limits.milliseconds } : {}),
    },
    terminal,
  );
  const { plan } = answer;
  if (plan === undefined) return tellRelease(call, question, answer, terminal);
  if (crew === undefined) return { plan };
  const answered = await computeAside<CrewAsked, CrewAnswered>(
    { what: "schedule", question, crew: crew.crew, ...limits },
    terminal,
    CREW_THREAD,
  );
  if (answered.answer?.plan === undefined) {
    const why = (answered.answer?.lacks ?? []).map(({ what, mend }) => `${what}. ${mend}`).join(" ");
    terminal.warn(
      `unmoor: this crew has no schedule, so nothing is printed. ${why || "Give it longer: --seconds 60."}`,
    );
    return EXIT.not;
  }
  return { plan, crew: answered.answer.plan };
}

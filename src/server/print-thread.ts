// Owns the printing thread: it makes one job pack and ends, so that no request waits while pages are set. The other end is printing.ts.

import { parentPort, workerData } from "node:worker_threads";
import { Ledger, type Rest } from "../ledger/index.ts";
import { packOf, packPage } from "../paper/index.ts";
import { type Crew, type CrewPlan, crewOfShop, kitOf, solveCrew, translate } from "../plan/index.ts";
import { lay, typeset } from "../press/index.ts";
import { readVehicle, type Vehicle } from "../vehicle/index.ts";
import type { OrderBody } from "./order.ts";
import { restOfRun } from "./plan-anew.ts";
import type { Printed, PrintTask } from "./print-task.ts";

/** The template and the fonts, beside the bundle. */
const PRESS = new URL("./press/", import.meta.url);

/** Seconds of the search for who does what when. */
const SECONDS = 5;

/** Who does what when: what is left of a run, or the order as it was given; undefined where its people have no schedule. */
function scheduleOf(
  vehicle: Vehicle,
  { body, run }: NonNullable<PrintTask["forPerson"]>,
  now: number,
): CrewPlan | undefined {
  const asked =
    run === undefined
      ? wholeOf(vehicle, body)
      : restOfRun(vehicle, run.opened, body, new Ledger(run.brief, run.entries), now);
  if (asked === undefined) return undefined;
  const watch = { now: () => performance.now(), stop: () => false, report() {} };
  return solveCrew({ what: "schedule", ...asked, seconds: SECONDS, seed: 1 }, watch).answer?.plan;
}

function wholeOf(
  vehicle: Vehicle,
  { asked, people, crew: kept }: OrderBody,
): Pick<Rest, "question" | "crew"> | undefined {
  const crew: Crew =
    kept === undefined
      ? crewOfShop(people.filter(({ roles }) => roles.includes("mechanic") || roles.includes("verifier")))
      : { ...kept, tools: new Map(kept.tools), systems: new Map(kept.systems) };
  const question = translate(vehicle, { ...asked, people: crew.able ? crew.people.length : crew.people });
  return question.faults.length > 0 ? undefined : { question, crew };
}

const print = ({ files, plan, order, isRun, form, only, forPerson, ...task }: PrintTask): Printed => {
  const texts = new Map(files.map(({ path, text }) => [path, text]));
  const { vehicle } = readVehicle(files[0]?.path ?? "", (path) => texts.get(path) ?? { missing: "no such file" });
  if (vehicle === undefined)
    return { faults: [{ what: "the vehicle of this order cannot be read", mend: "Restore a backup." }] };
  const crew = forPerson === undefined ? undefined : scheduleOf(vehicle, forPerson, task.made);
  if (forPerson !== undefined && crew?.crew.people.some(({ id }) => id === forPerson.id) !== true)
    return {
      faults: [
        {
          what: `there is no schedule of this order that has ${forPerson.id} in it`,
          mend: "Print the cards by position.",
        },
      ],
    };
  const pack = packOf({
    vehicle,
    plan,
    kit: kitOf(plan, vehicle),
    ...(crew === undefined ? {} : { crew }),
    ...(forPerson === undefined ? {} : { person: forPerson.id }),
    order,
    ...(isRun ? { tagsOfRun: order } : {}),
    version: { number: task.version },
    lang: task.lang,
    paper: task.paper,
    ...(only === undefined ? {} : { only }),
    origin: task.origin,
    made: task.made,
  });
  if (form === "html") return { html: packPage(pack) };
  const ready = lay(pack, { folder: PRESS });
  if ("faults" in ready) return ready;
  return { pdf: new Uint8Array(typeset(ready.laid, { folder: PRESS, made: Math.floor(task.made / 1000) })) };
};

parentPort?.postMessage(print(workerData as PrintTask));

// Owns the printing of a run in a shop's store: its shift-change page and as-run record, and the sheets of its plan with addresses of the run.

import { randomBytes } from "node:crypto";
import { makeIdentity, shiftPage } from "../ledger/index.ts";
import { packOf } from "../paper/index.ts";
import { kitOf } from "../plan/index.ts";
import { nodesOwn, planInForce, RunDesk } from "../server/index.ts";
import { type Store, StoreFault, type VehicleVersion } from "../store/index.ts";
import { readVehicle, type Vehicle } from "../vehicle/index.ts";
import type { Call } from "./call.ts";
import type { Exit } from "./exit.ts";
import { press, ready } from "./pressing.ts";
import { personCalled, readPrint } from "./print-asked.ts";
import { refuse } from "./release.ts";
import { restSchedule } from "./rest-schedule.ts";
import { atStore, warnOfDamage } from "./shop.ts";
import type { Terminal } from "./terminal.ts";

export function printRun(call: Call, terminal: Terminal): Promise<Exit> | Exit {
  const asked = readPrint(call, Date.now());
  if (!("paper" in asked)) return refuse(asked, terminal);
  const [address = "", id = ""] = call.operands;
  return atStore(address, terminal, async (store) => {
    const desk = await RunDesk.open(store, id, READER, nodesOwn());
    warnOfDamage(desk, terminal);
    const { plan } = await planInForce(store, desk.brief.plan);
    const vehicle = await vehicleOf(store, desk.run);
    const person = asked.person === undefined ? undefined : personCalled(asked.person, desk.brief.people);
    if (person !== undefined && "what" in person) return refuse([person], terminal);
    const crew = person === undefined ? undefined : await restSchedule(desk, call, terminal);
    if (typeof crew === "number") return crew;
    if (person !== undefined && crew?.crew.people.some(({ id: one }) => one === person.id) !== true)
      return refuse(
        [{ what: `--person: ${asked.person} is not at work on this run`, mend: "See unmoor run SHOP RUN --who." }],
        terminal,
      );
    const { version } = desk.run;
    const done = ready(
      packOf({
        ...asked,
        ...(crew === undefined ? {} : { crew }),
        ...(person === undefined ? {} : { person: person.id }),
        vehicle,
        plan,
        kit: kitOf(plan, vehicle),
        order: id,
        version: { number: version },
        run: {
          id,
          shift: shiftPage(desk.ledger),
          told: desk.told,
          findings: desk.ledger.findings(),
          damages: desk.damages,
          person: (one) => desk.person(one),
          label: (one) => desk.label(one),
          torque: (one) => desk.brief.joints.find((joint) => joint.id === one)?.torque,
        },
      }),
      asked,
      call.flags.has("json"),
    );
    return "faults" in done ? refuse(done.faults, terminal) : press(done, terminal);
  });
}

/** Whoever prints writes no entry: a device of this moment, whose key nobody keeps. */
const READER = {
  identity: makeIdentity(randomBytes(32)),
  now: () => Date.now(),
  random: (count: number) => randomBytes(count),
};

async function vehicleOf(
  store: Store,
  { vehicle, version }: Pick<VehicleVersion, "vehicle" | "version">,
): Promise<Vehicle> {
  const kept = await store.vehicle(vehicle, version);
  const texts = new Map(kept?.files.map(({ path, text }) => [path, text]));
  const main = kept?.files[0]?.path ?? vehicle;
  const reading = readVehicle(main, (path) => texts.get(path) ?? { missing: "it is not in the store" });
  if (reading.vehicle !== undefined) return reading.vehicle;
  throw new StoreFault("damaged", vehicle, "the run's version of the vehicle file cannot be read", "Restore a backup.");
}

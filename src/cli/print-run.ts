// Owns the printing of a run in a shop's store: its shift-change page and as-run record, and the sheets of its plan with addresses of the run.

import { randomBytes } from "node:crypto";
import { type Entry, KINDS, makeIdentity, type Names, shiftPage } from "../ledger/index.ts";
import { packOf } from "../paper/index.ts";
import { kitOf } from "../plan/index.ts";
import { nodesOwn, planInForce, RunDesk } from "../server/index.ts";
import { type Store, StoreFault, type VehicleVersion } from "../store/index.ts";
import { readVehicle, type Vehicle } from "../vehicle/index.ts";
import type { Call } from "./call.ts";
import type { Exit } from "./exit.ts";
import { press, ready } from "./pressing.ts";
import { readPrint } from "./print-asked.ts";
import { refuse } from "./release.ts";
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
    const { version } = desk.run;
    const done = ready(
      packOf({
        ...asked,
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
          contradiction: (one) => desk.sayContradiction(one),
          sentence: (entry) => sentenceOf(entry, desk),
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

/** An entry as a sentence: its kind, what it is about, and whatever else it says. */
function sentenceOf({ body }: Entry, names: Pick<Names, "label" | "person">): string {
  const fields: Readonly<Record<string, string>> = KINDS[body.kind].fields;
  const told = Object.entries(body).flatMap(([name, value]: readonly [string, unknown]) => {
    if (name === "kind" || value === undefined) return [];
    const sort = fields[name]?.replace("?", "");
    const say = (one: unknown): string =>
      sort === "id"
        ? names.label(String(one))
        : sort === "person" || sort === "people"
          ? names.person(String(one))
          : String(one);
    if (sort === "photos" || sort === "voices") return [`${name} ${Array.isArray(value) ? value.length : 0}`];
    if (typeof value === "object" && value !== null && !Array.isArray(value))
      return [
        Object.entries(value)
          .map(([key, amount]) => `${key} ${amount}`)
          .join(", "),
      ];
    const text = Array.isArray(value) ? value.map(say).join(", ") : say(value);
    return [sort === "id" || sort === "text" ? text : `${name} ${text}`];
  });
  return told.length === 0 ? body.kind : `${body.kind}: ${told.join("; ")}`;
}

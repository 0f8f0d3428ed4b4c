// Owns the command `order`: jobs on a vehicle, planned, and kept with everything that the run will need.

import { readFileSync } from "node:fs";
import { type BriefPerson, ROLES, type Role } from "../ledger/index.ts";
import { describeTaken, type OrderTaken, takeOrder } from "../server/index.ts";
import { computeAside } from "./background.ts";
import type { Call, CallFault } from "./call.ts";
import { readCrewFlag } from "./crew-order.ts";
import { EXIT, type Exit } from "./exit.ts";
import { openVehicle, sayFaults, vehicleIdOf } from "./files.ts";
import { refuse, takeAsked, tellRelease } from "./release.ts";
import { sayOrder } from "./run-text.ts";
import { isServer } from "./server-call.ts";
import { atStore } from "./shop.ts";
import type { Terminal } from "./terminal.ts";
import type { Answer, Asked } from "./thread.ts";

export async function runOrder(call: Call, terminal: Terminal): Promise<Exit> {
  const [address = "", path = ""] = call.operands;
  const flag = (name: string) => call.flags.get(name)?.[0];
  const by = flag("by");
  if (by === undefined) return refuse([{ what: "order needs --by", mend: "Say who gives it: --by WHO." }], terminal);
  const { crew: _, ...rest } = Object.fromEntries(call.flags);
  const asked = await takeAsked("plan", path, { ...call, flags: new Map(Object.entries(rest)) }, terminal);
  if (typeof asked === "number") return asked;
  const { vehicle } = asked.question;
  const crew = call.flags.get("crew") ?? [];
  // At a server people are the server's: their ids need not be in the file.
  const given =
    isServer(address) && crew.every((word) => !/^\d|\.ya?ml$/i.test(word)) && crew.length > 0
      ? { people: crew.map((id) => ({ id, skills: [] })) }
      : crew.length > 0
        ? readCrewFlag(vehicle, crew)
        : { people: vehicle.shop.people };
  if ("call" in given) return refuse(given.call, terminal);
  if ("file" in given) {
    terminal.warn(sayFaults(given.file, terminal));
    return EXIT.not;
  }
  const people = peopleOf(call, given.people);
  if ("what" in people) return refuse([people], terminal);
  const reading = await openVehicle(path);
  const files =
    "what" in reading ? [] : reading.files.map((file) => ({ path: file, text: readFileSync(file, "utf8") }));
  if (isServer(address)) {
    const { orderFar } = await import("./order-far.ts");
    return orderFar(address, call, { files, asked: asked.question.order, people }, terminal);
  }
  const answer = await computeAside<Asked, Answer>(asked, terminal);
  const { plan } = answer;
  if (plan === undefined) return tellRelease(call, asked.question, answer, terminal);
  const id = flag("id");
  const machine = flag("machine");
  return atStore(
    address,
    terminal,
    async (store) => {
      const taken: OrderTaken = await takeOrder(store, {
        ...(id === undefined ? {} : { id }),
        vehicleId: vehicleIdOf(path),
        files,
        vehicle,
        asked: asked.question.order,
        plan,
        people,
        ...("crew" in given ? { crew: given.crew } : {}),
        ...(machine === undefined ? {} : { machine }),
        options: call.flags.get("option") ?? [],
        by,
        now: Date.now(),
      });
      const document = describeTaken(taken, plan);
      terminal.say(
        call.flags.has("json") ? JSON.stringify(document, undefined, 2) : sayOrder(document, shown(address), terminal),
      );
      return EXIT.found;
    },
    true,
  );
}

/** An address that holds a password is not said again. */
const shown = (address: string): string => (address.includes("://") ? "SHOP" : address);

const isRole = (word: string): word is Role => (ROLES as readonly string[]).includes(word);

/** The crew and whoever is named beside it. Everybody of the crew works and verifies. */
function peopleOf(
  call: Call,
  crew: number | readonly { readonly id: string; readonly label?: string; readonly skills: readonly string[] }[],
): readonly BriefPerson[] | CallFault {
  if (typeof crew === "number")
    return {
      what: "--crew gives a number",
      mend: "Entries are signed by name: give a crew file, or ids of the file's shop.",
    };
  const people = new Map<string, BriefPerson>(
    crew.map(({ id, label, skills }) => [id, { id, label: label ?? id, roles: ["mechanic", "verifier"], skills }]),
  );
  const name = (id: string, role: Role) => {
    const known = people.get(id) ?? { id, label: id, roles: [], skills: [] };
    people.set(id, { ...known, roles: [...known.roles, role] });
  };
  for (const id of call.flags.get("approver") ?? []) name(id, "lift approver");
  for (const id of call.flags.get("foreman") ?? []) name(id, "foreman");
  for (const word of call.flags.get("role") ?? []) {
    const [id = "", role = ""] = word.split("=");
    if (!isRole(role))
      return { what: `--role ${word}: there is no such role`, mend: `Write ID=ROLE with one of: ${ROLES.join("; ")}.` };
    name(id, role);
  }
  if (people.size < 2)
    return {
      what: "nobody is there to verify what another did",
      mend: "Name two people at least: --crew FILE, or under shop in the vehicle file.",
    };
  return [...people.values()];
}
